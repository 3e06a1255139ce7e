"""Pages → output folder, `Outcome(written, unchanged, removed)`.

Each file is written beside its place and moved into it, assets before the pages that need them; what is no longer made
is removed last. A folder that this project did not write is never touched.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from sitegen.core.finding import Finding, Source
from sitegen.core.page import Page

__all__ = ["LEDGER", "Outcome", "write"]

LEDGER = ".sitegen.json"  # which files are ours: nothing else in the folder is ever removed


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of each file, by its address."""

    written: tuple[str, ...] = ()
    unchanged: tuple[str, ...] = ()
    removed: tuple[str, ...] = ()


def write(pages: Iterable[Page], folder: Path) -> tuple[Outcome, tuple[Finding, ...]]:
    """Bring a folder to hold exactly these pages.

    Parameters
    ----------
    pages
        With addresses relative to the folder, forward slashes.
    folder
        Made where it is missing; refused where it holds files that were not written by an earlier call.

    Returns
    -------
    Outcome, findings
        A finding `output-not-ours` instead of touching a foreign folder.

    """
    wanted = {page.address: page for page in pages}
    ours = _ours(folder)
    if ours is None:
        return Outcome(), (_foreign(folder),)
    folder.mkdir(parents=True, exist_ok=True)
    written: list[str] = []
    unchanged: list[str] = []
    _note(folder, {*ours, *wanted})  # before the first file: a killed process leaves nothing foreign behind
    for address in sorted(wanted, key=lambda a: (a.endswith(".html"), a)):
        content = wanted[address].content  # one at a time: photos are many and large
        if _same(folder / address, content):
            unchanged.append(address)
        else:
            _place(folder / address, content)
            written.append(address)
    removed = sorted(ours - set(wanted))
    for address in removed:
        _remove(folder, address)
    _note(folder, set(wanted))
    return Outcome(tuple(written), tuple(unchanged), tuple(removed)), ()


def _ours(folder: Path) -> set[str] | None:
    """The addresses written earlier; None for a folder with files of another origin."""
    if not folder.exists():
        return set()
    if not folder.is_dir():
        return None
    ledger = folder / LEDGER
    if not ledger.is_file():
        return set() if not any(folder.iterdir()) else None
    try:
        kept: Mapping[str, object] = json.loads(ledger.read_text("utf-8"))
        files = kept["files"]
    except (ValueError, KeyError, TypeError):
        return None
    safe = [f for f in files if isinstance(f, str)] if isinstance(files, list) else []
    return {f for f in safe if not Path(f).is_absolute() and ".." not in Path(f).parts}


def _foreign(folder: Path) -> Finding:
    return Finding(
        "output-not-ours",
        Source(folder.name),
        f"`{folder}` holds files that were not written from a journal",
        mend="choose an empty folder with `-o`, or empty this one yourself",
        found=str(folder),
    )


def _same(path: Path, body: bytes) -> bool:
    try:
        return path.stat().st_size == len(body) and path.read_bytes() == body
    except OSError:
        return False


def _place(path: Path, body: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    fresh = path.with_name(f".{path.name}.new")
    fresh.write_bytes(body)
    fresh.replace(path)


def _remove(folder: Path, address: str) -> None:
    path = folder / address
    path.unlink(missing_ok=True)
    for parent in path.parents:
        if parent == folder or any(parent.iterdir()):
            return
        parent.rmdir()


def _note(folder: Path, addresses: set[str]) -> None:
    text = json.dumps({"format": 1, "files": sorted(addresses)}, indent=0)
    _place(folder / LEDGER, text.encode())
