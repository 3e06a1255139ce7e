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

from sitegen.core.findings.finding import Findings, Source
from sitegen.core.site.file_names import is_litter, is_utf8, utf8
from sitegen.core.site.page import MANIFEST


@dataclass(frozen=True, slots=True)
class Listed:
    """A file or folder; `place` is relative to the journal, with forward slashes."""

    name: str
    place: str
    path: Path
    is_folder: bool


def listed(folder: Path, root: Path, findings: Findings) -> tuple[Listed, ...]:
    """What a folder holds; a finding where it cannot be opened, and for each link that leads nowhere."""
    place = "" if folder == root else f"{folder.relative_to(root).as_posix()}/"
    items: list[Listed] = []
    try:
        with os.scandir(folder) as found:
            entries = sorted((entry for entry in found if not is_litter(entry.name)), key=lambda e: e.name)
    except OSError as error:
        _report_closed(place.rstrip("/"), error, findings)
        return ()
    for entry in entries:
        if not is_utf8(entry.name):
            _report_name(place + utf8(entry.name), findings)
            continue
        if entry.is_symlink() and not os.path.exists(entry.path):  # noqa: PTH110 - of an entry at hand
            _report_lost_link(place + entry.name, findings)
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


def _report_lost_link(place: str, findings: Findings) -> None:
    message = f"`{place}` is a link that leads nowhere"
    findings.add("unreadable-file", Source(place), message, mend="mend the link, or remove it")


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
