"""A run's picks and tallies made ready to be put together.

In: a run. Out: `Crates`: picks and tallies in order, each as a `Taken` with the plants it may come from.
Never splits a weight.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.finding import Source
from sitegen.core.quantity import Quantity
from sitegen.core.rows import Pick, Run, Tally, Which
from sitegen.core.units import Dimension
from sitegen.measure.gathered import Taken, in_turn
from sitegen.measure.working import day_key

__all__ = ["Crates"]


@dataclass(frozen=True, slots=True)
class Crates:
    """All that was taken from the plants of one run."""

    run: Run
    picks: tuple[Pick, ...]
    tallies: tuple[Tally, ...]
    everyone: frozenset[str]

    @classmethod
    def of(cls, run: Run) -> Crates:
        """The picks and tallies of a run, in the order of days and entries."""
        picks = sorted(run.rows.picks, key=lambda p: (*day_key(p.day), p.entry, p.source))
        tallies = sorted(run.rows.tallies, key=lambda t: (*day_key(t.day), t.entry, t.source))
        weights = (tally for tally in tallies if tally.amount.dimension is Dimension.MASS)
        return cls(run, tuple(picks), tuple(weights), frozenset(run.setup.plant_ids))

    def scope(self, which: Which, *, so_far: bool = False) -> frozenset[str]:
        """The plants a weight may come from: those named, else any.

        `all` are the plants that stand; in a weight of everything `so_far` also those lost by then.
        """
        everyone = not which.ids or (so_far and which.word == "all")
        return self.everyone if everyone else frozenset(which.ids)

    def taken(self, pick: Pick, amount: Quantity | None = None) -> Taken:
        """A pick with its weight, or with another amount of it."""
        turn = (*day_key(pick.day), pick.entry)
        scope = self.scope(pick.which, so_far=pick.earlier in ("included", "unclear"))
        return Taken(scope, amount or pick.weight, pick.source, turn, pick.earlier)

    @property
    def everything(self) -> tuple[Taken, ...]:
        """Picks and tallies in turn."""
        tallied = [
            Taken(self.scope(t.which, so_far=True), t.amount, t.source, (*day_key(t.day), t.entry), "tally")
            for t in self.tallies
        ]
        return in_turn([*(self.taken(pick) for pick in self.picks), *tallied])

    @property
    def rows(self) -> tuple[Source, ...]:
        """Where all of it is written."""
        return tuple(item.source for item in self.everything)
