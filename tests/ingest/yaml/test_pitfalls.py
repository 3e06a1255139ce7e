"""Texts that YAML would twist: each is met with a mend, and the mend is sound."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.ingest.builders import found, rows, tree

# Every way that a sentence can begin or go on that means something to YAML.
SENTENCES = [
    "one thing: roots are white",
    "ends with a colon:",
    "two: colons: here",
    "see #3",
    "#2 is ahead",
    "*first leaf",
    "&first leaf",
    "- first leaf",
    "%first leaf",
    "@noon the lamp went off",
    "`soap` on the leaves",
    '"white" roots, they say',
    "'white' roots",
    "> 9 leaves",
    "| a line",
    "? no roots",
    "[not sure] mould",
    "{not sure} mould",
    "!at last",
    ": and so on",
    ", and so on",
    "] odd",
    "} odd",
]
INSIDE = ["roots white, tips brown", "white, brown, green", "a [b] c", "a {b} c", "a] b", "a} b", "?no roots"]
BLOCK = "  - day: 3\n    note: {}\n    tell: never\n"
BRACES = "  - {{day: 3, note: {}}}\n"
BRACES_FIRST = "  - {{day: 3, note: {}, tell: never}}\n"
CASES = [
    *((BLOCK, sentence) for sentence in SENTENCES),
    *((BRACES, sentence) for sentence in SENTENCES + INSIDE if sentence != ", and so on"),
    *((BRACES_FIRST, sentence) for sentence in SENTENCES + INSIDE if sentence != ", and so on"),
]


def _mended(log: str, sentence: str, finding: str) -> str:
    """The log with the mend of a finding applied as it stands there."""
    offered = re.search(
        r"\(write `(?P<mend>note: ['\"].*['\"])`(?:, or two spaces before a comment)?\)$", finding
    )
    assert offered is not None, finding
    return log.replace("note: {}", offered["mend"].replace("{", "{{").replace("}", "}}")).format()


@pytest.mark.parametrize(("log", "sentence"), CASES, ids=[f"{log.split()[1]} {text}" for log, text in CASES])
def test_the_mend_is_sound(log: str, sentence: str, tmp_path: Path) -> None:
    """A twisted note is one finding, whose mend, written as offered, gives the sentence that was meant."""
    findings = found(tmp_path / "broken", log.format(sentence))

    assert len(findings) == 1
    assert findings[0].split(": ")[1] in {"yaml-twist", "yaml-anchor", "yaml-tag"}
    mended = rows(tmp_path / "mended", _mended(log, sentence, findings[0]))
    assert [event.what for event in mended.events] == [sentence]


@pytest.mark.parametrize(
    "sentence",
    [
        "a, b",
        "-2 degrees outside",
        "a [b] c",
        "a {b} c",
        "http://example.org/a#b",
        "50 % up",
        "it's white",
        "a:b",
        "C#",
    ],
)
def test_not_twisted(sentence: str, tmp_path: Path) -> None:
    """What YAML leaves alone is no finding."""
    assert [event.what for event in rows(tmp_path, BLOCK.format(sentence)).events] == [sentence]


def test_a_comment_is_a_comment(tmp_path: Path) -> None:
    """Two spaces and a sign with a space after it begin a comment."""
    assert [event.what for event in rows(tmp_path, BLOCK.format("white  # as always")).events] == ["white"]


def test_a_block_keeps_everything(tmp_path: Path) -> None:
    """In a block text nothing is twisted."""
    log = "  - day: 3\n    note: |\n      one: two #3\n      - and & so * on\n"

    assert [event.what for event in rows(tmp_path, log).events] == ["one: two #3\n- and & so * on"]


def test_a_cut_in_a_later_line(tmp_path: Path) -> None:
    """A text over several lines is cut at its last, and is offered whole."""
    log = "  - day: 3\n    note: a text that goes on\n      in a second line, see #3\n"

    assert found(tmp_path, log) == [
        (
            "10:29: yaml-twist: in `note`, what follows ` #` is a comment and would be lost "
            "(write `note: 'a text that goes on in a second line, see #3'`, or two spaces before a comment)"
        )
    ]


def test_a_sound_line_is_not_blamed() -> None:
    """The line above a mistake is not blamed for its quotes, and a bracket is shown where it opens."""
    assert tree('note: "white: and so on"\nwas: [a\n')[1] == [
        "2:6: yaml-syntax: the bracket that opens here is not closed (write `[a]`)"
    ]


def test_an_opened_quote(tmp_path: Path) -> None:
    """A text that begins with an apostrophe is an opened quote."""
    assert found(tmp_path, "  - day: 3\n    note: 'tis ripe\n") == [
        ('9:11: yaml-syntax: the quotes that open here are not closed (write `"\'tis ripe"`)')
    ]


@pytest.mark.parametrize(
    ("entry", "finding"),
    [
        (
            "trouble: {what: mould: white fluff, plants: P1}",
            "8:35: yaml-twist: in `what`, `: ` begins a mapping (write `what: 'mould: white fluff'`)",
        ),
        (
            "end: {why: slow: too cold, plants: kept}",
            "8:29: yaml-twist: in `why`, `: ` begins a mapping (write `why: 'slow: too cold'`)",
        ),
        (
            "lost: {P1: snapped, while cutting}",
            (
                "8:34: yaml-twist: the comma before `while cutting` begins a new key here "
                "(write `P1: 'snapped, while cutting'`)"
            ),
        ),
        (
            "ph: 7.1, then 5.9",
            "8:23: yaml-twist: the comma before `then 5.9` begins a new key here (write `ph: '7.1, then 5.9'`)",
        ),
        (
            "harvest: {P1: 8 g, P2}",
            (
                "8:33: yaml-twist: the comma before `P2` begins a new key here "
                "(write a value after `P2: `, or `P1: '8 g, P2'` for one text)"
            ),
        ),
    ],
)
def test_other_texts(entry: str, finding: str, tmp_path: Path) -> None:
    """Other texts inside braces are met in the same way."""
    assert found(tmp_path, f"  - {{day: 3, {entry}}}\n") == [finding]


@pytest.mark.parametrize(
    ("log", "finding"),
    [
        (
            "  - day: 3\n    note: 'I don't know'\n",
            "9:17: yaml-twist: in `note`, the apostrophe in `don't` closes the quotes (write `note: \"I don't know\"`)",
        ),
        (
            "  - {day: 3, lost: {P1: 'didn't grow', P2: x}}\n",
            "8:30: yaml-twist: in `P1`, the apostrophe in `didn't` closes the quotes (write `P1: \"didn't grow\"`)",
        ),
        (
            '  - day: 3\n    note: "all "well" here"\n',
            (
                "9:16: yaml-twist: in `note`, the quotes close here, and the text goes on "
                "(write `note: 'all \"well\" here'`)"
            ),
        ),
        (
            "  - day: 3\n    height: 5 cm, leaves: 3\n",
            (
                "9:25: yaml-twist: in `height`, `: ` begins a mapping "
                "(write `height: 5 cm`, and `leaves: 3` in a line of its own)"
            ),
        ),
        (
            "  - day: 3\n    harvest: P1: 2 g\n",
            "9:16: yaml-twist: in `harvest`, `: ` begins a mapping (write `harvest: {P1: 2 g}`)",
        ),
        (
            "  - day: 3\n    harvest: {P1:2 g, P2: 3 g}\n",
            "9:17: yaml-twist: there is no space after the colon of `P1` (write `P1: 2 g`)",
        ),
    ],
)
def test_what_was_meant(log: str, finding: str, tmp_path: Path) -> None:
    """Quotes, colons and commas that say something else are shown where they stand, with the line as it was meant."""
    assert found(tmp_path, log) == [finding]
