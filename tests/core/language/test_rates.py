"""How rates, sums of money and single values are said, and stored."""

from __future__ import annotations

import pytest

from sitegen.core.facts.data import value_data
from sitegen.core.facts.figure import Money, Per, Rate, Several
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension

GRAMS = exactly(12, Dimension.MASS, 1)


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (Rate(GRAMS, Per.LITRE), "12 g per litre of water (1.6 oz per gallon of water)"),
        (Rate(Quantity(0, 12, Dimension.MASS, step=1), Per.DAY), "at most 12 g (0.42 oz) per day"),
        (Rate(Quantity(12, None, Dimension.MASS, step=1), Per.DAY), "at least 12 g (0.42 oz) per day"),
        (Rate(GRAMS, Per.KILOWATT_HOUR), "12 g per kWh (0.42 oz per kWh)"),
        (Rate(unknown(Dimension.MASS), Per.DAY), "not weighed"),
        (Several((GRAMS, exactly(15, Dimension.MASS, 1))), "12 g (0.42 oz) and 15 g (0.53 oz)"),
        (Money(1.2, 1.2, "EUR"), "EUR 1.20"),
        (Money(1.2, 1.5, "EUR", per="100 g"), "EUR 1.20–1.50 per 100 g"),
        (Money(1.2, None, "EUR", about=True), "at least about EUR 1.20"),
        (Money(0, 1.5, "EUR"), "up to EUR 1.50"),
        (Money(120.4, 120.4, "JPY"), "JPY 120"),
    ],
)
def test_words(value: object, words: str) -> None:
    """Each kind of value with its flags, its unit and what it is for one of."""
    assert Wording().say(value).replace(NBSP, " ") == words  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("money", "words"),
    [
        (Money(17.61, 17.61, "EUR"), "17,61 EUR"),
        (Money(17.61, 20, "EUR", per="100 g"), "17,61–20,00 EUR per 100 g"),
        (Money(17.619, None, "EUR"), "at least 17,61 EUR"),
        (Money(0, 17.611, "EUR"), "up to 17,62 EUR"),
        (Money(0.004, 0.004, "EUR"), "0,004 EUR"),
    ],
)
def test_money_in_german(money: Money, words: str) -> None:
    """In German the currency follows the sum (CLDR's pattern of the locale); a bound is rounded to its safe side."""
    assert Wording(language="de").say(money).replace(NBSP, " ") == words


def test_data() -> None:
    """Rates, money and single values as JSON."""
    quantity = value_data(GRAMS)
    assert value_data(Rate(GRAMS, Per.DAY)) == {**quantity, "per": "day"}
    assert value_data(Several((GRAMS,))) == [quantity]
    assert value_data(Money(1, None, "EUR", per="100 g")) == {
        "low": 1,
        "high": None,
        "currency": "EUR",
        "about": False,
        "per": "100 g",
    }


def test_a_us_journal_says_gallons_and_feet_first() -> None:
    """What is said for a litre or a square metre is turned into the journal's own units, above and below the line."""
    says = Wording("us")
    litre, ground = Rate(GRAMS, Per.LITRE), Rate(exactly(1710, Dimension.MASS, 10), Per.SQUARE_METRE)

    assert says.say(litre).replace(NBSP, " ") == "1.6 oz per gallon of water (12 g per litre of water)"
    assert says.say(ground).replace(NBSP, " ") == "5.6 oz per sq ft (1.71 kg per m²)"
