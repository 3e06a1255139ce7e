"""The day that a line of an inbox begins with, in digits and in words."""

from __future__ import annotations

import datetime as dt

import pytest

from sitegen.filing.written_days import day_at


@pytest.mark.parametrize(
    ("text", "when", "rest"),
    [
        ("day 31: picked", "day: 31", ": picked"),
        ("Day 31 picked", "day: 31", " picked"),
        ("day: 31 picked", "day: 31", " picked"),
        ("day 1 2 L", "day: 1", " 2 L"),
        ("day thirty-one: picked", "day: 31", ": picked"),
        ("day one hundred and five picked two", "day: 105", " picked two"),
        ("Tag 31: geerntet", "day: 31", ": geerntet"),
        ("Tag einunddreißig geerntet", "day: 31", " geerntet"),
        ("am Tag hunderteins: x", "day: 101", ": x"),
        ("day 33-38: x", "day: 33-38", ": x"),
        ("days 33 to 38: x", "day: 33-38", ": x"),
        ("about day 36: x", "day: about 36", ": x"),
        ("day about 36: x", "day: about 36", ": x"),
        ("etwa Tag 36: x", "day: about 36", ": x"),
        ("before day 40: x", "day: before 40", ": x"),
        ("vor Tag 40: x", "day: before 40", ": x"),
        ("2026-03-02: x", "date: 2026-03-02", ": x"),
        ("2026-03-02 18:30 basil: x", "date: 2026-03-02", " basil: x"),
        ("2026-03-02T18:30:05+01:00 x", "date: 2026-03-02", " x"),
        ("date: 2026-03-02", "date: 2026-03-02", ""),
        ("13.3.2026 x", "date: 2026-03-13", " x"),
        ("Mon 2 March 2026, x", "date: 2026-03-02", ", x"),
        ("2. März 2026: x", "date: 2026-03-02", ": x"),
        ("March 2nd, 2026 at 8:05 pm: x", "date: 2026-03-02", ": x"),
    ],
)
def test_a_day_is_read_as_the_log_writes_it(text: str, when: str, rest: str) -> None:
    """Digits, words, spans, flags and dates, English and German; a time of day is passed over."""
    found = day_at(text)

    assert found is not None
    assert (found.when, text[found.end :]) == (when, rest)


@pytest.mark.parametrize(
    ("text", "message", "mend"),
    [
        (
            "2.3.2026: x",
            "`2.3.2026` can be read in two ways: day first or month first",
            "write `2026-03-02` or `2026-02-03`",
        ),
        ("2026-02-31: x", "`2026-02-31` is not a date", "write it as `2026-03-02`, year, month, day"),
        ("2 March: x", "`2 March` is in no year that is said", "write the year too, as in `2 March 2026`"),
        ("day 38-33: x", "the days `38-33` end before they begin", "write `day 33-38`"),
        (
            "yesterday: x",
            "`yesterday` is no day: nothing says when it was written",
            "write the date, or the day of the experiment, in its place",
        ),
        (
            "am Montag: x",
            "`am Montag` is no day: nothing says when it was written",
            "write the date, or the day of the experiment, in its place",
        ),
    ],
)
def test_what_is_no_certain_day_is_told(text: str, message: str, mend: str) -> None:
    """Two readings, no such date, no year, and words that count from today."""
    found = day_at(text)

    assert found is not None
    assert (found.when, found.message, found.mend) == ("", message, mend)


@pytest.mark.parametrize(
    "text",
    [
        "Today I watered",
        "days of rain",
        "daybreak 5",
        "day 31.5 x",
        "may the leaves last",
        "5 cm",
        "",
        "sow 3",
    ],
)
def test_other_words_are_no_day(text: str) -> None:
    """Only a day or a date in so many words is one; a sentence about today is a sentence."""
    assert day_at(text) is None


def test_a_day_may_stand_further_on() -> None:
    """The day after a name is read from its own place."""
    found = day_at("basil, 2 March 2026: x", 7)

    assert found is not None
    assert (found.start, found.end, found.date) == (7, 19, dt.date(2026, 3, 2))


def test_a_reading_that_is_yet_to_come_is_none() -> None:
    """On 29 November 2026, 12.11.2026 cannot be the 11th of December; where both are to come, it stays open."""
    today = dt.date(2026, 11, 29)
    one, two = day_at("12.11.2026: x", today=today), day_at("11.12.2027: x", today=today)

    assert one is not None
    assert two is not None
    assert (one.when, two.when) == ("date: 2026-11-12", "")
