"""What a record lacks."""

from __future__ import annotations

import datetime as dt

from sitegen.core.records.rows import Reading
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.judge.record import long_gap, no_answer, no_end, no_log, nothing_sown
from tests.judge.builders import by, day, ended, place, run, said, setup, sown, visits


def test_no_log() -> None:
    """An experiment without an entry has no log, and is asked for nothing else."""
    assert said(run(head=setup(spans=()))) == [
        "e.yaml:1:5: error[no-log]: `first-physalis` has no log (write at least one entry under `log`)"
    ]


def test_unread_log() -> None:
    """A log that is there and gave no entry was refused when it was read."""
    assert said(run()) == []


def test_nothing_sown() -> None:
    """A log says what was sown."""
    assert by(nothing_sown, run(entries=visits(0))) == [
        (
            "e.yaml:10:5: warning[nothing-sown]: the log never says what was sown "
            "(write `sow` in the entry of the day of sowing)"
        )
    ]


def test_sown() -> None:
    """A log that says what was sown is right."""
    assert by(nothing_sown, run(sown())) + by(no_log, run(sown())) == []


def test_long_gap() -> None:
    """More than four weeks without an entry are asked about, at the entry after them."""
    assert by(long_gap, run(sown(), entries=visits(0, 29))) == [
        (
            "e.yaml:129:5: warning[long-gap]: nothing is recorded between day 0 and day 29, 29 days later "
            "(write an entry for what was seen in between, or check the day)"
        )
    ]


def test_four_weeks() -> None:
    """Four weeks are no long time, and neither is a span that reaches into a gap."""
    assert by(long_gap, run(sown(), entries=visits(0, 28, (40, 60), 80))) == []


def test_gap_filled_by_a_spreadsheet() -> None:
    """A spreadsheet's readings are news as well."""
    row = Reading("leaves", day(20), None, place(3), exactly(4, Dimension.COUNT), ("P1",))

    assert by(long_gap, run(sown(), row, entries=visits(0, 40))) == []


def test_gap_after_the_end() -> None:
    """After an end that kept the plants, entries may be far apart."""
    made = run(sown(), ended(20, kept=True), entries=visits(0, 20, 90))

    assert by(long_gap, made) == []


def test_no_end() -> None:
    """A run without news for more than 60 days says that it ended."""
    assert by(no_end, run(sown(), entries=visits(0, 31))) == [
        (
            "e.yaml:131:5: warning[no-end]: the last record is of day 31, more than 60 days ago, "
            "and nothing says that the run ended (write `end` in the last entry, with why)"
        )
    ]


def test_still_running() -> None:
    """Sixty days after its last entry a run may still be running."""
    assert by(no_end, run(sown(), entries=visits(0, 32))) == []


def test_no_end_of_an_undated_run() -> None:
    """Without a start nobody knows how long ago the last entry was."""
    assert by(no_end, run(sown(), head=setup(start=Start()), entries=visits(0))) == []


def test_no_end_of_a_run_dated_to_the_month() -> None:
    """Where only the month is known, the last day that the start can be counts."""
    head = setup(start=Start(dt.date(2025, 3, 1), "month"))

    assert by(no_end, run(sown(), head=head, entries=visits(0, 2))) == []


def test_no_answer() -> None:
    """A run that ended is asked for its answer, at its question."""
    assert by(no_answer, run(sown(), ended(60), head=setup(answer=None))) == [
        (
            "e.yaml:4:5: warning[no-answer]: the run ended on day 60 without an answer "
            "(write `answer` with a verdict: `again`, `not again` or `undecided`)"
        )
    ]


def test_no_answer_yet() -> None:
    """A run that goes on needs no answer, and one that has an answer is right."""
    made = by(no_answer, run(sown(), head=setup(answer=None))) + by(no_answer, run(sown(), ended(60)))

    assert made == []
