"""What `log --from` prints, and what it refuses."""

from __future__ import annotations

from pathlib import Path

import click
import pytest

from sitegen.app.log.from_inbox import log_from_inbox
from sitegen.cache_folder import lock_folder
from sitegen.filing.inbox.transaction import intent_path
from sitegen.filing.journal_lock import BusyError, journal_lock
from tests.pipeline.filing.test_inbox import TODAY, bench, log


def test_what_was_filed_and_what_stays_is_printed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each visit with its day on stdout; each line that stays with its finding and its place in the inbox on stderr."""
    root, inbox = bench(tmp_path, "amber day 31: a moth on the lid\n\nday 3: x\n")
    status = log_from_inbox(root, inbox, TODAY)
    said = capsys.readouterr()

    assert said.out == "amber-one, day: 31\n  note: a moth on the lid\n"
    assert said.err == (
        "error[which-experiment]: the line names no experiment, and 2 experiments grow now\n"
        " --> inbox.txt:1:1\n"
        "  |\n"
        "1 | day 3: x\n"
        "  | ^^^^^^^^\n"
        "help: begin the line with `amber-one` or `leaf-one`\n"
        "\n"
        "1 error in 1 file\n"
        "\n"
        "1 visit filed, 1 line left in inbox.txt; `sitegen log EXPERIMENT --undo` takes back the last entry of one\n"
    )
    assert (status, inbox.read_text("utf-8")) == (1, "day 3: x\n")


def test_warnings_about_the_logs_are_printed_and_filed_all_the_same(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A value that nobody expects is filed; the status is that of a job done."""
    root, inbox = bench(tmp_path, "amber day 25: ph 9.5\n")

    assert log_from_inbox(root, inbox, TODAY) == 0
    assert "warning[unusual-value]: pH 9.5 on day 25 is above what is usual" in capsys.readouterr().err
    assert log(root, "amber-one") == "  - day: 25\n    ph: 9.5\n"


def test_an_earlier_day_goes_before_the_later_ones(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Lines of several days, in any order, stand in the log in the order of their days."""
    root, inbox = bench(tmp_path, "amber day 31: roots white\namber day 3: a moth on the lid\n")
    path = root / "seasons/one/amber-one/experiment.yaml"
    head, found, entry = path.read_text("utf-8").partition("  - day: 20\n")

    assert log_from_inbox(root, inbox, TODAY) == 0
    moth, roots = "  - day: 3\n    note: a moth on the lid\n", "  - day: 31\n    note: roots white\n"
    assert path.read_text("utf-8") == head + moth + found + entry + roots
    assert "warning" not in capsys.readouterr().err


def refusal(root: Path, inbox: Path) -> str:
    """The usage error of a filing."""
    with pytest.raises(click.UsageError) as refused:
        log_from_inbox(root, inbox, TODAY)
    return str(refused.value.message)


def test_an_inbox_that_is_not_there_is_refused(tmp_path: Path) -> None:
    """Unless an earlier filing of it was not finished."""
    root, inbox = bench(tmp_path)
    inbox.unlink()

    assert refusal(root, inbox) == f"there is no file `{inbox}`"


def test_a_damaged_record_is_told_with_its_place(tmp_path: Path) -> None:
    """The author has to look; nothing is done before."""
    root, inbox = bench(tmp_path)
    intent_path(inbox).write_bytes(b"{")

    assert refusal(root, inbox) == (
        f"`{intent_path(inbox)}` is damaged: it says what an earlier filing was to do. "
        "Look at the last entries of the logs, remove from the inbox what they hold, then remove that file"
    )


def test_a_journal_that_another_command_changes_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a wait; the inbox is held as well, since it may belong to several journals."""
    root, inbox = bench(tmp_path)
    monkeypatch.setattr("sitegen.filing.journal_lock.journal_lock.__wrapped__.__defaults__", (0.05,))
    for held in (root, inbox):
        with lock_folder() as locks, journal_lock(locks, held), pytest.raises(BusyError) as busy:
            log_from_inbox(root, inbox, TODAY)
        assert busy.value.filename == str(held)
