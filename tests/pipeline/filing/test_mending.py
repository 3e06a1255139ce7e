"""Mending a journal: rounds on a copy, mends that are taken back, and one write of each file."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.mend import Edit
from sitegen.core.findings.source import Source
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


def _at(line: int, code: str = "no-unit", column: int = 5, *, file: str = PLACE, said: str = "") -> Finding:
    """A finding with an edit of its own line."""
    edit = Edit(file, line, column, 1, "b", "a")
    return Finding(code, Source(file, line, column), said or f"line {line}", edits=(edit,), safe=True)


LATER, TWISTED = _at(9, "yaml-syntax"), _at(9, "yaml-twist")


@pytest.mark.parametrize(
    ("finding", "after", "failed"),
    [
        (_at(5), (), False),
        (_at(5), (_at(5),), True),
        (_at(5), (_at(5, column=9),), True),
        (_at(5), (_at(5, said="another"),), True),
        (_at(5), (_at(5, "long-gap"),), False),
        (_at(5), (_at(6),), False),
        (_at(5), (_at(5, file="other.yaml"),), False),
        (_at(5), (LATER,), True),
        (_at(5), (TWISTED,), True),
        (_at(5), (_at(9, "yaml-syntax", file="other.yaml"),), False),
        (_at(5, "yaml-syntax"), (LATER,), False),
        (_at(5, "yaml-syntax"), (_at(5, "yaml-syntax", 4, said="x"),), True),
        (_at(5, "yaml-syntax"), (_at(5, "yaml-syntax", 6, said="x"),), False),
        (_at(5, "yaml-syntax"), (_at(3, "yaml-tag"),), True),
        (_at(5, "yaml-syntax"), (_at(3, "yaml-twist"),), False),
        (_at(5, "yaml-syntax"), (_at(5, "yaml-twist", 4),), True),
        (_at(5, "yaml-syntax"), (_at(5, "no-unit", said="x"),), False),
    ],
    ids=[
        *(
            "gone",
            "as it was",
            "moved",
            "another here",
            "a warning here",
            "another elsewhere",
            "in another file",
        ),
        *("unreadable", "twisted", "another unreadable", "uncovered", "earlier", "later in the line"),
        *("above", "twisted above", "twisted here", "uncovered here"),
    ],
)
def test_when_a_mend_has_failed(finding: Finding, after: tuple[Finding, ...], *, failed: bool) -> None:
    """Where its finding stays or an error comes where it wrote; what could not be read before was only hidden."""
    assert mending._failed(finding, [finding], [finding], after) is failed


def test_findings_with_the_same_words_are_counted() -> None:
    """Of three that are alike in one line, two were mended: the third may stay, and no more."""
    alike = [_at(5, column=column) for column in (5, 9, 13)]
    done = alike[:2]

    assert not mending._failed(alike[0], done, alike, alike[2:])
    assert mending._failed(alike[0], done, alike, alike[1:])
    assert mending._failed(alike[0], [alike[0]], alike, alike)


def test_an_error_that_was_there_before_is_nobodys_fault() -> None:
    """Only what is new in a line counts against its mend."""
    old = _at(5, "unknown-plant")

    assert not mending._failed(_at(5), [_at(5)], [_at(5), old], [old])


class _Bench:
    """Files of letters, whose findings are the letters `a`, to be `b`; `X` stands for an error that `x` becomes."""

    def __init__(self, root: Path, **files: str) -> None:
        self.root = root
        self.checks = 0
        for name, text in files.items():
            (root / f"{name}.yaml").write_text(text, "utf-8")
        self.tried = mending._Tried(root, self.check)

    def check(self) -> tuple[Finding, ...]:
        self.checks += 1
        found: list[Finding] = []
        for path in sorted(self.root.glob("*.yaml")):
            for number, line in enumerate(path.read_text("utf-8").splitlines(), start=1):
                for column, letter in enumerate(line, start=1):
                    source = Source(path.name, number, column)
                    if letter in "ax":
                        edit = Edit(path.name, number, column, 1, {"a": "b", "x": "X"}[letter], letter)
                        found.append(
                            Finding("no-unit", source, f"`{letter}`{column}", edits=(edit,), safe=True)
                        )
                    if letter == "X":
                        found.append(Finding("unknown-plant", source, "`X`"))
        return tuple(found)

    def run(self) -> dict[str, str]:
        self.tried.run()
        return {path.stem: path.read_text("utf-8") for path in sorted(self.root.glob("*.yaml"))}


def test_mends_of_a_round_are_carried_out_at_once(tmp_path: Path) -> None:
    """In all files; each edit is kept once, and the first content of each file is remembered."""
    bench = _Bench(tmp_path, one="a-a\n", two="--\na\n", three="--\n")

    assert bench.run() == {"one": "b-b\n", "two": "--\nb\n", "three": "--\n"}
    assert [edit[:3] for edit in bench.tried.edits] == [
        ("one.yaml", 1, 1),
        ("one.yaml", 1, 3),
        ("two.yaml", 2, 1),
    ]
    assert (bench.tried.refused, bench.checks) == ([], 2)
    assert bench.tried.originals == {"one.yaml": b"a-a\n", "two.yaml": b"--\na\n"}


def test_a_file_with_a_bad_mend_is_mended_one_by_one(tmp_path: Path) -> None:
    """The good mends of it are kept, the bad one is taken back and not tried again; other files are done at once."""
    bench = _Bench(tmp_path, one="a-x-a\n", two="a\n")

    assert bench.run() == {"one": "b-x-b\n", "two": "b\n"}
    assert [(f.source.file, f.source.column) for f in bench.tried.refused] == [("one.yaml", 3)]
    assert [edit[:3] for edit in bench.tried.edits] == [
        ("two.yaml", 1, 1),
        ("one.yaml", 1, 1),
        ("one.yaml", 1, 5),
    ]
    # At first, after the round, after taking it back, and after each of the three mends by itself.
    assert bench.checks == 6


def test_rounds_end(tmp_path: Path) -> None:
    """Mends that uncover one another for ever are given up after some rounds."""
    bench = _Bench(tmp_path, one="a")
    turns = iter("cadbea" * 100)

    def endless() -> tuple[Finding, ...]:
        bench.checks += 1
        old = (tmp_path / "one.yaml").read_text("utf-8")
        edit = Edit("one.yaml", 1, 1, 1, next(turns), old)
        return (Finding("long-gap", Source("one.yaml"), f"round {bench.checks}", edits=(edit,), safe=True),)

    bench.tried.check = endless
    bench.tried.run()

    assert (bench.checks, len(bench.tried.edits)) == (mending.ROUNDS + 1, mending.ROUNDS)


@pytest.mark.parametrize(
    "edits",
    [
        (Edit("one.yaml", 1, 1, 1, "b", "z"),),
        (Edit("one.yaml", 7, 1, 1, "b", "a"),),
        (Edit("one.yaml", 1, 1, 1, "b", "a"), Edit("two.yaml", 1, 1, 1, "b", "a")),
    ],
    ids=["another text", "no such line", "of another file"],
)
def test_a_mend_that_fits_no_more_is_refused(tmp_path: Path, edits: tuple[Edit, ...]) -> None:
    """Nothing is written where the file holds something else, or for another file than that of the finding."""
    bench = _Bench(tmp_path, one="a\n", two="a\n")
    finding = Finding("no-unit", Source("one.yaml"), "`a`", edits=edits, safe=True)
    bench.tried.check = lambda: (finding,)

    assert bench.run() == {"one": "a\n", "two": "a\n"}
    assert (bench.tried.refused, bench.tried.edits) == ([finding], [])


def test_only_safe_mends_with_edits_are_tried(tmp_path: Path) -> None:
    """Advice, and what has more than one reading, is left to the author; so is what is not there."""
    bench = _Bench(tmp_path, one="a\n")
    edit = Edit("one.yaml", 1, 1, 1, "b", "a")
    advice = Finding("no-unit", Source("one.yaml"), "`a`", safe=True)
    unsafe = Finding("no-unit", Source("one.yaml"), "`a`", edits=(edit,))
    bench.tried.check = lambda: (advice, unsafe)

    assert bench.run() == {"one": "a\n"}
    assert (bench.tried.refused, bench.tried.originals) == ([], {})
    assert bench.tried._content("none.yaml") == b""


def test_what_a_copy_holds(tmp_path: Path) -> None:
    """Texts and exports are copied, pictures linked to, links that lead nowhere or out kept; no output of a build."""
    root = tmp_path / "journal"
    for place in (
        *("journal.yaml", "a.YML", "b.md", "c.po", "d.toml", "e.html", "f.csv", "g.xlsx", "h.vtt", "i.srt"),
        *("j.txt", "photos/k.jpg", "site/.sitegen.json", "site/l.html"),
    ):
        (root / place).parent.mkdir(parents=True, exist_ok=True)
        (root / place).write_text(place, "utf-8")
    (root / "empty").mkdir()
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "m.md").touch()
    (root / "out").symlink_to(tmp_path / "other")
    (root / "lost").symlink_to("nowhere")
    with mending._copy_of(root) as copy:
        found = sorted(path.relative_to(copy).as_posix() for path in copy.rglob("*"))
        linked = {path.name for path in copy.rglob("*") if path.is_symlink()}
        picture = (copy / "photos" / "k.jpg").resolve()
        leads = {name: (copy / name).readlink().as_posix() for name in ("out", "lost")}
        name = copy.name

    assert found == sorted(
        [
            *(
                "journal.yaml",
                "a.YML",
                "b.md",
                "c.po",
                "d.toml",
                "e.html",
                "f.csv",
                "g.xlsx",
                "h.vtt",
                "i.srt",
            ),
            *("j.txt", "photos", "photos/k.jpg", "empty", "out", "lost"),
        ]
    )
    assert linked == {"k.jpg", "out", "lost"}
    assert picture == root / "photos" / "k.jpg"
    assert leads == {"out": str(tmp_path / "other"), "lost": "nowhere"}
    assert (name, copy.exists()) == ("journal", False)


def test_a_system_without_links_copies_pictures(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """There they take the time of a copy."""

    def refused(*_: object) -> None:
        raise OSError

    (tmp_path / "journal").mkdir()
    (tmp_path / "journal" / "k.jpg").write_bytes(b"picture")
    monkeypatch.setattr(mending.os, "symlink", refused)
    with mending._copy_of(tmp_path / "journal") as copy:
        assert (copy / "k.jpg").read_bytes() == b"picture"
        assert not (copy / "k.jpg").is_symlink()


def test_rounds_are_enough_for_a_thousand_slips() -> None:
    """Common practice, no source: a mended file takes two."""
    assert mending.ROUNDS == 20
