"""Days in order."""

from __future__ import annotations

import datetime as dt
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.judge.context import Context, Rule
from sitegen.judge.order import (
    after_end_kept,
    after_the_end,
    before_start,
    in_the_future,
    last_date,
    longest_in_order,
    out_of_order,
    two_ends,
)
from tests.judge.builders import (
    TODAY,
    Row,
    by,
    checked,
    ended,
    ph,
    place,
    read,
    run,
    setup,
    sheet_row,
    sown,
    visits,
)


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
    """A spreadsheet's row counts like an entry, and its readings share one finding."""
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
    """A record of today is not in the future."""
    assert by(in_the_future, run(sown(), entries=visits(0, 92))) == []


def test_undated_run_has_no_future() -> None:
    """Without a dated start no day is in the future."""
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
    """An end before later entries that says nothing of the plants is a warning, at the end."""
    made = run(sown(), ended(60, kept=None), entries=visits(0, 60, 70))

    assert by(after_end_kept, made) == [
        (
            "e.yaml:160:5: warning[after-end-kept]: day 70 follows the end on day 60, "
            "which does not say that plants were kept (write `plants: kept` in `end`)"
        )
    ]


def test_end_that_does_not_say_before_another() -> None:
    """A second end has a finding of its own, and is no later entry of the first."""
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


def test_every_day_before_the_start() -> None:
    """Each day that ends before day 0 is a finding, spreadsheets included; day 0 itself is none."""
    rows = sheet_row(-1, 3), sheet_row(-1, 3, "spread"), sheet_row(-1, 4), sheet_row(0, 5)
    made = run(sown(), *rows, entries=visits((-9, -4), (-2, 0), 0))

    def early(source: Source, span: str, date: str) -> Finding:
        message = f"{span} ({date}) is before the start, 2025-03-01"
        return Finding(
            "before-start",
            source,
            message,
            "check the day, or write an earlier `start`",
            span,
            "day 0 or later",
        )

    assert checked(before_start, made) == [
        early(place(91), "days -9--4", "2025-02-25"),
        early(Source("sheet.csv", 3), "day -1", "2025-02-28"),
        early(Source("sheet.csv", 4), "day -1", "2025-02-28"),
    ]


def test_every_day_in_the_future() -> None:
    """Each day that begins after today is a finding, spreadsheets included."""
    made = run(sown(), sheet_row(94, 3), sheet_row(92, 4), entries=visits(0, 93, (92, 95), (93, 95)))

    def late(source: Source, span: str, date: str) -> Finding:
        message = f"{span} is {date}, which is yet to come"
        return Finding(
            "in-the-future", source, message, "check the day and `start`", date, "2025-06-01 or earlier"
        )

    assert checked(in_the_future, made) == [
        late(place(193), "day 93", "2025-06-02"),
        late(place(193), "days 93-95", "2025-06-02"),
        late(Source("sheet.csv", 3), "day 94", "2025-06-03"),
    ]


def test_every_day_after_the_end() -> None:
    """Each day after the end is a finding, spreadsheets included; a span that reaches back to the end is none."""
    made = run(sown(), ended(60), sheet_row(61, 3), sheet_row(60, 4), entries=visits(0, 60, (60, 62), 61, 70))

    def after(source: Source, span: str) -> Finding:
        message = f"the plants were cleared on day 60; nothing can follow on {span}"
        mend = "check the day, or write `plants: kept` in `end`"
        return Finding("after-the-end", source, message, mend, span, "day 60 or earlier")

    assert checked(after_the_end, made) == [
        after(place(161), "day 61"),
        after(place(170), "day 70"),
        after(Source("sheet.csv", 3), "day 61"),
    ]


def test_end_within_a_span() -> None:
    """An end noted to a span of days is over with the last of them."""
    made = run(sown(), ended((60, 62)), entries=visits(0, (60, 62), 62, 63))

    assert [f.source.line for f in checked(after_the_end, made)] == [163]


def test_days_after_an_undecided_end() -> None:
    """An end that says nothing of the plants is one warning, and later days are no errors."""
    made = run(sown(), ended(60, kept=None), entries=visits(0, 60, 61, 62))

    assert checked(after_the_end, made) == []
    assert checked(after_end_kept, made) == [
        Finding(
            "after-end-kept",
            place(160),
            "day 61 follows the end on day 60, which does not say that plants were kept",
            "write `plants: kept` in `end`",
            expected="plants: kept",
        )
    ]


def test_span_that_reaches_back_to_an_undecided_end() -> None:
    """Only a day that begins after the end follows it."""
    made = run(sown(), ended(60, kept=None), entries=visits(0, 60, (60, 65)))

    assert checked(after_end_kept, made) == []


@pytest.mark.parametrize("rule", [after_the_end, after_end_kept, two_ends])
def test_no_end(rule: Rule) -> None:
    """A run that goes on has nothing after its end."""
    assert checked(rule, run(sown(), entries=visits(0, 60, 70))) == []


def test_spreadsheet_after_an_undecided_end() -> None:
    """A spreadsheet's row follows an end as an entry does."""
    made = run(sown(), ended(60, kept=None), sheet_row(61, 3))

    assert [f.message for f in checked(after_end_kept, made)] == [
        "day 61 follows the end on day 60, which does not say that plants were kept"
    ]


def test_three_ends() -> None:
    """Each end after the first is a finding that names the first."""
    made = run(sown(), ended(60), ended(70), ended(80))

    def again(day: int) -> Finding:
        message = f"the run ended on day 60; it cannot end again on day {day}"
        return Finding(
            "two-ends", place(100 + day), message, "remove one of the two ends", f"day {day}", "one `end`"
        )

    assert checked(two_ends, made) == [again(70), again(80)]


def test_several_entries_out_of_order() -> None:
    """The fewest entries are named, in the order of the file, each beside the farthest day on its wrong side."""
    made = run(sown(), entries=visits(0, 50, 3, 4, 9, 40, 6, 41, lines=(11, 12, 13, 14, 15, 16, 17, 18)))

    def out(line: int, day: int, where: str, to: str, other: int) -> Finding:
        mend = f"check the day, or move the entry {to} day {other}"
        return Finding(
            "out-of-order",
            place(line),
            f"day {day} is written {where} day {other}",
            mend,
            f"day {day}",
        )

    assert checked(out_of_order, made) == [
        out(12, 50, "above", "below", 3),
        out(17, 6, "below", "above", 50),
    ]


def test_overlapping_spans_are_in_any_order() -> None:
    """Spans that overlap are in order either way; a span is out of order with a day that it does not reach."""
    made = run(
        sown(),
        entries=visits(0, 36, (33, 38), 50, (44, 49), (43, 50), lines=(11, 12, 13, 14, 15, 16)),
    )

    assert by(out_of_order, made) == [
        (
            "e.yaml:15:5: warning[out-of-order]: days 44-49 is written below day 50 "
            "(check the day, or move the entry above day 50)"
        )
    ]


@given(st.lists(st.integers(0, 6), max_size=8))
def test_longest_run_of_days(days: list[int]) -> None:
    """No longer subsequence of days is in order; of two equally long ones, the one written earlier is found."""
    places = range(len(days))
    every = (c for size in range(len(days), -1, -1) for c in combinations(places, size))
    longest = next(c for c in every if all(days[a] <= days[b] for a, b in pairwise(c)))

    assert longest_in_order(days) == frozenset(longest)


@pytest.mark.parametrize(
    ("rows", "last"),
    [
        ((), dt.date(2025, 4, 10)),
        ((sheet_row(41, 3),), dt.date(2025, 4, 11)),
        ((sheet_row((42, 44), 3),), dt.date(2025, 4, 12)),
        ((sheet_row(39, 3),), dt.date(2025, 4, 10)),
        ((ph(60, 6),), dt.date(2025, 4, 10)),
    ],
)
def test_last_date(rows: tuple[Row, ...], last: dt.date) -> None:
    """The last date is that of an entry or of a spreadsheet's row; a span may have ended on its first day."""
    made = run(sown(), *rows, entries=visits(0, (40, 43)))

    assert last_date(Context.of(made, TODAY)) == last


def test_no_last_date() -> None:
    """Without records or without a dated start there is no last date."""
    for made in (run(), run(sown(), head=setup(start=Start()))):
        assert last_date(Context.of(made, TODAY)) is None
