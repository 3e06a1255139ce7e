"""An inbox filed into the logs of a journal."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.app.console.report import findings_lines
from sitegen.filing.inbox.transaction import UnreadableIntentError, intent_path
from sitegen.pipeline import validate
from sitegen.pipeline.filing.inbox import Filing, OtherJournalError, file_inbox
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
    with pytest.raises(OtherJournalError, match="bench"):
        file_inbox(other, inbox, TODAY)
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
