"""How many: plants at a stage by each day, seedlings up, losses, scores, work done, things of the set-up.

In: a log. Out: `Known`s of counts, parts and scores. A count that can only grow holds until the day on which it did.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.tree import MilestoneFacts
from sitegen.core.findings.source import Source
from sitegen.core.language.figure_words import stage_reached_by
from sitegen.core.records.rows import Deed, Sowing, Tasting
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.notes.check.claims import Kind
from sitegen.notes.check.known import Known
from sitegen.notes.check.known_of.log import Log, PlantSet, count, stems, topics
from sitegen.notes.check.sentences.topics import nth

Step = tuple[Day, int, tuple[Source, ...]]


def known_counts(log: Log) -> tuple[Known, ...]:
    """All of it."""
    return (
        *_sprouted(log),
        *_stages(log),
        *_givers(log),
        *_losses(log),
        *_of_events(log),
        *_scores(log),
        *_work(log),
        *_things(log),
    )


def _series(
    steps: Sequence[Step],
    what: str,
    about: set[str],
    noun: str,
    wholes: tuple[int, ...],
    plants: frozenset[str] | None,
    who: str,
    ranks: frozenset[str] = frozenset(),
) -> Iterator[Known]:
    """A count by day: each holds until the next."""
    for at, (day, number, sources) in enumerate(steps):
        until = steps[at + 1][0].last if at + 1 < len(steps) else None
        yield Known(
            Kind.PART,
            number,
            number,
            what,
            frozenset(about),
            day=day,
            until=until,
            series=True,
            plants=plants,
            who=who,
            noun=noun,
            wholes=wholes,
            sources=sources,
            ranks=ranks | (topics("total") if until is None else frozenset()),
        )


def _sprouted(log: Log) -> Iterator[Known]:
    germination = log.facts.germination
    steps = germination.steps
    sown = germination.sown.value
    wholes = (int(sown.low),) if isinstance(sown, Quantity) and sown.low > 0 else ()
    of = tuple(dict.fromkeys((*wholes, *(step.of for step in steps if step.of))))
    counted: list[Step] = [(step.day, step.count, (step.source,)) for step in steps]
    yield from _series(_ordered(counted), "seeds up", {"sprouted"}, "seed", of, None, "")
    if wholes:
        each = next((row for row in log.rows.of(Sowing) if row.each and row.seeds is not None), None)
        if each is not None and each.seeds is not None:
            yield count(
                each.seeds.low, "seeds a spot", {"sow"}, "seed", sources=(each.source,), constant=True
            )
        yield count(
            wholes[0], "seeds sown", {"sow", "sprouted"}, "seed", sources=germination.sown.rows, constant=True
        )


def _ordered(steps: list[Step]) -> list[Step]:
    """Steps in the order of days, one a day."""
    return sorted({step[0]: step for step in steps}.values(), key=lambda step: step[0].key)


def _stages(log: Log) -> Iterator[Known]:
    sets = [("", log.every, None), *((arm.label, arm.plants, arm.plants) for arm in log.sets)]
    for stage in log.facts.milestones:
        what = stage_reached_by(stage.name)
        about = {f"stage:{stage.name}"}
        for label, plants, own in sets:
            steps = _arrived(log, stage, plants) or ([] if own else _counted(stage))
            steps = steps if own else _recounted(log, stage, steps)
            wholes = _wholes(log, plants, steps)
            yield from _series(_with_looks(stage, steps), what, about, "plant", wholes, own, label)
        for arm in log.arms:
            yield from _of_those_that_stayed(log, stage, arm)


def _of_those_that_stayed(log: Log, stage: MilestoneFacts, arm: PlantSet) -> Iterator[Known]:
    """The same of an arm without the plants that were moved out of it."""
    stayed = log.members(arm, log.facts.run.last_day)
    if stayed and stayed != arm.plants:
        steps = _with_looks(stage, _arrived(log, stage, stayed))
        what, who = stage_reached_by(stage.name), _without(arm, stayed)
        yield from _series(steps, what, {f"stage:{stage.name}"}, "plant", (len(stayed),), arm.plants, who)


def _without(arm: PlantSet, stayed: frozenset[str]) -> str:
    return f"{arm.label} without {', '.join(sorted(arm.plants - stayed))}"


def _arrived(log: Log, stage: MilestoneFacts, plants: frozenset[str]) -> list[Step]:
    """How many of some plants had reached a stage, on each day on which it was seen."""
    arrivals = [each for each in log.arrivals(stage, plants) if each.day is not None]
    days = sorted({each.day for each in arrivals if each.day is not None})
    found: list[Step] = []
    for day in days:
        by_then = [each for each in arrivals if each.day is not None and each.day.last <= day.last]
        found.append((day, len(by_then), tuple({each.source: None for each in by_then if each.source})))
    return found


def _counted(stage: MilestoneFacts) -> list[Step]:
    """The same where plants were not told apart."""
    return _ordered([(step.day, step.count, (step.source,)) for step in stage.steps])


def _recounted(log: Log, stage: MilestoneFacts, steps: list[Step]) -> list[Step]:
    """Later looks that count the plants without naming them, where they found as many or more."""
    found = list(steps)
    for row in log.rows.milestones:
        if row.name != stage.name or row.which.ids or not row.reached or not row.which.count:
            continue
        before = max((number for day, number, _ in found if day.last <= row.day.first), default=0)
        if row.which.count >= before and all(day != row.day for day, _, _ in found):
            found.append((row.day, row.which.count, (row.source,)))
    return _ordered(found)


def _with_looks(stage: MilestoneFacts, steps: list[Step]) -> list[Step]:
    """The looks that said "none" before the first, and the days of later looks."""
    first = steps[0][0] if steps else None
    none: list[Step] = [(day, 0, ()) for day in stage.not_yet if first is None or day.last < first.first]
    return _ordered([*none, *steps])


def _wholes(log: Log, plants: frozenset[str], steps: Sequence[Step]) -> tuple[int, ...]:
    """What a part can be out of: all plants, or those that stood on one of the days."""
    standing = {len(plants & set(log.roster.standing(day.last))) for day, _, _ in steps}
    return tuple(dict.fromkeys((len(plants), *sorted(standing, reverse=True))))


def _givers(log: Log) -> Iterator[Known]:
    """How many plants had given a pick; of arms also without the plants that were moved out of them."""
    whole = PlantSet("", log.every, "", "")
    for arm in (whole, *log.arms):
        own = None if arm is whole else arm.plants
        stayed = log.members(arm, log.facts.run.last_day)
        for plants in dict.fromkeys((arm.plants, stayed)):
            days = [(day, tuple(pick.source for pick in picks)) for day, picks in log.pick_days()]
            steps: list[Step] = [(day, len(_given_by(log, day) & plants), sources) for day, sources in days]
            changed = [new for old, new in pairwise([(Day.on(-1), 0, ()), *steps]) if new[1] != old[1]]
            who = arm.label if plants == arm.plants else _without(arm, stayed)
            yield from _series(changed, "had given a pick", {"harvest"}, "plant", (len(plants),), own, who)


def _given_by(log: Log, day: Day) -> frozenset[str]:
    picks = [pick for pick in log.rows.picks if pick.day.last <= day.last]
    return frozenset(plant for pick in picks for plant in pick.which.ids)


def _of_events(log: Log) -> Iterator[Known]:
    """Of how many plants a deed or a trouble was."""
    for event in log.rows.events:
        which = event.which
        number = None if which is None else len(which.ids) or which.count
        if number is None or event.deed in (Deed.LOST, Deed.SOW, Deed.SPROUTED):
            continue  # told by series; what is sown and comes up is seeds
        deed = event.deed.value.replace("_to", "")
        standing = log.roster.count(event.day.first)
        wholes = tuple(dict.fromkeys(each for each in (which.of if which else None, standing) if each))
        what = f"plants: {deed}{f' ({event.what})' if event.what else ''}"
        more: dict[str, Any] = {"day": event.day, "noun": "plant", "words": stems(event.what)}
        more["sources"] = (event.source,)
        yield Known(Kind.PART, number, number, what, topics(deed), wholes=wholes, **more)
        ids = frozenset(which.ids) if which is not None else frozenset()
        for arm in log.distinct_arms if ids else ():
            mine = len(arm.plants & ids)
            own: dict[str, Any] = {"plants": arm.plants, "who": arm.label, "wholes": (len(arm.plants),)}
            yield Known(Kind.PART, mine, mine, what, topics(deed), **own, **more)


def _losses(log: Log) -> Iterator[Known]:
    lost = log.rows.of(Deed.LOST)
    number = len(log.every)
    steps: list[Step] = []
    gone = 0
    for event in lost:
        gone += (
            len(event.which.ids)
            if event.which and event.which.ids
            else (event.which.count or 0)
            if event.which
            else 1
        )
        steps.append((event.day, gone, (event.source,)))
    if number:
        start: Step = (Day.on(0), 0, ())
        lost_steps = _ordered([start, *steps])
        alive = [(day, number - many, sources) for day, many, sources in lost_steps]
        survived = topics("survive")
        yield from _series(alive, "plants alive", {"lost"}, "plant", (number,), None, "", survived)
        yield from _series(lost_steps, "plants lost", {"lost"}, "plant", (number,), None, "")


def _scores(log: Log) -> Iterator[Known]:
    scored = [row for row in log.rows.of(Tasting) if row.score is not None and row.out_of]
    for at, row in enumerate(scored, 1):
        ends = (*(["first"] if at == 1 else []), *(["last"] if at == len(scored) else []))
        if row.score is not None and row.out_of:
            plants = log.plants_of(row.which)
            yield Known(
                Kind.SCORE,
                row.score.low,
                row.score.high,
                "taste",
                topics("taste"),
                day=row.day,
                plants=plants,
                who=log.who(plants),
                wholes=(row.out_of,),
                words=stems(row.what),
                sources=(row.source,),
                ranks=topics(nth("taste", at), *ends),
            )


def _work(log: Log) -> Iterator[Known]:
    work, solution = log.facts.work, log.facts.solution
    changes = len({row.day for row in log.rows.of(Deed.CHANGE)})
    if changes:
        sources = tuple(row.source for row in log.rows.of(Deed.CHANGE))
        once: dict[str, Any] = {"sources": sources, "constant": True, "ranks": topics("total")}
        yield count(changes, "changes of water", {"change"}, "time", **once)
    every: list[tuple[Figure, str, set[str], tuple[str, ...]]] = [
        (work.visits, "visits", {"visit"}, ("visit", "time")),
        (work.waterings, "visits with water", {"water", "refill"}, ("time", "refill", "visit")),
        (work.feedings, "feedings", {"feed"}, ("feeding", "time", "visit")),
        (solution.refills, "refills", {"refill", "water"}, ("refill",)),
    ]
    for named in work.tasks:
        topic = {"thin_to": "thin"}.get(named.key, named.key)
        if topic != "harvest":
            every.append((named.figure, f"days of work: {topic}", {topic}, ("time",)))
    for figure, what, about, nouns in every:
        if not isinstance(figure.value, Quantity):
            continue
        for noun in nouns:
            more: dict[str, Any] = {"sources": figure.rows, "constant": True, "ranks": topics("total")}
            yield count(figure.value.low, f"{what}{log.from_to(figure.rows)}", about, noun, **more)


def _things(log: Log) -> Iterator[Known]:
    setup = log.setup
    more: dict[str, Any] = {"constant": True, "sources": (setup.source,)}
    if setup.plants:
        yield count(len(setup.plants), "plants in the set-up", set(), "plant", **more)
        yield count(len(setup.plants), "spots with plants", set(), "spot", **more)
    for tub in setup.tubs:
        if tub.system.spots:
            yield count(tub.system.spots, f"spots of {tub.system.name}", set(), "spot", **more)
    for arm in log.arms:
        who = {"plants": arm.plants, "who": arm.label}
        yield count(len(arm.plants), "plants in the set-up", set(), "plant", **who, **more)
    if setup.tubs:
        yield count(len(setup.tubs), "tubs in the set-up", set(), "tub", **more)
        lamps = {
            use.lamp.id
            for use in (*(t.light for t in setup.tubs), *(r.use for r in log.rows.lights))
            if use and use.lamp
        }
        if lamps:
            yield count(len(lamps), "lamps in the set-up", set(), "lamp", **more)
    for number in {len(setup.groups), len(setup.variety_ids)} - {0}:
        yield count(number, "kinds in the set-up", set(), "group", **more)
