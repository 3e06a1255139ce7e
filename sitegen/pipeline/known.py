"""What the last run found, for a run that finds nothing changed.

In: the stamps of the journal, the program and the output. Out: the findings of the last run, or None where anything has
changed since. Reads no file of the journal, and imports nothing that reading one takes.
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
from sitegen.pipeline.inventory import LEDGER, Inventory, digest_of, folder_stamps, program
from sitegen.pipeline.results import Checked, Published

_FINDINGS = codec_for(tuple[Finding, ...])
_HELD = codec_for(DateRange)


@dataclass(frozen=True, slots=True)
class Asked:
    """What a command was asked, and what lies on the disk when it is."""

    words: tuple[str, ...]
    root: Path
    today: date
    found: Inventory
    store: Store

    @property
    def key(self) -> str:
        """Where the answer is kept."""
        return self.store.key("found", *self.words, str(self.root))

    @property
    def inputs(self) -> list[str]:
        """Stands for all that the answer depends on but the day."""
        return [self.found.digest, program()]


def _kept(asked: Asked) -> dict[str, object] | None:
    kept = asked.store.get(asked.key)
    if kept is None or kept.value.get("inputs") != asked.inputs:
        return None
    value = dict(kept.value)
    return value if _HELD.decode(value["held"]).contains(asked.today) else None


def known_check(asked: Asked) -> Checked | None:
    """What validating found."""
    try:
        value = _kept(asked)
        if value is None:
            return None
        return Checked(_FINDINGS.decode(value["findings"]), value["experiments"], value["entries"])  # type: ignore[arg-type]
    except (KeyError, ValueError, TypeError):
        return None


def remember_check(asked: Asked, checked: Checked, held: DateRange) -> None:
    """Keep what validating found, unless a file was so new that a later change might not show."""
    if asked.found.settled:
        asked.store.put(
            asked.key,
            {
                "inputs": asked.inputs,
                "held": _HELD.encode(held),
                "findings": _FINDINGS.encode(checked.findings),
                "experiments": checked.experiments,
                "entries": checked.entries,
            },
        )


def known_publication(asked: Asked) -> Published | None:
    """What writing found, where the output is as it was left."""
    try:
        value = _kept(asked)
        if value is None or value["output"] != _output(Path(str(value["folder"])), value["folders"]):
            return None
        findings = _FINDINGS.decode(value["findings"])
        outcome = WriteResult(unchanged=value["files"])  # type: ignore[arg-type]
        return Published(findings, Path(str(value["folder"])), outcome, tuple(value["left_out"]))  # type: ignore[arg-type]
    except (KeyError, ValueError, TypeError):
        return None


def _output(folder: Path, folders: object) -> str:
    """Stands for the files that an output has; which bytes are in them is not looked at."""
    assert isinstance(folders, list)
    try:
        ledger = (folder / LEDGER).stat()
    except OSError:
        return ""
    stamps = folder_stamps(folder, folders)
    return digest_of([stamps, ledger.st_size, ledger.st_mtime_ns, ledger.st_ctime_ns, ledger.st_ino])


def remember_publication(
    asked: Asked, published: Published, held: DateRange, addresses: Sequence[str]
) -> None:
    """Keep what writing found."""
    if published.outcome is None or not asked.found.settled:
        return
    holders = {address.rpartition("/")[0] for address in addresses}
    folders = ["", *sorted({parent for holder in holders for parent in _with_parents(holder)} - {""})]
    asked.store.put(
        asked.key,
        {
            "inputs": asked.inputs,
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
