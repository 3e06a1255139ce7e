"""The day that a photo was taken on."""

from __future__ import annotations

import datetime as dt

import pytest

from sitegen.core.values.day import Day, Start
from sitegen.ingest.photos import Header, date_in_name, date_taken, day_in_name, day_taken

START = Start(dt.date(2025, 9, 1), "day")
SEPTEMBER = Start(dt.date(2025, 9, 1), "month")
OCTOBER_19 = dt.date(2025, 10, 19)


@pytest.mark.parametrize(
    ("name", "date"),
    [
        ("2025-10-19-first-cut.jpg", OCTOBER_19),
        ("20251019.jpg", OCTOBER_19),
        ("IMG_20251019_143000.jpg", OCTOBER_19),
        ("PXL_20251019143000.jpg", OCTOBER_19),
        ("cut 2025.10.19 left.png", OCTOBER_19),
        ("2025-1019.jpg", None),
        ("2025-02-30.jpg", None),
        ("IMG_120251019.jpg", None),
        ("IMG_2025.jpg", None),
        ("roots.jpg", None),
    ],
)
def test_dates_in_names(name: str, date: dt.date | None) -> None:
    """Cameras and people date files in a few ways; a longer number is no date."""
    assert date_in_name(name) == date


@pytest.mark.parametrize(
    ("name", "day"),
    [
        ("day-26.jpg", Day.on(26)),
        ("Day 26 roots.jpg", Day.on(26)),
        ("roots-day26.jpg", Day.on(26)),
        ("day-0.jpg", Day.on(0)),
        ("friday-26.jpg", None),
        ("day-20251019.jpg", None),
        ("tag-26.jpg", None),
        ("day.jpg", None),
    ],
)
def test_days_in_names(name: str, day: Day | None) -> None:
    """`day-26` anywhere in a name is a day."""
    assert day_in_name(name) == day


@pytest.mark.parametrize(
    ("offset", "zone", "date"),
    [
        ("", "Europe/Vienna", OCTOBER_19),
        ("+02:00", "Europe/Vienna", OCTOBER_19),
        ("+02:00", "Asia/Tokyo", dt.date(2025, 10, 20)),
        ("+02:00", "", OCTOBER_19),
        ("soon", "Asia/Tokyo", OCTOBER_19),
    ],
)
def test_clocks_with_an_offset(offset: str, zone: str, date: dt.date) -> None:
    """A clock that says its offset is read in the journal's zone; any other is taken for local."""
    assert date_taken(Header(taken="2025-10-19T23:30:00", offset=offset), zone) == date


@pytest.mark.parametrize(
    ("taken", "name", "start", "found"),
    [
        ("2025-10-19T10:00:00", "2025-10-25.jpg", START, (OCTOBER_19, Day.on(48))),
        ("", "2025-10-19.jpg", START, (OCTOBER_19, Day.on(48))),
        ("", "day-26.jpg", START, (None, Day.on(26))),
        ("2025-08-25T10:00:00", "seeds.jpg", START, (dt.date(2025, 8, 25), Day.on(-7))),
        ("2025-10-19T10:00:00", "a.jpg", SEPTEMBER, (OCTOBER_19, Day(19, 48))),
        ("2025-10-19T10:00:00", "day-26.jpg", Start(), (OCTOBER_19, Day.on(26))),
        ("2025-10-19T10:00:00", "a.jpg", Start(), (OCTOBER_19, None)),
        ("2000-01-01T00:00:12", "2025-10-19.jpg", START, (OCTOBER_19, Day.on(48))),
        ("2000-01-01T00:00:12", "a.jpg", START, (dt.date(2000, 1, 1), None)),
        ("", "a.jpg", START, (None, None)),
    ],
)
def test_days(taken: str, name: str, start: Start, found: tuple[dt.date | None, Day | None]) -> None:
    """The clock comes before the name, unless it was never set; a month gives a span, an unknown start nothing."""
    assert day_taken(Header(taken=taken), name, start, "") == found
