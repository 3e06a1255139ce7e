"""Values as text on a page: number, unit, flags, and the other system of units in brackets.

In: a value of the facts. Out: text, or its pieces for a template. Numbers and dates follow the journal's language. A
no-break space joins a number to its unit. Never computes.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from functools import lru_cache
from typing import Any, Literal

from babel import Locale, UnknownLocaleError
from babel.dates import format_date, format_skeleton
from babel.numbers import format_decimal, get_currency_precision, get_decimal_symbol

from sitegen.core.facts.figure import Figure, Money, Per, Rate, Several, Share, Value
from sitegen.core.language.catalogue import active_catalogue, tr, tr_c, tr_c_noop, tr_n, tr_noop
from sitegen.core.language.display_units import (
    DOWN,
    HALF_UP,
    UP,
    DisplayValue,
    differs_by_system,
    display_value,
    displayed_step,
    first_system,
    is_up_to,
    measured_in,
    not_zero,
    quantized,
)
from sitegen.core.language.text import listed
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension, Units

NBSP = "\u00a0"
NOT_RECORDED = tr_noop("not recorded")
SMALL_COUNT = 20  # below it a percentage claims more than was counted
SENTENCE_FIGURES = 3  # of an amount inside a sentence: what a listener keeps; common practice, no source
MINUS = "\u2212"

_PER_WORDS = {
    Per.DAY: tr_c_noop("a rate", "per day"),
    Per.WEEK: tr_c_noop("a rate", "per week"),
    Per.PLANT_AND_DAY: tr_c_noop("a rate", "per plant and day"),
    Per.PLANT: tr_c_noop("a rate", "per plant"),
    Per.STEM: tr_c_noop("a rate", "per stem"),
    Per.MOL: tr_c_noop("a rate", "per mol of light"),
}
# By system: the phrase of a rate, and its unit as a multiple of the recorded one.
# By definition: 231 cubic inches, a foot of 30.48 cm, and the international pound.
_PER_SYSTEM: dict[Per, dict[Units, tuple[str, float]]] = {
    Per.LITRE: {
        "metric": (tr_c_noop("a rate", "{amount} per litre of water"), 1.0),
        "us": (tr_c_noop("a rate", "{amount} per gallon of water"), 3.785411784),
    },
    Per.SQUARE_METRE: {
        "metric": (tr_c_noop("a rate", "{amount} per\u00a0m²"), 1.0),
        "us": (tr_c_noop("a rate", "{amount} per\u00a0sq\u00a0ft"), 0.09290304),
    },
    Per.KILOWATT_HOUR: {
        "metric": (tr_c_noop("a rate", "{amount} per\u00a0kWh"), 1.0),
        "us": (tr_c_noop("a rate", "{amount} per\u00a0kWh"), 1.0),
    },
    Per.KILOGRAM: {
        "metric": (tr_c_noop("a rate", "{amount} per\u00a0kg"), 1.0),
        "us": (tr_c_noop("a rate", "{amount} per\u00a0lb"), 0.45359237),
    },
}

_UNKNOWN = {Dimension.MASS: tr_noop("not weighed"), Dimension.COUNT: tr_noop("not counted")}
# Parts per million mean nothing without the scale of the meter.
_PPM = {
    Dimension.PPM: tr_noop("{number}\u00a0ppm of a scale not recorded"),
    Dimension.PPM_500: tr_noop("{number}\u00a0ppm on the 500\u00a0scale"),
    Dimension.PPM_640: tr_noop("{number}\u00a0ppm on the 640\u00a0scale"),
    Dimension.PPM_700: tr_noop("{number}\u00a0ppm on the 700\u00a0scale"),
}
_UNIT_WORDS = {"K": "°C"}  # growers give differences of temperature in °C
_COUNTED = (Dimension.COUNT, Dimension.DAYS)  # whole in a sentence too


@dataclass(frozen=True, slots=True)
class Pieces:
    """A value in pieces, which a template can style: "at least", "196 g", "(6.9 oz)", "by eye"."""

    flag: str = ""
    amount: str = ""
    also: str = ""
    after: str = ""
    missing: bool = False

    def __str__(self) -> str:
        return " ".join(part for part in (self.flag, self.amount, self.also, self.after) if part)


@lru_cache(maxsize=8)
def _locale(language: str) -> Locale:
    """The locale of a language tag, or of its longest known beginning; English where none is known."""
    parts = language.split("-")
    for length in range(len(parts), 0, -1):
        with suppress(UnknownLocaleError, ValueError):
            return Locale.parse("-".join(parts[:length]), sep="-")
    return Locale.parse("en")


@lru_cache(maxsize=8)
def decimal_sign(language: str) -> str:
    """The decimal sign of a language."""
    return get_decimal_symbol(_locale(language))


def localized_number(number: str) -> str:
    """A number inside a remark, with the decimal sign of the active language."""
    return number.replace(".", decimal_sign(active_catalogue().language))


def _kept(when: str) -> str:
    """A written day whose number stays with its month at the end of a line, where the number comes first."""
    return when.replace(" ", NBSP, 1) if when[0].isdigit() else when


def _number(value: Decimal, language: str) -> str:
    return _formatted(value, max(0, -int(value.as_tuple().exponent)), language)


@lru_cache(maxsize=4096)
def _formatted(value: Decimal, decimals: int, language: str) -> str:
    """`decimals` is a part of the cache key: 3 and 3.0 are equal, but their texts differ."""
    pattern = "#,##0" + ("." + "0" * decimals if decimals else "")
    text = format_decimal(abs(value), format=pattern, locale=_locale(language), decimal_quantization=False)
    return MINUS + text if value < 0 else text


def mid_sentence(name: str) -> str:
    """A name inside a sentence: in English in lower case but for words like `pH` and `LED`; unchanged in others."""
    if not active_catalogue().language.startswith("en"):
        return name
    return " ".join(word.lower() if word[1:] == word[1:].lower() else word for word in name.split(" "))


def opening(text: str) -> str:
    """A text at the beginning of a sentence, with a capital; `pH` stays."""
    return text if text.startswith("pH") else text[:1].upper() + text[1:]


@dataclass(frozen=True, slots=True)
class Wording:
    """Values as text in a journal's units and language."""

    units: Literal["metric", "us"] = "metric"
    language: str = "en"
    other: Literal["metric", "us"] = field(init=False, default="us")
    words: str = field(init=False, default="")  # digest of the catalogue: a part of cached results' keys

    def __post_init__(self) -> None:
        object.__setattr__(self, "words", active_catalogue().digest)
        object.__setattr__(self, "other", "us" if self.units == "metric" else "metric")

    @property
    def right_to_left(self) -> bool:
        """Whether the language is written from right to left."""
        return _locale(self.language).character_order == "right-to-left"

    def say(self, value: Value | Figure | int) -> str:
        """A value as text, flags and both systems included."""
        return str(self.pieces(value))

    def say_in_sentence(self, value: Value | Figure | int) -> str:
        """A value as text inside a sentence."""
        return str(self.in_sentence(value))

    def in_sentence(self, value: Value | Figure | int) -> Pieces:
        """A value inside a sentence: an amount at three figures, a share without its interval."""
        if isinstance(value, Figure):
            return self.in_sentence(value.value)
        if isinstance(value, Share):
            return self._counted_share(value)
        if isinstance(value, Several):
            return Pieces(amount=listed([self.say_in_sentence(each) for each in value.values]))
        if isinstance(value, Quantity) and value.dimension not in _COUNTED:
            return self._quantity(value, SENTENCE_FIGURES)
        if isinstance(value, Rate) and value.amount.dimension not in _COUNTED:
            return self._rate(value, SENTENCE_FIGURES)
        return self.pieces(value)

    def pieces(self, value: Value | Figure | int) -> Pieces:
        """A value in pieces."""
        if isinstance(value, Figure):
            return self.pieces(value.value)
        if value is None:
            return Pieces(amount=tr(NOT_RECORDED), missing=True)
        say = next((say for kind, say in _SAYERS if isinstance(value, kind)), None)
        return Pieces(amount=str(value)) if say is None else say(self, value)

    def number(self, value: float, decimals: int = 0) -> str:
        """A bare number."""
        return _number(quantized(value, decimals), self.language)

    def calendar_day(self, when: date, *, short: bool = False) -> str:
        """`19 October 2025`, or `19 Oct 2025`."""
        if self.language == "en":  # no country: the day comes first, as in texts of this site
            month = format_date(when, "MMM y" if short else "MMMM y", locale=_locale("en"))
            return f"{when.day}{NBSP}{month}"
        if short:
            return _kept(format_skeleton("yMMMd", when, locale=_locale(self.language)))
        return _kept(format_date(when, "long", locale=_locale(self.language)))

    def month_name(self, when: date) -> str:
        """`Oct`; a year begins with its number: `Jan 2026`."""
        return format_skeleton("yMMM" if when.month == 1 else "MMM", when, locale=_locale(self.language))

    def month(self, when: date, *, short: bool = False) -> str:
        """`October 2025`, or `Oct 2025`."""
        return format_skeleton("yMMM" if short else "yMMMM", when, locale=_locale(self.language))

    def month_alone(self, when: date) -> str:
        """`October`, of any year."""
        return format_date(when, "LLLL", locale=_locale(self.language))

    def day_of_year(self, when: date, *, short: bool = False) -> str:
        """`19 October`, or `19 Oct`."""
        if self.language == "en":
            return f"{when.day}{NBSP}{format_date(when, 'MMM' if short else 'MMMM', locale=_locale('en'))}"
        return _kept(format_skeleton("MMMd" if short else "MMMMd", when, locale=_locale(self.language)))

    def days(self, day: Day) -> str:
        """A day without its word, for a column of days: `33–38`, `about 36`, `before 40`, `by 39`."""
        flag, first, last = self._of_day(day)
        if day.single:
            return str(Pieces(flag, str(day.first)))
        if first:
            return str(Pieces(flag, f"{first}–{last}"))
        return str(Pieces(flag, tr("before {day}", day=last) if day.before else tr("by {day}", day=last)))

    def _day(self, day: Day) -> Pieces:
        flag, first, last = self._of_day(day)
        if day.single:
            return Pieces(flag, tr("day\u00a0{day}", day=day.first))
        if not first and day.before:
            return Pieces(flag, tr("before day\u00a0{day}", day=last))
        if not first:
            return Pieces(flag, tr("by day\u00a0{day}", day=last))
        return Pieces(flag, tr("days\u00a0{first}–{last}", first=first, last=last))

    def _of_day(self, day: Day) -> tuple[str, str, str]:
        """Flag, first day and last day; no first day where it may be any since the start.

        A day that was written as "before 40" is said so, by the day after its last one.
        """
        flag = tr("about") if day.about else ""
        if day.first <= 0 < day.last - 1:
            return flag, "", self._signed(day.last + 1 if day.before else day.last)
        return flag, self._signed(day.first), self._signed(day.last)

    def _signed(self, number: int) -> str:
        return _number(Decimal(number), self.language)

    def _share(self, share: Share) -> Pieces:
        low, high = (self.number(100 * bound) for bound in (share.low, share.high))
        interval = tr("95\u00a0% interval {low}–{high}\u00a0%", low=low, high=high)
        if share.whole >= SMALL_COUNT:
            interval = f"{self._percentage(share)}; {interval}"
        return Pieces(amount=self._part(share), also=f"({interval})")

    def _counted_share(self, share: Share) -> Pieces:
        """`11 of 12`, and of many the percentage too."""
        also = f"({self._percentage(share)})" if share.whole >= SMALL_COUNT else ""
        return Pieces(amount=self._part(share), also=also)

    def _percentage(self, share: Share) -> str:
        return tr("{number}\u00a0%", number=self._percent(share))

    def _part(self, share: Share) -> str:
        whole = self._signed(share.whole)
        if share.part == 0:
            return tr("none of {whole}", whole=whole)
        part = self._signed(share.part)
        if share.part == share.whole > 1:
            return tr("both") if share.whole == 2 else tr("all {whole}", whole=whole)
        return tr("{part} of {whole}", part=part, whole=whole)

    def _percent(self, share: Share) -> str:
        """Rounded, but to 0 or 100 only where it is none or all."""
        percent = quantized(100 * share.part / share.whole, 0, HALF_UP)
        if 0 < share.part < share.whole:
            percent = min(Decimal(99), max(Decimal(1), percent))
        return _number(percent, self.language)

    @lru_cache(maxsize=8192)  # noqa: B019 - one instance a journal; pages repeat most values
    def _quantity(self, quantity: Quantity, figures: int = 0) -> Pieces:
        amounts = quantity.dimension is not Dimension.TEMPERATURE
        if quantity.some:
            return Pieces(amount=tr_c("an amount", "some"), missing=True)
        # A temperature written "up to 19 C" has a lower bound of 0 as well: beside one "at least", nothing bounds them.
        if not quantity.known or (quantity.low == 0 and quantity.high is None):
            return Pieces(amount=tr(_UNKNOWN.get(quantity.dimension, tr_noop("not measured"))), missing=True)
        first = first_system(quantity, self.units)
        also = ""
        nothing = quantity.low == quantity.high == 0 and amounts
        if differs_by_system(quantity.dimension) and not nothing:
            also = f"({self._amount(quantity, 'us' if first == 'metric' else 'metric', figures)})"
        own = self._amount(quantity, first, figures)
        return Pieces(_flag(quantity), own, also, tr("by eye") if quantity.by_eye else "")

    def _rate(self, rate: Rate, figures: int = 0) -> Pieces:
        """`12 g (0.42 oz) per week`; `12 g per litre of water (1.6 oz per gallon)`. A bound of a ratio is `at most`."""
        pieces = self._quantity(rate.amount, figures)
        if pieces.missing:
            return pieces
        pieces = replace(pieces, flag=_flag(rate.amount, bound=tr_noop("at most")))
        if rate.per not in _PER_SYSTEM:
            per = tr_c("a rate", _PER_WORDS[rate.per]).replace(" ", NBSP)
            return replace(pieces, after=f"{pieces.after} {per}".strip())
        own, other = (self._each(rate, system, figures) for system in (self.units, self.other))
        return replace(pieces, amount=own, also=f"({other})")

    def _each(self, rate: Rate, system: Units, figures: int) -> str:
        """A rate in one system: its amount and its "per"."""
        by_system = _PER_SYSTEM[rate.per]
        amount = self._amount(rate.amount, system, figures, by_system["us"][1])
        return tr_c("a rate", by_system[system][0], amount=amount)

    def _several(self, several: Several) -> Pieces:
        """Each value by itself."""
        return Pieces(amount=listed([self.say(value) for value in several.values]))

    def _money(self, money: Money) -> Pieces:
        """`EUR 1.20`, in German `1,20 EUR`, rounded as its currency is; a bound is rounded to its safe side."""
        low = self._cents(money.low, money, DOWN if money.high is None else HALF_UP)
        flag, bounds = tr("at least") if money.high is None else "", [low]
        if money.high is not None:
            high = self._cents(money.high, money, UP if money.low == 0 else HALF_UP)
            if high != low:
                flag, bounds = (tr("up to"), [high]) if money.low == 0 else ("", [low, high])
        about = tr("about") if money.about else ""
        words = " ".join(part for part in (flag, about) if part)
        amount = "–".join(bounds)
        pattern = _locale(self.language).currency_formats["standard"].pattern
        leads = pattern.index("¤") < pattern.index("0")
        return Pieces(
            words,
            f"{money.currency}{NBSP}{amount}" if leads else f"{amount}{NBSP}{money.currency}",
            after=tr("per {thing}", thing=money.per) if money.per else "",
        )

    def _cents(self, bound: float, money: Money, rounding: str) -> str:
        decimals = get_currency_precision(money.currency)
        return _number(not_zero(bound, decimals, rounding), self.language)

    def rounding_of(self, quantity: Quantity) -> str:
        """The width to which a quantity is rounded on a page, in the system of measurement: `0.1 oz`."""
        step = displayed_step(quantity, self._measured(quantity))
        return self._amount(step, self._measured(step))

    def as_measured(self, value: Value | Figure) -> str:
        """A value as text for its working: an amount in the system of measurement, beside that of the journal."""
        if isinstance(value, Figure):
            return self.as_measured(value.value)
        pieces = self.pieces(value)
        own = isinstance(value, Rate) or (
            isinstance(value, Quantity) and first_system(value, self.units) == self._measured(value)
        )
        return str(replace(pieces, also="") if own else pieces)

    def _measured(self, quantity: Quantity) -> Units:
        """The system of measurement; that of the journal where a value was measured in neither."""
        other = not measured_in(quantity, self.units) and measured_in(quantity, self.other)
        return self.other if other else self.units

    def plain(self, quantity: Quantity) -> str:
        """Only in the system of measurement, for a dense table."""
        if not quantity.known:
            return self.say(quantity)
        after = tr("by eye") if quantity.by_eye else ""
        return str(Pieces(_flag(quantity), self._amount(quantity, self._measured(quantity)), after=after))

    def _amount(self, quantity: Quantity, system: Units, figures: int = 0, us_factor: float = 1.0) -> str:
        found = display_value(quantity, system, figures, us_factor)
        low = self._one(found.low, found)
        if found.high is None or found.high == found.low:
            return low
        if is_up_to(quantity):
            return self._one(found.high, found)
        return f"{_number(found.low, self.language)}–{self._one(found.high, found)}"

    def _one(self, number: Decimal, found: DisplayValue) -> str:
        text = _number(number, self.language)
        if found.ounces is not None:
            return f"{text}{NBSP}lb {_number(found.ounces, self.language)}{NBSP}oz"
        if found.unit.dimension in _PPM:
            return tr(_PPM[found.unit.dimension], number=text)
        symbol = _UNIT_WORDS.get(found.unit.symbol, found.unit.symbol)
        if found.unit.dimension is Dimension.DAYS:
            whole = 1 if number == 1 else max(2, math.ceil(number))
            return tr_n("{number}\u00a0day", "{number}\u00a0days", whole, number=text)
        return f"{text}{NBSP}{symbol.replace(' ', NBSP)}" if symbol else text


def _flag(quantity: Quantity, bound: str = tr_noop("up to")) -> str:
    words = []
    if quantity.high is None:
        words.append(tr("at least"))
    elif is_up_to(quantity):
        words.append(tr(bound))
    if quantity.about:
        words.append(tr("about"))
    return " ".join(words)


_SAYERS: tuple[tuple[type, Callable[[Wording, Any], Pieces]], ...] = (
    (Quantity, Wording._quantity),
    (Day, Wording._day),
    (Share, Wording._share),
    (Rate, Wording._rate),
    (Several, Wording._several),
    (Money, Wording._money),
    (date, lambda wording, when: Pieces(amount=wording.calendar_day(when))),
    (int, lambda wording, number: Pieces(amount=wording.number(number))),
)
