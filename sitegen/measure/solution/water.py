"""Water poured into each tub, and the routines that added more of it or of feed.

In: `water` records and routines. Out: `Fillings`, asked for amounts; the water formulas. Never takes an unmeasured
top-up for a full reservoir, except the first filling.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from sitegen.core.facts.figure import Remark, remark
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Run, Watering
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, total, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import WATER, Conditions, day_key, formula
from sitegen.measure.solution.shared import empty_before, unknown_before

FILLED: Conditions = {"the tub was filled up to a known volume": ("events.amount", "system.reservoir")}


def days_between(earlier: Day, later: Day) -> Quantity:
    """The days from one day to another, from the fewest to the most that their spans allow."""
    span = later.span_since(earlier)
    return Quantity(max(0, span.first), max(0, span.last), Dimension.DAYS, span.about, step=1)


def uncounted_feed(run: Run, tub: str = "", product: str = "") -> tuple[Routine, ...]:
    """The routines that gave feed without being counted: one product to one tub, or all where those are empty."""
    return tuple(
        r for r in _uncounted(run, tub) if r.what == "feed" and (not product or r.product == product)
    )


def uncounted_water(run: Run, tub: str) -> tuple[Routine, ...]:
    """The routines that added water to a tub without being counted: of water, or of feed with each top-up."""
    return tuple(r for r in _uncounted(run, tub) if r.tops_up)


def routine_between(routine: Routine, earlier: Day, later: Day) -> bool:
    """Whether a routine may have been followed between two days."""
    goes_on = routine.until is None or earlier.first < routine.until.last
    return goes_on and routine.day.first < later.last


def feed_remarks(routines: Iterable[Routine]) -> tuple[Remark, ...]:
    """Remarks on the doses that routines gave and nobody counted."""
    codes = ("feed_at_unlogged_refills" if r.at_each_filling else "feed_by_routine" for r in routines)
    return tuple(remark(code) for code in dict.fromkeys(codes))


def without_doses(run: Run) -> tuple[Remark, ...]:
    """Remarks on a run without a dose, where a routine gave feed: it is not one without feed."""
    if not any(routine.what == "feed" for routine in run.rows.routines):
        return ()
    return feed_remarks(uncounted_feed(run)) or (remark("no_refill_under_routine"),)


def opened(value: Quantity) -> Quantity:
    """A total as a lower bound; one of which nothing is known is none."""
    return value if not value.known else replace(value, high=None, open=value.open + 1)


def _uncounted(run: Run, tub: str) -> tuple[Routine, ...]:
    """Of one tub; of all where `tub` is empty. A routine that names no tub holds for each."""
    return tuple(
        routine
        for routine in run.rows.routines
        if not routine.counts_refills and (not tub or routine.tub in ("", tub))
    )


@formula(reads=WATER, exact_if=FILLED)
def water_added(amounts: Iterable[Quantity]) -> Quantity:
    """Water added.

    All water poured in: the first fill, refills, and the whole tub at a water change. Filling up
    at sowing or transplanting counts as what the tub holds; filling up later is an unmeasured amount.

    Parameters
    ----------
    amounts
        Of each filling [ml].

    Returns
    -------
    Quantity
        Water in all [ml].

    Notes
    -----
    ::

        water = Σ amount

    Where a routine tops the tub up and the log does not say how often, the sum is given as "at least". Water
    without a tub by name may have gone into any: a tub's sum is a range up to all of it, the sum of all tubs is not.

    A tub that was shared with another run has water of two logs, each of which counts its own records. How much of it
    was for which crop nobody knows: the sum is from what this log added while the tub was not shared, to all that both
    logs added until the end of this run. A log that is held back is not counted: the sum is then left open.

    """
    return total(amounts, Dimension.VOLUME)


@formula(reads=("routines.often",))
def refill_count(refills: Sequence[Watering]) -> Quantity:
    """Refills in the log.

    Every time water was added to what was left in the tub: not the first fill, not a water change.

    Parameters
    ----------
    refills
        The records of water added.

    Returns
    -------
    Quantity
        How many [count].

    Notes
    -----
    ::

        refills = number of refills in the log

    """
    return counted(len(refills))


@formula(reads=())
def change_count(changes: Sequence[Watering]) -> Quantity:
    """Water changes.

    Parameters
    ----------
    changes
        The records of a full change.

    Returns
    -------
    Quantity
        How many [count].

    Notes
    -----
    ::

        changes = number of water changes in the log

    """
    return counted(len(changes))


@dataclass(frozen=True, slots=True)
class Fillings:
    """All water of a run, in the order of days."""

    run: Run
    events: tuple[Watering, ...]

    @classmethod
    def of(cls, run: Run) -> Fillings:
        """The water of a run."""
        events = run.rows.of(Watering)
        return cls(run, tuple(sorted(events, key=lambda e: (*day_key(e.day), e.entry, e.source))))

    def home(self, tub: str) -> str:
        """The tub meant: the only one where none is named."""
        tubs = self.run.setup.tubs
        return tubs[0].id if not tub and len(tubs) == 1 else tub

    def into(self, tub: str) -> tuple[Watering, ...]:
        """The water of one tub."""
        return tuple(event for event in self.events if self.home(event.tub) == tub)

    @property
    def elsewhere(self) -> tuple[Watering, ...]:
        """The water of a tub that was not named, where there are several: it may have gone into any."""
        return self.into("")

    def first_filling(self, event: Watering) -> bool:
        """Whether a record fills an empty tub: the first of its water, at sowing or with the transplanting.

        A tub that is first said to be filled later, or that another run stood in before, held water; how much was added
        is then not known.
        """
        return self._first_of_run(event) and empty_before(self.run, self.home(event.tub), event.day)

    def perhaps_first_filling(self, event: Watering) -> bool:
        """Whether a record may fill an empty tub, where nobody knows if another run stood in it before."""
        return self._first_of_run(event) and unknown_before(self.run, self.home(event.tub))

    def _first_of_run(self, event: Watering) -> bool:
        """Whether a record is the first of a tub, at sowing or with the transplanting."""
        moved_in = {e.entry for e in self.run.rows.of(Deed.TRANSPLANT)}
        tub = self.home(event.tub)
        began = event.day.last <= 0 or event.entry in moved_in
        known = any(each.id == tub for each in self.run.setup.tubs)  # not of one that nobody named
        return began and known and event == self.into(tub)[0]

    def amount(self, event: Watering) -> Quantity:
        """How much water a record is about."""
        if event.amount is not None:
            return event.amount
        known = event.filled and (event.deed is Deed.CHANGE or self.first_filling(event))
        reservoir = self._reservoir(self.home(event.tub)) if known else None
        if reservoir is None:
            return unknown(Dimension.VOLUME)
        # About day 0, apart from the sowing, it may have been filled up later, when it held water.
        later = event.deed is Deed.WATER and event.day.about and event.entry not in self._beginnings
        return replace(reservoir, about=reservoir.about or later)

    @property
    def _beginnings(self) -> set[int]:
        """The visits with a sowing or a transplanting."""
        return {each.entry for each in self.run.rows.of(Deed.SOW, Deed.TRANSPLANT)}

    def _reservoir(self, tub: str) -> Quantity | None:
        return next((t.system.reservoir for t in self.run.setup.tubs if t.id == tub), None)

    def with_entry(self, entry: int, tub: str) -> Quantity | None:
        """The water added to a tub at one visit; None where there was none."""
        amounts = [self.amount(event) for event in self.into(tub) if event.entry == entry]
        return water_added(amounts) if amounts else None
