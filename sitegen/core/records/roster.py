"""The plants that stand on a day, and their tubs.

In: a run's setup and events. Out: `Roster`, with answers by day. Only the log counts: a plant stands until an entry
records its loss.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.records.rows import Deed, Event, Rows
from sitegen.core.records.setup import Setup


@dataclass(frozen=True, slots=True)
class Roster:
    """The plants of one experiment over time."""

    setup: Setup
    events: tuple[Event, ...]

    @classmethod
    def of(cls, setup: Setup, rows: Rows) -> Roster:
        """The roster by a log."""
        return cls(setup, rows.of(Deed.SOW, Deed.LOST, Deed.MOVE))

    def _naming(self, plant: str, deed: Deed, by: int | None = None) -> list[Event]:
        """The events of one kind that name a plant, up to a day, in the order of visits."""
        named = [e for e in self.events if e.deed is deed and e.which and plant in e.which.ids]
        return sorted((e for e in named if by is None or e.day.first <= by), key=lambda e: e.entry)

    def lost_on(self, plant: str, by: int | None = None) -> Event | None:
        """The event that ended a plant, as recorded by a day; sowing its spot again cancels an earlier loss."""
        sown = max((e.entry for e in self._naming(plant, Deed.SOW, by)), default=-1)
        return next((e for e in self._naming(plant, Deed.LOST, by) if e.entry > sown), None)

    def standing(self, day: int) -> tuple[str, ...]:
        """The plants not lost before or on a day."""
        return tuple(plant for plant in self.setup.plant_ids if self.lost_on(plant, by=day) is None)

    def unnamed_losses(self, day: int) -> int:
        """The number of plants lost by a day without a name."""
        return sum(
            e.which.count
            for e in self.events
            if e.deed is Deed.LOST and e.which and e.which.count and not e.which.named and e.day.first <= day
        )

    def count(self, day: int) -> int:
        """The number of plants that stand on a day, named or not."""
        return max(0, len(self.standing(day)) - self.unnamed_losses(day))

    def tub_of(self, plant: str, day: int) -> str:
        """The tub a plant stands in on a day."""
        moves = self._naming(plant, Deed.MOVE, day)
        return moves[-1].tub if moves else next(p.tub for p in self.setup.plants if p.id == plant)

    def moved_on(self, plant: str) -> Event | None:
        """The first event that moved a plant to another tub: from its day on it counts for no group and no tub."""
        own = next(p.tub for p in self.setup.plants if p.id == plant)
        return next((event for event in self._naming(plant, Deed.MOVE) if event.tub != own), None)

    def sown_on(self, plant: str) -> Event | None:
        """The last sowing in a plant's spot: its days run from there."""
        return next(reversed(self._naming(plant, Deed.SOW)), None)
