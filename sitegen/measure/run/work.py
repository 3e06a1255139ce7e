"""What became of each plant, and how often someone was there and for what.

In: a run, its harvest and milestones, entries and events. Out: `PlantFacts`, one row a plant, only of what was kept
by plant; `Work`, which counts visits, not minutes: nobody logged those.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import product

from sitegen.core.facts.figure import Figure, Label, Named, counted_remark, remark
from sitegen.core.facts.tree import Fate, Harvest, MilestoneFacts, Move, PlantFacts, Timeline, Work
from sitegen.core.format.entry import key_of
from sitegen.core.records.roster import Roster
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Run
from sitegen.core.records.setup import Plant
from sitegen.core.site.addresses import slug
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted
from sitegen.measure.harvest.picks import flush_bounds
from sitegen.measure.harvest.totals import total_weight
from sitegen.measure.methods import day_key, figure, formula
from sitegen.measure.solution.feed import doses_of
from sitegen.measure.solution.water import (
    Fillings,
    feed_remarks,
    opened,
    routine_between,
    uncounted_feed,
    uncounted_water,
    without_doses,
)


def _fate(run: Run, roster: Roster, plant: str) -> Fate:
    lost, ended = roster.lost_on(plant), run.ended
    if lost is not None:
        return Fate("lost", lost.day, lost.what, lost.source)
    meant = ended is not None and (ended.which is None or not ended.which.ids or plant in ended.which.ids)
    if ended is not None and meant and ended.kept is False:
        return Fate("cleared", ended.day, ended.what, ended.source)
    unnamed = counted_remark("lost_plants_not_named", roster.unnamed_losses(run.last_day))
    return Fate("standing", None, remarks=(unnamed,) if unnamed else ())


def _moved(roster: Roster, plant: str) -> Move | None:
    event = roster.moved_on(plant)
    return Move(event.tub, event.day) if event else None


def _harvest(plant: str, harvest: Harvest) -> Figure:
    name = f"plants.{plant}.harvest"
    for named in harvest.by_plant:
        if named.key == plant:
            return replace(named.figure, name=name)
    return figure(name, None, total_weight, (), *harvest.total.remarks)


def _plant(
    run: Run, roster: Roster, plant: Plant, harvest: Harvest, milestones: Sequence[MilestoneFacts]
) -> PlantFacts:
    sown = roster.sown_on(plant.id)
    return PlantFacts(
        plant=plant.id,
        variety=plant.variety,
        tub=plant.tub,
        groups=plant.groups,
        sown=sown.day if sown else None,
        fate=_fate(run, roster, plant.id),
        moved=_moved(roster, plant.id),
        harvest=_harvest(plant.id, harvest),
        milestones=tuple((m.name, a) for m in milestones for a in m.arrivals if a.plant == plant.id),
    )


def plants_of(run: Run, harvest: Harvest, milestones: Sequence[MilestoneFacts]) -> tuple[PlantFacts, ...]:
    """The plants in the order declared."""
    roster = Roster.of(run.setup, run.rows)
    return tuple(_plant(run, roster, plant, harvest, milestones) for plant in run.setup.plants)


AFTERWARDS = "afterwards"  # of visits that lie in no phase
HANDS_ON = tuple(deed for deed in Deed if key_of(deed).work)


@formula(
    reads=("entries.day", "routines.often"), exact_if={"visits of all phases are counted": ("entries.day",)}
)
def visit_count(visits: Iterable[int]) -> Quantity:
    """Visits in the log.

    Visits in the log, or those with work of one kind; a visit counts once, whatever was done at it. A visit
    to feed is one that logs feed, or a refill at which a routine gave it; a routine whose doses were not
    counted makes their number "at least".

    A routine that topped up without a visit in the log each time makes the number of visits to add water "at least".

    Parameters
    ----------
    visits
        The numbers of the entries; the same one may come twice.

    Returns
    -------
    Quantity
        How many [count].

    Notes
    -----
    ::

        visits = number of visits in the log

    """
    return counted(len(set(visits)))


def _figure(run: Run, name: str, visits: Iterable[int]) -> Figure:
    wanted = set(visits)
    rows = (entry.source for entry in run.rows.entries if entry.index in wanted)
    return figure(f"work.{name}", visit_count(wanted), visit_count, rows)


def _feedings(run: Run) -> Figure:
    """Visits with feed, those included at which a routine gave it."""
    products = {product.id: product for product in run.setup.products}
    doses = doses_of(run, Fillings.of(run), products, Deed.FEED)
    logged, certain = {dose.entry for dose in doses}, {dose.entry for dose in doses if dose.certain}
    routines = uncounted_feed(run)
    if not logged and (why := without_doses(run)):
        return figure("work.feedings", None, visit_count, (), *why)
    number = replace(visit_count(logged), low=visit_count(certain).low)
    rows = [entry.source for entry in run.rows.entries if entry.index in logged]
    rows += [routine.source for routine in routines]
    return figure(
        "work.feedings", opened(number) if routines else number, visit_count, rows, *feed_remarks(routines)
    )


def _watered_by(run: Run) -> list[Routine]:
    """The routines of water that may have been followed by the last record."""
    last = Day.on(run.last_day)
    return [routine for routine in uncounted_water(run, "") if routine_between(routine, Day.on(0), last)]


def _waterings(run: Run, visits: Iterable[int]) -> Figure:
    """Visits with water; at least those that were logged, where a routine added more."""
    found, routines = _figure(run, "waterings", visits), _watered_by(run)
    if not routines:
        return found
    if not found.rows:
        return replace(found, value=None, remarks=(remark("water_by_routine"),))
    rows = (*found.rows, *(routine.source for routine in routines))
    number = opened(visit_count(visits))
    return figure("work.waterings", number, visit_count, rows, remark("water_by_routine"))


def _waterings_by_phase(run: Run, timeline: Timeline, visits: Iterable[int]) -> tuple[Named, ...]:
    """The same by phase: one in which a routine may have been followed is open, and has no number without a visit."""
    logged = {row.key: row for row in _by_phase(run, timeline, "waterings", visits)}
    routines = _watered_by(run)
    if not logged or not routines:
        return tuple(logged.values())
    spans = [(phase.name, (phase.begins, phase.ends)) for phase in timeline.phases]
    ended = [phase.ends for phase in timeline.phases[-1:]]
    outside = [
        (AFTERWARDS, (day, Day.on(run.last_day)))
        for day in ended
        if day.first < run.last_day or AFTERWARDS in logged
    ]
    found = []
    for phase, span in (*spans, *outside):
        row, followed = logged.get(slug(phase)), [r for r in routines if routine_between(r, *span)]
        if followed:
            found.append(_opened_row(phase, row, followed))
        elif row is not None:
            found.append(row)
    return tuple(found)


def _opened_row(phase: str, row: Named | None, routines: Sequence[Routine]) -> Named:
    """The visits with water of a phase in which routines added more."""
    name, by_routine = f"work.waterings_by_phase.{slug(phase)}", remark("water_by_routine")
    sources = [routine.source for routine in routines]
    if row is None:
        label, none = Label(phase, "phase"), figure(name, None, visit_count, sources, by_routine)
        return Named(slug(phase), label, none)
    number = row.figure.value
    value = opened(number) if isinstance(number, Quantity) else None
    return replace(
        row,
        figure=figure(
            name, value, visit_count, (*row.figure.rows, *sources), *row.figure.remarks, by_routine
        ),
    )


def _by_phase(run: Run, timeline: Timeline, name: str, visits: Iterable[int]) -> tuple[Named, ...]:
    """Visits in each phase that had any, or may have had, and those outside of all."""
    wanted = set(visits)
    of_visits = [visit for visit in timeline.visits if visit.entry.index in wanted]
    spans = [(phase.name, (phase.begins, phase.ends)) for phase in timeline.phases]
    outside = [("", (timeline.phases[-1].ends,))] if timeline.phases else []
    picks = sorted(run.rows.picks, key=lambda pick: (*day_key(pick.day), pick.entry, pick.source))
    certain_flushes = all(len(flushes) == 1 for flushes in flush_bounds(run, picks))
    unsure = () if certain_flushes else ("picking", "later flush", "")
    found = []
    for phase, ends in (*spans, *outside):
        own = {visit.entry.index for visit in of_visits if phase in visit.phases}
        if own:
            key, certain = slug(phase or AFTERWARDS), [v for v in of_visits if v.phases == (phase,)]
            listed = _figure(run, f"{name}_by_phase.{key}", own)
            number = replace(visit_count(own), low=float(len(certain)))
            differs = phase in unsure or _may_differ(ends, [visit.entry.day for visit in of_visits])
            number = replace(number, about=differs)
            found.append(Named(key, Label(phase or AFTERWARDS, "phase"), replace(listed, value=number)))
    return tuple(found)


def _may_differ(ends: Iterable[Day], days: Iterable[Day]) -> bool:
    """Whether a visit is so near an end of a phase that "about" decides on which side it was.

    The visit with which a phase began moves with it, and nothing was before day 0.
    """
    return any(
        (end.about or day.about)
        and day != end
        and day.reach[0] <= end.reach[1]
        and end.reach[0] <= day.reach[1]
        for end, day in product((end for end in ends if end != Day.on(0)), days)
    )


def _tasks(run: Run) -> tuple[Named, ...]:
    """Visits with each kind of work by hand that the log has."""
    done = {str(deed): [event.entry for event in run.rows.of(deed)] for deed in HANDS_ON}
    done["harvest"] = [pick.entry for pick in run.rows.picks]
    return tuple(
        Named(task, Label(task, "work"), _figure(run, f"tasks.{task}", visits))
        for task, visits in done.items()
        if visits
    )


def work_of(run: Run, timeline: Timeline) -> Work:
    """Visits, how many of them were for what, and when."""
    rows = run.rows
    visits = [entry.index for entry in rows.entries]
    waterings = [event.entry for event in rows.of(Deed.WATER, Deed.CHANGE)]
    hands_on = [*(e.entry for e in rows.of(*HANDS_ON)), *(pick.entry for pick in rows.picks)]
    return Work(
        visits=_figure(run, "visits", visits),
        waterings=_waterings(run, waterings),
        feedings=_feedings(run),
        hands_on=_figure(run, "hands_on", hands_on),
        tasks=_tasks(run),
        visits_by_phase=_by_phase(run, timeline, "visits", visits),
        waterings_by_phase=_waterings_by_phase(run, timeline, waterings),
        hands_on_by_phase=_by_phase(run, timeline, "hands_on", hands_on),
    )
