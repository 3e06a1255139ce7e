"""Water poured into each tub, and taken up by its plants, as refills show it.

In: `water` records, and which plants stood in a tub. Out: `Fillings`, asked for amounts; `Uptake`; the water
formulas. Never takes an unmeasured top-up for a full reservoir, except the first filling. Takes each refill for the
water gone since the one before; never counts a full change, of which nobody knows how much was poured away.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from sitegen.core.facts.figure import Figure, Per, Rate, Several, Value, counted_remark, remark
from sitegen.core.facts.indices import Uptake
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Deed, Routine, Run, Watering
from sitegen.core.values.quantity import Quantity, counted, exactly, propagate, total, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import coarse, day_key, figure, formula
from sitegen.measure.stages.milestones import FEWEST_FOR_A_MEAN


@dataclass(frozen=True, slots=True)
class RefillPeriod:
    """From a filling or full change to the last refill before the next change."""

    begin: Watering
    refills: tuple[Watering, ...]

    @property
    def days(self) -> float:
        """How long it lasted."""
        return self.refills[-1].day.middle - self.begin.day.middle

    @property
    def about(self) -> bool:
        """Whether a day at its ends is not one certain day."""
        ends = (self.begin.day, self.refills[-1].day)
        return any(day.about or not day.single for day in ends)


@formula
def water_taken_up(added: float, days: float) -> float:
    """Water taken up a day.

    What was added after the first filling, over the days that it replaced. A rate for each plant counts the days
    that plants stood in the tub instead.

    Parameters
    ----------
    added
        Refills [ml].
    days
        Days, or days times plants standing, more than 0 [days, or plant-days].

    Returns
    -------
    float
        Water [ml a day, or ml a plant and day].

    Notes
    -----
    Over stretches from a filling or full change to the last refill before the next::

        uptake = Σ refill / Σ days

    It holds if each refill brought the tub back to where it was. What evaporated is in it.

    """
    return added / days


@formula
def mean_interval(gaps: Sequence[float]) -> float:
    """Mean of several lengths of time.

    Parameters
    ----------
    gaps
        Lengths of time, at least one [days].

    Returns
    -------
    float
        Their mean [days]; fewer than three are shown one by one instead.

    Notes
    -----
    ::

        mean = Σ gap / number of gaps

    """
    return sum(gaps) / len(gaps)


def _refill_periods(fillings: Fillings, tub: str) -> tuple[RefillPeriod, ...]:
    found: list[RefillPeriod] = []
    begin, refills = None, list[Watering]()
    for event in fillings.into(tub):
        if begin is None or event.deed is Deed.CHANGE:
            found += [RefillPeriod(begin, tuple(refills))] if begin and refills else []
            begin, refills = event, []
        else:
            refills.append(event)
    found += [RefillPeriod(begin, tuple(refills))] if begin and refills else []
    return tuple(period for period in found if period.days > 0)


def _plant_days(periods: Iterable[RefillPeriod], roster: Roster, tub: str) -> int:
    """Days that plants stood in the tub, summed over the plants."""
    return sum(
        max(0, len(_standing(roster, tub, day)) - roster.unnamed_losses(day))
        for period in periods
        for day in range(period.begin.day.first, period.refills[-1].day.first)
    )


def _standing(roster: Roster, tub: str, day: int) -> list[str]:
    return [plant for plant in roster.standing(day) if roster.tub_of(plant, day) == tub]


def _a_day(added: Quantity, days: float, per: Per, *, about: bool) -> Rate:
    amount = propagate(
        lambda ml: water_taken_up(ml, days),
        increasing=[added],
        dimension=Dimension.VOLUME,
        step=coarse(added.step / days, added.low / days),
    )
    return Rate(replace(amount, about=amount.about or about), per)


def _interval(path: str, fillings: Fillings, tub: str) -> Figure:
    """Days between visits with water."""
    visits = {event.entry: event for event in fillings.into(tub)}.values()
    days = sorted(event.day.middle for event in visits)
    gaps = [later - earlier for earlier, later in pairwise(days) if later > earlier]
    rows = [event.source for event in visits]
    name = f"{path}.interval"
    if not gaps:
        return figure(name, None, mean_interval, (), remark("no_second_filling"))
    each = tuple(exactly(gap, Dimension.DAYS, 1) for gap in gaps)
    value: Value = Several(each) if len(gaps) > 1 else each[0]
    if len(gaps) >= FEWEST_FOR_A_MEAN:
        value = exactly(mean_interval(gaps), Dimension.DAYS, 0.1)
    return figure(name, value, mean_interval, rows, remark("between_fillings", n=len(gaps) + 1))


def uptake_of(fillings: Fillings, tub: str, path: str) -> Uptake:
    """The water that the plants of one tub took up."""
    periods, roster = _refill_periods(fillings, tub), Roster.of(fillings.run.setup, fillings.run.rows)
    interval = _interval(path, fillings, tub)
    uncounted = bool(uncounted_water(fillings.run, tub))
    if uncounted:  # refills between the logged ones are not known, so neither is the interval
        interval = figure(interval.name, None, mean_interval, (), remark("water_by_routine"))
    if uncounted or not periods:
        why = remark("water_by_routine" if uncounted else "no_refill")
        return Uptake(
            per_day=figure(f"{path}.per_day", None, water_taken_up, (), why),
            per_plant_day=figure(f"{path}.per_plant_day", None, water_taken_up, (), why),
            interval=interval,
        )
    refills = [event for period in periods for event in period.refills]
    added = total((fillings.amount(event) for event in refills), Dimension.VOLUME)
    days, plant_days = sum(period.days for period in periods), _plant_days(periods, roster, tub)
    rows = [event.source for period in periods for event in (period.begin, *period.refills)]
    about = any(period.about for period in periods)
    over = (remark("over_days", days=days), counted_remark("refills_not_measured", added.unweighed))
    per_plant = _a_day(added, plant_days, Per.PLANT_AND_DAY, about=about) if plant_days else None
    return Uptake(
        per_day=figure(
            f"{path}.per_day", _a_day(added, days, Per.DAY, about=about), water_taken_up, rows, *over
        ),
        per_plant_day=figure(
            f"{path}.per_plant_day",
            per_plant,
            water_taken_up,
            rows,
            *(over if per_plant else (remark("no_plant_in_tub"),)),
        ),
        interval=interval,
    )


_TOPPING_UP = ("refill", "top-up", "top up", "topping", "fill")


def uncounted_feed(run: Run, tub: str, product: str) -> tuple[Routine, ...]:
    """The routines that gave a product to a tub without being counted."""
    return tuple(r for r in _uncounted(run, tub) if r.what == "feed" and r.product == product)


def uncounted_water(run: Run, tub: str) -> tuple[Routine, ...]:
    """The routines that added water to a tub without being counted: of water, or of feed with each top-up."""
    return tuple(r for r in _uncounted(run, tub) if r.what == "water" or (r.what == "feed" and _tops_up(r)))


def opened(value: Quantity) -> Quantity:
    """A total as a lower bound."""
    return replace(value, high=None, open=value.open + 1)


def _uncounted(run: Run, tub: str) -> Iterator[Routine]:
    """Of one tub; of all where `tub` is empty. A routine that names no tub holds for each."""
    for routine in run.rows.routines:
        if not routine.counts_refills and (not tub or routine.tub in ("", tub)):
            yield routine


def _tops_up(routine: Routine) -> bool:
    often = routine.often.lower()
    return any(word in often for word in _TOPPING_UP)


@formula
def water_added(amounts: Iterable[Quantity]) -> Quantity:
    """Water added.

    All water poured in: the first filling, refills, and the whole reservoir at a full change. Filling up
    at sowing or transplanting counts as the reservoir's volume; filling up later is an unmeasured amount.

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

    Where a routine tops the tub up and the log does not say how often, the sum is a lower bound.

    """
    return total(amounts, Dimension.VOLUME)


@formula
def refill_count(refills: Sequence[Watering]) -> Quantity:
    """Refills logged.

    Every time water was added to what was left in the tub: not the first filling, not a full change.

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


@formula
def change_count(changes: Sequence[Watering]) -> Quantity:
    """Full changes of the solution.

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

        changes = number of full changes in the log

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

    def first_filling(self, event: Watering) -> bool:
        """Whether a record fills an empty tub: the first of its water, at sowing or with the transplanting.

        A tub that is first said to be filled later held water before; how much was added is then not known.
        """
        moved_in = {e.entry for e in self.run.rows.of(Deed.TRANSPLANT)}
        began = event.day.first <= 0 or event.entry in moved_in
        return event.filled and began and event == self.into(self.home(event.tub))[0]

    def amount(self, event: Watering) -> Quantity:
        """How much water a record is about."""
        if event.amount is not None:
            return event.amount
        known = event.filled and (event.deed is Deed.CHANGE or self.first_filling(event))
        reservoir = self._reservoir(self.home(event.tub)) if known else None
        return reservoir or unknown(Dimension.VOLUME)

    def _reservoir(self, tub: str) -> Quantity | None:
        return next((t.system.reservoir for t in self.run.setup.tubs if t.id == tub), None)

    def with_entry(self, entry: int, tub: str) -> Quantity | None:
        """The water added to a tub at one visit; None where there was none."""
        amounts = [self.amount(event) for event in self.into(tub) if event.entry == entry]
        return water_added(amounts) if amounts else None
