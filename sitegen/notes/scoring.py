"""What is worth telling: the score of each moment, by stated points, and the word of the author before all of it.

In: moments and the log that they rest on. Out: `Scored` moments. `tell: never` leaves out what only such entries hold,
`tell: always` keeps what rests on one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from sitegen.core.findings.source import Source
from sitegen.notes.material import Material
from sitegen.notes.moments.moment import BASE, Moment

# Points, by what a moment has; common practice, no source.
WITH_PICTURE, ABOUT_ARMS, FIRST_IN_JOURNAL = 10, 10, 10
TOLD_BEFORE, SOME_PLANTS, NOT_IN_LOG = -15, -20, -30
KEPT = 15  # a lower score is not told
ALWAYS = 1000  # of what the author wants told, and of what is never left out
_NEVER_LEFT_OUT = ("question", "answer", "total", "caveat")
# Of which each line says a part: a sum rests on many lines, and does not tell of one of them.
_RESTS_ON_EACH = (
    "arms",
    "longest wait",
    "named stage",
    "stage",
    "first flower",
    "ripe",
    "bolting",
    "coincidence",
)
_ALIKE = ("stage", "pick", "setting", "height", "taste")  # of which one in a part is often enough
_FIRST_TIMES = ("first pick", "first flower", "named stage")


@dataclass(frozen=True, slots=True)
class Scored:
    """A moment with its score."""

    moment: Moment
    score: int

    @property
    def kept(self) -> bool:
        """Whether it is told where there is time."""
        return self.score >= KEPT


def scored(moments: Iterable[Moment], material: Material) -> Iterator[Scored]:
    """The moments that may be told, each with its score; `repeated` then takes points from a kind told before."""
    for moment in moments:
        each_one = moment.kind in _RESTS_ON_EACH
        allowed = tuple(p for p in moment.passages if not forbidden(p.sources, material, each_one=each_one))
        if allowed:
            told = replace(moment, passages=allowed)
            yield Scored(told, score(told, material))


def repeated(told: Iterable[Scored]) -> Iterator[Scored]:
    """The moments of one part of a draft, with points off where the same kind was told in it before."""
    kinds: set[str] = set()
    for each in told:
        again = each.moment.kind in kinds and each.moment.kind in _ALIKE and not each.moment.arms
        kinds.add(each.moment.kind)
        yield replace(each, score=each.score + TOLD_BEFORE) if again and each.score < ALWAYS else each


def score(moment: Moment, material: Material) -> int:
    """The points of one moment by itself."""
    if moment.kind in _NEVER_LEFT_OUT or _wanted(moment.sources, material):
        return ALWAYS
    points = BASE[moment.kind]
    points += WITH_PICTURE if _pictured(moment, material) else 0
    points += ABOUT_ARMS if moment.arms else 0
    points += FIRST_IN_JOURNAL if not material.earlier and moment.kind in _FIRST_TIMES else 0
    points += SOME_PLANTS if moment.some else 0
    return points + (NOT_IN_LOG if moment.unsaid else 0)


def _wanted(sources: Iterable[Source], material: Material) -> bool:
    return any(entry.tell == "always" for entry in material.entries_of(sources))


def forbidden(sources: Iterable[Source], material: Material, *, each_one: bool = False) -> bool:
    """Whether only entries that are not to be told hold it; with `each_one`, whether one of them holds a part of it."""
    never = [entry.tell == "never" for entry in material.entries_of(sources)]
    return any(never) if each_one else bool(never) and all(never)


def _pictured(moment: Moment, material: Material) -> bool:
    """Whether there is a photo or footage of its day."""
    if moment.day is None:
        return False
    return moment.day in material.days_with_pictures
