"""Measures in a sentence: each number with its unit, its day, its whole or the thing that it counts.

In: the words of a sentence. Out: `Measure`s. What a number is about is found elsewhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sitegen.core.language.number_words.in_text import SpokenNumber
from sitegen.core.values.units import Dimension, unit_named
from sitegen.notes.check.claims import Kind, Reading
from sitegen.notes.check.sentences.amounts import Amounts
from sitegen.notes.check.sentences.counts import Counts
from sitegen.notes.check.sentences.measures import SpokenUnit
from sitegen.notes.check.sentences.sentence_words import DAY_WORDS, HEDGES, Measure, reading_in
from sitegen.notes.check.sentences.topics import noun_in

_BETWEEN = frozenset({"between", "zwischen"})
_AND = frozenset(
    {"and", "und", "or", "oder", ",", "against", "gegen", "then", "to", "bis", "-", "–", "from", "von"}
)
_IT = frozenset({"it", "that", "this", "them", "davon", "ihr"})
# What a part can be of, where no number says of how many.
_WHOLES = frozenset({"plant", "seed", "seedling", "piece"})
_HARVEST = frozenset({"harvest", "crop", "total", "weight", "ernte", "gesamternte"})
_THE = frozenset({"the", "these", "those", "die", "den", "diese", "diesen"})
_BEFORE_ONE = frozenset({"", ",", ".", ";", "and", "und", "only", "just", "but", "nur", "day", "that"})
_VERBS = frozenset(
    {
        "were",
        "was",
        "had",
        "have",
        "has",
        "are",
        "is",
        "came",
        "of",
        "still",
        "did",
        "died",
        "flowered",
        "bolted",
    }
    | {"sprouted", "waren", "war", "hatten", "hatte", "haben", "sind", "ist", "kamen", "blühten", "gingen"}
)


class Reader(Amounts, Counts):
    """Reads one sentence."""

    def measures(self) -> list[Measure]:
        """All measures of the sentence, in order."""
        found: list[Measure] = []
        done = set(self.taken)
        for index in range(len(self.numbers)):
            if index in done or self._no_amount(index):
                continue
            measure = self._measure(index, found)
            if measure is not None:
                found.append(measure)
                done.update(range(index, max(index, measure.last_number) + 1))
        found += self._both()
        return self._resolved(sorted(found, key=lambda each: each.first))

    # one number

    def _no_amount(self, index: int) -> bool:
        """Whether a number is a year, a time of day or a part of a name."""
        number = self.numbers[index]
        if 1900 <= number.value < 2200 and self.tokens[number.first].number and not self._units(index)[0]:
            return True
        return self._clock(number.first - 1) or self._clock(number.after)

    def _clock(self, at: int) -> bool:
        """Whether a colon stands inside a time of day."""
        if self._word(at) != ":" or not 0 < at < len(self.tokens) - 1:
            return False
        before, after = self.tokens[at - 1], self.tokens[at + 1]
        return before.number and after.number and before.end + 1 == after.begin

    def _measure(self, index: int, found: Sequence[Measure]) -> Measure | None:
        number = self.numbers[index]
        if (day := self._day(index)) is not None:
            return day
        if number.form == "article":
            return self._after_article(index, found) or self._part(index) or self._one_plant(index)
        if number.form == "times" or (
            number.form != "ordinal" and self._word(number.after) in ("times", "mal")
        ):
            return self._times(index)
        measured = self._amount(index) or self._part(index)
        if measured is not None or not self._stands_alone(index):
            return measured
        return self._named(index) or self._money(index) or self._counted(index) or self._bare(index)

    def _stands_alone(self, index: int) -> bool:
        """Whether a number without a unit says something: ordinals and most fractions do not."""
        form = self.numbers[index].form
        return form != "ordinal" and (form != "fraction" or self._of_the_whole(index))

    def _of_the_whole(self, index: int) -> bool:
        """Whether a fraction is one of what was just spoken of, or of plants: `seven tenths of it`, `half the seeds`."""
        after = self.numbers[index].after
        words = [self._word(at) for at in range(after, after + 3)]
        of = words[0] in ("of", "von", "der")
        if of and (words[1] in _IT or bool(_HARVEST & {words[1], words[2]})):
            return True
        counted = noun_in(self._few_words(self._end(index)), self.language)
        return (
            counted is not None
            and counted[0] in _WHOLES
            and (of or words[0] in _THE | {"all", "alle", "aller"})
        )

    def _day(self, index: int) -> Measure | None:
        number = self.numbers[index]
        if number.form == "ordinal" and self._word(number.after) in ("day", "tag"):
            value = number.value - 1  # the first day is day 0
            reading = Reading(Kind.DAY, value, value, 1)
            return self._made(index, (reading,), self.tokens[number.after].end)
        before = number.first - 1
        if self._word(before) == "-":
            before -= 1
        if self._word(before) not in DAY_WORDS or number.form != "cardinal":
            return None
        upper = self._range_to(index, between=self._word(before - 1) in _BETWEEN)
        high = self.numbers[upper].value if upper is not None else number.value
        end = self._end(upper if upper is not None else index)
        made = self._made(index, (Reading(Kind.DAY, number.value, high, 1),), end, last=upper or -1)
        return replace(made, first=before, hedge=self._hedge(before))

    def _bare(self, index: int) -> Measure | None:
        number = self.numbers[index]
        if number.form == "fraction":
            share = unit_named("%", Dimension.SHARE)
            unit = SpokenUnit(share, "%") if share else None
            value, step = number.value * 100, number.step * 100
            reading = Reading(Kind.AMOUNT, value, value, step, Dimension.SHARE, unit)
            noun = noun_in(self._few_words(self._end(index)), self.language)
            return self._made(index, (reading,), self._end(index), noun=noun[0] if noun else "")
        before = self._word(number.first - 1)
        if before in ("or", "oder") or (before in _THE and not self.living):
            return None
        one = number.value == 1 and not self.tokens[number.first].number
        if one and (self._word(number.after) not in _VERBS - {"of", "is"} or before not in _BEFORE_ONE):
            return None
        return self._made(index, (), self._end(index))

    # numbers that share a unit

    def _resolved(self, found: list[Measure]) -> list[Measure]:
        """Bare numbers with the unit of the number that follows in a list, else of the one before."""
        for at in range(len(found) - 2, -1, -1):
            if not found[at].readings and self._listed(found[at], found[at + 1]):
                found[at] = self._like(found[at], found[at + 1])
        for at in range(1, len(found)):
            if not found[at].readings and self._listed(found[at - 1], found[at]):
                found[at] = self._like(found[at], found[at - 1])
        return found

    def _listed(self, one: Measure, other: Measure) -> bool:
        between = [
            token.word for token in self.tokens if one.end <= token.begin < self.tokens[other.first].begin
        ]
        words = " ".join(word for word in between if word not in _AND)
        return not words or any(pattern.fullmatch(words) for _, pattern in HEDGES)

    def _like(self, bare: Measure, model: Measure) -> Measure:
        if model.kind not in (Kind.AMOUNT, Kind.DAYS, Kind.DAY, Kind.COUNT, Kind.MONEY) or bare.number < 0:
            return bare
        return replace(
            bare, readings=readings_like(self.numbers[bare.number], model.readings), noun=model.noun
        )


def readings_like(number: SpokenNumber, models: Sequence[Reading]) -> tuple[Reading, ...]:
    """A bare number read as others were."""
    return tuple(
        reading_in(each.unit, number.value, number.value, number.step)
        if each.unit is not None
        else replace(each, low=number.value, high=number.value)
        for each in models
    )
