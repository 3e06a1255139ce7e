"""Passages as text: spoken, with every number in words, or written, with digits.

In: passages. Out: text. Days are said with their preposition, plants by name or number; a passage begins with a capital.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from functools import cached_property
from typing import Any

from babel.dates import format_date
from babel.numbers import get_currency_name

from sitegen.core.facts.figure import Money, Rate, Several, Share
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.display_units import display_value, first_system
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.language.number_words.cardinals import cardinal, ordinal
from sitegen.core.language.text import listed
from sitegen.core.language.wording import SENTENCE_FIGURES, Wording, opening
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.notes.draft import AuthorWords, Form, Limits, Number, Part, Passage, Plants
from sitegen.notes.speech.amounts import Amounts
from sitegen.notes.speech.counts import count_alone, counted_digits, counted_words
from sitegen.notes.speech.fractions import THIRDS_AND_QUARTERS, about_words, heard, mixed_words

_ADDRESS = re.compile(r"\w+://")
_LETTERS_AND_NUMBER = re.compile(r"([A-Za-z]+)(\d+)")
_ONE_DAY: dict[Form, str] = {
    "on": tr_noop("on day {day}"),
    "by": tr_noop("by day {day}"),
    "from": tr_noop("from day {day}"),
}
_SAID_BEFORE: dict[Form, str] = {
    "that": tr_noop("that day"),
    "then": tr_noop("by then"),
    "next": tr_noop("the next day"),
}
_NUMBERED = (Dimension.CONDUCTIVITY, Dimension.ACIDITY, Dimension.COUNT)


@dataclass(frozen=True)
class Speech:
    """Says passages in the words of a journal; `spoken` with numbers in words."""

    wording: Wording
    spoken: bool

    @property
    def language(self) -> str:
        """The language of the journal."""
        return self.wording.language

    @cached_property
    def amounts(self) -> Amounts:
        """Words for quantities."""
        return Amounts(self.wording.units, self.language)

    def say(self, passage: Passage) -> str:
        """A passage as text."""
        said = "".join(self.part(part) for part in passage.parts)
        return said if _ADDRESS.match(said) else opening(said)

    def part(self, part: Part) -> str:
        """One part of a passage."""
        if isinstance(part, str):
            return part
        if isinstance(part, AuthorWords):
            return part.text if part.inside else opening(part.text)
        if isinstance(part, Limits):
            return remarks_words(part.remarks)
        if isinstance(part, Plants):
            return self._plants(part.ids)
        return self._spoken(part) if self.spoken else self._written(part)

    # numbers

    def _spoken(self, number: Number) -> str:
        for kind, say in _SAYERS:
            if isinstance(number.value, kind):
                return say(self, number.value, number)
        if number.value is None:
            raise TypeError(f"{number.name} has nothing to say")
        return str(number.value)

    def _rate(self, value: Rate, number: Number) -> str:
        return self.amounts.rounded(value.amount) if number.form == "own" else self.amounts.both(value.amount)

    def _fraction(self, value: Fraction, _: Number) -> str:
        found = heard(float(value), THIRDS_AND_QUARTERS)
        return about_words(found.near, mixed_words(found.number, self.language))

    def _several(self, value: Several, number: Number) -> str:
        return listed([self._spoken(Number(number.name, each, number.form)) for each in value.values])

    def _count(self, value: int, number: Number) -> str:
        if number.form == "ordinal":
            return ordinal(value, self.language)
        if number.noun and number.form == "plain":
            return count_alone(value, number.noun, self.language)
        return (
            counted_words(value, number.noun, self.language)
            if number.noun
            else cardinal(value, self.language)
        )

    def _quantity(self, value: Quantity, number: Number) -> str:
        if number.form == "plain" or value.dimension in _NUMBERED:
            return self.amounts.number(value)
        return self.amounts.both(value) if number.form == "both" else self.amounts.own(value)

    def _share(self, value: Share, number: Number) -> str:
        whole = cardinal(value.whole, self.language)
        if value.part == value.whole > 1:
            return tr("all {whole}", whole=whole)
        if value.part == 0:
            return tr("none of {whole}", whole=whole)
        part = count_alone(value.part, number.noun or "plant", self.language)
        return tr("{part} of {whole}", part=part, whole=whole)

    def _money(self, value: Money, _: Number) -> str:
        """A sum in whole units of the currency: nobody says cents aloud of a bill of months."""
        amount = heard(value.low, ())
        whole = int(amount.number)
        name = get_currency_name(value.currency, whole, locale=self.wording.language.replace("-", "_"))
        said = f"{cardinal(whole, self.language)} {name}"
        if value.high is None:
            return tr("at least {amount}", amount=said)
        return about_words("about" if amount.near or value.about or value.high != value.low else "", said)

    def _date(self, value: date, _: Number) -> str:
        """`the fifth of April`."""
        month = format_date(value, "MMMM", locale=self.wording.language.replace("-", "_"))
        return tr("the {day} of {month}", day=ordinal(value.day, self.language), month=month)

    def _day_of(self, value: Day, number: Number) -> str:
        return self._day(value, number.form)

    def _day(self, value: Day, form: Form) -> str:
        if form in _SAID_BEFORE:
            return tr(_SAID_BEFORE[form])
        if not value.single and not value.before:
            return self._span(value, form)
        if value.before:
            return tr("before day {day}", day=self._day_number(value.last + 1))
        first = self._day_number(value.first)
        if value.about:
            return tr("about day {day}", day=first)
        return tr(_ONE_DAY[form], day=first) if form in _ONE_DAY else tr("day {day}", day=first)

    def _span(self, value: Day, form: Form) -> str:
        first, last = self._day_number(value.first), self._day_number(value.last)
        if form == "day":
            return tr("day {first} to day {last}", first=first, last=last)
        if value.first <= 0 < value.last - 1:
            return tr("by day {day}", day=last)
        return tr("between day {first} and day {last}", first=first, last=last)

    def _day_number(self, number: int) -> str:
        return cardinal(number, self.language) if self.spoken else self.wording.number(number)

    # the same in digits

    def _written(self, number: Number) -> str:
        value = number.value
        if isinstance(value, Day):
            return self._day(value, number.form)
        if isinstance(value, int):
            return self._digits(value, number)
        if isinstance(value, date):
            return self.wording.calendar_day(value)
        if isinstance(value, Quantity) and number.form == "plain" and value.single:
            shown = display_value(value, first_system(value, self.wording.units), SENTENCE_FIGURES).low
            return self.wording.number(float(shown), max(0, -int(shown.as_tuple().exponent)))
        if isinstance(value, Fraction):
            return self.wording.say(exactly(100 * float(value), Dimension.SHARE, 1))
        pieces = self.wording.in_sentence(value)
        return str(replace(pieces, also="") if number.form == "own" else pieces)

    def _digits(self, value: int, number: Number) -> str:
        digits = self.wording.number(value)
        if number.noun and number.form != "plain":
            return counted_digits(value, number.noun, digits)
        return digits

    # plants

    def _plants(self, ids: tuple[str, ...]) -> str:
        named = [self._plant(each) for each in ids]
        if len(ids) == 1:
            return tr("plant {plant}", plant=named[0])
        if len(ids) > 3 and _follow(ids):
            return tr("plants {first} to {last}", first=named[0], last=named[-1])
        return tr("plants {plants}", plants=listed(named))

    def _plant(self, plant: str) -> str:
        match = _LETTERS_AND_NUMBER.fullmatch(plant)
        return self._day_number(int(match[2])) if match else plant


_SAYERS: tuple[tuple[type, Callable[[Speech, Any, Number], str]], ...] = (
    (int, Speech._count),
    (Day, Speech._day_of),
    (Quantity, Speech._quantity),
    (date, Speech._date),
    (Share, Speech._share),
    (Rate, Speech._rate),
    (Money, Speech._money),
    (Several, Speech._several),
    (Fraction, Speech._fraction),
)


def _follow(ids: tuple[str, ...]) -> bool:
    """Whether the plants are neighbours by number."""
    found = [match for each in ids if (match := _LETTERS_AND_NUMBER.fullmatch(each))]
    numbers = [int(match[2]) for match in found]
    return len(found) == len(ids) and numbers == list(range(numbers[0], numbers[0] + len(ids)))
