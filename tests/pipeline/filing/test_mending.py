"""Mending a journal: rounds on a copy, mends that are taken back, and one write of each file."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.findings.mend import Edit
from sitegen.pipeline.filing import mending
from sitegen.pipeline.filing.mending import mend_journal
from sitegen.pipeline.results import Checked
from tests.cases import Case

TODAY = dt.date(2025, 4, 1)
PLACE = "seasons/spring/crate-run/experiment.yaml"
HEAD = (
    "format: 1\ntitle: Sorrel in a crate\ncrop: sorrel\nsystem: crate\nstart: 2025-03-01\nplants: 4\nlog:\n"
)


def _journal(root: Path, log: str, *, end: str = "\n", mark: str = "") -> Path:
    content = (mark + (HEAD + log).replace("\n", end)).encode()
    Case("mends", "", ((PLACE, content),), "").write(root)
    return root / PLACE


LOG = """\
  - {day: 0, sow: 2 a spot}    # sown   late
  - day: 3
    note: one thing: roots are white    # said so
  - {day: 20,   hieght: 9,5 cm}
  - {day: 22, harvest: {P1: 9,50 g, P2: 3 g}, note: roots white, tips brown}
  - {day: 23, lost: P3-P1, milestone: {flower: P1}}
"""
MENDED = """\
  - {day: 0, sow: 2 a spot}    # sown   late
  - day: 3
    note: 'one thing: roots are white'    # said so
  - {day: 20,   height: 9.5 cm}
  - {day: 22, harvest: {P1: 9.50 g, P2: 3 g}, note: 'roots white, tips brown'}
  - {day: 23, lost: P1-P3, milestone: {flower: P1}}
"""


def test_a_file_in_utf16_stays_so(tmp_path: Path) -> None:
    """A log that an editor saved as UTF-16 is mended, and is UTF-16 after it, with its mark and its line ends."""
    place = _journal(tmp_path, LOG)
    before, after = ((HEAD + log).replace("\n", "\r\n").encode("utf-16") for log in (LOG, MENDED))
    place.write_bytes(before)
    mend_journal(tmp_path, TODAY, write=True)

    assert place.read_bytes() == after


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_rounds(end: str, mark: str, tmp_path: Path) -> None:
    """What one mend uncovers is mended in the next round; all other bytes stay, and a second time changes nothing."""
    place = _journal(tmp_path, LOG, end=end, mark=mark)
    mended = mend_journal(tmp_path, TODAY, write=True)

    assert place.read_bytes() == (mark + (HEAD + MENDED).replace("\n", end)).encode()
    assert sorted((edit.line, edit.old, edit.text) for edit in mended.edits) == [
        (10, "one thing: roots are white", "'one thing: roots are white'"),
        (11, "9,5 cm", "9.5 cm"),
        (11, "hieght", "height"),
        (12, "9,50 g", "9.50 g"),
        (12, "roots white, tips brown", "'roots white, tips brown'"),
        (13, "P3-P1", "P1-P3"),
    ]
    assert mended.refused == ()
    assert mend_journal(tmp_path, TODAY, write=True).edits == ()


def test_without_writing(tmp_path: Path) -> None:
    """The difference is told, and no file of the journal is touched."""
    place = _journal(tmp_path, "  - {day: 0, sow: 2 a spot}\n  - {day: 20, height: 10-8 cm}\n")
    before = place.stat()

    assert mend_journal(tmp_path, TODAY, write=False).diff == (
        f"--- a/{PLACE}\n+++ b/{PLACE}\n@@ -6,4 +6,4 @@\n plants: 4\n log:\n   - {{day: 0, sow: 2 a spot}}\n"
        "-  - {day: 20, height: 10-8 cm}\n+  - {day: 20, height: 8-10 cm}\n"
    )
    assert place.stat() == before


def test_a_file_that_changed_meanwhile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that someone saves while it is being mended stays as it was saved."""
    place = _journal(tmp_path, "  - {day: 0, sow: 2 a spot}\n  - {day: 20, height: 10-8 cm}\n")
    own = mending.validate

    def saved_meanwhile(root: Path, today: dt.date) -> Checked:
        place.write_bytes(b"title: mine\n")
        return own(root, today)

    monkeypatch.setattr(mending, "validate", saved_meanwhile)
    mended = mend_journal(tmp_path, TODAY, write=True)

    assert (mended.edits, mended.changed_meanwhile) == ((), (PLACE,))
    assert place.read_bytes() == b"title: mine\n"


def _planted(monkeypatch: pytest.MonkeyPatch, *planted: Finding) -> None:
    """Let the first checks find mends that nobody would make."""
    own = mending.validate

    def found(root: Path, today: dt.date) -> Checked:
        line = (root / PLACE).read_text("utf-8").splitlines()
        stands = [f for f in planted if all(e.stands_in(line[e.line - 1]) for e in f.edits)]
        return Checked((*own(root, today).findings, *stands))

    monkeypatch.setattr(mending, "validate", found)


def _finding(line: int, column: int, old: str, text: str) -> Finding:
    edit = Edit(PLACE, line, column, len(old), text, old)
    return Finding("no-unit", Source(PLACE, line, column), f"`{old}`", edits=(edit,), safe=True)


def test_a_mend_that_brings_an_error_is_taken_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A mend that brings an error is taken back and told; the other mends of its file are carried out."""
    place = _journal(tmp_path, "  - {day: 0, sow: 2 a spot}\n  - {day: 20, height: 9 cm, leaves: 7}\n")
    bad, unreadable = _finding(9, 23, "9 cm", "9 kg"), _finding(8, 5, "{", "")
    _planted(monkeypatch, bad, unreadable, good := _finding(9, 37, "7", "8"))
    mended = mend_journal(tmp_path, TODAY, write=True)

    assert (mended.edits, mended.refused) == (good.edits, (bad, unreadable))
    assert place.read_text("utf-8").endswith(
        "  - {day: 0, sow: 2 a spot}\n  - {day: 20, height: 9 cm, leaves: 8}\n"
    )


def test_a_mend_that_leaves_its_finding_is_taken_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A mend after which its finding is still there is taken back, and not tried again."""
    place = _journal(tmp_path, "  - {day: 0, sow: 2 a spot}\n")
    before, checks = place.read_bytes(), []
    idle = _finding(8, 13, " ", "  ")

    def found(root: Path, today: dt.date) -> Checked:
        checks.append(root)
        return Checked((idle,))

    monkeypatch.setattr(mending, "validate", found)
    mended = mend_journal(tmp_path, TODAY, write=True)

    assert (mended.edits, mended.refused, place.read_bytes()) == ((), (idle,), before)
    assert len(checks) < 6
