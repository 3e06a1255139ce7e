"""Folders of a journal as they are listed: what cannot be opened or leads nowhere is a finding, not a traceback.

In: a folder. Out: `Listed` items in the order of names, without hidden ones and the litter of other programs; which of
them `ignore:` in journal.yaml names.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from pathlib import Path

from sitegen.core.files.file_names import MANIFEST, is_litter, is_utf8, utf8
from sitegen.core.files.inside import is_link, leads_back, leads_out
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.ingest.outside import is_outside


@dataclass(frozen=True, slots=True)
class Listed:
    """A file or folder; `place` is relative to the journal, with forward slashes."""

    name: str
    place: str
    path: Path
    is_folder: bool


def listed(
    folder: Path, root: Path, findings: Findings, ignore: Iterable[str] = (), output: Path | None = None
) -> tuple[Listed, ...]:
    """What a folder holds; a finding where it cannot be opened, and for each link that cannot be followed.

    What the patterns of `ignore` name is left out. A link to the folder that a site is written to is no part of the
    journal, and may lead anywhere.
    """
    if leads_out(folder, root):  # the folder that it lies in tells of the link
        return ()
    place = "" if folder == root else f"{folder.relative_to(root).as_posix()}/"
    items: list[Listed] = []
    try:
        with os.scandir(folder) as found:
            entries = sorted((entry for entry in found if not is_litter(entry.name)), key=lambda e: e.name)
            entries = [entry for entry in entries if not is_ignored(place + utf8(entry.name), ignore)]
    except OSError as error:
        _report_closed(place.rstrip("/"), error, findings)
        return ()
    for entry in entries:
        if not is_utf8(entry.name):
            _report_name(place + utf8(entry.name), findings)
            continue
        if is_link(entry) and _is_refused(entry, place, root, findings, output):
            continue
        try:
            items.append(Listed(entry.name, place + entry.name, Path(entry.path), entry.is_dir()))
        except OSError as error:
            _report_closed(place + entry.name, error, findings)
    return tuple(items)


def _report_name(place: str, findings: Findings) -> None:
    message = f"the name of `{place}` is not UTF-8, so nothing reads it"
    findings.add(
        "not-utf8", Source(place), message, mend="rename it, or name it under `ignore` in journal.yaml"
    )


def _report_closed(place: str, error: OSError, findings: Findings) -> None:
    message = f"`{place or '.'}` cannot be opened: {error.strerror or error}"
    mend = "check that it is a folder and that you may read it"
    findings.add("unreadable-file", Source(place or "."), message, mend=mend)


def _is_refused(
    link: os.DirEntry[str], place: str, root: Path, findings: Findings, output: Path | None
) -> bool:
    """Whether a link is not followed, with a finding."""
    name, path = place + link.name, Path(link.path)
    if is_output(path) or (output is not None and os.path.realpath(path) == str(output)):
        return False
    if not os.path.exists(link.path):  # noqa: PTH110 - of an entry at hand
        why = "nowhere"
    elif is_outside(path, root, findings):
        return True
    elif leads_back(link.path):
        why = "to a folder that it lies in"
    else:
        return False
    message = f"`{name}` is a link that leads {why}"
    findings.add("unreadable-file", Source(name), message, mend="mend the link, or remove it")
    return True


def is_output(folder: Path) -> bool:
    """Whether a folder holds the output of a build."""
    return (folder / MANIFEST).exists()


def is_ignored(place: str, patterns: Iterable[str]) -> bool:
    """Whether a place, or a folder that it lies in, is one that `ignore:` names.

    A pattern without a slash is a name at any depth; `*` stays within a name, `**` goes through folders.
    """
    return any(_matches(place, pattern.removeprefix("./").strip("/")) for pattern in patterns)


def _matches(place: str, pattern: str) -> bool:
    if not pattern:
        return False
    parts = place.split("/")
    if "/" not in pattern:
        return any(fnmatchcase(part, pattern) for part in parts)
    shape = _shape(pattern.removesuffix("/**"))
    return any(shape.fullmatch("/".join(parts[: length + 1])) for length in range(len(parts)))


@cache
def _shape(pattern: str) -> re.Pattern[str]:
    pieces = re.split(r"(\*\*/?|\*|\?)", pattern)
    meaning = {"**/": "(?:.*/)?", "**": ".*", "*": "[^/]*", "?": "[^/]"}
    return re.compile("".join(meaning.get(piece, re.escape(piece)) for piece in pieces), re.DOTALL)
