"""Amounts as they are spoken; the forms are common practice, no source, the conversions those of the table of units."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.language.wording import Wording
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension, Units
from sitegen.notes.draft import Number, Passage
from sitegen.notes.speech.amounts import Amounts
from sitegen.notes.speech.speech import Speech

D = Dimension
OZ, IN, GALLON = 28.349523125, 2.54, 3785.411784


def of(value: float, dimension: D, step: float = 1.0, **flags: object) -> Quantity:
    """A measured amount in the canonical unit."""
    return replace(exactly(value, dimension, step), **flags)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("amount", "said"),
    [
        (of(84, D.MASS), "eighty-four grams, about three ounces"),  # 2.963 oz
        (of(24, D.MASS), "twenty-four grams, not even an ounce"),  # 0.847 oz
        (of(19, D.MASS), "nineteen grams, about two thirds of an ounce"),  # 0.670 oz
        (of(14, D.MASS), "fourteen grams, about half an ounce"),  # 0.494 oz
        (of(101, D.MASS), "one hundred and one grams, about three and a half ounces"),  # 3.563 oz
        (
            of(1330, D.MASS),
            "one kilo three hundred and thirty, two pounds and nearly fifteen ounces",
        ),  # 2 lb 14.9
        (of(1050, D.MASS), "one kilo and fifty grams, two pounds and five ounces"),  # 2 lb 5.04 oz
        (of(1000, D.MASS, 10), "one kilo, two pounds and a little over three ounces"),  # 2 lb 3.27 oz
        (of(1, D.MASS), "one gram"),  # 0.035 oz
        (of(34, D.LENGTH), "thirty-four centimetres, about thirteen and a half inches"),  # 13.39 in
        (of(47, D.LENGTH), "forty-seven centimetres, eighteen and a half inches"),  # 18.50 in
        (of(2, D.LENGTH), "two centimetres, a little over three quarters of an inch"),  # 0.787 in
        (of(12.5, D.LENGTH, 0.5), "twelve and a half centimetres, about five inches"),  # 4.92 in
        (of(12_000, D.VOLUME, 1000), "twelve litres, a little over three gallons"),  # 3.17 gal
        (
            of(85_500, D.VOLUME, 500),
            "eighty-five and a half litres, twenty-two and a half gallons",
        ),  # 22.59 gal
        (of(5, D.VOLUME), "five millilitres, about one teaspoon"),  # 1.014 tsp
        (of(64, D.VOLUME), "sixty-four millilitres"),
        (
            of(28.8, D.TEMPERATURE, 0.1),
            "twenty-eight point eight degrees, eighty-four degrees Fahrenheit",
        ),  # 83.8 °F
        (of(15, D.DURATION), "fifteen hours"),
        (of(0.5, D.DURATION, 0.5), "zero point five hours"),
        (of(60, D.POWER), "sixty watts"),
        (of(322, D.ENERGY), "three hundred and twenty-two kilowatt hours"),
        (of(40, D.SHARE), "forty per cent"),
    ],
)
def test_metric_first(amount: Quantity, said: str) -> None:
    """In a metric journal the other system follows where a hand can feel it, rounded for the ear."""
    assert Amounts("metric", "en").both(amount) == said


@pytest.mark.parametrize(
    ("amount", "said"),
    [
        (of(3.5 * OZ, D.MASS, OZ / 2), "three and a half ounces, ninety-nine grams"),  # 99.2 g
        (
            of(46.9 * OZ, D.MASS, OZ / 10),
            "two pounds and nearly fifteen ounces, one kilo three hundred and thirty",
        ),
        (of(9 * IN, D.LENGTH, IN), "nine inches, twenty-three centimetres"),  # 22.86 cm
        (of(2 * GALLON, D.VOLUME, GALLON), "two gallons, seven point six litres"),  # 7.57 L
    ],
)
def test_us_first(amount: Quantity, said: str) -> None:
    """In a journal in US units these come first."""
    assert Amounts("us", "en").both(amount) == said


@pytest.mark.parametrize(
    ("amount", "said"),
    [
        (Quantity(292, None, D.MASS, unweighed=1, step=1), "at least two hundred and ninety-two grams"),
        (Quantity(0, 20, D.LENGTH, step=1), "up to twenty centimetres"),
        (of(19, D.LENGTH, about=True), "about nineteen centimetres"),
        (of(150, D.MASS, 10, by_eye=True), "about one hundred and fifty grams"),
        (Quantity(34, 36, D.LENGTH, step=1), "between thirty-four and thirty-six centimetres"),
        (
            Quantity(613, 968, D.MASS, step=1),
            "between six hundred and thirteen and nine hundred and sixty-eight grams",
        ),
    ],
)
def test_bounds_and_flags(amount: Quantity, said: str) -> None:
    """A bound, a range and a flag are said before the amount; a range says its unit once, in one system."""
    assert Amounts("metric", "en").own(amount) == said
    if amount.high is not None and amount.low < amount.high and amount.low > 0:
        assert Amounts("metric", "en").both(amount) == said


@pytest.mark.parametrize(
    ("value", "units", "said"),
    [
        (210.3, "metric", "about two hundred and ten millilitres"),
        (397.0, "metric", "about four hundred millilitres"),
        (400.0, "metric", "four hundred millilitres"),
        (397.0, "us", "about thirteen and a half fluid ounces"),  # 13.42 fl oz
    ],
)
def test_computed_amounts_are_rounded(value: float, units: Units, said: str) -> None:
    """A computed amount is said at two figures, with how far that is."""
    assert Amounts(units, "en").rounded(exactly(value, D.VOLUME)) == said


@pytest.mark.parametrize(
    ("low", "said"),
    [
        (292.0, "at least two hundred and ninety-two grams, nearly ten and a half ounces"),  # 10.30 oz
        (300.0, "at least three hundred grams, a little over ten and a half ounces"),  # 10.58 oz
        (
            1330.0,
            "at least one kilo three hundred and thirty, two pounds and nearly fifteen ounces",
        ),  # 2 lb 14.9
    ],
)
def test_a_lower_bound_stays_below(low: float, said: str) -> None:
    """The other system of a bound never claims more: a fraction above it is "nearly", one below it "a little over"."""
    assert Amounts("metric", "en").both(Quantity(low, None, D.MASS, open=1, step=1)) == said


def test_a_bound_of_the_other_system_is_rounded_down() -> None:
    """16.43 oz are at least 465 g, as on the page, and not 466."""
    bound = Quantity(16.43 * OZ, None, D.MASS, open=1, step=OZ / 100)
    assert Amounts("metric", "en").own(bound) == "at least four hundred and sixty-five grams"


def test_two_that_are_compared_share_a_unit() -> None:
    """The first of two amounts is a number alone."""
    assert Amounts("metric", "en").number(of(52, D.MASS)) == "fifty-two"


def test_written_numbers_that_share_a_unit_are_in_it() -> None:
    """In digits too, the first of two amounts is in the unit of the second: ounces in a journal in US units."""
    speech = Speech(Wording("us"), spoken=False)
    first, last = of(1.2 * OZ, D.MASS, OZ / 10), of(0.8 * OZ, D.MASS, OZ / 10)
    passage = Passage((Number("log.harvest", first, "plain"), " and ", Number("log.harvest", last, "own")))
    assert speech.say(passage) == "1.2 and 0.8\u00a0oz"
