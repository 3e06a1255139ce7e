"""Days and dates in the spellings that all readers take; the texts are invented, the way of writing common practice."""

from __future__ import annotations

import datetime as dt

import pytest

from sitegen.filing.dates import ORDERS, date_at, number_at
from sitegen.filing.drafting.choices import Choices
from sitegen.filing.drafting.dates import written_date
from sitegen.filing.drafting.diary import read_diary
from sitegen.filing.said_days import said_day
from sitegen.filing.words.understanding import Understood
from sitegen.filing.written_days import day_at

MARCH = dt.date(2026, 3, 14)


@pytest.mark.parametrize(
    "text",
    [
        "2026-3-14", "2026/3/14", "2026.03.14", "14.3.2026", "14. 3. 26", "14/3/26", "3/14/2026", "14-Mar-2026",
        "Sonnabend, den 14. März 2026", "Monday the 14th of March, 2026", "date: 14 Maerz 2026", "14 Mrz 2026",
        "Sat. March 14 2026", "am 14.03.2026 um 18.30 Uhr", "14.3.2026 8:05 p.m.", "2026-03-14T08:30:05.5+01:00",
    ],
)  # fmt: skip
def test_a_date_is_one_for_all_readers(text: str) -> None:
    """A spelling is the same date in a cell, a diary, an inbox and for `log`."""
    cell, line, said = written_date(text), day_at(f"{text}: x"), said_day(f"{text}: x", MARCH)
    diary = read_diary(
        f"{text}: x", lambda words: Understood((), words), Choices(), year=2020, month_first=False
    )
    assert cell is not None
    assert {date for order in ORDERS if (date := cell.on(order, 2020))} == {MARCH}
    assert line is not None
    assert said is not None
    assert [line.when, said.when] == ["date: 2026-03-14"] * 2
    assert [(entry.when.words, entry.note) for entry in diary.entries] == [("2026-03-14", "x")]


@pytest.mark.parametrize(
    ("text", "year", "clock", "rest"),
    [
        ("14 March 2026: x", 2026, "", ": x"),
        ("14.3. 12 of 12 up", None, "", " 12 of 12 up"),
        ("14.3. 18:30 x", None, "18:30", " x"),
        ("20 October 12 of 12 up", None, "", " 12 of 12 up"),
        ("14.3.2026 1.25 L", 2026, "", " 1.25 L"),
        ("14.3.2026, 18.30 Uhr: x", 2026, "18.30 Uhr", ": x"),
    ],
)
def test_a_date_ends_before_other_numbers(text: str, year: int | None, clock: str, rest: str) -> None:
    """A count is no year, and an amount no time of day."""
    found = date_at(text)

    assert found is not None
    assert (found.year, found.clock, text[found.end :]) == (year, clock, rest)


def test_two_digits_after_a_month_are_a_year_where_a_whole_text_is_dated_so() -> None:
    """Sheets and diaries take `14 Mar 26` for a year; a line of words does not."""
    assert [
        date and date.year for date in (date_at("14 Mar 26", short_years=True), date_at("14 Mar 26"))
    ] == [
        2026,
        None,
    ]


@pytest.mark.parametrize(
    ("text", "sure"),
    [
        ("1/2 tsp", False), ("1/2: x", True), ("1/2-cup", False), ("1/2, stirred", False), ("14.3. x", True),
        ("5 may have died", False), ("5 May, x", True), ("on 5 May x", True), ("5th May x", True), ("March 14.", True),
    ],
)  # fmt: skip
def test_what_may_be_no_date(text: str, sure: bool) -> None:
    """Without a year, signs or words beside two numbers or a month say that they are a date."""
    found = date_at(text)

    assert found is not None
    assert found.sure == sure


@pytest.mark.parametrize("text", ["45/60: x", "9.5 L", "33-38", "1/2/3", "14.3.20265", "12 leaves", "5 mar9"])
def test_other_numbers_are_no_date(text: str) -> None:
    """Numbers that no month has, amounts, spans and words that only begin like a month."""
    assert date_at(text) is None


@pytest.mark.parametrize(
    ("text", "day", "rest"),
    [
        ("about day 36: x", "about 36", ": x"), ("Day: 5 pale", "5", " pale"), ("Tag #5", "5", ""),
        ("days 33 bis 38", "33-38", ""), ("circa Tag 33-38", "about 33-38", ""), ("day ~36", "about 36", ""),
        ("Tag eins: x", "1", ": x"), ("before day 40", "before 40", ""), ("5 days", "5", ""), ("d5", "5", ""),
    ],
)  # fmt: skip
def test_a_number_of_a_day(text: str, day: str, rest: str) -> None:
    """Words, signs and flags on either side, English and German."""
    found = number_at(text)

    assert found is not None
    assert (found.text, text[found.end :]) == (day, rest)


@pytest.mark.parametrize("text", ["day a new leaf came", "Tag eine Blüte", "day 5.5", "days of rain", "dead"])
def test_other_words_are_no_number_of_a_day(text: str) -> None:
    """An article, half a day, and words that begin like a day."""
    assert number_at(text) is None


def test_a_diary_takes_days_as_an_inbox_does() -> None:
    """Number words, flags before `day` and spans in words begin an entry."""
    text = "Day one: sown\nabout day 12 pale\nTage 33 bis 38: rain\n"
    found = read_diary(text, lambda words: Understood((), words), Choices(), year=2026, month_first=False)

    assert [(entry.when.words, entry.note) for entry in found.entries] == [
        ("day 1", "sown"),
        ("day about 12", "pale"),
        ("day 33-38", "rain"),
    ]


@pytest.mark.parametrize(
    ("text", "when", "message"),
    [
        ("14.3.: x", "date: 2026-03-14", ""),
        ("14.12. x", "date: 2025-12-14", ""),
        ("1.2.: x", "", "`1.2.` can be read in two ways: day first or month first"),
        ("5 May, x", "date: 2025-05-05", ""),
    ],
)
def test_a_date_without_a_year_said_today(text: str, when: str, message: str) -> None:
    """Two numbers with dots are the last such day; both orders count."""
    found = said_day(text, MARCH)

    assert found is not None
    assert (found.when, found.message) == (when, message)


@pytest.mark.parametrize("text", ["5/8: up", "1/2 tsp", "3/14: x"])
def test_a_share_begins_no_line(text: str) -> None:
    """Two numbers with a stroke are plants of plants in a line, though a column or a diary may hold such dates."""
    assert (day_at(text), said_day(text, MARCH)) == (None, None)
