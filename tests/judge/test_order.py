"""Days in order."""

from __future__ import annotations

import datetime as dt

from sitegen.core.values.day import Start
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.judge.order import (
    after_end_kept,
    after_the_end,
    before_start,
    in_the_future,
    out_of_order,
    two_ends,
)
from tests.judge.builders import by, ended, read, run, setup, sown, visits


def test_day_before_start() -> None:
    """An entry before day 0 is an error that names both dates."""
    made = run(sown(), entries=visits(-3, 0))

    assert by(before_start, made) == [
        (
            "e.yaml:97:5: error[before-start]: day -3 (2025-02-26) is before the start, 2025-03-01 "
            "(check the day, or write an earlier `start`)"
        )
    ]


def test_day_before_an_undated_start() -> None:
    """Where the start has no date, only the day is named."""
    made = run(sown(), head=setup(start=Start()), entries=visits(-3, 0))

    assert by(before_start, made) == [
        (
            "e.yaml:97:5: error[before-start]: day -3 is before the start "
            "(check the day, or write an earlier `start`)"
        )
    ]


def test_span_around_start() -> None:
    """A span of days that reaches day 0 may be after the start."""
    assert by(before_start, run(sown(), entries=visits((-3, 0), 4))) == []


def test_spreadsheet_row_before_start() -> None:
    """A spreadsheet's row counts like an entry, and is said once for all its readings."""
    early = [
        read(n, -2, exactly(20, Dimension.TEMPERATURE)) for n in ("air_temperature", "water_temperature")
    ]
    rows = [type(r)(r.name, r.day, None, r.source, r.value, tub="tub") for r in early]

    assert by(before_start, run(sown(), *rows)) == [
        (
            "e.yaml:98:5: error[before-start]: day -2 (2025-02-27) is before the start, 2025-03-01 "
            "(check the day, or write an earlier `start`)"
        )
    ]


def test_day_in_the_future() -> None:
    """An entry dated after today is an error."""
    assert by(in_the_future, run(sown(), entries=visits(0, 93))) == [
        (
            "e.yaml:193:5: error[in-the-future]: day 93 is 2025-06-02, which is yet to come "
            "(check the day and `start`)"
        )
    ]


def test_today_is_not_the_future() -> None:
    """What is recorded today has happened."""
    assert by(in_the_future, run(sown(), entries=visits(0, 92))) == []


def test_undated_run_has_no_future() -> None:
    """Without a dated start nothing can be said about today."""
    head = setup(start=Start(dt.date(2025, 3, 1), "month"))

    assert by(in_the_future, run(sown(), head=head, entries=visits(0, 400))) == []


def test_entry_after_cleared_plants() -> None:
    """Nothing follows an end that cleared the plants."""
    made = run(sown(), ended(60, kept=False), entries=visits(0, 60, 70))

    assert by(after_the_end, made) == [
        (
            "e.yaml:170:5: error[after-the-end]: the plants were cleared on day 60; nothing can follow on day 70 "
            "(check the day, or write `plants: kept` in `end`)"
        )
    ]


def test_entry_after_kept_plants() -> None:
    """Entries may follow an end that kept the plants."""
    made = run(sown(), ended(60, kept=True), entries=visits(0, 60, 70))

    assert by(after_the_end, made) + by(after_end_kept, made) == []


def test_end_that_does_not_say() -> None:
    """An end before later entries that says nothing of the plants is asked about, at the end."""
    made = run(sown(), ended(60, kept=None), entries=visits(0, 60, 70))

    assert by(after_end_kept, made) == [
        (
            "e.yaml:160:5: warning[after-end-kept]: day 70 follows the end on day 60, "
            "which does not say that plants were kept (write `plants: kept` in `end`)"
        )
    ]


def test_end_that_does_not_say_before_another() -> None:
    """A second end is said as such, and the first is not asked what it kept."""
    assert by(after_end_kept, run(sown(), ended(60, kept=None), ended(70))) == []


def test_end_that_does_not_say_and_is_last() -> None:
    """An end that nothing follows need not say what became of the plants."""
    assert by(after_end_kept, run(sown(), ended(60, kept=None), entries=visits(0, 60))) == []


def test_two_ends() -> None:
    """A second end is an error, and is not called an entry after the end as well."""
    made = run(sown(), ended(60), ended(70))

    assert by(after_the_end, made) + by(two_ends, made) == [
        (
            "e.yaml:170:5: error[two-ends]: the run ended on day 60; it cannot end again on day 70 "
            "(remove one of the two ends)"
        )
    ]


def test_one_end() -> None:
    """One end is right."""
    assert by(two_ends, run(sown(), ended(60))) == []


def test_forgotten_entry_appended() -> None:
    """Of two entries out of order the one written later is named."""
    made = run(sown(), entries=visits(0, 5, 20, 12, 30, lines=(11, 12, 13, 14, 15)))

    assert by(out_of_order, made) == [
        (
            "e.yaml:14:5: warning[out-of-order]: day 12 is written below day 20 "
            "(check the day, or move the entry above day 20)"
        )
    ]


def test_mistyped_day() -> None:
    """A mistyped day is named itself, not every entry after it."""
    made = run(sown(), entries=visits(0, 5, 200, 12, 30, lines=(11, 12, 13, 14, 15)))

    assert by(out_of_order, made) == [
        (
            "e.yaml:13:5: warning[out-of-order]: day 200 is written above day 12 "
            "(check the day, or move the entry below day 12)"
        )
    ]


def test_spans_that_overlap_are_in_order() -> None:
    """A day inside the span above it may well be later."""
    assert by(out_of_order, run(sown(), entries=visits(0, (33, 38), 36, lines=(11, 12, 13)))) == []


def test_two_entries_of_one_day() -> None:
    """Two entries of one day are in order."""
    assert by(out_of_order, run(sown(), entries=(*visits(0, 5), *visits(5, lines=(200,))))) == []
