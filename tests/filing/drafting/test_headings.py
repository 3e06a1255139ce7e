"""What headings, dates and cells say; the texts are invented, the way of writing common practice, no source."""

from __future__ import annotations

import datetime as dt

import pytest

from sitegen.core.values.units import Dimension
from sitegen.filing.dates import ORDERS
from sitegen.filing.drafting.dates import day_number, order_of, with_years, written_date
from sitegen.filing.drafting.sheets.cells import decimal_of, value_of
from sitegen.filing.drafting.sheets.headings import Role, heading_of


@pytest.mark.parametrize(
    ("text", "role", "key", "unit", "plant"),
    [
        ("Height (cm)", Role.VALUE, "height", "cm", ""),
        ("Höhe [cm]", Role.VALUE, "height", "cm", ""),
        ("Höhe/cm", Role.VALUE, "height", "cm", ""),
        ("height_P1_cm", Role.VALUE, "height", "cm", "P1"),
        ("Height in", Role.VALUE, "height", "in", ""),
        ("Temp °C", Role.VALUE, "air_temperature", "°C", ""),
        ("Water temp deg F", Role.VALUE, "water_temperature", "°F", ""),
        ("EC µS/cm", Role.VALUE, "ec", "µS/cm", ""),
        ("Gewicht in g", Role.VALUE, "harvest", "g", ""),
        ("No. of leaves", Role.VALUE, "leaves", "", ""),
        ("Topf 3", Role.OTHER, "", "", "P3"),
        ("#1", Role.OTHER, "", "", "P1"),
        ("Tag Nr.", Role.DAY, "", "", ""),
        ("Datum / Uhrzeit", Role.TIME, "", "", ""),
        ("Total (g)", Role.OTHER, "", "g", ""),
        ("Weather", Role.OTHER, "", "", ""),
    ],
)
def test_headings(text: str, role: Role, key: str, unit: str, plant: str) -> None:
    """A heading says what stands below it, in which unit, and of which plant; a sum is nothing of these."""
    heading = heading_of(text)
    assert (heading.role, heading.key, heading.unit, heading.plant) == (role, key, unit, plant)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("9", "9 cm"), ("9,5", "9.5 cm"), ("ca. 8", "about 8 cm"), ("~8", "about 8 cm"), ("9?", "about 9 cm"),
        ("12+", "12+ cm"), (">12", "at least 12 cm"), ("<5", "up to 5 cm"), ("8-9", "8-9 cm"), ("9 in", "9 in"),
        ('9"', "9 in"), ("9½", "9 1/2 cm"), ("9 (est)", "9 cm by eye"), ("1,234", "1234 cm"), ("1.234,5", "1234.5 cm"),
        ("not measured", "unmeasured"), ("9 g", None), ("9-8", None), ("dead", None), ("?", None), ("12.3.2026", None),
    ],
)  # fmt: skip
def test_cells(text: str, value: str | None) -> None:
    """A cell is a value as the format writes it, with what its signs say; anything else is none."""
    assert value_of(text, Dimension.LENGTH, "cm", "point") == value


def test_whole_numbers() -> None:
    """Half a leaf is no count, and a number without any unit no length."""
    assert value_of("7.5", Dimension.COUNT, "", "point") is None
    assert value_of("7", Dimension.LENGTH, "", "point") is None


@pytest.mark.parametrize(
    ("texts", "sign", "is_open"),
    [
        (["4", "4,5"], "comma", False),
        (["4.5"], "point", False),
        (["1,234"], "point", True),
        (["4"], "point", False),
    ],
)
def test_decimal_sign(texts: list[str], sign: str, is_open: bool) -> None:
    """The decimal sign is told by numbers that can have only one; three digits after a comma leave it open."""
    assert decimal_of(texts) == (sign, is_open)


@pytest.mark.parametrize(
    ("text", "date"),
    [
        ("2026-03-14", "2026-03-14"), ("14.3.2026", "2026-03-14"), ("14.3.", "2025-03-14"), ("3/14/26", "2026-03-14"),
        ("14 March 2026", "2026-03-14"), ("March 14th, 2026", "2026-03-14"), ("14. März", "2025-03-14"),
        ("Mo, 14.3.", "2025-03-14"), ("Sat 14 Mar 2026", "2026-03-14"), ("2026/03/14 08:30", "2026-03-14"),
        ("9.5", None), ("33-38", None), ("12", None), ("12 leaves", None), ("31.2.2026", None), ("5 cm", None),
    ],
)  # fmt: skip
def test_dates(text: str, date: str | None) -> None:
    """Dates in the common orders are dates; numbers, spans of days and days that no month has are none."""
    written = written_date(text)
    order, _ = order_of([written] if written else [])
    found = written.on(order or "day first", 2025) if written else None
    assert (found.isoformat() if found else None) == date


@pytest.mark.parametrize(
    ("texts", "order", "because"),
    [
        (["3/4/2026", "3/25/2026"], "month first", "25 is no month"),
        (["25/3/2026", "3/4/2026"], "day first", "25 is no month"),
        (["1.3.2026", "2.3.2026"], "day first", "dates with dots have the day first"),
        (["3/1/2026", "3/2/2026", "4/1/2026"], "month first", "else they would not be in order"),
        (["3/4/2026", "5/4/2026"], None, ""),
    ],
)
def test_order(texts: list[str], order: str | None, because: str) -> None:
    """All dates together show the order of their parts, or leave it open."""
    assert order_of([date for text in texts if (date := written_date(text))]) == (order, because)


def test_years() -> None:
    """Dates without a year go on into the next one."""
    texts = ["28 December", "3 January", "10 January"]
    dates = [(date, ORDERS[0]) for text in texts if (date := written_date(text))]
    assert list(with_years(dates, 2025)) == [dt.date(2025, 12, 28), dt.date(2026, 1, 3), dt.date(2026, 1, 10)]


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("Day 5", "5"),
        ("Tag 12", "12"),
        ("33-38", "33-38"),
        ("~36", "about 36"),
        ("before 40", "before 40"),
        ("9-8", ""),
    ],
)
def test_days(text: str, day: str) -> None:
    """Day numbers, spans and what is about them."""
    found = day_number(text)
    assert (found.text if found else "") == day


@pytest.mark.parametrize(("words", "role"), [(60, Role.VALUE), (70, Role.OTHER)])
def test_a_long_text_is_no_heading(words: int, role: Role) -> None:
    """What is longer than 200 characters is not looked through for a unit at its end: that would take seconds."""
    assert heading_of("Height" + " of" * words + " cm").role is role
