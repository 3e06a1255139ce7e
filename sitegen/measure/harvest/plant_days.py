"""Days that plants stood, and the yield of a plant and day.

In: the plants of a run, their losses, moves and resowings. Out: the plant-days of a set of plants as an interval, with
the rows behind them. A plant counts from its sowing to its loss or the end; in a group or a tub, until it was moved.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Deed, Event, Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import formula
from sitegen.measure.run.axis import end_of


@formula(reads=("events.day", "events.plants", "entries.day", "picks.day"))
def plant_days(stays: Iterable[Quantity]) -> Quantity:
    """Days that plants stood, over all plants.

    Parameters
    ----------
    stays
        Of each plant the days from its sowing to its loss, its move or the end, whichever came first [days].

    Returns
    -------
    Quantity
        Their sum [plant-days].

    Notes
    -----
    ::

        plant-days = Σ (last day - first day)

    A plant lost without a name may be any of them: the sum is a range. A plant that was sown again counts from there a
    second time. Of a whole run a moved plant counts to the end; of a group or a tub until its move.

    References
    ----------
    By definition of the quantities.

    """
    return total(stays, Dimension.DAYS)


@dataclass(frozen=True, slots=True)
class Standing:
    """The stays of plants in one run, which ended, or was last seen, on the day `end`."""

    run: Run
    end: Day

    @classmethod
    def of(cls, run: Run) -> Standing | None:
        """The stays of a run; None without an entry. A pick after the end of the run shows that plants stood."""
        last = end_of(run)
        if last is None:
            return None
        days = [last, *(pick.day for pick in run.rows.picks)]
        about = any(day.about for day in days if day.last >= last.first)
        return cls(run, Day(max(day.first for day in days), max(day.last for day in days), about))

    def days(self, plants: Sequence[str], until: Mapping[str, Event]) -> tuple[Quantity, list[Source]]:
        """The plant-days of some plants, each at most until an event, and the rows that ended a stay."""
        stays, rows = list[Quantity](), list[Source]()
        for plant in plants:
            left = until.get(plant)
            for begin, end, row in self._lives(plant):
                if left is not None and left.day.last <= end.last:
                    rows.append(left.source)
                elif row is not None:
                    rows.append(row)
                stays.append(_between(begin, _earlier(end, left.day) if left else end))
        unnamed = self._unnamed_losses()
        most_lost, least_lost = self._taken(unnamed, len(plants)) if plants else (0, 0)
        whole = plant_days(stays)
        everyone = set(plants) == set(self.run.setup.plant_ids) and not until
        high = (whole.high or 0.0) - (least_lost if everyone else 0)
        low = max(0.0, whole.low - most_lost)
        # A loss about a day before the end took about as many days, whichever plant it was.
        about = whole.about or any(e.day.about and e.day.reach[0] < self.end.last for e in unnamed)
        rows += [event.source for event in unnamed]
        return Quantity(low, max(low, high), Dimension.DAYS, about), rows

    def _lives(self, plant: str) -> Iterator[tuple[Day, Day, Source | None]]:
        """From each sowing of a plant's spot to the loss after it, or to the end, with the row of the loss."""
        own = [
            event
            for event in self.run.rows.of(Deed.SOW, Deed.LOST)
            if _names(event, plant) or (event.deed is Deed.SOW and event.which is None)
        ]
        own = sorted(own, key=lambda event: event.entry)
        begin = None if own and own[0].deed is Deed.SOW else Day.on(0)
        for event in own:
            if event.deed is Deed.SOW:
                begin = begin or event.day
            elif begin is not None:
                yield begin, event.day, event.source
                begin = None
        if begin is not None:
            yield begin, self.end, None

    def _unnamed_losses(self) -> list[Event]:
        """The losses that do not say which plants they were of."""
        events = self.run.rows.of(Deed.LOST)
        return [e for e in events if e.which is not None and not e.which.named and not e.which.nobody]

    def _taken(self, losses: Iterable[Event], plants: int) -> tuple[int, int]:
        """The most and the fewest plant-days that losses without a name took; a later sowing may have made up for one."""
        most, least = 0, 0
        for event in losses:
            count = event.which.count if event.which is not None else None
            several = plants if count is None else min(plants, count)
            most += several * max(0, self.end.first - event.day.first)
            if not any(sown.entry > event.entry for sown in self.run.rows.of(Deed.SOW)):
                least += (1 if count is None else count) * max(0, self.end.last - event.day.last)
        return most, least


def _names(event: Event, plant: str) -> bool:
    return event.which is not None and plant in event.which.ids


def _earlier(day: Day, other: Day) -> Day:
    return Day(min(day.first, other.first), min(day.last, other.last), day.about or other.about)


def _between(begin: Day, end: Day) -> Quantity:
    span = end.span_since(begin)
    return Quantity(max(0, span.first), max(0, span.last), Dimension.DAYS, span.about)
