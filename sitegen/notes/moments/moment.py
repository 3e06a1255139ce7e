"""A moment: one thing that could be told, with its sentences and what makes it worth telling.

In: nothing. Out: `Moment` and its kinds, each with the score that it begins with.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sitegen.core.findings.source import Source
from sitegen.core.values.day import Day
from sitegen.notes.draft import Passage

Place = Literal["opening", "day", "scale", "bill", "meaning"]
# The scores are common practice, no source: what viewers of such episodes retell comes first.
BASE: dict[str, int] = {
    "question": 100,
    "answer": 100,
    "total": 100,
    "caveat": 100,
    "loss": 50,
    "move": 50,
    "trouble": 45,
    "arms alone": 45,
    "first pick": 40,
    "named stage": 40,
    "change": 35,
    "arms": 30,
    "biggest pick": 25,
    "claim": 25,
    "record": 25,
    "spoilt": 25,
    "first flower": 25,
    "ripe": 25,
    "bolting": 25,
    "coincidence": 25,
    "turning point": 25,
    "start": 25,
    "end": 25,
    "longest wait": 20,
    "setting": 20,
    "extreme": 20,
    "unknown": 20,
    "bill": 20,
    "seeds": 20,
    "height": 15,
    "note": 15,
    "taste": 15,
    "pick": 10,
    "stage": 10,
    "reading": 0,
    "refill": 0,
}


@dataclass(frozen=True, slots=True)
class Moment:
    """One thing to tell. `day` places it in the run; others stand in the part of the draft that `place` names.

    `arms`: about what is compared; `some`: known only of some plants; `unsaid`: it would need what the log does not say.
    `headline` is what a viewer would retell of it, said before everything else of its section. `order` breaks ties of
    one day.
    """

    kind: str
    passages: tuple[Passage, ...]
    day: Day | None = None
    place: Place = "day"
    arms: bool = False
    some: bool = False
    unsaid: bool = False
    order: int = 0

    @property
    def sources(self) -> tuple[Source, ...]:
        """The places in the journal that it rests on."""
        return tuple(source for passage in self.passages for source in passage.sources)
