"""Days, plants and quantities as parts of a message."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.records.rows import Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.judge.context import amount, number, on_day, quoted, span, the_day, whose

OUNCE = 28.349523125  # grams; the international avoirdupois ounce, NIST Handbook 44, appendix C
INCH = 2.54  # cm, exactly


@pytest.mark.parametrize(
    ("day", "alone", "on"),
    [
        (Day(44, 44), "day 44", "on day 44"),
        (Day(33, 38), "days 33-38", "on days 33-38"),
        (Day(36, 36, about=True), "about day 36", "about day 36"),
        (Day(33, 38, about=True), "about days 33-38", "about days 33-38"),
    ],
)
def test_days(day: Day, alone: str, on: str) -> None:
    """A day, a span, and either with its flag."""
    assert (the_day(day), on_day(day)) == (alone, on)


def test_quoted() -> None:
    """Names are a list in words."""
    assert [quoted(names) for names in ([], ["P1"], ["P1", "P2"], ["P1", "P2", "P3"])] == [
        "",
        "`P1`",
        "`P1` and `P2`",
        "`P1`, `P2` and `P3`",
    ]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((Which(("P1", "P2"), word="all"),), "all plants"),
        ((Which(("P1", "P2"), word="left"),), "`left`"),
        ((Which(("P1", "P2")), ("P3",), "tub"), "`P1` and `P2`"),
        ((Which((), 2, 4), ("P3",), "tub"), "`P3`"),
        ((Which((), 2, 4), (), "tub"), "`2 of 4`"),
        ((None, ("P3",), "tub"), "`P3`"),
        ((None, (), "tub"), "`tub`"),
        ((None,), ""),
    ],
)
def test_whose(arguments: tuple[Any, ...], words: str) -> None:
    """A word comes before names, names before numbers, plants before the tub."""
    assert whose(*arguments) == words


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0, "0"),
        (0.12345, "0.123"),
        (1.999, "2"),
        (999.4, "999"),
        (1000, "1000"),
        (12345.6, "12346"),
        (-1234.5, "-1234"),
    ],
)
def test_number(value: float, text: str) -> None:
    """Three significant digits, and no exponent from a thousand on."""
    assert number(value) == text


def length(low: float, high: float | None, step: float = 1, **flags: Any) -> Quantity:
    """A length in centimetres."""
    return Quantity(low, high, Dimension.LENGTH, step=step, **flags)


@pytest.mark.parametrize(
    ("quantity", "text"),
    [
        (length(9, 9), "9 cm"),
        (length(8, 9), "8-9 cm"),
        (length(9, 9, about=True), "about 9 cm"),
        (length(8, 9, about=True), "about 8-9 cm"),
        (length(9, None, open=1), "at least 9 cm"),
        (length(9, None, open=1, about=True), "about at least 9 cm"),
        (length(1500.2, 1500.4, 0.1), "1500 cm"),
        (unknown(Dimension.LENGTH), "not measured"),
        (exactly(6.1, Dimension.ACIDITY, 0.1), "6.1"),
        (length(9 * INCH, 9 * INCH, INCH), "9 in"),
        (length(8 * INCH, 9 * INCH, INCH), "8-9 in"),
        (length(9 * INCH, None, INCH, open=1), "at least 9 in"),
        (length(9 * INCH, 9 * INCH, INCH, about=True), "about 9 in"),
        (length(22.86, 22.86, 0), "22.9 cm"),
        (exactly(20 * OUNCE, Dimension.MASS, OUNCE), "1 lb 4 oz"),
        (replace(exactly(20 * OUNCE, Dimension.MASS, OUNCE), high=None, open=1), "at least 1 lb 4 oz"),
        (exactly(12 * OUNCE, Dimension.MASS, OUNCE), "12 oz"),
        (exactly(567, Dimension.MASS, 1), "567 g"),
    ],
)
def test_amount(quantity: Quantity, text: str) -> None:
    """A quantity has its flags, and the unit that it was written in."""
    assert amount(quantity) == text


@pytest.mark.parametrize(
    ("bounds", "like", "text"),
    [
        ((1.2, 1.8), exactly(2, Dimension.CONDUCTIVITY, 0.1), "1.2-1.8 mS/cm"),
        ((4.5, 8), exactly(9, Dimension.ACIDITY, 0.1), "4.5-8"),
        ((-20, 60), exactly(70, Dimension.TEMPERATURE, 1), "-20-60 °C"),
        ((-20, 60), exactly(70, Dimension.TEMPERATURE, 5 / 9), "-4-140 °F"),
        ((0, 1000), length(9, 9), "0-1000 cm"),
        ((0, 1000), length(9 * INCH, 9 * INCH, INCH), "0-32.8 ft"),
    ],
)
def test_span(bounds: tuple[float, float], like: Quantity, text: str) -> None:
    """A range has the unit of the value that is compared with it."""
    assert span(*bounds, like) == text


def test_span_in_words() -> None:
    """The word between the bounds can be chosen."""
    assert span(0, 14, exactly(15, Dimension.ACIDITY), " and ") == "0 and 14"
