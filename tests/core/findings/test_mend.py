"""Mends as edits: the words of the help come from the edit, and an edit knows what it replaces."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Edit, in_line, replacement
from sitegen.core.findings.source import Source

HERE = Source("e.yaml", 3, 9, 5)


def test_words_are_those_of_the_edit() -> None:
    """The help says what the edit writes, after the key that it stands under, or what it removes."""
    assert str(replacement(HERE, "9,5 g", "9.5 g")) == "write `9.5 g`"
    assert str(replacement(HERE, "9,5 g", "9.5 g", before="P1: ")) == "write `P1: 9.5 g`"
    assert str(replacement(HERE._replace(width=3), "---", "")) == "remove `---`"
    assert str(replacement(HERE._replace(width=1), "\x07", "")) == "remove it"


def test_a_finding_takes_words_and_edits_from_the_mend() -> None:
    """A finding has the words of its mend, its edits and whether they are safe; advice has none."""
    findings = Findings()
    findings.add("no-unit", HERE, "…", mend=replacement(HERE, "9,5 g", "9.5 g"))
    findings.add("no-unit", HERE, "…", mend="write `9 g` or `9 oz`")

    assert [(f.mend, f.edits, f.safe) for f in findings] == [
        ("write `9.5 g`", (Edit("e.yaml", 3, 9, 5, "9.5 g", "9,5 g"),), True),
        ("write `9 g` or `9 oz`", (), False),
    ]


@pytest.mark.parametrize(
    ("line", "width", "stands"),
    [
        ("harvest: 9,5 g  # all", 5, True),
        ('harvest: "9,5 g"', 7, True),
        ("harvest: \"9,5 g'", 7, False),
        ("harvest: 9,5 k", 5, False),
        ("harvest: 9,5", 5, False),
    ],
)
def test_what_stands_there(line: str, width: int, stands: bool) -> None:
    """An edit fits a line that holds its old text there, with quotes around it or without."""
    assert Edit("e.yaml", 1, 10, width, "9.5 g", "9,5 g").stands_in(line) is stands


def test_insertion() -> None:
    """A width of 0 inserts, at the end of a line too."""
    edit = Edit("e.yaml", 1, 6, 0, "}", "")

    assert (edit.stands_in("{a: 1"), edit.in_place("{a: 1")) == (True, "{a: 1}")
    assert not edit.stands_in("{a:")


def test_a_piece_of_a_line_is_placed() -> None:
    """The columns of a piece count from the beginning of the place that it is given."""
    mend = in_line(2, "b:1", "b: 1")

    assert mend.at(Source("e.yaml", 7, 5)).edits == (Edit("e.yaml", 7, 7, 3, "b: 1", "b:1"),)
