"""Measures in a sentence: each number with its unit, its day, its whole or the thing that it counts.

In: tokens, the numbers in them, the language. Out: `Measure`s. What a number is about is found elsewhere.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from sitegen.core.values.units import Dimension, unit_named
from sitegen.notes.check.claims import Hedge, Kind, Reading
from sitegen.notes.check.measures import SpokenUnit, joins, left_out, units_at
from sitegen.notes.check.numbers import SpokenNumber
from sitegen.notes.check.tokens import Token
from sitegen.notes.check.topics import noun_in

_DAY_WORDS = frozenset({"day", "days", "tag", "tage", "tagen", "tags"})
_OF = frozenset({"of", "von", "out", "/", "aus"})
_OF_THE = frozenset(
    {"the", "its", "their", "our", "my", "all", "den", "der", "allen", "unseren", "of", "insgesamt"}
)
_ALL = frozenset({"all", "alle", "allen", "every", "sämtliche"})
_BOTH = frozenset({"both", "beide", "beiden", "beider"})
_TO = frozenset({"to", "-", "–", "—", "bis", "through", "until"})
_AND = frozenset(
    {"and", "und", "or", "oder", ",", "against", "gegen", "then", "to", "bis", "-", "–", "from", "von"}
)
_BETWEEN = frozenset({"between", "zwischen"})
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
        "waren",
        "war",
        "hatten",
        "hatte",
        "haben",
        "sind",
    }
    | {
        "of",
        "still",
        "did",
        "died",
        "kamen",
        "sind",
        "ist",
        "blühten",
        "gingen",
        "flowered",
        "bolted",
        "sprouted",
    }
)
_IT = frozenset({"it", "that", "this", "them", "davon", "ihr"})
_HARVEST = frozenset({"harvest", "crop", "total", "weight", "ernte", "gesamternte"})
_THE = frozenset({"the", "these", "those", "die", "den", "diese", "diesen"})
_SOURCES = frozenset({"ec", "ph"})
_MONEY = re.compile(r"\s*(?:euros?|eur|€|dollars?|usd|\$|quid|gbp|£|franken|chf)(?![^\W\d_])", re.IGNORECASE)
_OF_A = re.compile(r"\s*(?:of )?(?:an?|the|one|ein(?:e[smnr]?)?|vom|des)?\s+", re.IGNORECASE)
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
_HEDGES: tuple[tuple[Hedge, re.Pattern[str]], ...] = tuple(
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
class Reader:
    """Reads one sentence; `scores` where its parts are scores of a tasting, `living` where it tells of plants."""

    text: str
    tokens: Sequence[Token]
    numbers: Sequence[SpokenNumber]
    language: str
    taken: frozenset[int]
    scores: bool = False
    living: bool = False

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
            return self._after_article(index, found)
        if number.form == "times" or self._word(number.after) in ("times", "mal"):
            return self._times(index)
        if (amount := self._amount(index)) is not None:
            return amount
        if (part := self._part(index)) is not None:
            return part
        if number.form == "ordinal" or (number.form == "fraction" and not self._of_the_whole(index)):
            return None
        return self._named(index) or self._money(index) or self._counted(index) or self._bare(index)

    def _of_the_whole(self, index: int) -> bool:
        """Whether a fraction is one of what was just spoken of: `seven tenths of it`."""
        after = self.numbers[index].after
        words = [self._word(at) for at in range(after, after + 3)]
        return words[0] in ("of", "von", "der") and (words[1] in _IT or bool(_HARVEST & {words[1], words[2]}))

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
        return next((hedge for hedge, pattern in _HEDGES if pattern.search(before)), Hedge.NONE)

    # days

    def _day(self, index: int) -> Measure | None:
        number = self.numbers[index]
        if number.form == "ordinal" and self._word(number.after) in ("day", "tag"):
            value = number.value - 1  # the first day is day 0
            reading = Reading(Kind.DAY, value, value, 1)
            return self._made(index, (reading,), self.tokens[number.after].end)
        before = number.first - 1
        if self._word(before) == "-":
            before -= 1
        if self._word(before) not in _DAY_WORDS or number.form not in ("cardinal",):
            return None
        upper = self._range_to(index, between=self._word(before - 1) in _BETWEEN)
        high = self.numbers[upper].value if upper is not None else number.value
        end = self._end(upper if upper is not None else index)
        made = self._made(index, (Reading(Kind.DAY, number.value, high, 1),), end, last=upper or -1)
        return replace(made, first=before, hedge=self._hedge(before))

    def _range_to(self, index: int, *, between: bool = False) -> int | None:
        """The number that a range which begins with another ends with."""
        number, following = self.numbers[index], index + 1
        if following >= len(self.numbers) or following in self.taken:
            return None
        words = [self._word(at) for at in range(number.after, self.numbers[following].first)]
        joint = [word for word in words if word not in _DAY_WORDS]
        joined = len(joint) == 1 and (joint[0] in _TO or (between and joint[0] in ("and", "und")))
        return following if joined and self.numbers[following].value > number.value else None

    # amounts

    def _units(self, index: int) -> tuple[tuple[SpokenUnit, ...], int]:
        begin = self._end(index)
        units, end = units_at(self.text, begin)
        if not units and self.numbers[index].form == "fraction" and (of := _OF_A.match(self.text, begin)):
            units, end = units_at(self.text, of.end())
        return units, end

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
        readings = tuple(_reading(unit, number.value, high, number.step) for unit in units)
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
            _reading(unit, 1, 1, 1 if unit.dimension is Dimension.DAYS else 0.1) for unit in units
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
        hedged = next((h for h, pattern in _HEDGES if between and pattern.fullmatch(between)), Hedge.NONE)
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

    # parts and counts

    def _part(self, index: int) -> Measure | None:
        """`eleven of the twelve`, `11 out of 12`, `4/5`, `all six`."""
        number = self.numbers[index]
        kind = Kind.SCORE if self.scores else Kind.PART
        words = [token.word for token in self.tokens[number.first : number.after]]
        if number.form == "fraction" and len(words) == 3 and words[1] == "/":
            part, whole = float(words[0]), int(words[2])
            return self._made(
                index, (Reading(kind, part, part, 1, Dimension.COUNT, of=whole),), self._end(index)
            )
        if number.form == "cardinal" and self._word(number.first - 1) in _ALL and number.value > 1:
            reading = Reading(Kind.PART, number.value, number.value, 1, Dimension.COUNT, of=int(number.value))
            noun = noun_in(self._few_words(self._end(index)), self.language)
            return self._made(index, (reading,), self._end(index), noun=noun[0] if noun else "")
        following = index + 1
        if (
            number.form not in ("cardinal", "article", "ordinal")
            or following >= len(self.numbers)
            or following in self.taken
        ):
            return None
        between = [self._word(at) for at in range(number.after, self.numbers[following].first)]
        if not between or between[0] not in _OF or not set(between) <= _OF | _OF_THE | {"plants", "seeds"}:
            return None
        whole_of = self.numbers[following]
        if (
            whole_of.value != int(whole_of.value)
            or not 0 < whole_of.value < 10_000
            or number.value > whole_of.value
        ):
            return None
        noun = noun_in(self._few_words(self._end(following)), self.language)
        score = kind is Kind.SCORE and noun is None
        reading = Reading(
            Kind.SCORE if score else Kind.PART,
            number.value,
            number.value,
            1 if number.step >= 1 else number.step,
            Dimension.COUNT,
            of=int(whole_of.value),
        )
        return self._made(
            index, (reading,), self._end(following), noun=noun[0] if noun else "", last=following
        )

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

    def _named(self, index: int) -> Measure | None:
        """`an EC of 1.8`, `pH 6.1`: readings without a unit."""
        number = self.numbers[index]
        near = [self._word(at) for at in range(max(0, number.first - 5), number.first)]
        word = next((each for each in reversed(near) if each in _SOURCES), None)
        if word is None:
            return None
        ec = unit_named("mS/cm", Dimension.CONDUCTIVITY)
        unit = SpokenUnit(ec, "mS/cm") if word == "ec" and ec else None
        dimension = Dimension.CONDUCTIVITY if word == "ec" else Dimension.ACIDITY
        step = min(number.step, 1.0)
        reading = Reading(Kind.AMOUNT, number.value, number.value, step, dimension, unit)
        return self._made(index, (reading,), self._end(index))

    def _money(self, index: int) -> Measure | None:
        number = self.numbers[index]
        found = _MONEY.match(self.text, self._end(index))
        if found is None and self._word(number.first - 1) not in ("€", "$", "£"):
            return None
        reading = Reading(Kind.MONEY, number.value, number.value, number.step)
        return self._made(index, (reading,), found.end() if found else self._end(index))

    def _counted(self, index: int) -> Measure | None:
        number, begin = self.numbers[index], self._end(index)
        found = noun_in(self._few_words(begin), self.language)
        if found is None or number.value != int(number.value):
            return None
        noun, _, end = found
        reading = Reading(Kind.COUNT, number.value, number.value, 1, Dimension.COUNT)
        return self._made(index, (reading,), begin + end, noun=noun)

    def _bare(self, index: int) -> Measure | None:
        number = self.numbers[index]
        if number.form == "fraction":
            share = unit_named("%", Dimension.SHARE)
            unit = SpokenUnit(share, "%") if share else None
            value, step = number.value * 100, number.step * 100
            reading = Reading(Kind.AMOUNT, value, value, step, Dimension.SHARE, unit)
            return self._made(index, (reading,), self._end(index))
        before = self._word(number.first - 1)
        if before in ("or", "oder") or (before in _THE and not self.living):
            return None
        one = number.value == 1 and not self.tokens[number.first].number
        if one and self._word(number.after) not in _VERBS - {"of", "is"}:
            return None
        return self._made(index, (), self._end(index))

    def _both(self) -> list[Measure]:
        """`both tubs had flowered`: all of two."""
        found = []
        for at, token in enumerate(self.tokens):
            if token.word in _BOTH and self._word(at + 1) not in ("of", "von"):
                reading = Reading(Kind.PART, 2, 2, 1, Dimension.COUNT, of=2)
                noun = noun_in(self._few_words(token.end), self.language)
                if noun is None and not self.living:
                    continue
                found.append(Measure(-1, at, at + 1, token.end, (reading,), noun=noun[0] if noun else ""))
        return found

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
        return not words or any(pattern.fullmatch(words) for _, pattern in _HEDGES)

    def _like(self, bare: Measure, model: Measure) -> Measure:
        if model.kind not in (Kind.AMOUNT, Kind.DAYS, Kind.DAY, Kind.COUNT, Kind.MONEY) or bare.number < 0:
            return bare
        return replace(
            bare, readings=readings_like(self.numbers[bare.number], model.readings), noun=model.noun
        )


def readings_like(number: SpokenNumber, models: Sequence[Reading]) -> tuple[Reading, ...]:
    """A bare number read as others were."""
    return tuple(
        _reading(each.unit, number.value, number.value, number.step)
        if each.unit is not None
        else replace(each, low=number.value, high=number.value)
        for each in models
    )


def _reading(unit: SpokenUnit, low: float, high: float, step: float) -> Reading:
    kind = Kind.DAYS if unit.dimension is Dimension.DAYS else Kind.AMOUNT
    whole = unit.dimension in (Dimension.DAYS, Dimension.POWER, Dimension.SHARE)
    width = unit.width(min(step, 1.0) if whole else step)
    return Reading(kind, unit.canonical(low), unit.canonical(high), width, unit.dimension, unit)
