"""Amounts in a sentence: numbers with units, pounds and ounces, "one kilo three hundred", and ratios.

In: the words of a sentence. Out: `Measure`s of amounts.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from sitegen.core.language.number_words.in_text import SpokenNumber
from sitegen.core.values.units import Dimension, unit_named
from sitegen.notes.check.claims import Hedge, Kind, Reading
from sitegen.notes.check.sentences.measures import SpokenUnit, joins, left_out, units_at
from sitegen.notes.check.sentences.sentence_words import (
    DAY_WORDS,
    HEDGES,
    Measure,
    SentenceWords,
    reading_in,
)
from sitegen.notes.check.sentences.topics import noun_in

_BETWEEN = frozenset({"between", "zwischen"})
_SOURCES = frozenset({"ec", "ph"})
_ON = frozenset({"on", "by", "until", "an", "am", "bis"})
_MONEY = re.compile(r"\s*(?:euros?|eur|€|dollars?|usd|\$|quid|gbp|£|franken|chf)(?![^\W\d_])", re.IGNORECASE)
_CENTS = re.compile(r"\s*(?:cents?|pence|rappen)\b", re.IGNORECASE)
CENTS = 100
_MORE = re.compile(
    r"\s*(?:again )?(?:as (?:much|many|tall|high|heavy|long|big)|more|less|fewer|again|taller|higher|heavier|bigger"
    r"|smaller|lower|lighter|shorter|longer|mehr|weniger|so ?viele?|so (?:hoch|schwer|lang|groß)|höher|größer|kleiner"
    r"|schwerer|leichter|niedriger)\b",
    re.IGNORECASE,
)
_LESS = re.compile(
    r"less|fewer|smaller|lower|lighter|shorter|weniger|kleiner|leichter|niedriger", re.IGNORECASE
)
_AS = re.compile(r"as |so", re.IGNORECASE)
_AFTER_ARTICLE = frozenset({"kg", "lb", "oz", "L", "gal", "Pfund", "weeks"})


class Amounts(SentenceWords):
    """Reads amounts."""

    def _amount(self, index: int) -> Measure | None:
        number = self.numbers[index]
        upper = self._range_to(index, between=self._word(number.first - 1) in _BETWEEN)
        if upper is not None and self._word(number.first - 1) in ("from", "von"):
            upper = None  # a change, from one value to another
        units, end = self._units(index if upper is None else upper)
        if not units:
            upper = None
            units, end = self._units(index)
        if not units:
            return self._ratio(index, self._end(index), 1.0) if number.form == "fraction" else None
        if units[0].dimension is Dimension.SHARE and (ratio := self._ratio(index, end, 0.01)):
            return ratio
        high = self.numbers[upper].value if upper is not None else number.value
        readings = tuple(reading_in(unit, number.value, high, number.step) for unit in units)
        made = self._made(index, readings, end, last=upper or -1)
        return self._compound(made, units[0]) if upper is None else made

    def _after_article(self, index: int, found: Sequence[Measure]) -> Measure | None:
        """`a kilo`, but not the rate in `sixty grams a week`."""
        begin = self.tokens[self.numbers[index].first].begin
        units, end = units_at(self.text, self._end(index))
        follows = bool(found) and self.text[found[-1].end : begin].strip() == ""
        if not units or units[0].name not in _AFTER_ARTICLE or follows:
            return None
        readings = tuple(
            reading_in(unit, 1, 1, 1 if unit.dimension is Dimension.DAYS else 0.1) for unit in units
        )
        return self._compound(self._made(index, readings, end), units[0])

    def _compound(self, made: Measure, larger: SpokenUnit) -> Measure:
        """Pounds and ounces, feet and inches, `one kilo three hundred and thirty`."""
        following = made.last_number + 1
        if following >= len(self.numbers) or following in self.taken:
            return made
        number = self.numbers[following]
        between = self.text[made.end : self.tokens[number.first].begin].strip(" ,").lower()
        between = re.sub(r"^(?:and|und)\b\s*", "", between)
        hedged = next((h for h, pattern in HEDGES if between and pattern.fullmatch(between)), Hedge.NONE)
        if (between and hedged is Hedge.NONE) or number.form not in ("cardinal", "fraction"):
            return made
        units, end = self._units(following)
        smaller = next((unit for unit in units if joins(larger, unit)), None)
        if not units and not between and "," not in self.text[made.end : self.tokens[number.first].begin]:
            smaller, end = left_out(larger), self._end(following)
            if smaller is not None and not self._goes_on(number, end):
                smaller = None
        if smaller is None:
            return made
        value = made.readings[0].low + smaller.canonical(number.value)
        reading = replace(
            made.readings[0], low=value, high=value, step=smaller.width(number.step), unit=smaller
        )
        whole = self._made(made.number, (reading,), end, last=following)
        return replace(whole, hedge=hedged or made.hedge)

    def _goes_on(self, number: SpokenNumber, end: int) -> bool:
        """Whether a number after "kilo" can be its grams: nothing that is counted follows."""
        few = self._few_words(end)
        return (
            1 <= number.value < 1000
            and noun_in(few, self.language) is None
            and self._word(number.after) != "of"
        )

    def _ratio(self, index: int, end: int, scale: float) -> Measure | None:
        """`forty per cent more`, `two thirds less`, `half as much`."""
        found = _MORE.match(self.text, end)
        if found is None:
            return None
        number, words = self.numbers[index], found[0].strip().lower()
        value, step = number.value * scale, number.step * scale
        if _LESS.search(words):
            value = 1 - value
        elif not _AS.match(words) or "again" in words:
            value = 1 + value
        return self._made(index, (Reading(Kind.MORE, value, value, step),), found.end())

    def _times(self, index: int) -> Measure:
        """`twice as much`; `twice`, `three times`: a count of times."""
        number = self.numbers[index]
        after = number.after if number.form == "times" else number.after + 1
        end = self.tokens[after - 1].end
        if found := _MORE.match(self.text, end):
            reading = Reading(Kind.MORE, number.value, number.value, 2 * 0.08 * number.value)
            return self._made(index, (reading,), found.end())
        reading = Reading(Kind.COUNT, number.value, number.value, 1, Dimension.COUNT)
        return self._made(index, (reading,), end, noun="time")

    def _named(self, index: int) -> Measure | None:
        """`an EC of 1.8`, `pH 6.1`: readings without a unit."""
        number = self.numbers[index]
        near = self._before(number.first)[-5:]
        word = next((each for each in reversed(near) if each in _SOURCES), None)
        if word is None:
            return None
        ec = unit_named("mS/cm", Dimension.CONDUCTIVITY)
        unit = SpokenUnit(ec, "mS/cm") if word == "ec" and ec else None
        dimension = Dimension.CONDUCTIVITY if word == "ec" else Dimension.ACIDITY
        step = min(number.step, 1.0)
        reading = Reading(Kind.AMOUNT, number.value, number.value, step, dimension, unit)
        return self._made(index, (reading,), self._end(index))

    def _before(self, first: int) -> list[str]:
        """The words before a number, without the day that stands between: `EC on day 42 was`."""
        words: list[str] = []
        at = max(0, first - 8)
        while at < first:
            dated = self._word(at) in _ON and self._word(at + 1) in DAY_WORDS
            at += 2 if dated else 1
            if not dated:
                words.append(self._word(at - 1))
            elif number := next((each for each in self.numbers if each.first == at), None):
                at = number.after
        return words

    def _money(self, index: int) -> Measure | None:
        number = self.numbers[index]
        found = _MONEY.match(self.text, self._end(index))
        if found is None and self._word(number.first - 1) not in ("€", "$", "£"):
            return None
        reading = Reading(Kind.MONEY, number.value, number.value, number.step)
        made = self._made(index, (reading,), found.end() if found else self._end(index))
        return self._with_cents(made) if found else made

    def _with_cents(self, made: Measure) -> Measure:
        """`sixteen euros fifty-six`, `16 euros and 56 cents`."""
        following = made.last_number + 1
        if following >= len(self.numbers) or following in self.taken:
            return made
        number = self.numbers[following]
        between = self.text[made.end : self.tokens[number.first].begin].strip().lower()
        cents = _CENTS.match(self.text, self._end(following))
        euros = made.readings[0].low
        if between not in (("", "and", "und") if cents else ("",)):
            return made
        if number.form != "cardinal" or not 0 < number.value < CENTS or euros != int(euros):
            return made
        end = cents.end() if cents else self._end(following)
        if not cents and noun_in(self._few_words(end), self.language) is not None:
            return made
        value = euros + number.value / CENTS
        return self._made(made.number, (Reading(Kind.MONEY, value, value, 1 / CENTS),), end, last=following)
