"""Quantities, days and dates in another spelling are those of the format's own spelling, where there is one reading."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.findings.finding import Findings
from sitegen.core.format.spelling import chosen, fitting, meant, plural_of
from sitegen.core.values.day import YEARS
from sitegen.core.values.quantity import some, total, unknown
from sitegen.core.values.units import UNITS, Dimension, Unit, unit_named
from sitegen.ingest.values.dates import parse_date, parse_day
from sitegen.ingest.values.normalize import without_quotes
from sitegen.ingest.values.quantities import parse_quantity, parse_whole, quantity_in
from sitegen.ingest.values.quantity_errors import WORDS
from tests.ingest.builders import said, scalar

D = Dimension

# fmt: off
SPELLED = [
    ("~9 cm", "about 9 cm", D.LENGTH), ("≈9 cm", "about 9 cm", D.LENGTH), ("ca. 9 cm", "about 9 cm", D.LENGTH),
    ("ca 9 cm", "about 9 cm", D.LENGTH), ("c. 9 cm", "about 9 cm", D.LENGTH), ("approx. 9 cm", "about 9 cm", D.LENGTH),
    ("Approximately 9 cm", "about 9 cm", D.LENGTH), ("around 9 cm", "about 9 cm", D.LENGTH),
    ("some 20 g", "about 20 g", D.MASS), ("roughly 8-9 in", "about 8-9 in", D.LENGTH),
    ("~½ tsp", "about 1/2 tsp", D.VOLUME), ("~7", "about 7", D.COUNT),
    (">9 cm", "at least 9 cm", D.LENGTH), ("≥ 9 cm", "at least 9 cm", D.LENGTH), ("5 g+", "5+ g", D.MASS),
    ("less than 9 cm", "up to 9 cm", D.LENGTH), ("at most 9 cm", "up to 9 cm", D.LENGTH),
    ("8 to 9 cm", "8-9 cm", D.LENGTH), ("80 g - 90 g", "80-90 g", D.MASS), ("7 or 8", "7-8", D.COUNT),
    ("three inches", "3 in", D.LENGTH), ("half an inch", "1/2 in", D.LENGTH),
    ('9"', "9 in", D.LENGTH), ("1' 4\"", "1 ft 4 in", D.LENGTH), ("6'' - 8''", "6-8 in", D.LENGTH),
    ("“9 cm”", "9 cm", D.LENGTH), ("„9 cm“", "9 cm", D.LENGTH), ("«9 cm»", "9 cm", D.LENGTH),
    ("84 gm", "84 g", D.MASS), ("5 KG", "5 kg", D.MASS), ("9 Cm", "9 cm", D.LENGTH), ("9 cm.", "9 cm", D.LENGTH),
    ("2 litres", "2 L", D.VOLUME), ("20 mls", "20 ml", D.VOLUME), ("14 hours a day", "14 h", D.DURATION),
    ("21 degrees C", "21 C", D.TEMPERATURE), ("21 °C", "21 C", D.TEMPERATURE), ("21º C", "21 C", D.TEMPERATURE),
    ("21 deg Celsius", "21 C", D.TEMPERATURE), ("70F", "70 F", D.TEMPERATURE), ("70 fahrenheit", "70 F", D.TEMPERATURE),
    ("pH 6.1", "6.1", D.ACIDITY), ("ph: 6.1", "6.1", D.ACIDITY), ("60 per cent", "60 %", D.SHARE),
    ("Unweighed", "unweighed", D.MASS), ("not weighed", "unweighed", D.MASS), ("?", "unmeasured", D.LENGTH),
    ("a little", "some", D.VOLUME), ("Some", "some", D.MASS), ("a few", "some", D.COUNT),
]
# fmt: on


@pytest.mark.parametrize(
    ("written", "canonical", "dimension"), SPELLED, ids=[written for written, _, _ in SPELLED]
)
def test_one_reading(written: str, canonical: str, dimension: Dimension) -> None:
    """Both spellings are the same quantity."""
    assert quantity_in(written, dimension) == quantity_in(canonical, dimension) is not None


@given(
    number=st.integers(0, 9999),
    about=st.sampled_from(("~", "ca. ", "c. ", "approx. ", "circa ", "Around ")),
    unit=st.sampled_from([unit for unit in UNITS if unit.symbol and unit.dimension in WORDS]),
    quotes=st.sampled_from(("“{}”", "„{}“", "{}")),
)
def test_about_any_number(number: int, about: str, unit: Unit, quotes: str) -> None:
    """Any number with any word or sign for about, in any quotes, is that of `about`."""
    symbol, dimension = unit.symbol, unit.dimension
    written = quotes.format(f"{about}{number} {symbol}")

    assert quantity_in(written, dimension) == quantity_in(f"about {number} {symbol}", dimension) is not None


def test_case_of_a_unit() -> None:
    """A unit in another case is that unit; none becomes another one."""
    for unit in UNITS:
        for name in (unit.symbol, *unit.also):
            assert unit_named(name, unit.dimension) is unit
            assert unit_named(name.upper(), unit.dimension) in (unit, None)


@pytest.mark.parametrize(
    ("text", "dimension", "finding"),
    [
        ("21°", D.TEMPERATURE, "no-unit: `21°` can be degrees Celsius or Fahrenheit (write `21 C` or `21 F`)"),
        ("9 deg", D.TEMPERATURE, "no-unit: `9 deg` can be degrees Celsius or Fahrenheit (write `9 C` or `9 F`)"),
        ("21", D.TEMPERATURE, "no-unit: `key: 21` has no unit (write `21 C` or `21 F`)"),
        ("some", D.LENGTH, "not-a-quantity: `some` is not a length (write a value such as `9 cm`, or `unmeasured`)"),
        ("~9", D.LENGTH, "no-unit: `key: 9` has no unit"),
    ],
)  # fmt: skip
def test_error_two_readings(text: str, dimension: Dimension, finding: str) -> None:
    """What has two readings, or none, is a finding as before."""
    findings = Findings()

    assert parse_quantity(scalar(text), dimension, findings, "key") is None
    if text != "~9":
        assert said(findings) == [f"1:10: {finding}"]
    else:
        assert [each.mend for each in findings] == ["write `about 9 cm` or `about 9 mm`"]


def test_some() -> None:
    """`some` is more than nothing, so that no sum with it is exact, and its size is not known."""
    one = some(D.MASS)
    weighed = quantity_in("84 g", D.MASS)
    assert weighed is not None
    whole = total((weighed, one), D.MASS)

    assert (one.some, one.known, one.exact, unknown(D.MASS).some) == (True, False, False, False)
    assert (whole.low, whole.high, whole.exact, whole.some) == (84, None, False, False)
    assert total((one, unknown(D.MASS)), D.MASS).some


@pytest.mark.parametrize(
    ("written", "date"),
    [
        ("2026-4-12", dt.date(2026, 4, 12)),
        ("2026-04-2", dt.date(2026, 4, 2)),
        ("2026/4/12", dt.date(2026, 4, 12)),
        ("12 April 2026", dt.date(2026, 4, 12)),
        ("April 12, 2026", dt.date(2026, 4, 12)),
        ("12th Apr 2026", dt.date(2026, 4, 12)),
        ("5. März 2026", dt.date(2026, 3, 5)),
        ("25.4.2026", dt.date(2026, 4, 25)),
        ("4/25/2026", dt.date(2026, 4, 25)),
        ("4.4.2026", dt.date(2026, 4, 4)),
        ("“2026-04-12”", dt.date(2026, 4, 12)),
    ],
)
def test_date(written: str, date: dt.date) -> None:
    """A date that can be no other day is read, however it is written."""
    findings = Findings()

    assert (parse_date(scalar(written), "date", findings), said(findings)) == (date, [])


@pytest.mark.parametrize("written", ["3.4.2026", "2026-13-04", "12.4.26", "April 2026", "2026-4-31"])
def test_error_date(written: str) -> None:
    """A date with two readings, and one that no calendar has, is none."""
    findings = Findings()

    assert parse_date(scalar(written), "date", findings) is None
    assert [finding.code for finding in findings] == ["not-a-date"]


@given(st.dates(dt.date(YEARS[0], 1, 1), dt.date(YEARS[-1], 12, 31)))
def test_any_date_without_zeros(date: dt.date) -> None:
    """Any date without leading zeros is that date."""
    assert parse_date(scalar(f"{date.year}-{date.month}-{date.day}"), "date", Findings()) == date


@pytest.mark.parametrize(
    ("written", "canonical"),
    [
        ("~36", "about 36"),
        ("ca. day 36", "about 36"),
        ("Day 36", "36"),
        ("33 to 38", "33-38"),
        ("days 33-38", "33-38"),
        ("twenty", "20"),
    ],
)
def test_day(written: str, canonical: str) -> None:
    """Both spellings are the same day."""
    assert parse_day(scalar(written), "day", Findings()) == parse_day(scalar(canonical), "day", Findings())


def test_whole_numbers_in_words() -> None:
    """A whole number in words, or with a nought after its point, is that number."""
    assert [parse_whole(scalar(text), Findings(), "count") for text in ("six", "6.0", "“6”")] == [6, 6, 6]


def test_quotes_around_a_part_stay() -> None:
    """Quotes are removed where they stand around the whole, and stay where they are inside."""
    assert [without_quotes(text) for text in ("“a”", "“a” and “b”", "9”", "“")] == [
        "a",
        "“a” and “b”",
        "9”",
        "“",
    ]


def test_words_in_another_case() -> None:
    """An exact word is never another; a word that fits several is none."""
    assert fitting("ab", ("Ab", "aB", "b")) == ("Ab", "aB")
    assert [
        meant(word, ("first_flower", "Ab", "aB")) for word in ("First  Flower", "first-flower", "aB", "ab")
    ] == [
        "first_flower",
        "first_flower",
        "aB",
        "",
    ]
    assert [chosen(word, ("leaf", "side shoot")) for word in ("Leaves", "side-shoots", "leafs")] == [
        "leaf",
        "side shoot",
        "",
    ]
    assert [plural_of(word) for word in ("leaf", "pod")] == ["leaves", "pods"]
