"""Water that a tub's plants took up, as refills show it.

In: the water of one tub, and which plants stood in it. Out: `Uptake`. Takes each refill for the water gone since the
one before; never counts a full change, of which nobody knows how much was poured away.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from sitegen.core.facts.figure import Figure, Per, Rate, Several, Value
from sitegen.core.facts.indices import Uptake
from sitegen.core.facts.remark import counted_remark, remark
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Deed, Routine, Run, Watering
from sitegen.core.values.quantity import Quantity, exactly, propagate, total
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import formula
from sitegen.measure.solution.water import Fillings
from sitegen.measure.stages.between import FEWEST_FOR_A_MEAN
from sitegen.measure.working import coarse, figure


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
