"""Stages of growth as they were first seen, by arm where arms are compared.

In: the material of a run. Out: moments. A stage is said "by" the day of the look that found it, since it came some time
after the look before; that it was not there, "on" the day of a look.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from sitegen.core.facts.tree import Arrival, MilestoneFacts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words, stage_reached, stage_reached_by
from sitegen.core.reference.milestones import stage_that_matters
from sitegen.core.values.day import Day
from sitegen.notes.draft import Number, Passage, Plants, passage, told
from sitegen.notes.material import ArmPlants, Material
from sitegen.notes.moments.moment import Moment

_SCORED = {"first_flower": "first flower", "ripe": "ripe", "bolting": "bolting"}
_UNWANTED = ("bolting", "head_loose")  # stages that nobody waits for
_JUDGED = ("named stage", "ripe")  # stages of which it is said who was first
_LONG_WAIT = 14  # days; common practice, no source


def stages(material: Material) -> Iterator[Moment]:
    """Each stage that was looked for, and the longest wait between two."""
    for milestone in material.facts.milestones:
        yield from _stage(milestone, material)
    yield from _longest_wait(material)


def _kind(name: str, material: Material) -> str:
    if name == stage_that_matters(material.setup.crop.kind) or _asked_for(name, material):
        return "named stage"
    return _SCORED.get(name, "stage")


def _asked_for(name: str, material: Material) -> bool:
    """Whether the question names the stage: by a word of its own."""
    question = material.setup.question.lower()
    words = [word for word in name.replace("first_", "").split("_") if len(word) > 3]
    return any(word.rstrip("s")[:5] in question for word in words)


def _stage(milestone: MilestoneFacts, material: Material) -> Iterator[Moment]:
    kind = _kind(milestone.name, material)
    reached = [each for each in milestone.arrivals if each.day is not None]
    if not milestone.arrivals:
        yield from _of_counts(milestone, kind)
    elif not reached:
        yield from _nowhere(milestone, kind)
    elif _by_arm(reached, material):
        yield from _of_arms(milestone, reached, material, kind)
    else:
        yield from _of_plants(milestone, reached, material, kind)


def _nowhere(milestone: MilestoneFacts, kind: str) -> Iterator[Moment]:
    if milestone.not_yet:
        last = max(milestone.not_yet, key=lambda day: day.last)
        words = passage(
            tr("{on_day}, not a plant {did}."),
            milestone.first.rows or milestone.share.rows,
            on_day=Number("log.day", last, "on"),
            did=stage_reached(milestone.name),
        )
        yield Moment(kind, told(words), last)


def _of_counts(milestone: MilestoneFacts, kind: str) -> Iterator[Moment]:
    """From counts that name no plant: the first and the last of them."""
    steps = [step for step in milestone.steps if step.count]
    for step in dict.fromkeys((*steps[:1], *steps[-1:])):
        count = Number("log.milestone.count", step.count, "plain", "plant")
        did = stage_reached_by(milestone.name)
        by = Number("log.day", step.day, "by")
        if step.least:
            words = passage(
                tr("{by_day}, at least {count} of the plants {did}."),
                step.source,
                by_day=by,
                count=count,
                did=did,
            )
        elif step.of is None:
            words = passage(
                tr("{by_day}, {count} of the plants {did}."), step.source, by_day=by, count=count, did=did
            )
        else:
            whole = Number("log.milestone.of", step.of)
            words = passage(
                tr("{by_day}, {count} of the {whole} plants {did}."),
                step.source,
                by_day=by,
                count=count,
                whole=whole,
                did=did,
            )
        yield Moment(kind, told(words), step.day, some=step.of is None)


def _day_of(arrival: Arrival) -> Day:
    assert arrival.day is not None
    return arrival.day


def _of_plants(
    milestone: MilestoneFacts, reached: Sequence[Arrival], material: Material, kind: str
) -> Iterator[Moment]:
    """The first look that found it, and the one by which every plant was there that got there."""
    days = sorted({_day_of(each) for each in reached})
    whole = _standing(milestone, days[0], material)
    first = [each for each in reached if _day_of(each) == days[0]]
    number = Number("log.milestone.count", len(first), "plain", "plant")
    sources = [each.source for each in first if each.source]
    by = Number(f"milestones.{milestone.name}.first", days[0], "by")
    several = stage_reached_by(milestone.name)
    if len(first) == whole > 1:
        words = passage(
            tr("{by_day}, all {whole} plants {did}."),
            sources,
            by_day=by,
            whole=Number("setup.plants", whole),
            did=several,
        )
        yield Moment(kind, told(words), days[0])
        return
    if len(first) == 1:
        words = passage(
            tr("{by_day}, {plant} {did}."),
            sources,
            by_day=by,
            plant=Plants((first[0].plant,)),
            did=stage_reached(milestone.name),
        )
    else:
        words = passage(
            tr("{by_day}, {part} of the {whole} plants {did}."),
            sources,
            by_day=by,
            part=number,
            whole=Number("setup.plants", whole),
            did=several,
        )
    yield Moment(kind, told(words), days[0])
    if len(days) > 1:
        end = _in_the_end(milestone, reached, days[-1], material)
        yield Moment("stage", told(end, _others(milestone)), days[-1])
    elif (others := _others(milestone)) is not None:
        yield Moment("stage", (others,), days[0], order=1)


def _standing(milestone: MilestoneFacts, day: Day, material: Material) -> int:
    """The plants that stood when a stage was looked for."""
    standing = material.roster.standing(day.first)
    return sum(each.plant in standing or each.day is not None for each in milestone.arrivals)


def _in_the_end(
    milestone: MilestoneFacts, reached: Sequence[Arrival], last: Day, material: Material
) -> Passage | None:
    """How many were there at the look that found the last of them."""
    sources = [each.source for each in reached if each.source]
    by, whole = Number("log.day", last, "by"), _standing(milestone, last, material)
    did = stage_reached_by(milestone.name)
    if len(reached) == whole:
        return passage(
            tr("{by_day}, all {whole} {did}."),
            sources,
            by_day=by,
            whole=Number("setup.plants", whole),
            did=did,
        )
    return passage(
        tr("{by_day}, {part} of the {whole} {did}."),
        sources,
        by_day=by,
        part=Number("log.milestone.count", len(reached), "plain", "plant"),
        whole=Number("setup.plants", whole),
        did=did,
    )


def _others(milestone: MilestoneFacts) -> Passage | None:
    """The plants that had not reached it when they were last looked at."""
    waiting = [each for each in milestone.in_state("not yet") if each.last_look]
    if not waiting or len(waiting) > 3:
        return None
    last = max((each.last_look for each in waiting if each.last_look), key=lambda day: day.last)
    rows = milestone.share.rows or milestone.first.rows
    on = Number("log.day", last, "on")
    plants = Plants(tuple(each.plant for each in waiting))
    if len(waiting) == 1:
        return passage(tr("{plants} had not, {on_day}."), rows, plants=plants, on_day=on)
    return passage(tr("{plants} had not yet, {on_day}."), rows, plants=plants, on_day=on)


# by arm


def _by_arm(reached: Sequence[Arrival], material: Material) -> bool:
    """Whether the arms differ in the look that found the stage first."""
    firsts = [
        min((_day_of(each) for each in _own(arm, reached, material)), default=None) for arm in material.arms
    ]
    return len(firsts) > 1 and len(set(firsts)) > 1


def _own(arm: ArmPlants, reached: Sequence[Arrival], material: Material) -> list[Arrival]:
    """The plants of an arm at a stage that still belonged to it then."""
    return [each for each in reached if each.plant in material.members(arm, _day_of(each))]


def _of_arms(
    milestone: MilestoneFacts, reached: Sequence[Arrival], material: Material, kind: str
) -> Iterator[Moment]:
    found = []
    for arm in material.arms:
        own = _own(arm, reached, material)
        days = sorted({_day_of(each) for each in own})
        if days:
            found.append((days[0], arm, [each for each in own if _day_of(each) == days[0]]))
    for day, arm, first in sorted(found, key=lambda each: each[0]):
        whole = len(material.members(arm, day))
        yield Moment(kind, told(_of_arm(milestone, arm, first, whole)), day, arms=True)
    if kind in _JUDGED and (ahead := _ahead(found, milestone)) is not None:
        yield Moment("arms", (ahead,), max(day for day, _, _ in found), arms=True)
    last = max(_day_of(each) for each in reached)
    if last > max(day for day, _, _ in found):
        end = _in_the_end(milestone, reached, last, material)
        yield Moment("stage", told(end, _others(milestone)), last)
    elif (others := _others(milestone)) is not None:
        yield Moment("stage", (others,), last, order=1)


def _ahead(
    found: Sequence[tuple[Day, ArmPlants, Sequence[Arrival]]], milestone: MilestoneFacts
) -> Passage | None:
    """Which of two arms was seen there first, and by how much; nothing where a look had no certain day."""
    if len(found) != 2 or not all(day.exact for day, _, _ in found):
        return None
    (first, arm, came), (second, _, later) = sorted(found, key=lambda each: each[0])
    if first == second:
        return None
    sources = [each.source for each in (*came, *later) if each.source]
    return passage(
        tr("The {stage} was seen {days} sooner {where}."),
        sources,
        stage=label_words(milestone.label),
        where=arm.where,
        days=Number("log.days_between", second.first - first.first, noun="day"),
    )


def _of_arm(
    milestone: MilestoneFacts, arm: ArmPlants, first: Sequence[Arrival], whole: int
) -> Passage | None:
    sources = [each.source for each in first if each.source]
    by = Number("log.day", _day_of(first[0]), "by")
    if len(first) == whole == 1:
        return passage(
            tr("{where}, the plant {did} {by_day}."),
            sources,
            where=arm.where,
            did=stage_reached(milestone.name),
            by_day=by,
        )
    if len(first) == whole == 2:
        return passage(
            tr("{where}, both {did} {by_day}."),
            sources,
            where=arm.where,
            did=stage_reached_by(milestone.name),
            by_day=by,
        )
    if len(first) == whole:
        return passage(
            tr("{where}, all {whole} {did} {by_day}."),
            sources,
            where=arm.where,
            whole=Number("setup.plants", whole),
            did=stage_reached_by(milestone.name),
            by_day=by,
        )
    if len(first) == 1:
        return passage(
            tr("{where}, the first of {whole} {did} {by_day}."),
            sources,
            where=arm.where,
            whole=Number("setup.plants", whole),
            did=stage_reached(milestone.name),
            by_day=by,
        )
    return passage(
        tr("{where}, {part} of {whole} {did} {by_day}."),
        sources,
        where=arm.where,
        part=Number("log.milestone.count", len(first), "plain", "plant"),
        whole=Number("setup.plants", whole),
        did=stage_reached_by(milestone.name),
        by_day=by,
    )


def _longest_wait(material: Material) -> Iterator[Moment]:
    """The longest time between the looks that first saw two stages: when these came, the log bounds no closer."""
    seen = [
        (milestone, value)
        for milestone in material.facts.milestones
        if milestone.name not in _UNWANTED
        and isinstance(value := milestone.first.value, Day)
        and value.single
        and value.first > 0
    ]
    ordered = sorted(seen, key=lambda each: each[1])
    waits = [(later[1].first - earlier[1].first, earlier, later) for earlier, later in pairwise(ordered)]
    longest = max(waits, key=lambda each: each[0], default=None)
    if longest is None or longest[0] < _LONG_WAIT or sum(each[0] == longest[0] for each in waits) > 1:
        return
    days, (before, _), (after, day) = longest
    words = passage(
        tr("The longest wait between sightings was {days}, from {before} to {after}."),
        before.first.rows,
        after.first.rows,
        days=Number("log.days_between", days, noun="day"),
        before=label_words(before.label),
        after=label_words(after.label),
    )
    yield Moment("longest wait", told(words), day, order=2)
