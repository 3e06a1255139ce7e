"""Water taken up by the plants of each tub, as refills show it, and the days between fillings.

In: the fillings of a run, and which plants stood in a tub. Out: `Uptake`. Takes each refill for the water gone since
the one before; never counts a full change, of which nobody knows how much was poured away, nor a stretch in which a
routine added water that was not logged.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from sitegen.core.facts.figure import Figure, Per, Rate, Remark, Several, Value, counted_remark, remark
from sitegen.core.facts.indices import Uptake
from sitegen.core.records.roster import Roster
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Run, Watering
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, propagate, total
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import WATER, coarse, figure, formula
from sitegen.measure.ranges import FEWEST_FOR_A_MEAN
from sitegen.measure.solution.shared import shared_remark
from sitegen.measure.solution.water import FILLED, Fillings, days_between, routine_between, uncounted_water


@dataclass(frozen=True, slots=True)
class RefillPeriod:
    """From a filling or full change to the last refill before the next change."""

    begin: Watering
    refills: tuple[Watering, ...]

    @property
    def days(self) -> Quantity:
        """How long it lasted, from the shortest to the longest."""
        return days_between(self.begin.day, self.refills[-1].day)


@formula(
    reads=(*WATER, "events.day"),
    exact_if={
        **FILLED,
        "it begins the stretch": ("events.amount",),
        "the stretch goes on after it": ("events.day",),
    },
)
def water_taken_up(added: float, days: float) -> float:
    """Water used a day.

    What was added after the first fill, over the days that it replaced. A rate for each plant counts the days
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
    Over stretches from a first fill or water change to the last refill before the next::

        water used = Σ refill / Σ days

    It is right if each refill brought the tub back to where it was. What evaporated is in it. A stretch in which a
    routine added water that was not logged is left out. A day that is not certain makes the rate a range.

    There is no figure of a tub that was shared with another run, since plants of both drank from it.

    """
    return added / days


@formula(reads=("events.day",), exact_if={"visits before and after it are on known days": ("events.day",)})
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

    Days that are not certain make the mean a range: the shortest whole time over the most gaps, to the longest over
    the fewest.

    """
    return sum(gaps) / len(gaps)


def _broken(routines: Iterable[Routine], earlier: Day, later: Day, loose: Iterable[Watering] = ()) -> bool:
    """Whether water may have been added between two days without an entry, or by one that names no tub."""
    poured = any(event.day.last >= earlier.first and event.day.first <= later.last for event in loose)
    return poured or any(routine_between(routine, earlier, later) for routine in routines)


def _refill_periods(fillings: Fillings, tub: str) -> tuple[RefillPeriod, ...]:
    """The stretches of one tub; a full change begins a new one, as does water that was not logged."""
    routines, loose = uncounted_water(fillings.run, tub), fillings.elsewhere
    found: list[RefillPeriod] = []
    begin, refills = None, list[Watering]()
    for event in fillings.into(tub):
        before = refills[-1] if refills else begin
        if (
            begin is None
            or event.deed is Deed.CHANGE
            or (before and _broken(routines, before.day, event.day, loose))
        ):
            found += [RefillPeriod(begin, tuple(refills))] if begin and refills else []
            begin, refills = event, []
        else:
            refills.append(event)
    found += [RefillPeriod(begin, tuple(refills))] if begin and refills else []
    return tuple(period for period in found if period.days.high)


def _plant_days(periods: Iterable[RefillPeriod], run: Run, tub: str) -> Quantity:
    """Days that plants stood in the tub, summed over the plants: the fewest and the most that the log allows."""
    events = run.rows.of(Deed.SOW, Deed.LOST, Deed.MOVE)
    rosters = [
        Roster(run.setup, tuple(event._replace(day=Day.on(end(event.day))) for event in events))
        for end in (_first, _last)
    ]
    standing = [_by_day(roster, tub) for roster in rosters]
    fewest, most, about = 0, 0, any(event.day.about for event in events)
    for period in periods:
        begin, end = period.begin.day, period.refills[-1].day
        about = about or begin.about or end.about
        for day in range(begin.first, end.last):
            found = [stood(day) for stood in standing]
            fewest += min(low for low, _ in found) if begin.last <= day < end.first else 0
            most += max(high for _, high in found)
    return Quantity(fewest, most, Dimension.DAYS, about)


def _first(day: Day) -> int:
    return day.first


def _last(day: Day) -> int:
    return day.last


def _by_day(roster: Roster, tub: str) -> Callable[[int], tuple[int, int]]:
    """The same as `_standing`, by day: it changes with an event alone, and is counted once between two of them."""
    found: dict[int, tuple[int, int]] = {}

    def stood(day: int) -> tuple[int, int]:
        known = sum(event.day.first <= day for event in roster.events)
        if known not in found:
            found[known] = _standing(roster, tub, day)
        return found[known]

    return stood


def _standing(roster: Roster, tub: str, day: int) -> tuple[int, int]:
    """The fewest and the most plants in a tub; a plant lost without a name may have stood in any."""
    plants = roster.standing(day)
    here = sum(roster.tub_of(plant, day) == tub for plant in plants)
    fewest = max(0, here - roster.unnamed_losses(day))
    return fewest, here if here < len(plants) else fewest


def _a_day(added: Quantity, days: Quantity, per: Per) -> Rate:
    typical = days.middle
    return Rate(
        propagate(
            water_taken_up,
            increasing=[added],
            decreasing=[days],
            dimension=Dimension.VOLUME,
            step=coarse(added.step / typical, added.low / typical),
        ),
        per,
    )


def _stretches(
    visits: Iterable[Watering], routines: Collection[Routine], loose: Collection[Watering]
) -> list[list[Watering]]:
    """Visits with water in their order, parted where a routine may have added more between two."""
    found: list[list[Watering]] = []
    for visit in visits:
        if found and not _broken(routines, found[-1][-1].day, visit.day, loose):
            found[-1].append(visit)
        else:
            found.append([visit])
    return found


def _apart(visits: Sequence[Watering]) -> list[tuple[Watering, Watering]]:
    """Each visit with the one before, where the two may have been on different days."""
    found, before = [], visits[0]
    for visit in visits[1:]:
        if visit.day.last > before.day.first:
            found.append((before, visit))
            before = visit
    return found


def _interval(path: str, fillings: Fillings, tub: str) -> Figure:
    """Days between visits with water, where no routine added more between them."""
    visits = {event.entry: event for event in fillings.into(tub)}.values()
    routines = uncounted_water(fillings.run, tub)
    stretches = [
        pairs for stretch in _stretches(visits, routines, fillings.elsewhere) if (pairs := _apart(stretch))
    ]
    each = tuple(days_between(a.day, b.day) for pairs in stretches for a, b in pairs)
    name, by_routine = f"{path}.interval", remark("water_by_routine") if routines else None
    by_routine = by_routine or counted_remark("fillings_without_tub", len(fillings.elsewhere))
    if not each:
        return figure(name, None, mean_interval, (), by_routine or remark("no_second_filling"))
    value: Value = Several(each) if len(each) > 1 else each[0]
    if len(each) >= FEWEST_FOR_A_MEAN:
        wholes = [days_between(pairs[0][0].day, pairs[-1][1].day) for pairs in stretches]
        fewest = sum(gap.low > 0 for gap in each)
        whole = total(wholes, Dimension.DAYS)
        low, high = whole.low / len(each), (whole.high or 0) / max(1, fewest)
        value = replace(whole, low=low, high=high, step=0.1)
    rows = [event.source for event in visits]
    between = remark("between_fillings", n=len(each) + len(stretches))
    return figure(name, value, mean_interval, rows, between, by_routine)


def uptake_of(fillings: Fillings, tub: str, path: str) -> Uptake:
    """The water that the plants of one tub took up; not of a tub that plants of another run drank from too."""
    shared = shared_remark(fillings.run, tub)
    if shared is not None:
        return Uptake(
            per_day=figure(f"{path}.per_day", None, water_taken_up, (), shared),
            per_plant_day=figure(f"{path}.per_plant_day", None, water_taken_up, (), shared),
            interval=figure(f"{path}.interval", None, mean_interval, (), shared),
        )
    run, periods = fillings.run, _refill_periods(fillings, tub)
    refills = [event for period in periods for event in period.refills]
    added = total((fillings.amount(event) for event in refills), Dimension.VOLUME)
    by_routine = remark("water_by_routine") if uncounted_water(run, tub) else None
    by_routine = by_routine or counted_remark("fillings_without_tub", len(fillings.elsewhere))
    unmeasured = counted_remark("refills_not_measured", added.unweighed)
    days = total((period.days for period in periods), Dimension.DAYS)
    rows = [event.source for period in periods for event in (period.begin, *period.refills)]

    def rate(name: str, over: Quantity, per: Per, without: Remark) -> Figure:
        """Water over days or plant-days; None where nothing of it is known."""
        if not periods:
            return figure(f"{path}.{name}", None, water_taken_up, (), by_routine or remark("no_refill"))
        if not over.high:
            return figure(f"{path}.{name}", None, water_taken_up, rows, without)
        if added.low == 0 and added.high is None:
            return figure(f"{path}.{name}", None, water_taken_up, rows, unmeasured)
        value, said = _a_day(added, over, per), remark("over_days", days=days)
        return figure(f"{path}.{name}", value, water_taken_up, rows, said, unmeasured, by_routine)

    no_plant = remark("no_plant_in_tub")
    return Uptake(
        per_day=rate("per_day", days, Per.DAY, no_plant),
        per_plant_day=rate("per_plant_day", _plant_days(periods, run, tub), Per.PLANT_AND_DAY, no_plant),
        interval=_interval(path, fillings, tub),
    )
