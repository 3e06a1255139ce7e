"""Findings as text, one a line, and as JSON."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sitegen.app.console.report import (
    closing_line,
    finding_line,
    findings_json,
    findings_lines,
    findings_text,
)
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source

UNIT = Finding(
    "unknown-unit",
    Source("logs/basil.yaml", 14, 14, 7),
    "`mL/plnt` is not a known unit",
    "write `mL/plant`",
    "mL/plnt",
    "a volume",
)
GAP = Finding("long-gap", Source("logs/basil.yaml", 9, 3), "nothing is recorded between day 0 and day 40")


def written(root: Path, text: str, *, name: str = "e.yaml") -> Path:
    """A journal's folder with one file."""
    path = root / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode())
    return root


def shown(root: Path, line: str, column: int, width: int, *, above: str = "") -> list[str]:
    """The excerpt of a place on the second of two lines: the lines between headline and closing line."""
    written(root, f"{above}\n{line}\n")
    finding = Finding("no-unit", Source("e.yaml", 2, column, width), "m")
    return findings_text([finding], root).split("\n")[2:-3]


def test_excerpt(tmp_path: Path) -> None:
    """A finding shows headline, place, line with carets, and what to do."""
    root = written(tmp_path, "\n" * 12 + "- day: 12\n  water: 250 mL/plnt\n", name="logs/basil.yaml")

    assert findings_text([UNIT], root) == (
        "error[unknown-unit]: `mL/plnt` is not a known unit\n"
        " --> logs/basil.yaml:14:14\n"
        "   |\n"
        "14 |   water: 250 mL/plnt\n"
        "   |              ^^^^^^^\n"
        "help: write `mL/plant`\n"
        "\n"
        "1 error in 1 file\n"
    )


def test_missing_file(tmp_path: Path) -> None:
    """Without its file a finding has no excerpt; without a mend no help."""
    assert findings_text([UNIT, GAP], tmp_path) == (
        "error[unknown-unit]: `mL/plnt` is not a known unit\n"
        " --> logs/basil.yaml:14:14\n"
        "help: write `mL/plant`\n"
        "\n"
        "warning[long-gap]: nothing is recorded between day 0 and day 40\n"
        " --> logs/basil.yaml:9:3\n"
        "\n"
        "1 error and 1 warning in 1 file\n"
    )


def test_no_findings(tmp_path: Path) -> None:
    """Without findings there is nothing to show."""
    assert (findings_text([], tmp_path), findings_lines([])) == ("", "")


def test_line_that_opens_the_block(tmp_path: Path) -> None:
    """The line above is shown where it opens the block that the marked line stands in."""
    assert shown(tmp_path, "    leaf-mix: 20", 15, 2, above="  feed:") == [
        "  |",
        "1 |   feed:",
        "2 |     leaf-mix: 20",
        "  |               ^^",
    ]


def test_line_above_of_the_same_block(tmp_path: Path) -> None:
    """A neighbour of the marked line is not shown."""
    assert shown(tmp_path, "  water: 2", 10, 1, above="  note: dry") == [
        "  |",
        "2 |   water: 2",
        "  |          ^",
    ]


def test_line_above_that_opens_nothing(tmp_path: Path) -> None:
    """A key without a value opens no block where the marked line is not indented below it."""
    assert shown(tmp_path, "  water: 2", 10, 1, above="  note:") == [
        "  |",
        "2 |   water: 2",
        "  |          ^",
    ]


@pytest.mark.parametrize(("length", "text"), [(100, "k" * 99 + ":"), (101, "k" * 99 + "…")])
def test_long_line_above(length: int, text: str, tmp_path: Path) -> None:
    """A line above of more than a hundred characters is cut to a hundred."""
    lines = shown(tmp_path, "  water: 2", 10, 1, above="k" * (length - 1) + ":")

    assert lines[1] == f"1 | {text}"


def test_gutter_of_line_ten(tmp_path: Path) -> None:
    """Line numbers are aligned where the line above has fewer digits."""
    written(tmp_path, "\n" * 8 + "feed:\n  mix: 2\n")

    text = findings_text([Finding("no-unit", Source("e.yaml", 10, 8, 1), "m")], tmp_path)
    assert text.split("\n")[2:-3] == ["   |", " 9 | feed:", "10 |   mix: 2", "   |        ^"]


def test_long_line(tmp_path: Path) -> None:
    """A long line is cut around the span."""
    line = f"note: {'a' * 150} SPAN {'b' * 150}"
    _, text, caret = shown(tmp_path, line, line.index("SPAN") + 1, 4)

    assert text == f"2 | …{'a' * 32} SPAN {'b' * 62}…"
    assert caret == f"  | {' ' * 34}^^^^"


def test_long_span(tmp_path: Path) -> None:
    """A span longer than what is shown is marked as far as half of it."""
    _, text, caret = shown(tmp_path, "a" * 300, 1, 300)

    assert (text, caret) == (f"2 | {'a' * 100}…", f"  | {'^' * 50}")


def test_tabs(tmp_path: Path) -> None:
    """A tab is shown as four spaces, and the carets follow."""
    assert shown(tmp_path, "\tph:\t7", 6, 1) == ["  |", "2 |     ph:    7", "  |            ^"]


def test_wide_signs(tmp_path: Path) -> None:
    """Wide signs take two cells and combining ones none, before the span and in it."""
    assert shown(tmp_path, "小松菜: e\u0301t 水耕 x", 10, 2) == [
        "  |",
        "2 | 小松菜: e\u0301t 水耕 x",
        "  |            ^^^^",
    ]


@pytest.mark.parametrize(("column", "width"), [(20, 5), (6, 50)])
def test_span_past_the_line(tmp_path: Path, column: int, width: int) -> None:
    """A span that reaches past its line is marked up to the end of it, with one caret at least."""
    carets = shown(tmp_path, "ph: 15", column, width)[2]

    assert carets == ("  |       ^" if column == 20 else "  |      ^")


def test_line_past_the_file(tmp_path: Path) -> None:
    """A line that the file does not have has no excerpt."""
    written(tmp_path, "a\n")

    text = findings_text([Finding("no-unit", Source("e.yaml", 40), "m")], tmp_path)
    assert text == "error[no-unit]: m\n --> e.yaml:40:1\n\n1 error in 1 file\n"


def test_binary_file(tmp_path: Path) -> None:
    """A picture has no excerpt."""
    written(tmp_path, "\x89PNG\0\n")

    text = findings_text([Finding("photo-location", Source("e.yaml"), "m")], tmp_path)
    assert text == "warning[photo-location]: m\n --> e.yaml:1:1\n\n1 warning in 1 file\n"


def test_file_outside_the_journal(tmp_path: Path) -> None:
    """A file outside the journal's folder is not read."""
    written(tmp_path, "secret\n", name="other/e.yaml")
    (tmp_path / "journal").mkdir()

    text = findings_text([Finding("no-unit", Source("../other/e.yaml"), "m")], tmp_path / "journal")
    assert "secret" not in text


def test_windows_line_ends(tmp_path: Path) -> None:
    """A carriage return at the end of a line is no part of it."""
    written(tmp_path, "\ufeffa: 1\r\nph: 15\r\n")

    text = findings_text([Finding("no-unit", Source("e.yaml", 2, 5, 2), "m")], tmp_path)
    assert text.split("\n")[2:-3] == ["  |", "2 | ph: 15", "  |     ^^"]


def test_control_signs(tmp_path: Path) -> None:
    """Signs that would steer a terminal are not passed on to it."""
    written(tmp_path, "\nnote: \x1b[31mred\u202e\n")
    finding = Finding("no-unit", Source("e.yaml", 2, 7, 3), "`\x1b[31m` is\nodd", "remove\t`\x1b`")

    assert findings_text([finding], tmp_path) == (
        "error[no-unit]: `�[31m` is�odd\n"
        " --> e.yaml:2:7\n"
        "  |\n"
        "2 | note: �[31mred�\n"
        "  |       ^^^\n"
        "help: remove    `�`\n"
        "\n"
        "1 error in 1 file\n"
    )


HINT = Finding("personal-hint", Source("p.yaml"), "m")


def test_advice() -> None:
    """Advice has a head of its own; as data, its severity."""
    assert finding_line(HINT) == "p.yaml:1:1: advice[personal-hint]: m"
    assert json.loads(findings_json([HINT]))["findings"][0]["severity"] == "advice"


def test_colour(tmp_path: Path) -> None:
    """Colour is added only where it is asked for, and nothing else changes."""
    root = written(tmp_path, "\n" * 13 + "  water: 250 mL/plnt\n", name="logs/basil.yaml")

    assert findings_text([UNIT], root, colour=True) == (
        "\x1b[1;31merror[unknown-unit]\x1b[0m: \x1b[1m`mL/plnt` is not a known unit\x1b[0m\n"
        " \x1b[34m-->\x1b[0m logs/basil.yaml:14:14\n"
        "   \x1b[34m|\x1b[0m\n"
        "\x1b[34m14\x1b[0m \x1b[34m|\x1b[0m   water: 250 mL/plnt\n"
        "   \x1b[34m|\x1b[0m              \x1b[1;31m^^^^^^^\x1b[0m\n"
        "\x1b[36mhelp\x1b[0m: write `mL/plant`\n"
        "\n"
        "1 error in 1 file\n"
    )


@pytest.mark.parametrize(
    ("findings", "line"),
    [
        ([UNIT], "1 error in 1 file"),
        ([UNIT, UNIT, UNIT, GAP], "3 errors and 1 warning in 1 file"),
        ([GAP, Finding("long-gap", Source("b.yaml"), "m")], "2 warnings in 2 files"),
        ([HINT], "1 piece of advice in 1 file"),
        ([UNIT, GAP, HINT, HINT], "1 error, 1 warning and 2 pieces of advice in 2 files"),
    ],
)
def test_closing_line(findings: list[Finding], line: str) -> None:
    """The closing line counts errors, warnings, advice and files."""
    assert closing_line(findings) == line


def test_one_line() -> None:
    """On one line a finding has place, code, message, and what to do in brackets."""
    assert findings_lines([UNIT, GAP]) == (
        "logs/basil.yaml:14:14: error[unknown-unit]: `mL/plnt` is not a known unit (write `mL/plant`)\n"
        "logs/basil.yaml:9:3: warning[long-gap]: nothing is recorded between day 0 and day 40\n"
    )


def test_one_line_stays_one() -> None:
    """A line end in a text does not begin a second line."""
    assert (
        finding_line(Finding("no-unit", Source("a.yaml"), "one\ntwo"))
        == "a.yaml:1:1: error[no-unit]: one�two"
    )


def test_json() -> None:
    """As JSON every field of a finding is there, under the number of the format."""
    assert json.loads(findings_json([UNIT])) == {
        "format": 1,
        "findings": [
            {
                "code": "unknown-unit",
                "severity": "error",
                "message": "`mL/plnt` is not a known unit",
                "mend": "write `mL/plant`",
                "found": "mL/plnt",
                "expected": "a volume",
                "source": {"file": "logs/basil.yaml", "line": 14, "column": 14, "width": 7},
                "edits": [],
                "safe": False,
                "more": [],
                "held_back": [],
            }
        ],
    }


def test_json_of_nothing() -> None:
    """Without findings the list is empty, and letters stay letters."""
    finding = Finding("no-unit", Source("größe.yaml"), "½ of what?")

    assert findings_json([]) == '{\n  "format": 1,\n  "findings": []\n}\n'
    assert "½ of what?" in findings_json([finding])


def _counts(*mends: str) -> list[Finding]:
    """Findings of one kind in lines 10, 20, …, with a mend each."""
    return [Finding("no-unit", Source("e.yaml", 10 * n), f"`{n}`", mend) for n, mend in enumerate(mends, 1)]


def test_findings_of_one_kind_are_told_once(tmp_path: Path) -> None:
    """The first is shown in full, and where the others are; mends in other words have their own line."""
    assert findings_text(_counts("a", "a", "a", "a", "a"), tmp_path) == (
        "error[no-unit]: `1`\n --> e.yaml:10:1\nhelp: a\nmore: 4 more like it, lines 20-50\n\n5 errors in 1 file\n"
    )
    assert findings_text(_counts("write `1`", "write `2`", "write `1`"), tmp_path) == (
        "error[no-unit]: `1`\n --> e.yaml:10:1\nhelp: write `1`\nmore: 2 more like it, lines 20 and 30\n"
        "      line 20: write `2`\n\n3 errors in 1 file\n"
    )


def test_a_cause_names_what_it_holds_back(tmp_path: Path) -> None:
    """Below a cause stand the codes and places of what may follow from it; the closing line counts them."""
    cause = Finding("end-before-records", Source("e.yaml", 9), "m", "mend it")
    held = [Finding("after-the-end", Source("e.yaml", line), f"day {line}") for line in (12, 14)]
    other = Finding("after-the-end", Source("leaves.csv", 3), "day 20")

    assert findings_text([cause, *held, other], tmp_path) == (
        "error[end-before-records]: m\n --> e.yaml:9:1\nhelp: mend it\n"
        "held back: 3 findings that may follow from it: after-the-end (e.yaml:12, e.yaml:14 and leaves.csv:3)\n\n"
        "1 error in 2 files; 3 held back\n"
    )
    assert findings_lines([cause, *held]) == (
        "e.yaml:9:1: error[end-before-records]: m (mend it) … held back: 2 findings that may follow from it: "
        "after-the-end (lines 12 and 14)\n"
    )


def test_lines_of_one_kind() -> None:
    """As lines, one stands for all that are mended in the same words; others have lines of their own."""
    assert findings_lines(_counts("a", "a", "a", "a", "a")) == (
        "e.yaml:10:1: error[no-unit]: `1` (a) … and 4 more like it, lines 20-50\n"
    )
    assert findings_lines(_counts("write `1`", "write `2`")) == (
        "e.yaml:10:1: error[no-unit]: `1` (write `1`)\ne.yaml:20:1: error[no-unit]: `2` (write `2`)\n"
    )


def test_json_loses_nothing() -> None:
    """As JSON every place of a kind is there with its mend, and every finding that is held back."""
    cause = Finding("end-before-records", Source("e.yaml", 9), "m")
    held = Finding("after-the-end", Source("e.yaml", 12), "day 12")
    kind, after = json.loads(findings_json([cause, *_counts("write `1`", "write `2`"), held]))["findings"]

    assert [(each["code"], each["source"]["line"]) for each in kind["held_back"]] == [("after-the-end", 12)]
    assert [(each["source"]["line"], each["mend"]) for each in after["more"]] == [(20, "write `2`")]
