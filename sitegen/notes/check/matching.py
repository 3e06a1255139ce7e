"""How well what is known fits what a claim is about, and how near its value lies.

In: a claim's reading and subject, a `Known`. Out: `Match`, with a score of the subject, the number of contradictions, and
how far off the value is. The weights are a custom, no source: what is named outweighs what is left unsaid.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.notes.check.claims import Claim, Hedge, Kind, Reading, Subject
from sitegen.notes.check.known import Known

NEAR = 0.08  # how far "nearly" and "a little over" reach, as a part of the value; common practice, no source
ABOUT = 0.02  # the same of "about"
_EPS = 1e-6

# The topics that an amount of a dimension can be about, and the one that goes without saying.
_CAN_BE: dict[Dimension, tuple[frozenset[str], str]] = {
    Dimension.MASS: (frozenset({"harvest", "feed", "packet", "part:leaf"}), "harvest"),
    Dimension.LENGTH: (frozenset({"height", "spread", "distance", "packet", "headroom"}), "height"),
    Dimension.VOLUME: (frozenset({"water", "feed", "change", "ph", "holds"}), "water"),
    Dimension.TEMPERATURE: (frozenset({"air", "water"}), "air"),
    Dimension.CONDUCTIVITY: (frozenset({"ec"}), "ec"),
    Dimension.ACIDITY: (frozenset({"ph"}), "ph"),
    Dimension.POWER: (frozenset({"power"}), "power"),
    Dimension.ENERGY: (frozenset({"energy"}), "energy"),
    Dimension.DURATION: (frozenset({"light"}), "light"),
    Dimension.SHARE: (frozenset({"humidity", "sprouted", "packet", "harvest"}), "humidity"),
}
_SAME_KINDS: dict[Kind, frozenset[Kind]] = {
    Kind.DATE: frozenset({Kind.DAY}),
    Kind.COUNT: frozenset({Kind.COUNT, Kind.PART}),
    Kind.PART: frozenset({Kind.PART, Kind.COUNT, Kind.SCORE}),
    Kind.SCORE: frozenset({Kind.SCORE, Kind.PART}),
}
_ALIKE = (
    frozenset({"plant", "seedling"}),
    frozenset({"seed", "seedling"}),
    frozenset({"seed", "piece"}),
    frozenset({"plant", "piece"}),
    frozenset({"plant", "spot"}),
    frozenset({"tub", "spot"}),
    frozenset({"feeding", "time"}),
    frozenset({"refill", "time"}),
    frozenset({"pick", "time"}),
)
_NARROW = frozenset({"mean", "first", "last", "min"})  # ranks that only a value of that rank can have
_OF_DAYS = frozenset({"first", "last", "total", "max"})
_OF_VALUES = frozenset({"total", "mean", "max", "min", "survive", "daily"})
LIVING = ("sprouted", "lost", "spoilt", "stage:")  # topics of what plants do
_BY_THE_DAY = frozenset({Dimension.VOLUME, Dimension.MASS, Dimension.LENGTH})  # also given as so much a day
_FROM = frozenset({"sow", "transplant", "packet", "end"})  # from where days are counted


@dataclass(frozen=True, slots=True)
class Match:
    """A known value beside one reading of a claim.

    `off` is how far the spoken number lies from it in the canonical unit, 0 where it is within half the step that was
    spoken; `bound` where it is so for a bound of the value.
    """

    known: Known
    reading: Reading
    score: float
    conflicts: int
    off: float
    bound: bool = False

    @property
    def fits(self) -> bool:
        """Whether the number is there."""
        return self.off == 0


def matches(claim: Claim, everything: Iterable[Known]) -> list[Match]:
    """All values of the kind of a claim, best subject first, then the nearest."""
    found = [match for known in everything for match in _with(claim, known)]
    return sorted(found, key=lambda match: (match.conflicts > 0, -match.score, match.off))


def _with(claim: Claim, known: Known) -> Iterator[Match]:
    for reading in claim.readings:
        if reading.kind is Kind.PART and known.kind is Kind.COUNT and reading.of != reading.low:
            continue
        if known.kind is not reading.kind and known.kind not in _SAME_KINDS.get(reading.kind, ()):
            continue
        if reading.kind is Kind.AMOUNT and known.dimension is not reading.dimension:
            continue
        each = _not_yet(claim.subject, reading, known)
        score, conflicts = _subject(claim.subject, reading, each)
        off, bound = _distance(reading, claim.hedge, each)
        yield Match(each, reading, score, conflicts, off, bound)


def _not_yet(subject: Subject, reading: Reading, known: Known) -> Known:
    """A count of the plants that had not reached a stage, where a claim says "not"."""
    stage = known.series and any(topic.startswith("stage:") for topic in known.topics)
    if not stage or "not" not in subject.relations or reading.low == 0 or not known.wholes:
        return known
    left = known.wholes[0] - known.low
    return replace(known, low=left, high=left, what=f"without this: {known.what}")


def _subject(subject: Subject, reading: Reading, known: Known) -> tuple[float, int]:
    """How well the subjects agree, and in how many ways they contradict each other."""
    parts = (
        _topics(subject, reading, known),
        _things(subject, known),
        _plants(subject, known),
        _day(subject, reading, known),
        _ranks(subject, known),
        _whole(reading, known),
    )
    words = min(3, len(subject.words & known.words)) * 1.5
    return words + sum(score for score, _ in parts), sum(conflict for _, conflict in parts)


def relevant(subject: Subject, reading: Reading) -> frozenset[str]:
    """The topics of a claim that its number can be about."""
    if reading.kind is Kind.AMOUNT and reading.dimension in _CAN_BE:
        can_be, default = _CAN_BE[reading.dimension]
        found = subject.topics & can_be or subject.wide & can_be
        return found if found - {"part:leaf", "packet"} else found | {default}
    if reading.kind is Kind.SCORE:
        return frozenset({"taste"})
    if reading.kind is Kind.MONEY:
        return subject.topics | {"cost"}
    if reading.kind is Kind.MORE:
        return subject.topics | (subject.wide if len(subject.topics) < 2 else frozenset())
    if reading.kind in (Kind.COUNT, Kind.PART) and subject.noun in ("tub", "lamp", "group"):
        return frozenset()
    return subject.topics - {"part:leaf"}


def _topics(subject: Subject, reading: Reading, known: Known) -> tuple[float, int]:
    mine = relevant(subject, reading) - {"part:leaf"} | (subject.topics & known.topics)
    shared, theirs = mine & known.topics, known.topics
    score = 3 * len(shared) - 0.7 * len(mine - theirs) - (0.7 * len(theirs - mine) if mine else 0)
    score += 0.5 * len((subject.wide - mine) & theirs)
    if reading.kind is Kind.DAYS and (mine & _FROM) and not mine & _FROM & theirs:
        return score - 4, 1
    clash = bool(mine and theirs and not shared) or _another(subject, reading, mine | subject.wide, known)
    foreign = not mine and any(topic.startswith(("figure:", "packet")) for topic in theirs)
    return (score - 4, 1) if clash or foreign else (score, 0)


def _another(subject: Subject, reading: Reading, mine: frozenset[str], known: Known) -> bool:
    """Whether a value is of something else: a plant of the set-up, or what the packet says."""
    if reading.kind in (Kind.COUNT, Kind.PART) and known.noun in ("plant", "spot") and not known.topics:
        pieces = ("harvest",) if subject.noun == "piece" else ()
        return any(topic.startswith((*LIVING, "trouble", *pieces)) for topic in mine)
    return reading.kind is Kind.AMOUNT and "packet" in known.topics and "packet" not in mine


def _things(subject: Subject, known: Known) -> tuple[float, int]:
    """The thing counted."""
    if not subject.noun or not known.noun:
        return 0, int(
            bool(
                subject.noun in ("person", "tub", "lamp", "leaf", "spot", "run")
                and known.noun != subject.noun
            )
        )
    if subject.noun == known.noun:
        return 3, 0
    return (0.5, 0) if frozenset({subject.noun, known.noun}) in _ALIKE else (-4, 1)


def _plants(subject: Subject, known: Known) -> tuple[float, int]:
    """The plants: the same, some of them, others."""
    mine, theirs = subject.plants, known.plants
    if known.other is not None and theirs is not None:
        return _pair(subject, known)
    if mine is None:
        return (1.5, 0) if theirs is None else (-1.0, 0)
    if theirs is None:
        free = known.constant or known.kind is Kind.DAY or "packet" in known.topics
        return (-1.0, 0) if free else (-3.0, 1)
    if mine == theirs:
        return 4, 0
    if theirs < mine:
        return 0.5, 0
    return (-2.5, 1) if theirs > mine else (-6, 1)


def _pair(subject: Subject, known: Known) -> tuple[float, int]:
    """Two arms: the one that is named first is said to have more, or to be sooner."""
    sets = [name.plants for name in subject.names]
    if known.plants in sets and known.other in sets:
        ahead = sets.index(known.plants) < sets.index(known.other)
        swapped = "behind" in subject.relations
        return (4, 0) if ahead != swapped else (0, 1)
    if known.plants in sets:
        return 3, 0
    if known.other in sets:
        return (-3, 1) if known.kind is Kind.MORE else (0, 0)
    return (0, 0) if not sets else (-4, 1)


def _day(subject: Subject, reading: Reading, known: Known) -> tuple[float, int]:
    """The day that a claim is of."""
    if known.constant or reading.kind in (Kind.DAYS, Kind.MORE, Kind.MONEY, Kind.DAY, Kind.DATE):
        near = known.day is not None and subject.context is not None and _holds(known, subject.context)
        return (0.3 if near else 0, 0)
    if subject.day is None:
        if known.day is None or ("total" in known.ranks and not known.series):
            return 1.5, 0
        context = subject.context is not None and _holds(known, subject.context)
        if known.series and known.until is not None:
            return (1, 0) if context else (-1, 1)
        return (1.5 if context or known.series else 0, 0)
    if known.day is None:
        return -2, 1
    inside = _holds(known, subject.day.last) or (
        not known.series and subject.day.first <= known.day.last and known.day.first <= subject.day.last
    )
    return (4, 0) if inside else (-4, 1)


def _holds(known: Known, day: int) -> bool:
    """Whether a value is that of a day: a count holds until the next."""
    if known.day is None:
        return False
    if known.series:
        return known.day.last <= day and (known.until is None or day < known.until)
    return known.day.first <= day <= known.day.last


def _ranks(subject: Subject, known: Known) -> tuple[float, int]:
    """First, last, in all, most, least, on average, each."""
    mine = subject.ranks & (_OF_DAYS if known.kind in (Kind.DAY, Kind.DAYS) else _OF_VALUES)
    if _of_another_in_row(subject, known):
        return -3, 1
    placed = subject.ranks & {"first", "last"}
    if known.kind is Kind.SCORE:
        mine |= placed
    if "harvest" in known.topics and known.kind in (Kind.AMOUNT, Kind.COUNT):
        of_all = known.day is None or known.series
        if placed and of_all and "total" not in subject.ranks:
            return -3, 1  # of the last pick, not of all
        mine |= frozenset() if of_all else placed
    shared, missing = mine & known.ranks, mine - known.ranks
    score = 2 * len(shared) - 1.5 * len(missing)
    beside = {rank for rank in known.ranks if not rank.startswith("nth ")}
    score -= 0.5 * len(beside - mine - {"total", "first", "last", "max"})
    narrow = bool(missing & _NARROW) and bool(known.ranks or "mean" in missing)
    if (
        known.kind is Kind.DAYS
        and "ahead" in subject.relations
        and known.other is None
        and "packet" not in known.topics
    ):
        return score - 3, 1
    if known.series and known.kind is Kind.AMOUNT and "total" not in mine:
        score -= 1.6  # what was picked on a day comes before what had been picked by then
    untold = bool("mean" in known.ranks and not mine & {"mean"} and "each" not in subject.ranks)
    daily = known.kind is Kind.AMOUNT and known.dimension in _BY_THE_DAY
    if daily and ("daily" in mine) != ("daily" in known.ranks):
        return score - 3, 1
    summed = "total" in missing and known.kind is Kind.AMOUNT and known.day is not None and not known.series
    other = ("survive" in known.ranks) != ("survive" in mine) and "lost" in known.topics
    return score - (1 if untold else 0) - (3 if other else 0), int(narrow or summed or other or untold)


def _of_another_in_row(subject: Subject, known: Known) -> bool:
    """Whether a value is of another pick, flush or tasting than the one that is named by its place in the row."""
    said = {rank for rank in subject.ranks if rank.startswith("nth ")}
    told = {rank.rpartition(" ")[0] for rank in known.ranks if rank.startswith("nth ")}
    same = {rank for rank in said if rank.rpartition(" ")[0] in told}
    flush = {rank for rank in said if rank.startswith("nth flush")} - known.ranks
    weight = known.kind is Kind.AMOUNT and known.dimension in (Dimension.MASS, Dimension.VOLUME)
    if ("best plant" in subject.ranks) != ("best plant" in known.ranks) and weight:
        return True
    return bool(same - known.ranks) or (bool(flush) and weight)


def _whole(reading: Reading, known: Known) -> tuple[float, int]:
    """The whole of a part."""
    if reading.of is None or not known.wholes:
        return 0, 0
    return (2, 0) if reading.of in known.wholes else (-1, 0)


def _distance(reading: Reading, hedge: Hedge, known: Known) -> tuple[float, bool]:
    """How far a spoken number is from a value, beyond half its step; and whether it is that of a bound."""
    if isinstance(known.value, Quantity) and known.kind is Kind.AMOUNT and known.value.step > reading.step:
        # As it was recorded, and rounded once more where it is shown in the other system.
        reading = replace(reading, step=known.value.step + reading.step)
    low, high = spoken_interval(reading, hedge)
    if reading.of is not None and known.wholes and reading.of not in known.wholes:
        return abs(reading.low - known.low) + abs(reading.of - known.wholes[0]), False
    if known.kind is Kind.DAY and known.day is not None and known.day.before:
        return max(0.0, low - known.low, 0.0), False
    bounds = [known.low] if known.high is None or known.high == known.low else [known.low, known.high]
    if known.kind is Kind.MORE and known.least:
        bounds = [known.low]
    if len(bounds) == 2 and reading.low != reading.high:
        half = reading.step / 2 + _EPS
        gaps = (abs(reading.low - bounds[0]), abs(reading.high - bounds[1]))
        return max(0.0, *(gap if gap > half else 0.0 for gap in gaps)), True
    off = min(_outside(value, low, high) for value in bounds)
    if off > 0 and len(bounds) == 2 and known.least and bounds[0] < low and high < bounds[1]:
        return 0.0, True
    return off, off == 0 and not known.bounded


def spoken_interval(reading: Reading, hedge: Hedge) -> tuple[float, float]:
    """The values for which a spoken number is right."""
    half = reading.step / 2
    if hedge is Hedge.ABOUT:
        half = max(2 * half, ABOUT * max(abs(reading.low), abs(reading.high)))
    low, high = reading.low - half - _EPS, reading.high + half + _EPS
    if hedge is Hedge.NEARLY:
        return reading.low - max(half, abs(reading.low) * NEAR) - _EPS, high
    if hedge is Hedge.A_LITTLE_OVER:
        return low, reading.high + max(half, abs(reading.high) * NEAR) + _EPS
    if hedge in (Hedge.OVER, Hedge.AT_LEAST):
        return low, math.inf
    if hedge in (Hedge.UNDER, Hedge.AT_MOST):
        return -math.inf, high
    return low, high


def _outside(value: float, low: float, high: float) -> float:
    return max(0.0, low - value, value - high)
