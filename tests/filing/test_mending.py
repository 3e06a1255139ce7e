"""Edits on the bytes of a file."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.mend import Edit
from sitegen.core.findings.source import Source
from sitegen.filing.mending import StaleError, apart, edited, unified_diff


def _edit(line: int, column: int, old: str, text: str) -> Edit:
    return Edit("e.yaml", line, column, len(old), text, old)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\x85", "\u2028"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("last", ["", "end"])
def test_every_other_byte_stays(end: str, mark: str, last: str) -> None:
    """Line ends, a byte order mark, comments and the last line stay as they are; several edits of a line keep apart."""
    lines = ["ä: ½ tsp  # ü", "{P1: 9,5 g, P2: 3,5 g} # two", ""]
    content = (mark + end.join([*lines, last])).encode()
    edits = [_edit(2, 6, "9,5 g", "9.5 g"), _edit(2, 17, "3,5 g", "3.50 g"), _edit(1, 1, "ä", "ae")]
    after = ["ae: ½ tsp  # ü", "{P1: 9.5 g, P2: 3.50 g} # two", "", last]

    assert edited(content, edits) == (mark + end.join(after)).encode()


@pytest.mark.parametrize("name", ["utf-16-le", "utf-16-be", "utf-32-le"])
def test_the_encoding_of_a_byte_order_mark_stays(name: str) -> None:
    """A file in UTF-16 or UTF-32 is mended in its encoding, with its mark; a difference shows its text."""
    before, after = (f"\ufeffä: 1\r\nb: {number} g\r\n".encode(name) for number in ("9,5", "9.5"))

    assert edited(before, [_edit(2, 4, "9,5 g", "9.5 g")]) == after
    assert unified_diff("e.yaml", before, after) == (
        "--- a/e.yaml\n+++ b/e.yaml\n@@ -1,2 +1,2 @@\n ä: 1\n-b: 9,5 g\n+b: 9.5 g\n"
    )


@pytest.mark.parametrize(
    "content", [b"a: 9.5 g\n", b"", b"a: \xff,5 g\n", b"\xff\xfea: 9,5 g\n", b"a: 9,\n5 g"]
)
def test_another_text_is_not_written_over(content: bytes) -> None:
    """Where a file holds something else than the edit is to replace, nothing is made."""
    with pytest.raises(StaleError):
        edited(content, [_edit(1, 4, "9,5 g", "9.5 g")])


def test_edits_that_meet_are_for_another_round() -> None:
    """Of findings whose edits overlap or touch, the first is taken; those of other lines and files are apart."""

    def finding(*edits: Edit) -> Finding:
        return Finding("no-unit", Source("e.yaml"), "…", edits=edits, safe=True)

    one, inside, beside = (finding(_edit(1, column, "abc", "x")) for column in (5, 7, 8))
    away, below = finding(_edit(1, 9, "abc", "x")), finding(_edit(2, 5, "abc", "x"))
    other = finding(_edit(1, 5, "abc", "x")._replace(file="f.yaml"))

    assert apart([one, inside, beside, away, below, other]) == (one, away, below, other)


def test_unified_diff() -> None:
    """A difference has the usual form; carriage returns are not shown, and a last line without its end is marked."""
    assert unified_diff("e.yaml", b"a: 1\r\nb: 9,5", b"a: 1\r\nb: 9.5") == (
        "--- a/e.yaml\n+++ b/e.yaml\n@@ -1,2 +1,2 @@\n a: 1\n"
        "-b: 9,5\n\\ No newline at end of file\n+b: 9.5\n\\ No newline at end of file\n"
    )
