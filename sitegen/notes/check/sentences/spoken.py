"""The claims of a transcript: each number with what it is about, by the words around it and the sentences before.

In: sentences, the run that they tell of, the language. Out: `Claim`s in the order in which they were spoken.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from sitegen.core.language.number_words.dates import SpokenDate, dates_in
from sitegen.core.language.number_words.in_text import SpokenNumber, numbers_in
from sitegen.core.language.number_words.tokens import Token, tokens_of
from sitegen.core.records.rows import Run, Trouble
from sitegen.core.values.units import Dimension, unit_named
from sitegen.notes.check.claims import TWO_SIDES, Claim, Kind, Reading, SpokenDay, Subject
from sitegen.notes.check.matching import LIVING
from sitegen.notes.check.sentences.measures import SpokenUnit, units_at
from sitegen.notes.check.sentences.names import Name, Names
from sitegen.notes.check.sentences.reading import Reader, readings_like
from sitegen.notes.check.sentences.sentence_words import Measure
from sitegen.notes.check.sentences.topics import (
    nth,
    nth_in,
    ordinal_in,
    ranks_in,
    relations_in,
    thing_of,
    topics_in,
)
from sitegen.notes.check.sentences.transcript import Sentence

_CLAUSE = re.compile(r"[,;:–—]\s|\b(?:but|while|whereas|aber|während|sondern)\b")
_AND = re.compile(r"\b(?:and|und)\b", re.IGNORECASE)
_BY = frozenset({"by", "until", "till", "bis", "zum"})
_LATER = re.compile(
    r"[\s-]*(?:later|after that|afterwards|after this|danach|später|darauf)\b(?! (?:than|als)\b)",
    re.IGNORECASE,
)
_PRONOUN = re.compile(r"\b(?:it|that|they|these|es|das|davon|sie)\b", re.IGNORECASE)
_SINCE = re.compile(r"\b(?:from|since|after|ab|seit|nach|vom)\b", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_]{4,}")
STEM = 6  # letters by which two words are taken for forms of one; common practice, no source
_NEAR_NAME = 24  # letters after "two of" in which the name of an arm belongs to it
_FEW = 12  # letters after a number in which "a day" belongs to it
_HOTTEST, _COLDEST = 130, -40  # what a bare number beside "hot" can be in degrees of either scale
_LIST = frozenset({",", "and", "und", ".", ";", "against", "gegen"})
_HAS = frozenset({"has", "have", "had", "hat", "hatte", "haben", "the"})
_CONSTANT = frozenset({"tub", "lamp", "group", "person"})
_PRODUCTS = {"acid": "ph", "base": "ph", "treatment": "treat"}


@dataclass
class Spoken:
    """Reads sentence after sentence: the day, the topics and the amount spoken of last go on to the next."""

    run: Run
    language: str
    names: Names = field(init=False)
    day: int | None = None
    topics: frozenset[str] = frozenset()
    amount: tuple[Reading, ...] = ()
    products: tuple[tuple[re.Pattern[str], str], ...] = ()
    troubles: tuple[frozenset[str], ...] = ()

    def __post_init__(self) -> None:
        self.names = Names.of(self.run)
        self.products = tuple(
            (re.compile(rf"\b{re.escape(each.name)}\b", re.IGNORECASE), _PRODUCTS.get(each.kind, "feed"))
            for each in self.run.setup.products
        )
        said = (event.what for event in self.run.rows.of(Trouble))
        stems = (frozenset(word.lower()[:STEM] for word in _WORD.findall(what)) for what in said)
        self.troubles = tuple(each for each in stems if each)

    def claims(self, sentences: Sequence[Sentence]) -> Iterator[Claim]:
        """All claims, in order."""
        for at, sentence in enumerate(sentences):
            around = " ".join(each.text for each in sentences[max(0, at - 1) : at + 2])
            yield from _SentenceClaims(
                self, sentence, "least" in relations_in(around, self.language)
            ).claims()


def claims_in(text: str, run: Run, language: str) -> tuple[Claim, ...]:
    """The claims of one text by itself."""
    return tuple(Spoken(run, language).claims([Sentence(text, (), ())]))


class _SentenceClaims:
    """The claims of one sentence."""

    def __init__(self, spoken: Spoken, sentence: Sentence, least: bool) -> None:
        self.spoken, self.sentence, self.text = spoken, sentence, sentence.text
        self.language = spoken.language
        self.tokens: tuple[Token, ...] = tokens_of(self.text)
        self.numbers: tuple[SpokenNumber, ...] = self._counted(numbers_in(self.tokens, self.language))
        own = self._topics_in(self.text)
        self.wide = own or (spoken.topics if _PRONOUN.search(self.text) else own)
        spoken.topics, self.own = self.wide, bool(own)
        self.relations = relations_in(self.text, self.language) | ({"least"} if least else frozenset())
        self.numbered, taken = spoken.names.numbered(self.tokens, self.numbers)
        self.dates = dates_in(self.tokens, self.numbers)
        dated = {
            n
            for n, number in enumerate(self.numbers)
            if any(each.first <= number.first < each.after for each in self.dates)
        }
        scores = "taste" in self.wide
        living = _living(self.wide) or bool(spoken.names.in_text(self.text))
        reader = Reader(
            self.text,
            self.tokens,
            self.numbers,
            self.language,
            taken | dated,
            scores=scores,
            living=living,
            lost="lost" in self.wide,
        )
        self.measures = sorted([*reader.measures(), *self._dates()], key=lambda each: each.first)
        self.measures = [self._later(each) for each in self.measures]
        self.cuts = [match.start() for match in _CLAUSE.finditer(self.text) if self._outside(match.start())]
        self.cuts = sorted([*self.cuts, *self._joints()])

    def claims(self) -> Iterator[Claim]:
        """The claims, in order; a day that others of the sentence are of is told by them."""
        resolved = [each for each in map(self._resolved, self.measures) if self._claims_something(each)]
        days = [each for each in resolved if each.kind in (Kind.DAY, Kind.DATE)]
        used: set[int] = set()
        claims: list[tuple[Measure, Claim]] = []
        for measure in resolved:
            day = None
            if measure not in days and self._has_day(measure):
                of = self._day_of(measure, days)
                if of is not None:
                    used.add(of.first)
                    day = self._spoken_day(of)
            claims.append((measure, self._claim(measure, day)))
            if measure.kind is Kind.AMOUNT:
                self.spoken.amount = measure.readings
        for measure in days:
            if measure.readings[0].high >= 0:
                self.spoken.day = int(min(measure.readings[0].high, 100_000))
        for measure, claim in claims:
            yield replace(claim, told=measure in days and measure.first in used)

    def _counted(self, numbers: Sequence[SpokenNumber]) -> tuple[SpokenNumber, ...]:
        """Numbers without articles that are none: those before a unit, and "einer von" six."""
        return tuple(
            each
            for each in numbers
            if each.form != "article"
            or units_at(self.text, self.tokens[each.after - 1].end)[0]
            or (each.after < len(self.tokens) and self.tokens[each.after].word in ("von", "der"))
            or (
                self.language.startswith("de")
                and (
                    (each.first and self.tokens[each.first - 1].word == "pflanze")
                    or (each.after < len(self.tokens) and self.tokens[each.after].word == "pflanze")
                )
            )
        )

    def _topics_in(self, text: str) -> frozenset[str]:
        """The topics of a text; the name of a product is about feed or pH, that of a trouble about trouble."""
        found = topics_in(text, self.language)
        for pattern, topic in self.spoken.products:
            if pattern.search(text):
                found |= {topic}
        words = frozenset(word.lower()[:STEM] for word in _WORD.findall(text))
        if any(len(words & trouble) * 2 >= len(trouble) for trouble in self.spoken.troubles):
            found |= {"trouble"}
        return found

    # measures that only their surroundings explain

    def _begin(self, measure: Measure) -> int:
        return self.tokens[measure.first].begin

    def _outside(self, place: int) -> bool:
        """Whether a place lies in no measure."""
        return not any(self._begin(each) < place < each.end for each in self.measures)

    def _joints(self) -> Iterator[int]:
        """Where "and" joins two statements, each with a number and a topic of its own."""
        for match in _AND.finditer(self.text):
            begin = max((cut for cut in self.cuts if cut < match.start()), default=0)
            end = min((cut for cut in self.cuts if cut > match.start()), default=len(self.text))
            sides = ((begin, match.start()), (match.end(), end))
            numbered = all(
                any(low <= self._begin(each) < high for each in self.measures) for low, high in sides
            )
            left, right = (self._topics_in(self.text[low:high]) for low, high in sides)
            if numbered and left and right and left != right and self._outside(match.start()):
                yield match.start()

    def _day_before(self, measure: Measure) -> float | None:
        """The day spoken of last before a measure: in its own sentence, else before it."""
        own = [
            each.readings[0].high
            for each in self.measures
            if each.first < measure.first
            and each.kind in (Kind.DAY, Kind.DATE)
            and each.readings[0].high >= 0
        ]
        return own[-1] if own else self.spoken.day

    def _later(self, measure: Measure) -> Measure:
        """`five days later`: a day, where one was spoken of before."""
        before = self._day_before(measure)
        if measure.kind is not Kind.DAYS or before is None or not _LATER.match(self.text, measure.end):
            return measure
        days = measure.readings[0]
        day = before + days.low
        return replace(measure, readings=(Reading(Kind.DAY, day, day, max(1.0, days.step)),))

    def _dates(self) -> Iterator[Measure]:
        for each in self.dates:
            day = _day_of_date(each, self.spoken.run)
            value = -1.0 if day is None else float(day)
            end = self.tokens[each.after - 1].end
            yield Measure(-1, each.first, each.after, end, (Reading(Kind.DATE, value, value, 1),))

    def _resolved(self, measure: Measure) -> Measure:
        topics = self._topics(measure)
        if measure.readings:
            return self._of_all(_of_seeds(measure, topics))
        number = self.numbers[measure.number]
        whole = number.value == int(number.value)
        alone = _living(topics) and not any(each.kind is Kind.AMOUNT for each in self.measures)
        named = self._of_named(measure)
        if whole and (named or alone):
            noun = "seed" if "sprouted" in topics else "piece" if "spoilt" in topics else "plant"
            noun = "plant" if named else noun
            reading = Reading(Kind.COUNT, number.value, number.value, 1, Dimension.COUNT)
            return replace(measure, readings=(reading,), noun=noun)
        if model := self._like_amount(measure):
            return replace(measure, readings=readings_like(number, model))
        begin, end = self._clause(measure)
        if topics & {"sow", "transplant"} and _SINCE.search(self.text[begin:end]):
            reading = Reading(Kind.DAYS, number.value, number.value, 1, Dimension.DAYS)
            return replace(measure, readings=(reading,))
        if self._degrees(measure, number):
            units = [unit_named(symbol, Dimension.TEMPERATURE) for symbol in ("°C", "°F")]
            bare = [SpokenUnit(unit, unit.symbol) for unit in units if unit is not None]
            models = tuple(Reading(Kind.AMOUNT, 0, 0, 1, Dimension.TEMPERATURE, unit) for unit in bare)
            return replace(measure, readings=readings_like(number, models))
        return replace(measure, readings=(Reading(Kind.NUMBER, number.value, number.value, number.step),))

    def _of_named(self, measure: Measure) -> bool:
        """`two of the whole ones`: plants by the name of their arm."""
        after = [
            self.tokens[at].word for at in range(measure.after, min(measure.after + 2, len(self.tokens)))
        ]
        if not after or after[0] not in ("of", "von", "der") or not self._topics(measure):
            return False
        rest = self.text[measure.end : measure.end + _NEAR_NAME]
        return any(not name.single for name in self.spoken.names.in_text(rest))

    def _of_all(self, measure: Measure) -> Measure:
        """`half of the plants`: a part of those that are named, or of all."""
        number = self.numbers[measure.number] if measure.number >= 0 else None
        if number is None or number.form != "fraction" or measure.noun != "plant":
            return measure
        named = self._names(measure)
        plants = frozenset[str]().union(*(name.plants for name in named))
        whole = len(plants) if named else len(self.spoken.run.setup.plants)
        part = round(number.value * whole, 6)
        if not whole or part != int(part) or measure.kind is not Kind.AMOUNT:
            return measure
        return replace(measure, readings=(Reading(Kind.PART, part, part, 1, Dimension.COUNT, of=whole),))

    def _claims_something(self, measure: Measure) -> bool:
        """`once` and `twice` do where something is said to have been done so often."""
        return measure.noun != "time" or measure.kind is not Kind.COUNT or bool(self._topics(measure))

    def _like_amount(self, measure: Measure) -> tuple[Reading, ...]:
        """The amount that a bare number repeats the unit of: in its sentence, or before it where plants are named."""
        own = [each for each in self.measures if each.kind is Kind.AMOUNT]
        if own:
            return next((each for each in reversed(own) if each.first < measure.first), own[0]).readings
        named = self.spoken.names.in_text(self.text) or self.numbered
        before = self.tokens[measure.first - 1].word if measure.first else ""
        after = self.tokens[measure.after].word if measure.after < len(self.tokens) else "."
        listed = after in _LIST and before not in _HAS
        return self.spoken.amount if named and listed else ()

    def _degrees(self, measure: Measure, number: SpokenNumber) -> bool:
        begin, end = self._clause(measure)
        clause = self.text[begin:end]
        hot = "air" in self._topics_in(clause) or re.search(
            r"\b(?:hit|peaked|reached|degrees)\b", clause.lower()
        )
        return bool(hot) and _COLDEST < number.value < _HOTTEST

    # the subject

    def _clause(self, measure: Measure) -> tuple[int, int]:
        begin = max((cut for cut in self.cuts if cut < self._begin(measure)), default=0)
        end = min((cut for cut in self.cuts if cut >= measure.end), default=len(self.text))
        return begin, end

    def _topics(self, measure: Measure) -> frozenset[str]:
        begin, end = self._clause(measure)
        return self._topics_in(self.text[begin:end]) or self.wide

    def _names(self, measure: Measure) -> tuple[Name, ...]:
        begin, end = self._clause(measure)
        compares = measure.kind in (Kind.MORE, Kind.DAYS)
        every = self._all_names(0, len(self.text))
        if not compares and (near := self._names_before(measure, every)):
            return near
        return every if compares else (self._all_names(begin, end) or every)

    def _names_before(self, measure: Measure, every: Sequence[Name]) -> tuple[Name, ...]:
        """Single plants named since the number before this one, where a sentence gives several their own numbers."""
        alike = [each for each in self.measures if each.kind is measure.kind or not each.readings]
        several = len(every) > 1 and len(alike) > 1 and not every[0].plants & every[1].plants
        if sum(name.single for name in every) < 2 and not several:
            return ()
        before = [each.end for each in self.measures if each.first < measure.first]
        begin = max(before, default=0)
        return tuple(
            name for name in every if (name.single or several) and begin <= name.begin < self._begin(measure)
        )

    def _all_names(self, begin: int, end: int) -> tuple[Name, ...]:
        found = self.spoken.names.in_text(self.text[begin:end])
        placed = [replace(name, begin=name.begin + begin) for name in found]
        placed += [name for name in self.numbered if begin <= name.begin < end]
        unique = {name.plants: name for name in sorted(placed, key=lambda name: name.begin, reverse=True)}
        return tuple(sorted(unique.values(), key=lambda name: name.begin))

    def _has_day(self, measure: Measure) -> bool:
        """Whether a measure can be of a day: set-up and spans of days are of none."""
        return measure.kind not in (Kind.DAYS, Kind.MORE, Kind.MONEY) and measure.noun not in _CONSTANT

    def _day_of(self, measure: Measure, days: Sequence[Measure]) -> Measure | None:
        begin, end = self._clause(measure)
        inside = [day for day in days if begin <= self._begin(day) < end]
        before = [day for day in days if day.first < measure.first]
        later = [day for day in days if self._alone(day)]
        if len(inside) > 1:
            own = [day for day in inside if day.first > measure.first and self._follows(measure, day)]
            earlier = [day for day in inside if day.first < measure.first]
            return next(iter(own or earlier[::-1] or inside), None)
        return next(iter(inside or before[-1:] or later), None)

    def _follows(self, measure: Measure, day: Measure) -> bool:
        """Whether a day belongs to the number before it: `2.0 on day 30 and 2.3 on day 43`."""
        between = self.text[measure.end : self._begin(day)]
        numbers = any(measure.end <= self._begin(each) < self._begin(day) for each in self.measures)
        return not numbers and not _AND.search(between)

    def _alone(self, day: Measure) -> bool:
        """Whether a day stands in a clause without another number, and so may be that of the whole sentence."""
        begin, end = self._clause(day)
        return all(each is day or not begin <= self._begin(each) < end for each in self.measures)

    def _spoken_day(self, measure: Measure) -> SpokenDay:
        reading = measure.readings[0]
        before = self.tokens[measure.first - 1].word if measure.first else ""
        return SpokenDay(int(min(reading.low, 1e6)), int(min(reading.high, 1e6)), before in _BY)

    def _daily(self) -> frozenset[Dimension | None]:
        """What the sentence gives by the day: of a list, the last number says so for all of its kind."""
        found = set()
        for measure in self.measures:
            following = self.text[measure.end : measure.end + _FEW]
            if measure.readings and "daily" in ranks_in(following, self.language):
                found.add(measure.readings[0].dimension)
        return frozenset(found)

    def _words(self) -> frozenset[str]:
        """The words of the sentence by which the author's own are found: those that say no number."""
        text = self.text
        for each in self.measures:
            begin = self._begin(each)
            text = text[:begin] + " " * (each.end - begin) + text[each.end :]
        return frozenset(word.lower()[:STEM] for word in _WORD.findall(text))

    def _place_in_row(self, end: int, clause: str) -> frozenset[str]:
        """Which of a row the clause before speaks of: `the last pick was four small ones, 27 grams`.

        A clause with a place of its own goes on with the thing alone: `the first tasting was four, the second three`.
        """
        begin = max((cut for cut in self.cuts if cut < end), default=0)
        before = self.text[begin:end]
        if own := ordinal_in(clause, self.language):
            things = {thing_of(rank) for rank in nth_in(before, self.language)}
            return frozenset(nth(thing, own) for thing in things)
        return (ranks_in(before, self.language) & {"first", "last"}) | nth_in(before, self.language)

    def _claim(self, measure: Measure, day: SpokenDay | None) -> Claim:
        begin, end = self._clause(measure)
        clause, names = self.text[begin:end], self._names(measure)
        topics = self._topics(measure)
        compared = _two_sides(names) or (
            names and self.relations & {"sooner", "behind"} and "packet" not in self.wide
        )
        if measure.kind in (Kind.DAYS, Kind.MORE) and compared:
            topics |= {TWO_SIDES}
        if measure.kind in (Kind.DAY, Kind.DATE):
            day = self._spoken_day(measure)
        few = self.text[self._begin(measure) :][: measure.end - self._begin(measure) + 24]
        each = ranks_in(few, self.language) & {"each"}
        if measure.readings[0].dimension in self._daily():
            each |= {"daily"}
        words = self._words()
        for date_said in self.dates:  # the first of a month is no first
            words_said = self.text[self.tokens[date_said.first].begin : self.tokens[date_said.after - 1].end]
            clause = clause.replace(words_said, " ")
        ranks = ranks_in(clause, self.language) - {"each", "daily"} | nth_in(clause, self.language)
        if any(name.single for name in names):
            ranks -= {"best plant"}
        borrowed = self.own and not self._topics_in(self.text[begin:end])
        if borrowed and begin:
            ranks |= self._place_in_row(begin, clause)
        if day is not None and day.by and measure.kind is Kind.AMOUNT and "harvest" in topics:
            ranks |= {"total"}  # by then: all of it so far
        relations = self.relations - {"not"} | (relations_in(clause, self.language) & {"not"})
        if measure.first and self.tokens[measure.first - 1].word in ("from", "von"):
            day = None  # "from fifteen to twelve hours": what was before that day
        subject = Subject(
            topics,
            self.wide,
            names,
            ranks | each,
            relations,
            words,
            day,
            self.spoken.day,
            measure.noun,
            borrowed=borrowed,
        )
        said = self.text[self._begin(measure) : measure.end]
        cue = self.sentence.cue_at(self._begin(measure)) if self.sentence.cues else None
        at, line = (cue.start, cue.line) if cue else (None, 1)
        return Claim(said, self.text, measure.readings, measure.hedge, subject, at, line)


def _of_seeds(measure: Measure, topics: frozenset[str]) -> Measure:
    """Beans that are sown or come up are seeds."""
    seeds = measure.noun == "piece" and topics & {"sow", "sprouted"}
    return replace(measure, noun="seed") if seeds else measure


def _living(topics: Iterable[str]) -> bool:
    return any(topic.startswith(LIVING) for topic in topics)


def _two_sides(names: Iterable[Name]) -> bool:
    sets = [name.plants for name in names if not name.single]
    return len(sets) > 1 and not sets[0] & sets[1]


def _day_of_date(spoken: SpokenDate, run: Run) -> int | None:
    """The day of the run that a date is; without a year, the one that lies nearest to the run."""
    start = run.setup.start
    if start.date is None or start.precision != "day":
        return None
    years = [spoken.year] if spoken.year is not None else [start.date.year + n for n in (0, 1, -1)]
    found = []
    for year in years:
        try:
            found.append((date(year, spoken.month, spoken.day) - start.date).days)
        except ValueError:
            continue
    last = run.last_day
    return min(found, key=lambda day: max(-day, day - last, 0), default=None)
