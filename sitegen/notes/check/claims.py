"""What a sentence claims: a number, what it is of, and how it was hedged.

In: nothing. Out: the types that reading a transcript fills and holding it against the log takes.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from sitegen.core.values.units import Dimension
from sitegen.notes.check.sentences.measures import SpokenUnit
from sitegen.notes.check.sentences.names import Name

TWO_SIDES = "arms"  # the topic of a claim that compares two arms


class Kind(StrEnum):
    """What kind of thing a number says."""

    AMOUNT = "amount"
    DAY = "day"
    DATE = "date"
    DAYS = "days"  # between two days
    COUNT = "count"
    PART = "part"  # eleven of twelve
    SCORE = "score"
    MORE = "comparison"  # forty per cent more, twice as much: a ratio
    MONEY = "money"
    NUMBER = "number"  # nothing says of what


class Hedge(StrEnum):
    """How a number was hedged."""

    NONE = ""
    ABOUT = "about"
    NEARLY = "nearly"
    A_LITTLE_OVER = "a little over"
    OVER = "over"
    AT_LEAST = "at least"
    UNDER = "under"
    AT_MOST = "at most"


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing that a number can mean, in the canonical unit; `low` and `high` differ for a span.

    `of` is the whole of a part. `unit` is what was spoken, None without one.
    """

    kind: Kind
    low: float
    high: float
    step: float
    dimension: Dimension | None = None
    unit: SpokenUnit | None = None
    of: int | None = None


@dataclass(frozen=True, slots=True)
class SpokenDay:
    """The day that a claim is about; `by` where it was reached by then."""

    first: int
    last: int
    by: bool = False


@dataclass(frozen=True, slots=True)
class Subject:
    """What a number is about: topics of its clause, `wide` those of its whole sentence.

    `context` is the day that was spoken of last, before this sentence. `borrowed` where the clause itself has no topic.
    """

    topics: frozenset[str] = frozenset()
    wide: frozenset[str] = frozenset()
    names: tuple[Name, ...] = ()
    ranks: frozenset[str] = frozenset()
    relations: frozenset[str] = frozenset()
    words: frozenset[str] = frozenset()
    day: SpokenDay | None = None
    context: int | None = None
    noun: str = ""
    borrowed: bool = False

    @property
    def plants(self) -> frozenset[str] | None:
        """The plants named; None where none are."""
        return frozenset().union(*(name.plants for name in self.names)) if self.names else None


@dataclass(frozen=True, slots=True)
class Claim:
    """One number that was spoken, with its readings; `at` is its time in seconds.

    `told` marks a day that other claims of its sentence are of: it is not held by itself where one of them has a day.
    """

    words: str
    sentence: str
    readings: tuple[Reading, ...]
    hedge: Hedge = Hedge.NONE
    subject: Subject = field(default_factory=Subject)
    at: float | None = None
    line: int = 1
    told: bool = False

    @property
    def kind(self) -> Kind:
        """The kind of its first reading."""
        return self.readings[0].kind
