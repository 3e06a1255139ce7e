"""Plants as events and counts have them: lost or not yet sown, more than there are spots, more than stand.

In: the context of a run. Out: findings about single plants, tubs and routines; about `2 of 6`, milestone counts and
running tallies. A group or `all` does not say that each of its plants still stands; only plants named one by one are
checked.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.format.entry import LOG_KEYS, key_of
from sitegen.core.language.text import closest, plural
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Run, Sowing, Tally, Which
from sitegen.core.records.setup import System
from sitegen.core.reference.milestones import milestones_of
from sitegen.core.values.day import Day
from sitegen.judge.context import Context, amount, explicit, on_day
from sitegen.judge.order import ANY_TIME, fewer_by


class _Act(NamedTuple):
    """An event of one plant; `from_start` if it stays true after the plant was lost, and may be repeated then."""

    plant: str
    verb: str
    day: Day
    source: Source
    from_start: bool = False


def _acts(run: Run) -> Iterator[_Act]:
    for event in run.rows.events:
        if verb := key_of(event.deed).verb:
            for plant in explicit(event.which):
                yield _Act(plant, verb, event.day, event.source, event.deed is Deed.SPROUTED)
    for pick in run.rows.picks:
        for plant in explicit(pick.which):
            yield _Act(plant, LOG_KEYS["harvest"].verb, pick.day, pick.source)
    for reading in run.rows.readings:
        column = reading.plants if reading.entry is None and len(reading.plants) == 1 else ()
        for plant in explicit(reading.which) or column:
            yield _Act(plant, "be measured", reading.day, reading.source)
    for row in run.rows.milestones:
        for plant in explicit(row.which) if row.reached else ():
            yield _Act(plant, f"reach `{row.name}`", row.day, row.source, True)


def lost_plant(context: Context) -> Iterator[Finding]:
    """No event follows the loss of a plant, unless its spot was sown again."""
    if not context.run.rows.of(Deed.LOST):
        return
    said: set[tuple[str, str]] = set()
    for act in _acts(context.run):
        loss = context.roster.lost_on(act.plant, by=act.day.last)
        if loss is None or act.day.first <= loss.day.last or _sown_again(context, loss, act):
            said.add((act.plant, act.verb))
            continue
        if act.from_start and (act.plant, act.verb) in said:
            continue
        again = " again" if act.verb == "be lost" else ""
        plant, when = f"`{act.plant}`", on_day(act.day)
        message = f"{plant} was lost {on_day(loss.day)}; it cannot {act.verb}{again} {when}"
        mend = f"check which plant it was, or the day that {plant} was lost"
        expected = f"a plant that still stands {when}"
        yield Finding("lost-plant", act.source, message, mend, f"{plant} {when}", expected)


def _sown_again(context: Context, loss: Event, act: _Act) -> bool:
    return any(
        loss.day.first <= s.day.last and s.day.first <= act.day.last for s in context.sowings(act.plant)
    )


def never_sown(context: Context) -> Iterator[Finding]:
    """No event of a plant precedes its sowing, in a log that records a sowing."""
    if not context.run.rows.of(Deed.SOW):
        return
    brought = {p for e in context.run.rows.of(Deed.TRANSPLANT) for p in context.about(e.which)}
    sown_on: dict[str, int] = {}
    for sowing in context.run.rows.of(Sowing):
        for plant in context.about(sowing.which):
            sown_on[plant] = min(sowing.day.first, sown_on.get(plant, sowing.day.first))
    for act in _acts(context.run):
        sown = sown_on.get(act.plant)
        if (sown is None and act.plant in brought) or (sown is not None and sown <= act.day.last):
            continue
        plant, when = f"`{act.plant}`", on_day(act.day)
        history, mend = "was never sown", f"write `sow` for {plant}"
        if sown is not None:
            history, mend = (
                f"was sown {on_day(Day.on(sown))}",
                "check which plant it was, or its day of sowing",
            )
        message = f"{plant} {history}; it cannot {act.verb} {when}"
        yield Finding("never-sown", act.source, message, mend, f"{plant} {when}", "a plant that was sown")


def spots_exceeded(context: Context) -> Iterator[Finding]:
    """No tub holds more plants than its system has spots, at the start or after a move."""
    setup = context.run.setup
    start = setup.at("tubs") if len(setup.tubs) > 1 else setup.at("plants")
    for tub in setup.tubs:
        number = sum(plant.tub == tub.id for plant in setup.plants)
        yield from _too_many(tub.system, number, start)
    for event in context.run.rows.of(Deed.MOVE):
        day = event.day.last
        tubs = [context.roster.tub_of(plant, day) for plant in context.roster.standing(day)]
        system = setup.tub(event.tub).system
        yield from _too_many(system, tubs.count(event.tub), event.source, f" {on_day(Day.on(day))}")


def _too_many(system: System, number: int, source: Source, when: str = "") -> Iterator[Finding]:
    spots = system.spots
    if spots is not None and number > spots:
        message = (
            f"{plural(number, 'plant')} {'stands' if number == 1 else 'stand'} in `{system.id}`{when}, "
            f"which has {plural(spots, 'spot')}"
        )
        mend = f"write {plural(spots, 'plant')} or fewer, or correct `spots` in gear.yaml"
        yield Finding("spots-exceeded", source, message, mend, plural(number, "plant"), f"at most {spots}")


def routine_unknown(context: Context) -> Iterator[Finding]:
    """A routine is stopped only while it runs; the light of a lamp is one too."""
    stopped: dict[str, int] = {}
    rows = context.run.rows
    for event in rows.of(Deed.STOP):
        day = event.day.last
        begun = [
            (r.what, r.day) for r in rows.routines if r.what not in stopped or r.day.last >= stopped[r.what]
        ]
        begun += [("light", light.day) for light in rows.lights]
        running = {what for what, since in begun if since.first <= day}
        if event.what in running:
            stopped[event.what] = day
            continue
        near = closest(event.what, running)
        mend = f"write `{near}`" if near else f"write `from_now` where `{event.what}` began"
        message = f"`{event.what}` is stopped {on_day(event.day)}, but no such routine was running"
        yield Finding("routine-unknown", event.source, message, mend, event.what, ", ".join(sorted(running)))


_OF_SEEDS = frozenset({Deed.SOW, Deed.SPROUTED})


class _Counted(NamedTuple):
    """A number of plants as written; `from_start` if it includes plants lost since."""

    which: Which
    day: Day
    source: Source
    tub: str = ""
    from_start: bool = False


def _counted(run: Run) -> Iterator[_Counted]:
    rows = run.rows
    for row in (*(event for event in rows.events if event.deed not in _OF_SEEDS), *rows.readings):
        if row.which:
            yield _Counted(row.which, row.day, row.source, row.tub)
    for pick in rows.picks:
        tub = pick.tubs[0] if len(pick.tubs) == 1 else ""
        yield _Counted(pick.which, pick.day, pick.source, tub)
    for photo in rows.photos:
        if photo.which:
            yield _Counted(photo.which, photo.day, photo.source)
    totals: tuple[MilestoneRow | Tally, ...] = (*rows.milestones, *rows.tallies)
    for total in totals:
        yield _Counted(total.which, total.day, total.source, from_start=True)


def count_of_plants(context: Context) -> Iterator[Finding]:
    """`2 of 6` fits the plants that stood on the day, the day's own losses counted or not."""
    for item in _counted(context.run):
        count, of = item.which.count, item.which.of
        if item.which.named or count is None:
            continue
        fits = _fitting(context, item)
        if (of is None or of in fits) and count <= max(fits):
            continue
        standing = context.standing(item.day.first)
        were = "was" if standing == 1 else "were"
        message = f"`{item.which}` plants {on_day(item.day)}, but {standing} {were} standing"
        mend = _mend(count, of, standing)
        yield Finding("count-of-plants", item.source, message, mend, str(item.which), f"{standing} standing")


def _fitting(context: Context, item: _Counted) -> frozenset[int]:
    """The totals that a count may refer to: the plants of the run or of the tub, before or after losses of the day."""
    days = range(item.day.first - 1, item.day.last + 1)
    fits = {context.standing(day) for day in days}
    if item.tub:
        roster = context.roster
        fits |= {sum(roster.tub_of(p, day) == item.tub for p in roster.standing(day)) for day in days}
    if item.from_start:
        fits |= set(range(min(fits), len(context.run.setup.plants) + 1))
    return frozenset(fits)


def _mend(count: int, of: int | None, standing: int) -> str:
    if count > standing:
        return "check both numbers"
    if of is not None and of < standing:
        return f"write `{count} of {standing}`, or write before it what was `lost`"
    return f"write `{count} of {standing}`"


def milestone_went_down(context: Context) -> Iterator[Finding]:
    """The number of plants at a milestone, counted from the start, falls only by plants lost or sown again."""
    most: dict[str, tuple[int, MilestoneRow]] = {}
    named: dict[str, set[str]] = {}
    for row in context.run.rows.milestones:
        if not row.reached or row.which.nobody:
            continue
        reached = named.setdefault(row.name, set())
        reached.update(row.which.ids)
        number = len(reached) if row.which.named else row.which.count
        if number is None:
            continue
        before = most.get(row.name)
        if before is None or number >= before[0]:
            most[row.name] = (number, row)
        elif not row.which.named and before[0] - number > fewer_by(context, before[1], row):
            message = (
                f"`{row.name}` counted {before[0]} {on_day(before[1].day)}; "
                f"it cannot be {number} {on_day(row.day)}"
            )
            mend = "write how many have reached it since the start"
            yield Finding("count-went-down", row.source, message, mend, f"{number}", f"{before[0]} or more")


class _Stage(NamedTuple):
    """The number of plants at a stage by one row: as counted (none is a count), or as named so far."""

    row: MilestoneRow
    number: int
    bbch: str
    counted: bool


def _stages(context: Context) -> list[_Stage]:
    """The rows of stages that come one after the other, each with its number; `some` is none."""
    known, plants = milestones_of(context.run.setup.crop.kind), set(context.run.setup.plant_ids)
    named: dict[str, set[str]] = {}
    found = []
    for row in context.run.rows.milestones:
        if row.name not in known or row.name in ANY_TIME:
            continue
        bbch, reached = known[row.name].bbch, named.setdefault(row.name, set())
        if not row.reached:
            if not reached and plants <= set(context.meant(row.which)):
                found.append(_Stage(row, 0, bbch, True))
            continue
        reached.update(row.which.ids)
        number = len(reached) if row.which.named else row.which.count
        if number is not None:
            found.append(_Stage(row, number, bbch, not row.which.named))
    return found


def more_at_later_stage(context: Context) -> Iterator[Finding]:
    """No more plants are at a later stage than at an earlier one counted on the same or a later day.

    Plants lost or sown again until then may be missing from the count. Of plants that are named in both rows it is a
    matter of their order.
    """
    stages, known = _stages(context), milestones_of(context.run.setup.crop.kind)
    for early in stages:
        gone = _gone_by(context, early.row.day)
        ahead = [
            late
            for late in stages
            if late.bbch > early.bbch
            and late.number > early.number + gone
            and _not_after(late.row, early.row)
            if late.counted or early.counted
        ]
        if not ahead:
            continue
        late = max(ahead, key=lambda stage: stage.number)
        few = plural(early.number, "plant") if early.number else "no plant"
        message = (
            f"{late.number} {known[late.row.name].words} {on_day(late.row.day)}, "
            f"but {few} {known[early.row.name].words} {on_day(early.row.day)}"
        )
        mend = f"check `{early.row.name}` and `{late.row.name}`: each counts all plants since the start"
        found, expected = f"{early.row.name}: {early.number}", f"{late.number} or more"
        yield Finding("more-at-later-stage", early.row.source, message, mend, found, expected)


def _not_after(late: MilestoneRow, early: MilestoneRow) -> bool:
    return late.entry == early.entry or late.day.last <= early.day.first


def _gone_by(context: Context, day: Day) -> int:
    """The number of plants that were lost or sown again by a day."""
    rows = context.run.rows
    lost = [e.which for e in rows.of(Deed.LOST) if e.which and e.day.first <= day.last]
    again = context.resown(context.run.setup.plant_ids, Day.on(0), day)
    return sum(len(which.ids) or which.count or 1 for which in lost) + len(again)


def tally_went_down(context: Context) -> Iterator[Finding]:
    """A running tally never falls."""
    last: dict[tuple[str, ...], Tally] = {}
    for tally in context.run.rows.tallies:
        key = context.about(tally.which)
        before = last.get(key)
        last[key] = tally
        if before is None or tally.amount.high is None or tally.amount.high >= before.amount.low:
            continue
        found, least = amount(tally.amount), amount(before.amount)
        message = f"{least} had been picked {on_day(before.day)}; it cannot be {found} {on_day(tally.day)}"
        mend = "write everything picked since the start"
        yield Finding("count-went-down", tally.source, message, mend, found, f"{least} or more")
