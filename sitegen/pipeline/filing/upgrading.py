"""`validate --upgrade`: files of an earlier format rewritten in the present one.

In: a journal's folder. Out: `Upgraded`: the files with their content before and after. Each is written as a whole, under
the lock of the journal, and only where its content is still what was read.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from sitegen.cache_folder import lock_folder
from sitegen.core.files.encodings import encoding_of
from sitegen.core.files.inside import leads_out
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Edit
from sitegen.core.format import TABLES
from sitegen.core.format.schema import FILES
from sitegen.core.format.versions import STEPS, Step
from sitegen.filing.journal_lock import journal_lock
from sitegen.filing.mending import edited, unified_diff
from sitegen.filing.safe_file import replace_unchanged
from sitegen.filing.upgrade import format_line
from sitegen.ingest.yaml.nodes import Mapping, Scalar
from sitegen.ingest.yaml.older_format import renamed_keys, version_of
from sitegen.ingest.yaml.parser import parse


@dataclass(frozen=True, slots=True)
class UpgradedFile:
    """A file of the journal, and its content before and after."""

    place: str
    before: bytes
    after: bytes

    @property
    def difference(self) -> str:
        """The difference in the unified format."""
        return unified_diff(self.place, self.before, self.after)


def upgrade(root: Path, *, write: bool, steps: Sequence[Step] = STEPS) -> tuple[UpgradedFile, ...]:
    """The files of an earlier format; with `write` those that were rewritten: not what changed meanwhile.

    Raises
    ------
    BusyError
        Where another command changes the journal.
    OSError
        Where a file cannot be written.

    """
    with lock_folder() as locks, journal_lock(locks, root):
        found = tuple(_older_files(root, steps))
        if not write:
            return found
        return tuple(each for each in found if replace_unchanged(root / each.place, each.before, each.after))


def _older_files(root: Path, steps: Sequence[Step]) -> Iterator[UpgradedFile]:
    journal = None if leads_out(root / "journal.yaml", root) else _version(root / "journal.yaml")
    for name, table in FILES.items():
        pattern = {"season.yaml": "seasons/*/season.yaml", "experiment.yaml": "seasons/*/*/experiment.yaml"}
        for path in sorted(root.glob(pattern.get(name, name))):
            place = path.relative_to(root).as_posix()
            if leads_out(path, root):
                continue
            before = path.read_bytes()
            after = _after(before, place, table, journal, steps)
            if after != before:
                yield UpgradedFile(place, before, after)


def _version(path: Path) -> int | None:
    node = _node(path.read_bytes(), path.name)
    return version_of(node) if node is not None else None


def _node(content: bytes, place: str) -> Mapping | None:
    """The nodes of a file; None where it cannot be read, which is a finding of `validate`."""
    try:
        node = parse(encoding_of(content).text(content), place, Findings())
    except UnicodeDecodeError:
        return None
    return node if isinstance(node, Mapping) and node.pairs else None


def _after(content: bytes, place: str, table: str, journal: int | None, steps: Sequence[Step]) -> bytes:
    """The content in the present format. A file without a number of its own is of the journal's."""
    node = _node(content, place)
    has_number = table != "crop" and TABLES[table].has("format")
    version = None if node is None else version_of(node) if has_number else journal
    if node is None or version is None or version >= steps[-1].version:
        return content
    roots = [pair.value for pair in node.pairs] if table == "crop" else [node]
    renamed = [each for one in roots for each in renamed_keys(one, table, version, steps)]
    changes = [_edit(each.key, each.name) for each in renamed]
    if has_number:
        changes.append(_number(content, node, steps[-1].version))
    return edited(content, changes)


def _edit(scalar: Scalar, text: str) -> Edit:
    at = scalar.source
    return Edit(at.file, at.line, at.column, at.width, text, scalar.text)


def _number(content: bytes, node: Mapping, number: int) -> Edit:
    said = next((pair.value for pair in node.pairs if pair.key.text == "format"), None)
    if isinstance(said, Scalar):
        return _edit(said, str(number))
    return format_line(content, node.pairs[0].key.source, number)
