"""A small journal for targets to read in, and texts of journals to begin with.

In: a folder. Out: the journal in it; the files of all small journals of the tests, by name.
"""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import shutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from sitegen.core.findings.finding import Finding
from sitegen.core.format import TABLES
from tests.cases import BASE, cases

TESTS = Path(__file__).parents[2]
PRINTED = TESTS / "journals" / "format"
DEMO = TESTS.parent / "content_demo"
RUN = "seasons/2025-autumn/pak-choi-pairs"
KEYS = tuple(dict.fromkeys(key.encode() for table in TABLES.values() for key in table.keys))
WORDS = (
    b"P1", b"P2", b"P1-P3", b"P1, P3", b"all", b"none", b"rest", b"leaf-mix", b"rosette", b"off", b"unweighed", b"as labelled", b"2 of 6", b"about 9 cm",
    b"9 cm", b"84 g", b"12+ g", b"5-7 L", b"7.1, then 5.9", b"20 mL", b"1.2 mS/cm", b"18 C", b"64 F", b"day: 3", b"date: 2025-10-19", b"- {day: 4, note: x}",
    b"pair", b"each", b"together", b"plants", b"what", b"weight", b"at", b"until", b"draft: true", b"true", b"false", b"yes", b"~", b"null",
)  # fmt: skip


def printed_journal(folder: Path) -> Path:
    """A copy of the printed journal."""
    root = folder / "journal"
    shutil.copytree(PRINTED, root)
    return root


@cache
def texts(ending: str) -> tuple[bytes, ...]:
    """The files of small journals whose path ends so, the shortest first."""
    found = {path.read_bytes() for home in (PRINTED, BASE, DEMO) for path in home.rglob(f"*{ending}")}
    found |= {content for case in cases() for name, content in case.files if name.endswith(ending)}
    return tuple(sorted((text for text in found if len(text) < 6500), key=lambda text: (len(text), text)))


def report(findings: tuple[Finding, ...]) -> tuple[object, ...]:
    """What is told of findings, whole: to be compared."""
    return tuple((f.code, f.source, f.message, f.mend, f.found, f.expected, f.edits) for f in findings)


def case_files(*names: str) -> Iterator[tuple[tuple[str, bytes], ...]]:
    """The files of each broken journal that has one of those names."""
    for case in cases():
        files = tuple((name, content) for name, content in case.files if name in names)
        if files:
            yield files
