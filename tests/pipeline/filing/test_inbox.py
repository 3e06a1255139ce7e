"""An inbox filed into the logs of a journal."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.app.console.report import findings_lines
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.values.day import Start
from sitegen.filing.inbox.lines import Inbox, Visit
from sitegen.filing.inbox.run_names import KnownRun
from sitegen.filing.inbox.transaction import Doubt, FileChange, Piece, UnreadableIntentError, intent_path
from sitegen.filing.words.known import Understood
from sitegen.filing.written_days import WrittenDay
from sitegen.pipeline import validate
from sitegen.pipeline.filing import inbox as module
from sitegen.pipeline.filing.inbox import FiledVisit, Filing, OtherJournalError, file_inbox
from sitegen.pipeline.filing.planning import Planned
from tests.journal_maker import make_journal
from tests.kills.killing import EVERY, killed_before

TODAY = date(2026, 5, 1)
RUN = """\
format: 1
title: {title}
crop: {crop}
system: tray
start: {start}
plants: 2
log:
  - day: 0
    sow: 2 a spot
  - day: 20
    height: 9 cm  # a comment
"""
RUNS = {
    "amber-one": RUN.format(title="Amber in a tray", crop="tomato", start="2026-03-01"),
    "leaf-one": RUN.format(title="Leaves in a tray", crop="leaf", start="2026-03-10"),
}
INBOX = """\
amber day 31: note: as tall as a hand
leaf 2026-04-12: note: watered
leaf 2026-04-12: note: watered

buy twine
amber day 25: note: earlier
"""


def bench(folder: Path, inbox: str = INBOX) -> tuple[Path, Path]:
    """A journal with two experiments, and an inbox beside it."""
    root = make_journal(folder.resolve() / "bench", RUNS)
    (folder / "inbox.txt").write_text(inbox, "utf-8")
    return root, folder.resolve() / "inbox.txt"


def log(root: Path, run: str) -> str:
    """What was added to a log."""
    text = (root / "seasons" / "one" / run / "experiment.yaml").read_text("utf-8")
    assert text.startswith(RUNS[run])
    return text.removeprefix(RUNS[run])


def test_each_line_goes_to_its_log_and_the_rest_stays(tmp_path: Path) -> None:
    """In the order of days within a log; two equal visits are two; a line without a day is told where it stands now."""
    root, inbox = bench(tmp_path)
    done = file_inbox(root, inbox, TODAY)

    assert (
        log(root, "amber-one") == "  - day: 25\n    note: earlier\n  - day: 31\n    note: as tall as a hand\n"
    )
    assert log(root, "leaf-one") == "  - date: 2026-04-12\n    note: watered\n" * 2
    assert inbox.read_text("utf-8") == "buy twine\n"
    assert [(visit.run, visit.when) for visit in done.filed] == [
        ("amber-one", "day: 31"),
        ("leaf-one", "date: 2026-04-12"),
        ("leaf-one", "date: 2026-04-12"),
        ("amber-one", "day: 25"),
    ]
    assert findings_lines(done.findings) == (
        "inbox.txt:1:1: error[no-day]: the line begins with no day (begin it with `day 31:` or `2026-03-02:`, "
        "or indent it below the line that it belongs to)\n"
    )
    assert done.left == 1
    assert not [finding for finding in validate(root, TODAY).findings if finding.is_error]


def test_a_line_that_the_log_would_have_an_error_with_stays(tmp_path: Path) -> None:
    """The other lines of the experiment are filed; the finding is that of the log, at the line of the inbox."""
    root, inbox = bench(
        tmp_path, "leaf day 31: note: x\nleaf 2026-06-01: note: y\nleaf day 32: height: 9 furlongs\n"
    )
    done = file_inbox(root, inbox, TODAY)

    assert log(root, "leaf-one") == "  - day: 31\n    note: x\n"
    assert inbox.read_text("utf-8").startswith("leaf 2026-06-01: note: y\n")
    assert findings_lines(done.findings).splitlines()[0] == (
        "inbox.txt:1:1: error[in-the-future]: `leaf-one`: day 83 is 2026-06-01, which is yet to come "
        "(check the day and `start`)"
    )


def test_an_experiment_that_cannot_be_read_keeps_its_lines(tmp_path: Path) -> None:
    """What is wrong there is told; others are filed."""
    root, inbox = bench(tmp_path)
    path = root / "seasons" / "one" / "amber-one" / "experiment.yaml"
    path.write_text(RUNS["amber-one"].replace("crop: tomato", "crop: unheard"), "utf-8")
    done = file_inbox(root, inbox, TODAY)

    assert [visit.run for visit in done.filed] == ["leaf-one", "leaf-one"]
    assert inbox.read_text("utf-8") == (
        "amber day 31: note: as tall as a hand\nbuy twine\namber day 25: note: earlier\n"
    )
    assert findings_lines(done.findings).splitlines()[0] == (
        "inbox.txt:1:1: error[unknown-crop]: `amber-one` cannot be read: `unheard` is not a crop of crops.yaml "
        "(seasons/one/amber-one/experiment.yaml:3) (write one of `orange`, `tomato`, `leaf`) … and 1 more like it, line 3"
    )


def test_a_log_that_nothing_can_be_added_to_keeps_its_lines(tmp_path: Path) -> None:
    """A file in another encoding is left as it is, and the lines of other experiments are filed."""
    root, inbox = bench(tmp_path)
    path = root / "seasons" / "one" / "amber-one" / "experiment.yaml"
    path.write_bytes(RUNS["amber-one"].replace("a comment", "caf\xe9").encode("latin-1"))
    done = file_inbox(root, inbox, TODAY)

    assert [visit.run for visit in done.filed] == ["leaf-one", "leaf-one"]
    assert inbox.read_text("utf-8") == (
        "amber day 31: note: as tall as a hand\nbuy twine\namber day 25: note: earlier\n"
    )
    assert findings_lines(done.findings).splitlines()[0] == (
        "inbox.txt:1:1: error[not-utf8]: `amber-one` cannot be read: `seasons/one/amber-one/experiment.yaml` is not "
        "UTF-8 text (seasons/one/amber-one/experiment.yaml:11) (save the file as UTF-8) … and 1 more like it, line 3"
    )


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be", "utf-8"])
def test_an_inbox_says_by_its_mark_how_it_is_encoded(tmp_path: Path, encoding: str) -> None:
    """UTF-16 with a byte order mark, which some editors write, is filed; what stays is in the encoding of the file."""
    root, inbox = bench(tmp_path)
    inbox.write_bytes(f"\ufeffbuy Grünkern\r\n{INBOX}".replace("a hand", "März").encode(encoding))
    done = file_inbox(root, inbox, TODAY)

    assert sorted(visit.run for visit in done.filed) == ["amber-one", "amber-one", "leaf-one", "leaf-one"]
    assert "note: as tall as März" in log(root, "amber-one")
    assert inbox.read_bytes() == "\ufeffbuy Grünkern\r\nbuy twine\n".encode(encoding)
    assert findings_lines(done.findings) == (
        "inbox.txt:1:1: error[no-day]: the line begins with no day (begin it with `day 31:` or `2026-03-02:`, or "
        "indent it below the line that it belongs to) … and 1 more like it, line 2\n"
    )


def test_an_inbox_that_does_not_go_on_as_it_begins(tmp_path: Path) -> None:
    """One finding, and nothing is filed."""
    root, inbox = bench(tmp_path)
    inbox.write_bytes(b"\xff\xfe" + INBOX.encode("utf-16-le") + b"a")
    done = file_inbox(root, inbox, TODAY)

    assert done.filed == ()
    assert findings_lines(done.findings) == (
        "inbox.txt:1:1: error[not-utf8]: `inbox.txt` begins as UTF-16 text and does not go on so "
        "(save the file as UTF-8)\n"
    )


def test_an_inbox_with_nothing_to_file_is_not_touched(tmp_path: Path) -> None:
    """Not even written again with the same bytes."""
    root, inbox = bench(tmp_path, "buy twine\r\n")
    before = inbox.stat()
    file_inbox(root, inbox, TODAY)

    assert inbox.stat().st_mtime_ns == before.st_mtime_ns
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bench", "inbox.txt"]


@pytest.mark.parametrize(("inside", "encoding"), [(False, "utf-8"), (True, "utf-8"), (False, "utf-16")])
def test_killed_before_each_operation_every_line_is_filed_once(
    tmp_path: Path, inside: bool, encoding: str
) -> None:
    """Also with an inbox in the journal: a second command files the rest, and leaves nothing beside the files."""
    root, inbox = bench(tmp_path)
    if inside:
        inbox = inbox.rename(root / "inbox.txt")
    inbox.write_text(INBOX, encoding)
    file_inbox(root, inbox, TODAY)
    wanted = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    number, killed = 0, True
    while killed:
        for name, text in RUNS.items():
            (root / "seasons" / "one" / name / "experiment.yaml").write_text(text, "utf-8")
        inbox.write_text(INBOX, encoding)
        killed = killed_before(number, str(inbox.parent), lambda: file_inbox(root, inbox, TODAY))
        file_inbox(root, inbox, TODAY)

        assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == wanted, number
        number += EVERY
    assert number > 30


WORDS = ("a moth on the lid", "as pale as chalk", "the cat sat in it")
NAMED = st.builds(
    "{} day {}: {}".format, st.sampled_from(["amber", "leaf"]), st.integers(20, 40), st.sampled_from(WORDS)
)
DATED = st.builds("2026-04-{}: {}".format, st.integers(10, 28), st.sampled_from(WORDS))
OTHER = st.sampled_from(
    ["amber:", "leaf:", "", "buy twine", "day 24", "leaf day 99: too late", "# mine", "basli day 3: x"]
)


@settings(max_examples=max(6, settings().max_examples // 16))
@given(
    st.lists(st.one_of(NAMED, DATED, OTHER), max_size=8), st.lists(st.integers(0, 90), min_size=1, max_size=2)
)
def test_any_inbox_killed_anywhere(lines: list[str], kills: list[int]) -> None:
    """Every saying of a line is in a log or in the inbox, as often as it was said, and no file is left half done."""
    with TemporaryDirectory() as folder:
        root, inbox = bench(Path(folder), "\n".join(lines))
        for kill in kills:
            killed_before(kill, str(inbox.parent), lambda: file_inbox(root, inbox, TODAY))
        file_inbox(root, inbox, TODAY)
        now = inbox.read_text("utf-8") + "".join(log(root, run) for run in RUNS)

        for words in (*WORDS, "buy twine", "too late", "# mine"):
            assert now.count(words) == sum(words in line for line in lines), words
        assert not [path for path in Path(folder).rglob(".*") if path.is_file()]


def test_a_log_changed_by_the_author_after_a_kill_is_told(tmp_path: Path) -> None:
    """Its line stays; the finding says what to do, and the next command files it."""
    root, inbox = bench(tmp_path, "amber day 31: note: x\nleaf day 30: note: y\n")
    path = root / "seasons" / "one" / "leaf-one" / "experiment.yaml"
    assert _killed_with_an_intent(root, inbox)
    path.write_text(RUNS["leaf-one"] + "# mine\n", "utf-8")
    done = file_inbox(root, inbox, TODAY)

    assert done.finished == ("seasons/one/amber-one/experiment.yaml",)
    assert findings_lines(done.findings) == (
        "inbox.txt:1:1: warning[filing-unfinished]: `seasons/one/leaf-one/experiment.yaml` was changed while a filing "
        "was not finished, and does not hold these lines (look at that log, and file again)\n"
    )
    assert (path.read_text("utf-8"), inbox.read_text("utf-8")) == (
        RUNS["leaf-one"] + "# mine\n",
        "leaf day 30: note: y\n",
    )
    assert [visit.run for visit in file_inbox(root, inbox, TODAY).filed] == ["leaf-one"]


def _killed_with_an_intent(root: Path, inbox: Path) -> bool:
    """Kill a filing as soon as it is written down."""
    for number in range(100):
        assert killed_before(number, str(inbox.parent), lambda: file_inbox(root, inbox, TODAY))
        if intent_path(inbox).exists():
            return True
    return False


def test_a_filing_into_another_journal_is_finished_there(tmp_path: Path) -> None:
    """Here it is refused; where that journal has been moved to, it is finished."""
    root, inbox = bench(tmp_path, "amber day 31: note: x\n")
    other = make_journal(tmp_path.resolve() / "other", RUNS)
    assert _killed_with_an_intent(root, inbox)
    with pytest.raises(OtherJournalError) as caught:
        file_inbox(other, inbox, TODAY)
    assert caught.value.root == str(root)
    root = root.rename(tmp_path.resolve() / "moved")

    assert file_inbox(root, inbox, TODAY) == Filing(finished=("seasons/one/amber-one/experiment.yaml",))
    assert log(root, "amber-one") == "  - day: 31\n    note: x\n"


def test_a_damaged_record_of_a_filing_is_told_and_nothing_done(tmp_path: Path) -> None:
    """Neither the inbox nor a log is touched."""
    root, inbox = bench(tmp_path)
    intent_path(inbox).write_bytes(b"{")
    with pytest.raises(UnreadableIntentError):
        file_inbox(root, inbox, TODAY)

    assert (inbox.read_text("utf-8"), log(root, "amber-one")) == (INBOX, "")


def test_an_inbox_too_large_is_told(tmp_path: Path) -> None:
    """Nothing of it is read."""
    root, inbox = bench(tmp_path, "amber day 31: x\n" * 70_000)

    assert findings_lines(file_inbox(root, inbox, TODAY).findings) == (
        "inbox.txt:1:1: error[file-too-large]: `inbox.txt` has 1.1 MB; at most 1 MB are read "
        "(split it, and file one part after the other)\n"
    )


def test_a_large_inbox_is_read_to_the_limit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One of exactly that size is filed."""
    root, inbox = bench(tmp_path, "amber day 31: note: x\n")
    assert module.LARGEST == 1_000_000  # bytes; as other texts of a journal
    monkeypatch.setattr(module, "LARGEST", len(inbox.read_bytes()))

    assert file_inbox(root, inbox, TODAY) == Filing(
        (FiledVisit(1, "amber-one", "day: 31", ("note: x",), ""),), left=0, kept=True
    )


def test_an_inbox_that_is_not_there_files_nothing(tmp_path: Path) -> None:
    """It is as one without lines."""
    root, inbox = bench(tmp_path)
    inbox.unlink()

    assert file_inbox(root, inbox, TODAY) == Filing()
    assert not inbox.exists()


def test_a_journal_that_cannot_be_read_keeps_everything(tmp_path: Path) -> None:
    """Its errors are told, and no line is looked at."""
    root, inbox = bench(tmp_path)
    (root / "journal.yaml").write_text("title: [", "utf-8")
    done = file_inbox(root, inbox, TODAY)

    assert [finding.source.file for finding in done.journal_errors] == ["journal.yaml"]
    assert done == Filing(journal_errors=done.journal_errors)
    assert inbox.read_text("utf-8") == INBOX


def test_findings_stand_where_their_lines_stand_now(tmp_path: Path) -> None:
    """In the order of the inbox, whatever they are about; the span is the line without its indent."""
    text = "buy twine\nleaf day 31: note: x\n\namber 99: note: y\n  - fennel day 3: z\nleaf day 32: note: w\n   peas\n"
    root, inbox = bench(tmp_path, text)
    done = file_inbox(root, inbox, TODAY)
    left = inbox.read_text("utf-8").splitlines()

    assert [visit.line for visit in done.filed] == [2, 6]
    assert done.left == sum(bool(line.strip()) for line in left)
    for finding in done.findings:
        line = left[finding.source.line - 1]
        first = finding.source.column - 1
        assert line[first : first + finding.source.width] == line.strip(), finding
    lines = [finding.source.line for finding in done.findings]
    assert lines == sorted(lines)
    assert len(lines) >= 2


def test_a_line_that_is_no_text_is_told_as_such(tmp_path: Path) -> None:
    """One that begins with no day says what is wrong with the file, and not with the day."""
    root, inbox = bench(tmp_path, "")
    inbox.write_bytes(b"caf\xe9\n")

    assert findings_lines(file_inbox(root, inbox, TODAY).findings) == (
        "inbox.txt:1:1: error[not-utf8]: the line is not UTF-8 text (save the file as UTF-8)\n"
    )


def test_a_warning_of_an_entry_is_told_of_its_log(tmp_path: Path) -> None:
    """The line is filed, and what it brings is a finding there."""
    root, inbox = bench(tmp_path, "leaf day 31: ph: 3\namber day 31: ph: 3\n")
    done = file_inbox(root, inbox, TODAY)

    assert ([visit.run for visit in done.filed], done.findings) == (["leaf-one", "amber-one"], ())
    assert [(each.code, each.source.file) for each in done.warnings] == [
        ("unusual-value", "seasons/one/amber-one/experiment.yaml"),
        ("unusual-value", "seasons/one/leaf-one/experiment.yaml"),
    ]


def test_a_second_error_of_a_run_keeps_its_line_too(tmp_path: Path) -> None:
    """A line that stays brings nothing to those after it: they are filed as if it were not there."""
    root, inbox = bench(tmp_path, "amber day 22: lost: P9\namber day 23: note: x\namber day 24: lost: P8\n")
    done = file_inbox(root, inbox, TODAY)

    assert log(root, "amber-one") == "  - day: 23\n    note: x\n"
    assert inbox.read_text("utf-8") == "amber day 22: lost: P9\namber day 24: lost: P8\n"
    assert [(finding.code, finding.source.line) for finding in done.findings] == [
        ("unknown-plant", 1),
        ("unknown-plant", 2),
    ]


def test_visits_are_added_in_the_order_of_days(tmp_path: Path) -> None:
    """By number or by date, where the start is known; those of one day as they stand, those of no day first."""
    dated = KnownRun("a", "a", start=Start(date(2026, 3, 1), "day"))
    undated = KnownRun("b", "b")
    numbered = WrittenDay("day: 3", 0, 5, 3)
    written = WrittenDay("date: 2026-03-05", 0, 10, date=date(2026, 3, 5))

    def turn(day: WrittenDay, run: KnownRun) -> tuple[str, int]:
        return module._turn(Visit((0,), day, "", "x"), run)

    assert [turn(numbered, dated), turn(written, dated)] == [("a", 3), ("a", 4)]
    assert [turn(numbered, undated), turn(written, undated)] == [("b", 3), ("b", 0)]
    assert turn(WrittenDay("", 0, 0), dated) == ("a", 0)


def test_lines_that_stay_are_numbered_anew() -> None:
    """Those that leave take their numbers with them; a piece that goes to two logs stays until both hold it."""
    pieces = [
        Piece(b"a\nb\n", ("x",)),
        Piece(b"c\n"),
        Piece(b"d\n", ("x", "y")),
        Piece(b"e\nf\n", ("x",)),
        Piece(b"g\nh\n"),
    ]

    assert module._numbers(pieces, {"x"}) == {2: 1, 3: 2, 6: 3, 7: 4}
    assert module._numbers(pieces, {"x", "y"}) == {2: 1, 6: 2, 7: 3}
    assert module._numbers(pieces, ()) == {number: number + 1 for number in range(8)}


@pytest.mark.parametrize(
    ("line", "column", "width"),
    [(b"buy twine", 1, 9), (b"  caf\xc3\xa9 \r\n", 3, 4), (b"\t\xe9\n", 2, 1), (b"  \n", 1, 1), (b"", 1, 1)],
)
def test_the_place_of_a_line(line: bytes, column: int, width: int) -> None:
    """All of it but the space around it, in characters; of an empty one the first column."""
    assert module._at(Path("/b/inbox.txt"), 4, line) == Source("inbox.txt", 4, column, width)


@pytest.mark.parametrize(
    ("doubt", "message", "mend"),
    [
        (
            Doubt(3, "a/experiment.yaml", "Permission denied"),
            "`a/experiment.yaml` cannot be written: Permission denied; its lines stay",
            "see that it can be written, and file again",
        ),
        (
            Doubt(3, "a/experiment.yaml"),
            "`a/experiment.yaml` was changed while a filing was not finished, and does not hold these lines",
            "look at that log, and file again",
        ),
        (
            Doubt(3, filed=("amber day 3: x", "leaf day 4: y")),
            "2 lines had been filed when the inbox was changed: amber day 3: x and leaf day 4: y",
            "remove what the logs hold already, and file again",
        ),
    ],
    ids=["refused", "changed", "the inbox changed"],
)
def test_a_doubt_is_told_at_its_line(doubt: Doubt, message: str, mend: str) -> None:
    """What somebody is to look at, and what to do then."""
    assert module._doubted(doubt, Path("/b/inbox.txt")) == Finding(
        "filing-unfinished", Source("inbox.txt", 3), message, mend
    )


def test_why_an_entry_is_refused() -> None:
    """Its first error; of a run that cannot be read, with its place; without an error, that it cannot be read."""
    run = KnownRun("a", "seasons/one/a")
    error = Finding("no-unit", Source("a.yaml", 7), "`9` has no unit", "write `9 cm`")
    warning = Finding("long-gap", Source("a.yaml", 3), "a long gap")
    plan = Planned("a", Path("a"), b"", b"", (warning, error), Understood(()))

    assert module._refused(run, plan) == ("no-unit", "`a`: `9` has no unit", "write `9 cm`")
    assert module._refused(run, replace(plan, readable=False)) == (
        "no-unit",
        "`a` cannot be read: `9` has no unit (a.yaml:7)",
        "write `9 cm`",
    )
    assert module._refused(run, replace(plan, readable=False, findings=(warning,))) == (
        "unplaced-line",
        "`a` cannot be read",
        "run `sitegen validate`, and mend what it says",
    )


def test_a_key_twice_in_a_line_keeps_it(tmp_path: Path) -> None:
    """It is said of which run, and the next lines are filed."""
    root, inbox = bench(tmp_path, "leaf day 31: water: 1 L\n  water: 2 L\nleaf day 32: note: x\n")
    done = file_inbox(root, inbox, TODAY)

    assert [visit.line for visit in done.filed] == [3]
    assert [(each.code, each.message) for each in done.findings] == [
        ("unplaced-line", "`leaf-one`: `water` is said twice")
    ]


def test_a_log_in_brackets_is_told_with_its_line(tmp_path: Path) -> None:
    """The line of the log is named, since the finding is about a line of the inbox."""
    root, inbox = bench(tmp_path, "leaf day 31: note: x\n")
    path = root / "seasons/one/leaf-one/experiment.yaml"
    head = RUNS["leaf-one"].partition("log:\n")[0]
    path.write_text(f"{head}log: [{{day: 0, sow: 2 a spot}}]\n", "utf-8")
    (finding,) = file_inbox(root, inbox, TODAY).findings

    assert finding.code == "unplaced-line"
    assert finding.message.startswith("`leaf-one`, line 7: ")
    assert "brackets" in finding.message


def test_each_entry_can_be_taken_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where one of them could not be kept for that, it is said."""
    root, inbox = bench(tmp_path)
    answers = iter([True, False, True, True])
    monkeypatch.setattr(module, "keep", lambda *_: next(answers))

    assert not file_inbox(root, inbox, TODAY).kept
    assert next(answers, None) is None


def test_a_log_changes_once_for_all_of_its_visits() -> None:
    """From before the first to after the last of them, in the order of the logs."""
    first = Planned("a", Path("a"), b"0", b"1", (), Understood(()))
    plan = module._Plan(
        Inbox((), ()),
        {n: KnownRun(run, run) for n, run in enumerate("aba")},
        {0: first, 1: replace(first, before=b"x", after=b"y"), 2: replace(first, before=b"1", after=b"2")},
        {},
    )

    assert plan.changes == (
        FileChange("a/experiment.yaml", b"0", b"2"),
        FileChange("b/experiment.yaml", b"x", b"y"),
    )
