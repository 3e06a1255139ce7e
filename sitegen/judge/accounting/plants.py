"""Plants that do what they cannot: after they were lost, before they were sown, more than there are spots.

In: a case. Out: findings about single plants and tubs. A group's name or `all` does not claim that each plant
still stands; only plants that are named one by one are held to it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.language.text import closest, plural
from sitegen.core.records.rows import Deed, Event, Run
from sitegen.core.values.day import Day
from sitegen.judge.case import Case, explicit
from sitegen.judge.words import on_day

# What a plant does or has done to it; deeds that are not here may be about what is left of it.
_VERBS: dict[Deed, str] = {
    Deed.SPROUTED: "sprout",
    Deed.THIN: "be thinned",
    Deed.TRANSPLANT: "be transplanted",
    Deed.PRUNE: "be pruned",
    Deed.TRAIN: "be trained",
    Deed.POLLINATE: "be pollinated",
    Deed.TREAT: "be treated",
    Deed.TROUBLE: "have trouble",
    Deed.LOST: "be lost",
    Deed.MOVE: "be moved",
}


class _Act(NamedTuple):
    """Something that one plant did or had done to it; what counts from the start may be said again later."""

    plant: str
    verb: str
    day: Day
    source: Source
    from_start: bool = False


def _acts(run: Run) -> Iterator[_Act]:
    for event in run.rows.events:
        if event.deed in _VERBS:
            for plant in explicit(event.which):
                yield _Act(plant, _VERBS[event.deed], event.day, event.source, event.deed is Deed.SPROUTED)
    for pick in run.rows.picks:
        for plant in explicit(pick.which):
            yield _Act(plant, "be picked", pick.day, pick.source)
    for reading in run.rows.readings:
        column = reading.plants if reading.entry is None and len(reading.plants) == 1 else ()
        for plant in explicit(reading.which) or column:
            yield _Act(plant, "be measured", reading.day, reading.source)
    for row in run.rows.milestones:
        for plant in explicit(row.which) if row.reached else ():
            yield _Act(plant, f"reach `{row.name}`", row.day, row.source, True)


def lost_plant(case: Case) -> Iterator[Finding]:
    """Nothing comes from a plant after it was lost, unless its spot was sown anew."""
    if not case.run.rows.of(Deed.LOST):
        return
    said: set[tuple[str, str]] = set()
    for act in _acts(case.run):
        loss = case.roster.lost_on(act.plant, by=act.day.last)
        if loss is None or act.day.first <= loss.day.last or _sown_again(case, loss, act):
            said.add((act.plant, act.verb))
            continue
        if act.from_start and (act.plant, act.verb) in said:
            continue
        again = " again" if act.verb == "be lost" else ""
        yield Finding(
            "lost-plant",
            act.source,
            f"`{act.plant}` was lost {on_day(loss.day)}; it cannot {act.verb}{again} {on_day(act.day)}",
            f"check which plant it was, or the day that `{act.plant}` was lost",
            f"`{act.plant}` {on_day(act.day)}",
            f"a plant that still stands {on_day(act.day)}",
        )


def _sown_again(case: Case, loss: Event, act: _Act) -> bool:
    return any(loss.day.first <= s.day.last and s.day.first <= act.day.last for s in case.sowings(act.plant))


def never_sown(case: Case) -> Iterator[Finding]:
    """Nothing comes from a plant before it was sown, in a log that says what was sown."""
    if not case.run.rows.of(Deed.SOW):
        return
    brought = {p for e in case.run.rows.of(Deed.TRANSPLANT) for p in case.about(e.which)}
    sown_on = {plant: _first_sown(case, plant) for plant in case.run.setup.plant_ids}
    for act in _acts(case.run):
        sown = sown_on.get(act.plant)
        if (sown is None and act.plant in brought) or (sown is not None and sown <= act.day.last):
            continue
        when = "was never sown" if sown is None else f"was sown {on_day(Day.on(sown))}"
        mend = (
            f"write `sow` for `{act.plant}`"
            if sown is None
            else "check which plant it was, or its day of sowing"
        )
        yield Finding(
            "never-sown",
            act.source,
            f"`{act.plant}` {when}; it cannot {act.verb} {on_day(act.day)}",
            mend,
            f"`{act.plant}` {on_day(act.day)}",
            "a plant that was sown",
        )


def _first_sown(case: Case, plant: str) -> int | None:
    return min((sowing.day.first for sowing in case.sowings(plant)), default=None)


def spots_exceeded(case: Case) -> Iterator[Finding]:
    """No tub holds more plants than its system has spots, at the start or after a move."""
    setup = case.run.setup
    start = setup.at("tubs") if len(setup.tubs) > 1 else setup.at("plants")
    yield from _too_many(case, 0, start, {p.id: p.tub for p in setup.plants})
    for event in case.run.rows.of(Deed.MOVE):
        day = event.day.last
        standing = case.roster.standing(day)
        now = {plant: case.roster.tub_of(plant, day) for plant in standing}
        yield from _too_many(case, day, event.source, {p: t for p, t in now.items() if t == event.tub})


def _too_many(case: Case, day: int, source: Source, tub_of: dict[str, str]) -> Iterator[Finding]:
    for tub in case.run.setup.tubs:
        number, spots = list(tub_of.values()).count(tub.id), tub.system.spots
        if spots is None or number <= spots:
            continue
        since = f" {on_day(Day.on(day))}" if day else ""
        yield Finding(
            "spots-exceeded",
            source,
            f"{plural(number, 'plant')} {'stands' if number == 1 else 'stand'} in `{tub.system.id}`{since}, "
            f"which has {plural(spots, 'spot')}",
            f"write {plural(spots, 'plant')} or fewer, or correct `spots` in gear.yaml",
            plural(number, "plant"),
            f"at most {spots}",
        )


def _lit(run: Run, day: int) -> set[str]:
    """A lamp's setting is a row of its own, and can be stopped as a routine."""
    return {"light"} if any(light.day.first <= day for light in run.rows.lights) else set()


def routine_unknown(case: Case) -> Iterator[Finding]:
    """Only a routine that runs is stopped."""
    stopped: dict[str, int] = {}
    for event in case.run.rows.of(Deed.STOP):
        day = event.day.last
        began = [
            r for r in case.run.rows.routines if r.day.first <= day and r.day.last >= stopped.get(r.what, -1)
        ]
        running = {routine.what for routine in began} | _lit(case.run, day)
        if event.what in running:
            stopped[event.what] = event.day.last
            continue
        near = closest(event.what, running)
        mend = f"write `{near}`" if near else f"write `from_now` where `{event.what}` began"
        yield Finding(
            "routine-unknown",
            event.source,
            f"`{event.what}` is stopped {on_day(event.day)}, but no such routine was running",
            mend,
            event.what,
            ", ".join(sorted(running)),
        )
