"""The result of the last command, for one that finds nothing changed.

In: stamps of the journal, the program and the output. Out: the last result, or None where anything has changed since.
Reads no file of the journal, and imports none of the modules that reading one needs.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from sitegen.core.findings.finding import Finding
from sitegen.core.records.codec import codec_for
from sitegen.core.site.page import WriteResult
from sitegen.core.store import Store
from sitegen.core.values.date_range import DateRange
from sitegen.pipeline.files import MANIFEST, Inventory, digest_of, folder_stamps, program_digest
from sitegen.pipeline.results import Checked, Published

_FINDINGS = codec_for(tuple[Finding, ...])
_HELD = codec_for(DateRange)


@dataclass(frozen=True, slots=True)
class Command:
    """A command, and the files of the journal when it was given. `words` are its name and its options."""

    words: tuple[str, ...]
    root: Path
    today: date
    files: Inventory
    store: Store

    @property
    def key(self) -> str:
        """Where the result is stored."""
        return self.store.key("found", *self.words, str(self.root))

    @property
    def inputs(self) -> list[str]:
        """Digests of everything that the result depends on but the day."""
        return [self.files.digest, program_digest()]


def _stored(command: Command) -> dict[str, object] | None:
    kept = command.store.get(command.key)
    if kept is None or kept.value.get("inputs") != command.inputs:
        return None
    value = dict(kept.value)
    return value if _HELD.decode(value["held"]).contains(command.today) else None


def stored_check(command: Command) -> Checked | None:
    """The result of validating."""
    try:
        value = _stored(command)
        if value is None:
            return None
        return Checked(_FINDINGS.decode(value["findings"]), value["experiments"], value["entries"])  # type: ignore[arg-type]
    except (KeyError, ValueError, TypeError):
        return None


def remember_check(command: Command, checked: Checked, held: DateRange) -> None:
    """Store the result of validating, unless a file is so new that a later change might leave its stamp as it is."""
    if command.files.settled:
        command.store.put(
            command.key,
            {
                "inputs": command.inputs,
                "held": _HELD.encode(held),
                "findings": _FINDINGS.encode(checked.findings),
                "experiments": checked.experiments,
                "entries": checked.entries,
            },
        )


def stored_publication(command: Command) -> Published | None:
    """The result of writing, where the output is as it was left."""
    try:
        value = _stored(command)
        if value is None or value["output"] != _output(Path(str(value["folder"])), value["folders"]):
            return None
        findings = _FINDINGS.decode(value["findings"])
        outcome = WriteResult(unchanged=value["files"])  # type: ignore[arg-type]
        return Published(findings, Path(str(value["folder"])), outcome, tuple(value["left_out"]))  # type: ignore[arg-type]
    except (KeyError, ValueError, TypeError):
        return None


def _output(folder: Path, folders: object) -> str:
    """Stands for the files that an output has; their content is not read."""
    assert isinstance(folders, list)
    try:
        ledger = (folder / MANIFEST).stat()
    except OSError:
        return ""
    stamps = folder_stamps(folder, folders)
    return digest_of([stamps, ledger.st_size, ledger.st_mtime_ns, ledger.st_ctime_ns, ledger.st_ino])


def remember_publication(
    command: Command, published: Published, held: DateRange, addresses: Sequence[str]
) -> None:
    """Store the result of writing."""
    if published.outcome is None or not command.files.settled:
        return
    holders = {address.rpartition("/")[0] for address in addresses}
    folders = ["", *sorted({parent for holder in holders for parent in _with_parents(holder)} - {""})]
    command.store.put(
        command.key,
        {
            "inputs": command.inputs,
            "held": _HELD.encode(held),
            "findings": _FINDINGS.encode(published.findings),
            "folder": str(published.folder),
            "folders": folders,
            "output": _output(published.folder, folders),
            "files": len(addresses),
            "left_out": list(published.left_out),
        },
    )


def _with_parents(folder: str) -> list[str]:
    parts = folder.split("/")
    return ["/".join(parts[:depth]) for depth in range(1, len(parts) + 1)]
