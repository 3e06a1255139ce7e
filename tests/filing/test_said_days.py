"""The day that a line begins with which is said today."""

from __future__ import annotations

import datetime as dt

import pytest

from sitegen.filing.said_days import said_day

TODAY = dt.date(2026, 11, 29)


@pytest.mark.parametrize(
    ("text", "when", "rest"),
    [
        ("yesterday picked P1", "date: 2026-11-28", " picked P1"),
        ("Gestern: P1 9 g geerntet", "date: 2026-11-28", ": P1 9 g geerntet"),
        ("vorgestern gegossen", "date: 2026-11-27", " gegossen"),
        ("heute, 9 g", "date: 2026-11-29", ", 9 g"),
        ("am 20. Oktober 12 von 12 gekeimt", "date: 2026-10-20", " 12 von 12 gekeimt"),
        ("24 December: 9 g", "date: 2025-12-24", ": 9 g"),
        ("29 Feb: frost", "date: 2024-02-29", ": frost"),
        ("12.11.2026 9 g", "date: 2026-11-12", " 9 g"),
        ("day 31: picked", "day: 31", ": picked"),
    ],
)
def test_a_day_said_today(text: str, when: str, rest: str) -> None:
    """Words count from today, a date without a year is the last one, and a reading in the future is none."""
    found = said_day(text, TODAY)

    assert found is not None
    assert (found.when, text[found.end :]) == (when, rest)


@pytest.mark.parametrize(
    "text", ["5 may have died", "yesterday's leaves", "picked 9 g yesterday", "todays pick", "9 g"]
)
def test_other_words_are_no_day_said(text: str) -> None:
    """A number before `may`, and words that only begin like a day, are words."""
    assert said_day(text, TODAY) is None


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("2.3.2026: x", "`2.3.2026` can be read in two ways: day first or month first"),
        ("on Monday: x", "`on Monday` may be one of several days"),
        ("31 Feb: x", "`31 Feb` is not a date"),
    ],
)
def test_an_uncertain_day_is_told(text: str, message: str) -> None:
    """Two readings that both were, a weekday, and no such date."""
    found = said_day(text, TODAY)

    assert found is not None
    assert (found.when, found.message) == ("", message)
