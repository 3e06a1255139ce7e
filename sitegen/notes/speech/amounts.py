"""Amounts as a person says them: `thirty-four centimetres, a little over thirteen inches`.

In: a quantity, a system of units. Out: words. What was measured, and anything metric, is said as it is shown on the
page, at three figures. A conversion to US units is rounded for the ear: ounces to halves, below two of them to quarters
and thirds, inches and gallons to halves (common practice, no source). Bounds and flags are said as everywhere.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from sitegen.core.language.catalogue import tr, tr_cn, tr_cn_noop, tr_noop
from sitegen.core.language.display_units import (
    differs_by_system,
    display_value,
    first_system,
    is_up_to,
    measured_system,
)
from sitegen.core.language.number_words.cardinals import cardinal
from sitegen.core.language.wording import SENTENCE_FIGURES
from sitegen.core.values.quantity import Quantity, rounded
from sitegen.core.values.units import CANONICAL, Dimension, Unit, Units, unit_named
from sitegen.notes.speech.fractions import (
    HALVES,
    QUARTERS,
    THIRDS_AND_QUARTERS,
    WHOLE,
    Side,
    about_words,
    decimal_words,
    heard,
    mixed_words,
)

# By the symbol of a unit: the words for one of it, and for any other number. One is said as a word of its own: its form
# depends on the noun in some languages.
_NOUNS = {
    "g": tr_cn_noop("spoken", "one gram", "{number} grams"),
    "kg": tr_cn_noop("spoken", "one kilo", "{number} kilos"),
    "mg": tr_cn_noop("spoken", "one milligram", "{number} milligrams"),
    "oz": tr_cn_noop("spoken", "one ounce", "{number} ounces"),
    "lb": tr_cn_noop("spoken", "one pound", "{number} pounds"),
    "ml": tr_cn_noop("spoken", "one millilitre", "{number} millilitres"),
    "L": tr_cn_noop("spoken", "one litre", "{number} litres"),
    "fl oz": tr_cn_noop("spoken", "one fluid ounce", "{number} fluid ounces"),
    "tsp": tr_cn_noop("spoken", "one teaspoon", "{number} teaspoons"),
    "tbsp": tr_cn_noop("spoken", "one tablespoon", "{number} tablespoons"),
    "cup": tr_cn_noop("spoken", "one cup", "{number} cups"),
    "qt": tr_cn_noop("spoken", "one quart", "{number} quarts"),
    "gal": tr_cn_noop("spoken", "one gallon", "{number} gallons"),
    "cm": tr_cn_noop("spoken", "one centimetre", "{number} centimetres"),
    "mm": tr_cn_noop("spoken", "one millimetre", "{number} millimetres"),
    "m": tr_cn_noop("spoken", "one metre", "{number} metres"),
    "in": tr_cn_noop("spoken", "one inch", "{number} inches"),
    "ft": tr_cn_noop("spoken", "one foot", "{number} feet"),
    "h": tr_cn_noop("spoken", "one hour", "{number} hours"),
    "min": tr_cn_noop("spoken", "one minute", "{number} minutes"),
    "°C": tr_cn_noop("spoken", "one degree", "{number} degrees"),
    "°F": tr_cn_noop("spoken", "one degree Fahrenheit", "{number} degrees Fahrenheit"),
    "W": tr_cn_noop("spoken", "one watt", "{number} watts"),
    "kW": tr_cn_noop("spoken", "one kilowatt", "{number} kilowatts"),
    "kWh": tr_cn_noop("spoken", "one kilowatt hour", "{number} kilowatt hours"),
    "%": tr_cn_noop("spoken", "one per cent", "{number} per cent"),
    "days": tr_cn_noop("spoken", "one day", "{number} days"),
}
_OF_ONE = {
    "oz": (tr_noop("half an ounce"), tr_noop("{part} of an ounce")),
    "lb": (tr_noop("half a pound"), tr_noop("{part} of a pound")),
    "in": (tr_noop("half an inch"), tr_noop("{part} of an inch")),
    "fl oz": (tr_noop("half a fluid ounce"), tr_noop("{part} of a fluid ounce")),
    "tsp": (tr_noop("half a teaspoon"), tr_noop("{part} of a teaspoon")),
    "gal": (tr_noop("half a gallon"), tr_noop("{part} of a gallon")),
    "qt": (tr_noop("half a quart"), tr_noop("{part} of a quart")),
    "L": (tr_noop("half a litre"), tr_noop("{part} of a litre")),
    "cm": (tr_noop("half a centimetre"), tr_noop("{part} of a centimetre")),
    "h": (tr_noop("half an hour"), tr_noop("{part} of an hour")),
}
_OUNCES, _GRAMS, _HUNDRED, _MANY_KILOS = 16, 1000, 100, 10
_SMALL_VOLUME = 237.0  # a cup [ml]: below it a second unit helps nobody, but for doses by the spoon
_SPOONS = 15.0  # [ml]
_AN_OUNCE_NEARLY = 0.05  # of an ounce
_NOT_EVEN = (0.75, 0.95)  # of an ounce


# Of each dimension and system: from which value on (in its canonical unit) which unit is said, in whole ones and which
# parts of it.
_FOR_THE_EAR: dict[tuple[Dimension, Units], tuple[tuple[float, str, tuple[int, ...]], ...]] = {
    (Dimension.MASS, "us"): (
        (453.0, "lb", WHOLE),
        (56.7, "oz", HALVES),
        (0.0, "oz", THIRDS_AND_QUARTERS),
    ),
    (Dimension.LENGTH, "us"): ((10.16, "in", HALVES), (0.0, "in", QUARTERS)),
    (Dimension.VOLUME, "us"): (
        (3785.4, "gal", HALVES),
        (946.3, "qt", HALVES),
        (15.0, "fl oz", HALVES),
        (0.0, "tsp", HALVES),
    ),
    (Dimension.TEMPERATURE, "us"): ((-273.15, "°F", WHOLE),),
}


@dataclass(frozen=True, slots=True)
class _Spoken:
    """One number in words with its unit: `number` alone, for the first end of a range, and `amount` with the unit."""

    number: str
    amount: str
    unit: str
    nothing: bool = False
    bare: str = ""  # the amount without how it is rounded


@dataclass(frozen=True, slots=True)
class Amounts:
    """Words for quantities in a journal's units."""

    units: Units
    language: str

    def both(self, quantity: Quantity) -> str:
        """An amount in both systems, where a hand can feel it and the language says both."""
        own = first_system(quantity, self.units)
        first = self._in_system(quantity, own)
        ranged = len(self._ends(quantity, own)) > 1  # four numbers in a breath are too many
        if ranged or not _felt(quantity) or self.language.partition("-")[0] != "en":
            return first
        ends = self._ends(quantity, "us" if own == "metric" else "metric")
        if any(end.nothing for end in ends):  # too little for the ear in the other system
            return first
        return tr("{amount}, {other}", amount=first, other=_range(ends))

    def own(self, quantity: Quantity) -> str:
        """An amount in the system in which the journal says it first."""
        return self._in_system(quantity, first_system(quantity, self.units))

    def rounded(self, quantity: Quantity) -> str:
        """A computed amount in the journal's system, at two figures: `about four hundred millilitres`."""
        system = first_system(quantity, self.units)
        bounds = [quantity.low] if quantity.high is None or quantity.single else [quantity.low, quantity.high]
        if system == "us":
            return _flagged(
                quantity, _range([self._rounded(each, quantity.dimension, "us") for each in bounds])
            )
        unit = CANONICAL[quantity.dimension]
        kept = [rounded(bound, 2) for bound in bounds]
        said = _range(
            [
                self._with_unit(decimal_words(Decimal(repr(k)), self.language), unit.symbol, one=k == 1)
                for k in kept
            ]
        )
        exact = all(math.isclose(one, other) for one, other in zip(kept, bounds, strict=True))
        return _flagged(quantity, said if exact or quantity.high is None else about_words("about", said))

    def number(self, quantity: Quantity) -> str:
        """An amount without its unit: of a second thing that is compared with the first."""
        ends = self._ends(quantity, first_system(quantity, self.units))
        if len(ends) == 1:
            return _flagged(quantity, ends[0].number)
        return tr("between {low} and {high}", low=ends[0].number, high=ends[1].number)

    def _in_system(self, quantity: Quantity, system: Units) -> str:
        return _flagged(quantity, _range(self._ends(quantity, system)))

    def _ends(self, quantity: Quantity, system: Units) -> list[_Spoken]:
        """The number of a quantity, or the two ends of its range."""
        in_tens = system == "metric" or not differs_by_system(quantity.dimension)
        if in_tens or measured_system(quantity) == system:
            shown = display_value(quantity, system, SENTENCE_FIGURES)
            numbers = (
                [shown.low] if shown.high is None or shown.high == shown.low else [shown.low, shown.high]
            )
            if is_up_to(quantity) and shown.high is not None:
                numbers = [shown.high]
            if shown.ounces is not None:
                return [self._pounds(numbers[-1], shown.ounces)]
            return [self._exact(each, shown.unit) for each in numbers]
        bounds = [quantity.low] if quantity.high is None or quantity.single else [quantity.low, quantity.high]
        if is_up_to(quantity) and quantity.high is not None:
            bounds = [quantity.high]
        side: Side = "down" if quantity.high is None else "up" if is_up_to(quantity) else "nearest"
        found = [self._rounded(each, quantity.dimension, system, side) for each in bounds]
        # "About" is said once: of a value that the log itself calls so, not of its rounding too.
        return [
            replace(each, amount=each.bare) if _is_about(quantity) and each.bare else each for each in found
        ]

    def _exact(self, number: Decimal, unit: Unit) -> _Spoken:
        """A number as it is shown on the page."""
        if unit.symbol == "kg":
            return self._kilos(number)
        return self._with_unit(decimal_words(number, self.language), unit.symbol, one=number == 1)

    def _kilos(self, number: Decimal) -> _Spoken:
        """`one kilo three hundred and thirty`; from ten on as a decimal number."""
        kilos, grams = divmod(int(number * _GRAMS), _GRAMS)
        if not grams or kilos >= _MANY_KILOS:
            return self._with_unit(decimal_words(number, self.language), "kg", one=number == 1)
        whole = self._with_unit(cardinal(kilos, self.language), "kg", one=kilos == 1).amount
        rest = cardinal(grams, self.language)
        said = (
            tr("{kilos} {grams}", kilos=whole, grams=rest)
            if grams >= _HUNDRED
            else tr(
                "{kilos} and {grams}", kilos=whole, grams=self._with_unit(rest, "g", one=grams == 1).amount
            )
        )
        return _Spoken(said, said, "kg")

    def _pounds(self, pounds: Decimal, ounces: Decimal) -> _Spoken:
        whole = self._with_unit(cardinal(int(pounds), self.language), "lb", one=pounds == 1).amount
        if not ounces:
            return _Spoken(whole, whole, "lb")
        rest = round(float(ounces))
        return self._pounds_and(whole, Fraction(rest), self._near_ounces(float(ounces), rest))

    def _pounds_and(self, pounds: str, ounces: Fraction, said: str) -> _Spoken:
        both = tr("{pounds} and {ounces}", pounds=pounds, ounces=said) if ounces else pounds
        return _Spoken(both, both, "lb")

    def _rounded(self, value: float, dimension: Dimension, system: Units, side: Side = "nearest") -> _Spoken:
        """A number of the other system, rounded for the ear."""
        symbol, parts = _ear_unit(value, dimension, system)
        unit = unit_named(symbol, dimension) or CANONICAL[dimension]
        own = unit.from_canonical(value)
        if symbol == "oz" and _NOT_EVEN[0] <= own <= _NOT_EVEN[1]:
            return _Spoken(tr("not even an ounce"), tr("not even an ounce"), "oz")
        if symbol == "lb":
            ounces = heard(own * _OUNCES, WHOLE)  # with the word for the side that the true number lies on
            pounds, rest = divmod(int(ounces.number), _OUNCES)
            whole = self._with_unit(cardinal(pounds, self.language), "lb", one=pounds == 1).amount
            return self._pounds_and(
                whole, Fraction(rest), self._near_ounces(own * _OUNCES - pounds * _OUNCES, rest)
            )
        found = heard(own, parts, side)
        spoken = self._number(found.number, symbol)
        near, nothing = found.near, found.number == 0 != own
        amount = about_words(near, spoken.amount)
        return _Spoken(about_words(near, spoken.number), amount, symbol, nothing, spoken.amount)

    def _near_ounces(self, ounces: float, said: int) -> str:
        amount = self._number(Fraction(said), "oz").amount
        off = ounces - said
        if not said or abs(off) < _AN_OUNCE_NEARLY:
            return amount
        return about_words("over" if off > 0 else "nearly", amount)

    def _number(self, number: Fraction, symbol: str) -> _Spoken:
        """A whole or mixed number with its unit: `half an inch`, `two thirds of an ounce`."""
        words = mixed_words(number, self.language)
        if 0 < number < 1 and symbol in _OF_ONE:
            half, part = _OF_ONE[symbol]
            amount = tr(half) if number == Fraction(1, 2) else tr(part, part=words)
            return _Spoken(words, amount, symbol)
        return self._with_unit(words, symbol, one=number == 1)

    def _with_unit(self, number: str, symbol: str, *, one: bool) -> _Spoken:
        noun = _NOUNS.get(symbol)
        if noun is None:
            return _Spoken(number, f"{number} {symbol}".strip(), symbol)
        count = 1 if one else 2  # as grammar counts: half of one is many
        single, several = noun
        return _Spoken(number, tr_cn("spoken", single, several, count, number=number), symbol)


def _felt(quantity: Quantity) -> bool:
    """Whether it is said in both systems: where a hand can feel it."""
    if quantity.dimension is Dimension.VOLUME:
        return quantity.middle >= _SMALL_VOLUME or 0 < quantity.middle < _SPOONS
    return (
        quantity.dimension in (Dimension.MASS, Dimension.LENGTH, Dimension.TEMPERATURE)
        and quantity.middle > 0
    )


def _ear_unit(value: float, dimension: Dimension, system: Units) -> tuple[str, tuple[int, ...]]:
    """The unit of the other system for the ear, and the parts of it that are said."""
    for least, symbol, parts in _FOR_THE_EAR.get((dimension, system), ()):
        if value >= least:
            return symbol, parts
    return CANONICAL[dimension].symbol, HALVES


def _range(ends: list[_Spoken]) -> str:
    """One amount, or `between … and …` with the unit said once."""
    if len(ends) == 1:
        return ends[0].amount
    low = ends[0].number if ends[0].unit == ends[1].unit else ends[0].amount
    return tr("between {low} and {high}", low=low, high=ends[1].amount)


def _flagged(quantity: Quantity, amount: str) -> str:
    """An amount with "at least", "up to", "about" before it."""
    if quantity.high is None:
        return tr("at least {amount}", amount=amount)
    if is_up_to(quantity):
        return tr("up to {amount}", amount=amount)
    return tr("about {amount}", amount=amount) if _is_about(quantity) else amount


def _is_about(quantity: Quantity) -> bool:
    """Whether the log itself says that it is about so much."""
    return quantity.about or quantity.by_eye
