"""Looks at a stage: what each said of each plant, one by one where plants were told apart, else as counts.

In: the milestone rows of one stage. Out: `Arrival`s, `CountStep`s, and one `Interval` a plant: the days on which it can
have reached the stage. A list or a count of a stage is a look at all plants that stand: those that are not in it had
not reached the stage. Without a look that said so nothing but the sowing bounds an arrival. Never dates a plant to its
last look, and never says which plant where the log does not.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from sitegen.core.facts.tree import Arrival, CountStep
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import MilestoneRow, Pick, Run, Which
from sitegen.core.reference.milestones import pick_ends
from sitegen.core.values.day import Day
from sitegen.measure.stages.turnbull import Interval


def in_order(rows: Sequence[MilestoneRow]) -> tuple[MilestoneRow, ...]:
    """Rows by day, then as entered."""
    return tuple(sorted(rows, key=lambda row: (*by_day(row.day), row.entry, row.source)))


def by_day(day: Day) -> tuple[int, int]:
    """The sort key of observations: "before 34" comes after day 27, for it was seen by day 33."""
    return day.last, day.first


def is_not_yet(row: MilestoneRow) -> bool:
    """Whether a row says that nobody it is about had reached the stage."""
    return not row.reached or row.which.nobody


def told_apart(rows: Sequence[MilestoneRow]) -> bool:
    """Whether every arrival is one of a named plant: no count runs ahead of the names."""
    named: set[str] = set()
    for row in in_order(rows):
        if is_not_yet(row):
            continue
        named |= set(row.which.ids)
        ahead = 1 if row.which.count is None else row.which.count
        if not row.which.named and ahead > len(named):
            return False
    return True


def names(which: Which | None, plant: str) -> bool:
    """Whether a record is about a plant by name (a group and `all` name each of theirs)."""
    return which is not None and plant in which.ids


def sowing_day(run: Run, plant: str) -> int:
    """The day that a plant's own days run from: its last sowing, else day 0."""
    sown = Roster.of(run.setup, run.rows).sown_on(plant)
    return 0 if sown is None else sown.day.first


def _looked_at(roster: Roster, row: MilestoneRow, rows: Sequence[MilestoneRow]) -> frozenset[str]:
    """The plants whose state a row tells.

    A list tells it of all that stand, but for a visit that also names those without the stage: there the others were
    not looked at.
    """
    standing = roster.standing(row.day.last)
    if row.which.named:
        only_these = not row.reached or _names_those_without(row, rows)
        return frozenset(row.which.ids) | (frozenset() if only_these else {*standing})
    if is_not_yet(row):
        return frozenset(standing if row.which.nobody else ())
    counted = row.which.count is not None
    whole = row.which.of is None or row.which.of >= roster.count(row.day.last)
    return frozenset(standing) if counted and whole else frozenset()


def _names_those_without(row: MilestoneRow, rows: Sequence[MilestoneRow]) -> bool:
    """Whether the visit of a row names plants without the stage: then it was no look at all of them."""
    return any(r.entry == row.entry and is_not_yet(r) and r.which.named for r in rows)


_ALWAYS: Mapping[str, Day] = {}


def arrivals_of(
    run: Run, rows: Sequence[MilestoneRow], until: Mapping[str, Day] = _ALWAYS
) -> tuple[Arrival, ...]:
    """One arrival for each plant of the experiment; of a plant with a day in `until`, by what was seen before it."""
    roster = Roster.of(run.setup, run.rows)
    looks = [(row, _looked_at(roster, row, rows)) for row in in_order(rows)]
    found = []
    for plant in run.setup.plant_ids:
        mine = [row for row, plants in looks if plant in plants and _before(row.day, until.get(plant))]
        ending = [pick for pick in ending_picks(run, rows) if plant in pick.which.ids]
        lost = roster.lost_on(plant)
        gone = lost.day if lost and _before(lost.day, until.get(plant)) else None
        found.append(_arrival(plant, sowing_day(run, plant), mine, ending, gone))
    return tuple(found)


def _before(day: Day, other: Day | None) -> bool:
    """Whether a day certainly lies before another one, where there is one."""
    return other is None or day.last < other.first


def ending_picks(run: Run, rows: Sequence[MilestoneRow]) -> list[Pick]:
    """The picks after which a plant reaches the stage of some rows no more, in order."""
    kind, names = run.setup.crop.kind, {row.name for row in rows}
    picks = [pick for pick in run.rows.picks if any(pick_ends(kind, name, pick.part) for name in names)]
    return sorted(picks, key=lambda pick: by_day(pick.day))


def _arrival(
    plant: str, own: int, mine: Sequence[MilestoneRow], ending: Sequence[Pick], lost: Day | None
) -> Arrival:
    """The arrival of a plant by the looks at it; `ending` are the picks after which no look says anything."""
    looks = [row for row in mine if row.day.last >= own]
    seen = next((row for row in looks if _is_seen(row, plant)), None)
    if seen is not None:
        before = [row for row in looks if not _is_seen(row, plant) and _precedes(row, seen)]
        return Arrival(plant, seen.day, _latest(before, own), _last(looks), seen.source)
    pick = next((pick for pick in ending if pick.day.first >= own), None)
    known = looks if pick is None else [row for row in looks if _not_after(row, pick)]
    picked = pick.day if pick is not None and len(known) < len(looks) else None
    lost = None if picked else lost
    return Arrival(plant, None, _latest(known, own), _last(known), lost=lost, picked=picked)


def _precedes(row: MilestoneRow, other: MilestoneRow) -> bool:
    """Whether a look came before another: by its days, where they do not meet, else by its place in the log too."""
    certain = row.day.last < other.day.first or row.entry < other.entry
    return certain and by_day(row.day) < by_day(other.day)


def _not_after(row: MilestoneRow, pick: Pick) -> bool:
    """Whether a look was certainly not after a pick."""
    return row.entry == pick.entry or row.day.last <= pick.day.first


def _latest(without: Sequence[MilestoneRow], own: int) -> Day | None:
    """Of the looks without the stage the one that cannot have been earlier: the best bound."""
    return max((row.day for row in without if row.day.first >= own), default=None)


def _last(looks: Sequence[MilestoneRow]) -> Day | None:
    return max((row.day for row in looks), key=by_day, default=None)


def _is_seen(row: MilestoneRow, plant: str) -> bool:
    return not is_not_yet(row) and names(row.which, plant)


def steps_of(run: Run, rows: Sequence[MilestoneRow]) -> tuple[CountStep, ...]:
    """The cumulative count at each look; named plants count as many as they are.

    A list of fewer plants than were counted before does not say whether they are among those, and none says whether a
    plant that was lost had been there.
    """
    roster = Roster.of(run.setup, run.rows)
    named: set[str] = set()
    count, steps = 0, []
    for row in in_order(rows):
        standing = roster.count(row.day.last)
        if row.which.named and is_not_yet(row) and len(row.which.ids) < len(run.setup.plants):
            continue  # a look at some of the plants says nothing of the number that had arrived: a lost one may have
        some = row.which.count is None and not row.which.named
        if not is_not_yet(row):
            named |= set(row.which.ids)
            stated = len(named) if row.which.named else (1 if row.which.count is None else row.which.count)
            some = some or (row.which.named and not _lists_all(roster, row, rows, named, count))
            count = max(count, stated)
        # The count has plants that arrived and were lost since: so has the number that it is out of.
        known = len({*roster.standing(row.day.last), *named}) if row.which.named else 0
        of = None if some else (row.which.of or max(standing, count, known))
        steps.append(CountStep(row.day, count, of, row.source))
    return tuple(steps)


def _lists_all(
    roster: Roster, row: MilestoneRow, rows: Sequence[MilestoneRow], named: set[str], count: int
) -> bool:
    """Whether the plants named by now are all that ever reached a stage."""
    last = row.day.last
    lost = set(roster.setup.plant_ids) - {*roster.standing(last)} - named
    unknown = lost or roster.unnamed_losses(last) or _names_those_without(row, rows)
    return not unknown and len(named) >= count


def interval_of(arrival: Arrival, own: int) -> Interval | None:
    """The days since its sowing on which a plant can have reached a stage; None where nobody looked for it."""
    if arrival.day is not None:
        first = arrival.after.first + 1 if arrival.after else own
        return Interval(max(0, first - own), max(0, arrival.day.last - own))
    return Interval(max(0, arrival.after.first - own) + 1, None) if arrival.after else None


def intervals_of_arrivals(run: Run, arrivals: Iterable[Arrival]) -> tuple[Interval, ...]:
    """One interval for each plant that was looked at."""
    found = (interval_of(arrival, sowing_day(run, arrival.plant)) for arrival in arrivals)
    return tuple(interval for interval in found if interval is not None)


def intervals_of_the_run(run: Run, arrivals: Iterable[Arrival]) -> tuple[Interval, ...]:
    """The same in days of the run, also of plants that were sown later."""
    found = [(sowing_day(run, a.plant), interval_of(a, sowing_day(run, a.plant))) for a in arrivals]
    return tuple(
        Interval(own + i.first, None if i.last is None else own + i.last) for own, i in found if i is not None
    )


def intervals_of_steps(steps: Sequence[CountStep]) -> tuple[Interval, ...]:
    """One interval for each of the plants counted, none of them named.

    Those that never arrived wait until the last look that counted; where fewer plants were left to count, those gone
    wait until the look before.
    """
    counted = [step for step in steps if step.of is not None]
    whole = max((step.of for step in counted if step.of is not None), default=0)
    never = whole - max(
        (step.count for step in steps), default=0
    )  # no more than these can be gone without it
    found: list[Interval] = []
    so_far, left, gone_so_far = 0, whole, 0
    looked: int | None = None  # the latest day that a look with a count cannot have been before
    for step in steps:
        first = 0 if looked is None else looked + 1
        found += [Interval(min(first, step.day.last), step.day.last)] * (step.count - so_far)
        so_far = max(so_far, step.count)
        if step.of is None:
            continue
        gone = max(0, min(left - step.of, never - gone_so_far))
        found += [Interval(first, None)] * gone
        left, gone_so_far = min(left, step.of), gone_so_far + gone
        looked = step.day.first if looked is None else max(looked, step.day.first)
    waiting = max(0, whole - len(found))
    return (*found, *[Interval(0 if looked is None else looked + 1, None)] * waiting)
