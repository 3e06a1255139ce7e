"""Parts that a record lacks."""

from __future__ import annotations

import datetime as dt

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Reading
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.judge.record import goes_silent, long_gap, no_answer, no_end, no_log, nothing_sown
from tests.judge.builders import by, checked, day, ended, ph, place, run, said, setup, sheet_row, sown, visits


def test_no_log() -> None:
    """An experiment without an entry or a date to start on has no log, and is asked for nothing else."""
    assert said(run(head=setup(spans=(), start=Start()))) == [
        (
            "e.yaml:1:5: error[no-log]: `first-physalis` has no log "
            "(write at least one entry under `log`, or for a planned run the date of its `start`)"
        )
    ]


PASSED = "write its first entry under `log`, or a later `start`"


@pytest.mark.parametrize(
    ("start", "today", "expected"),
    [
        (Start(dt.date(2025, 3, 1), "day"), dt.date(2025, 3, 1), []),
        (
            Start(dt.date(2025, 3, 1), "day"),
            dt.date(2025, 3, 2),
            [
                (
                    "e.yaml:1:5: warning[plan-passed]: `first-physalis` was to start on 2025-03-01, "
                    f"and nothing is recorded yet ({PASSED})"
                )
            ],
        ),
        (Start(dt.date(2025, 3, 1), "month"), dt.date(2025, 3, 31), []),
        (
            Start(dt.date(2025, 3, 1), "month"),
            dt.date(2025, 4, 1),
            [
                (
                    "e.yaml:1:5: warning[plan-passed]: `first-physalis` was to start in 2025-03, "
                    f"and nothing is recorded yet ({PASSED})"
                )
            ],
        ),
    ],
)
def test_plan_passed(start: Start, today: dt.date, expected: list[str]) -> None:
    """A planned run needs no log until the day after its start, or after the month of it; then it is asked for one."""
    assert said(run(head=setup(spans=(), start=start)), today) == expected


def test_unread_log() -> None:
    """A log that is there and gave no entry was refused when it was read."""
    assert by(no_log, run(head=setup(start=Start()))) == []


def test_nothing_sown() -> None:
    """A log without a sowing is a warning."""
    assert by(nothing_sown, run(entries=visits(0))) == [
        (
            "e.yaml:10:5: warning[nothing-sown]: the log never says what was sown "
            "(write `sow` in the entry of the day of sowing)"
        )
    ]


def test_sown() -> None:
    """A log with a sowing gives no finding."""
    assert by(nothing_sown, run(sown())) + by(no_log, run(sown())) == []


def test_long_gap() -> None:
    """More than four weeks without an entry are a warning, at the entry after them."""
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
            "(write `answer` with a `verdict`: `again`, `not again` or `undecided`, or with its `result` in a sentence)"
        )
    ]


def test_no_answer_yet() -> None:
    """A run that goes on needs no answer, and one that has an answer is right."""
    made = by(no_answer, run(sown(), head=setup(answer=None))) + by(no_answer, run(sown(), ended(60)))

    assert made == []


def test_gaps_of_a_long_run() -> None:
    """Each gap is a finding of its own, up to the end; days count from the end of a span to the next beginning."""
    made = run(sown(), ended(160, kept=True), entries=visits(0, 28, 57, (80, 90), 118, 119, 160, 200))

    def gap(line: int, before: str, after: str, days: int) -> Finding:
        message = f"nothing is recorded between {before} and {after}, {days} days later"
        mend = "write an entry for what was seen in between, or check the day"
        return Finding("long-gap", place(line), message, mend, f"{days} days", "at most 28 days")

    assert checked(long_gap, made) == [
        gap(157, "day 28", "day 57", 29),
        gap(260, "day 119", "day 160", 41),
    ]


def test_gap_inside_the_span_of_an_end() -> None:
    """From the day of an end on, entries may be far apart."""
    assert checked(long_gap, run(sown(), ended((20, 30), kept=True), entries=visits(0, (20, 30), 70))) == []


def test_gap_before_a_spreadsheets_row() -> None:
    """A gap may end with a row of a spreadsheet, and then lies there."""
    made = run(sown(), sheet_row(29, 3), entries=visits(0))

    assert [(f.source, f.found) for f in checked(long_gap, made)] == [(Source("sheet.csv", 3), "29 days")]


def test_readings_of_entries_are_no_days_of_their_own() -> None:
    """Only entries and rows of spreadsheets count."""
    made = run(sown(), ph(20, 6), entries=visits(0, 40))

    assert [f.found for f in checked(long_gap, made)] == ["40 days"]


def test_whole_findings_about_the_record() -> None:
    """The expected value is part of the finding."""
    made = run(head=setup(spans=(), start=Start()))
    end = run(sown(), ended(60), head=setup(answer=None, question=""))

    assert checked(no_log, made) == [
        Finding(
            "no-log",
            place(1),
            "`first-physalis` has no log",
            "write at least one entry under `log`, or for a planned run the date of its `start`",
            expected="log",
        )
    ]
    assert checked(nothing_sown, run(entries=visits(0))) == [
        Finding(
            "nothing-sown",
            place(10),
            "the log never says what was sown",
            "write `sow` in the entry of the day of sowing",
            expected="sow",
        )
    ]
    assert checked(no_answer, end) == [
        Finding(
            "no-answer",
            place(160),
            "the run ended on day 60 without an answer",
            "write `answer` with a `verdict`: `again`, `not again` or `undecided`, or with its `result` in a sentence",
            expected="answer",
        )
    ]


@pytest.mark.parametrize(
    ("today", "lines"),
    [(dt.date(2025, 5, 31), []), (dt.date(2025, 6, 1), [140]), (dt.date(2026, 1, 1), [140])],
)
def test_silence(today: dt.date, lines: list[int]) -> None:
    """From the 61st day after the last record on, the end is asked for at the latest entry."""
    made = run(
        sown(), sheet_row(31, 3), entries=visits((5, 25), 0, (10, 20), (30, 30), lines=(140, 120, 130, 139))
    )
    early = run(sown(), entries=visits((5, 31), 0, (10, 20), lines=(140, 120, 130)))

    assert [f.source.line for f in checked(no_end, early, today)] == lines
    assert [f.source.line for f in checked(no_end, made, today)] == [139 for _ in lines]
    assert [f.expected for f in checked(no_end, early, today)] == ["end" for _ in lines]


def test_silence_after_an_end() -> None:
    """A run that ended is not asked for its end, nor is one without entries."""
    assert checked(no_end, run(sown(), ended(20), entries=visits(0, 20))) == []
    assert checked(no_end, run(sheet_row(0, 3), entries=())) == []


def test_first_silent_date() -> None:
    """The date is 61 days after the last record, counted from the latest day 0."""
    month = setup(start=Start(dt.date(2025, 3, 1), "month"))

    assert goes_silent(run(sown(), entries=visits(0, 31))) == dt.date(2025, 6, 1)
    assert goes_silent(run(sown(), entries=visits(0, 31), head=month)) == dt.date(2025, 7, 1)
    assert goes_silent(run()) is None


def test_gap_after_a_long_span() -> None:
    """Days are in the order of their ends: a span that ends later comes after a day within it."""
    made = run(sown(), entries=visits(0, (10, 60), 20, 89))

    assert [(f.source.line, f.found) for f in checked(long_gap, made)] == [(189, "29 days")]
    assert "between days 10-60 and day 89" in checked(long_gap, made)[0].message
