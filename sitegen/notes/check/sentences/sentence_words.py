"""One sentence as its measures are read from it: words, numbers, units that follow them, hedges before them.

In: text, tokens, the numbers in them, the language. Out: `SentenceWords`, on which the readers of amounts and of counts
are built, and `Measure`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.language.number_words.in_text import SpokenNumber
from sitegen.core.language.number_words.tokens import Token
from sitegen.core.values.units import Dimension
from sitegen.notes.check.claims import Hedge, Kind, Reading
from sitegen.notes.check.sentences.measures import SpokenUnit, units_at

DAY_WORDS = frozenset({"day", "days", "tag", "tage", "tagen", "tags"})
_TO = frozenset({"to", "-", "–", "—", "bis", "through", "until"})
_OF_A = re.compile(r"\s*(?:of )?(?:an?|the|one|ein(?:e[smnr]?)?|vom|des)?\s+", re.IGNORECASE)
HEDGES: tuple[tuple[Hedge, re.Pattern[str]], ...] = tuple(
    (hedge, re.compile(rf"(?:^|\s)(?:{words})(?: (?:an?|the|ein(?:e[mnrs]?)?|die|der))?\s*$", re.IGNORECASE))
    for hedge, words in (
        (Hedge.AT_LEAST, r"at least|no less than|mindestens|wenigstens"),
        (Hedge.AT_MOST, r"at (?:the )?most|up to|no more than|höchstens|bis zu|maximal"),
        (
            Hedge.NEARLY,
            r"nearly|almost|not quite|just under|close to|knapp(?:e[mnrs]?)?|fast|beinahe|nicht ganz",
        ),
        (Hedge.A_LITTLE_OVER, r"a (?:little|bit|touch) over|just over|a good|etwas über|gute?[mnrs]?"),
        (Hedge.UNDER, r"under|below|less than|not even|unter|weniger als|nicht einmal|nicht mal"),
        (Hedge.OVER, r"over|more than|above|über|mehr als"),
        (
            Hedge.ABOUT,
            r"about|around|roughly|some|approximately|call it|or so|circa|ca ?\.?|etwa|ungefähr|rund",
        ),
    )
)


@dataclass(frozen=True, slots=True)
class Measure:
    """A number with what it measures, from token `first` to before `after`. Without readings nothing says what."""

    number: int
    first: int
    after: int
    end: int
    readings: tuple[Reading, ...] = ()
    hedge: Hedge = Hedge.NONE
    noun: str = ""
    last_number: int = -1

    @property
    def kind(self) -> Kind | None:
        """The kind of its first reading."""
        return self.readings[0].kind if self.readings else None


@dataclass(frozen=True)
class SentenceWords:
    """The words of one sentence.

    `scores` where its parts are scores of a tasting, `living` where it tells of plants, `lost` where of their end.
    """

    text: str
    tokens: Sequence[Token]
    numbers: Sequence[SpokenNumber]
    language: str
    taken: frozenset[int]
    scores: bool = False
    living: bool = False
    lost: bool = False

    def _word(self, at: int) -> str:
        return self.tokens[at].word if 0 <= at < len(self.tokens) else ""

    def _end(self, index: int) -> int:
        return self.tokens[self.numbers[index].after - 1].end

    def _made(
        self, index: int, readings: tuple[Reading, ...], end: int, *, noun: str = "", last: int = -1
    ) -> Measure:
        first = self.numbers[index].first
        after = next(
            (n for n in range(first, len(self.tokens)) if self.tokens[n].begin >= end), len(self.tokens)
        )
        return Measure(index, first, after, end, readings, self._hedge(first), noun, max(index, last))

    def _hedge(self, first: int) -> Hedge:
        before = self.text[: self.tokens[first].begin][-32:]
        return next((hedge for hedge, pattern in HEDGES if pattern.search(before)), Hedge.NONE)

    def _range_to(self, index: int, *, between: bool = False) -> int | None:
        """The number that a range which begins with another ends with."""
        number, following = self.numbers[index], index + 1
        if following >= len(self.numbers) or following in self.taken:
            return None
        words = [self._word(at) for at in range(number.after, self.numbers[following].first)]
        joint = [word for word in words if word not in DAY_WORDS]
        joined = len(joint) == 1 and (joint[0] in _TO or (between and joint[0] in ("and", "und")))
        return following if joined and self.numbers[following].value > number.value else None

    def _units(self, index: int) -> tuple[tuple[SpokenUnit, ...], int]:
        begin = self._end(index)
        units, end = units_at(self.text, begin)
        if not units and self.numbers[index].form == "fraction" and (of := _OF_A.match(self.text, begin)):
            units, end = units_at(self.text, of.end())
        return units, end

    def _few_words(self, begin: int) -> str:
        """Three words on, no further than a sign or the next number."""
        words: list[str] = []
        end = begin
        firsts = {number.first for number in self.numbers if number.form != "article"}
        for at, token in enumerate(self.tokens):
            if token.begin < begin:
                continue
            if len(words) == 3 or at in firsts or not (token.word[0].isalpha() or token.word == "-"):
                break
            words.append(token.word)
            end = token.end
        return self.text[begin:end]


def reading_in(unit: SpokenUnit, low: float, high: float, step: float) -> Reading:
    """A number in a unit; whole units of time, power and share have a step of no more than one."""
    kind = Kind.DAYS if unit.dimension is Dimension.DAYS else Kind.AMOUNT
    whole = unit.dimension in (Dimension.DAYS, Dimension.POWER, Dimension.SHARE)
    width = unit.width(min(step, 1.0) if whole else step)
    return Reading(kind, unit.canonical(low), unit.canonical(high), width, unit.dimension, unit)
