"""What is longer than what is read holds nothing else back: the rest of its file, and the other files of its run."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.app.console.report import finding_line
from sitegen.pipeline import validate
from tests.bounds.measured import TODAY
from tests.cases import Case
from tests.ingest.builders import HEAD

RUN = "seasons/spring/crate-run"
UNKNOWN = "error[unknown-plant]: `P7` is not a plant, group or tub of this experiment"
WEIGHED = "  - {day: 3, height: {P7: 9 cm}}\n"
SHEET = "readings:\n  - {file: cells.csv, reading: height cm, columns: {a: P1}}\n"
CELLS = ("cells.csv", "day,a\n4,much\n")
LONG = "x" * 1_001
VERY_LONG = "x" * 20_001


def _said(root: Path, experiment: str, *files: tuple[str, str]) -> list[str]:
    """The findings of one run beside the shared sound journal, each as a line without its mend."""
    named = ((f"{RUN}/experiment.yaml", experiment), *((f"{RUN}/{name}", text) for name, text in files))
    case = Case("", "", tuple((name, text.encode()) for name, text in named), "")
    found = validate(case.write(root), TODAY).findings
    return [finding_line(each).partition(" (")[0].removeprefix(f"{RUN}/") for each in found]


SIX = HEAD + SHEET + "log:\n  - {day: 0, sow: 2 a spot}\n" + WEIGHED
OF_LOG = "experiment.yaml:11:23: " + UNKNOWN
OF_SHEET = "cells.csv:2:3: error[bad-cell]: in `a`, `much` is not a length"


def test_without_a_bound(tmp_path: Path) -> None:
    """The run without anything that is refused has a fault in its log and one in its sheet."""
    assert _said(tmp_path, SIX, CELLS) == [OF_SHEET, OF_LOG]


AFTER = "  - {day: 6, height: {P7: 11 cm}}\n"
PAGES = "      words and words\n" * 1_251
PICKS = "".join(f"      P{number}: 1 g\n" for number in range(2_001))
REFUSED = {
    "line": (
        f"  - {{day: 5, prune: {VERY_LONG}}}\n",
        "12:1: error[text-too-long]: this line has 20,022 characters; at most 20,000 are read",
    ),
    "value": (
        f"  - {{day: 5, water: {LONG}}}\n",
        "12:21: error[text-too-long]: `water` has 1,001 characters; at most 1,000 are read",
    ),
    "key": (
        f"  - {{day: 5, {LONG}: 1}}\n",
        "12:14: error[text-too-long]: this key has 1,001 characters; at most 1,000 are read",
    ),
    "text": (
        f"  - day: 5\n    note: |\n{PAGES}",
        "13:11: error[text-too-long]: `note` has 20,016 characters; at most 20,000 are read",
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_one_entry(name: str, tmp_path: Path) -> None:
    """An entry that has more than what is read leaves the findings of other entries and of the run's sheets."""
    text, said = REFUSED[name]
    found = _said(tmp_path, SIX + text + AFTER, CELLS)
    last = f"experiment.yaml:{(SIX + text).count(chr(10)) + 1}:23: {UNKNOWN}"

    assert found == [OF_SHEET, OF_LOG, f"experiment.yaml:{said}", last]


def test_a_mapping(tmp_path: Path) -> None:
    """Of a mapping of 2,001 keys the first 2,000 are read, and the entries below it."""
    found = _said(tmp_path, SIX + f"  - day: 5\n    harvest:\n{PICKS}" + AFTER, CELLS)
    many = "experiment.yaml:14:7: error[too-many-items]: this mapping has 2,001 items; at most 2,000 are read"

    assert many in found
    assert [each.partition(":")[2] for each in (found[-2], found[-1])] == [
        f"2013:7: {UNKNOWN.replace('P7', 'P1999')}",
        f"2015:23: {UNKNOWN}",
    ]


def test_everything_but_a_line(tmp_path: Path) -> None:
    """Of a set-up whose crop is a line that is too long, nothing is said that only follows from the gap."""
    text = SIX.replace("crop: sorrel", f"crop: {VERY_LONG}")

    assert _said(tmp_path, text, CELLS) == [
        "experiment.yaml:3:1: error[text-too-long]: this line has 20,007 characters; at most 20,000 are read"
    ]


def test_a_list_in_a_log(tmp_path: Path) -> None:
    """Of a log of 10,001 entries the first 10,000 are read."""
    text = SIX + "  - {day: 6}\n" * 9_998 + "  - {day: 7, height: {P8: 1 cm}}\n"

    assert _said(tmp_path, text, CELLS) == [
        OF_SHEET,
        "experiment.yaml:10:3: error[too-many-items]: this list has 10,001 items; at most 10,000 are read",
        OF_LOG,
    ]


def test_a_recap(tmp_path: Path) -> None:
    """Of a recap with a line and a paragraph that are not read, other parts have their findings, and so has the log."""
    paragraph = ("word " * 3_000).replace("word word word", "word\nword word")
    recap = f"## Recap\n\n{VERY_LONG}\n\n{paragraph}\n\n```photo\nnone.jpg\n```\n"

    assert _said(tmp_path, SIX, ("recap.md", recap), CELLS) == [
        OF_SHEET,
        OF_LOG,
        "recap.md:3:1: error[text-too-long]: this line has 20,001 characters; at most 20,000 are read",
        "recap.md:5:1: error[text-too-long]: this paragraph has 14,999 characters; at most 10,000 are read",
        "recap.md:1008:1: error[missing-photo]: `none.jpg` is not in photos/",
    ]


def test_a_sheet(tmp_path: Path) -> None:
    """A sheet with too many rows leaves the findings of the log and of other sheets."""
    rows = "day,a\n" + "4,1\n" * 10_001
    text = SIX.replace("log:", "  - {file: long.csv, reading: height cm, columns: {a: P1}}\nlog:")

    assert _said(tmp_path, text, ("long.csv", rows), CELLS) == [
        OF_SHEET,
        "experiment.yaml:9:12: error[too-many-items]: `long.csv` has 10,002 rows; at most 10,000 days are read",
        OF_LOG.replace(":11:", ":12:"),
    ]
