"""How many days between: sowing, transplanting, stages, picks; between arms; against the packet.

In: a log. Out: `Known`s of days between two days.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from sitegen.core.facts.figure import Figure
from sitegen.core.findings.source import Source
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.notes.check.claims import TWO_SIDES, Kind
from sitegen.notes.check.known import Known
from sitegen.notes.check.known_of.log import Log, PlantSet, topics


@dataclass(frozen=True, slots=True)
class KeyDay:
    """A day from which people count, with its topics and its words."""

    day: Day
    what: str
    topics: frozenset[str]
    ranks: frozenset[str] = frozenset()
    sources: tuple[Source, ...] = ()


def known_spans(log: Log) -> tuple[Known, ...]:
    """All of it."""
    return (*_between(log), *_of_arms(log), *_between_arms(log), *_packet(log), *_lengths(log))


def _key_days(log: Log, arm: PlantSet | None) -> Iterator[KeyDay]:
    """The days from which one counts, of an arm or of all; a plant that was moved counts for none from there."""
    plants = arm.plants if arm else None

    def of_arm(plant: str, day: Day) -> bool:
        return arm is None or plant in log.members(arm, day.last)

    if log.sown is not None:
        yield KeyDay(log.sown, "sowing", topics("sow"))
    if log.transplanted is not None:
        yield KeyDay(log.transplanted, "transplanting", topics("transplant"))
    for stage in log.facts.milestones:
        arrived = [each for each in log.arrivals(stage, plants or log.every) if each.day is not None]
        days = [Day.on(each.day.last) for each in arrived if each.day and of_arm(each.plant, each.day)]
        if plants is None and isinstance(stage.first.value, Day):
            days = [stage.first.value]
        if days:
            noun = stage.name.replace("_", " ").removeprefix("first ")
            yield KeyDay(min(days), f"first {noun}", topics(f"stage:{stage.name}"), topics("first"))
    picks = [
        day
        for day, rows in log.pick_days()
        if plants is None
        or any(each in plants and of_arm(each, day) for row in rows for each in row.which.ids)
    ]
    if picks:
        yield KeyDay(picks[0], "first pick", topics("harvest"), topics("first"))
        if len(picks) > 1:
            yield KeyDay(picks[-1], "last pick", topics("harvest"), topics("last"))


def _span(
    one: KeyDay, other: KeyDay, plants: frozenset[str] | None, who: str, extra: frozenset[str] = frozenset()
) -> Known | None:
    low, high = other.day.first - one.day.last, other.day.last - one.day.first
    if high < 0:
        return None
    low = max(0, low)
    value = Quantity(low, high, Dimension.DAYS, step=1)
    return Known(
        Kind.DAYS,
        low,
        high,
        f"from {one.what} to {other.what}",
        one.topics | other.topics | extra,
        Dimension.DAYS,
        value,
        plants=plants,
        who=who,
        ranks=other.ranks,
        sources=(*one.sources, *other.sources),
    )


def _between(log: Log) -> Iterator[Known]:
    for one, other in combinations(list(_key_days(log, None)), 2):
        if (found := _span(one, other, None, "")) is not None:
            yield found


def _of_arms(log: Log) -> Iterator[Known]:
    for arm in log.sets:
        for one, other in combinations(list(_key_days(log, arm)), 2):
            if (found := _span(one, other, arm.plants, arm.label)) is not None:
                yield found


def _between_arms(log: Log) -> Iterator[Known]:
    """By how many days one arm was sooner."""
    for one, other in combinations(log.distinct_arms, 2):
        if one.plants & other.plants:
            continue
        mine, theirs = ({day.what: day for day in _key_days(log, arm)} for arm in (one, other))
        for what, day in mine.items():
            if what in theirs and day.ranks:
                yield _sooner(one, other, day, theirs[what])


def _sooner(one: PlantSet, other: PlantSet, mine: KeyDay, theirs: KeyDay) -> Known:
    first, second = (
        ((one, mine), (other, theirs)) if mine.day <= theirs.day else ((other, theirs), (one, mine))
    )
    days = second[1].day.first - first[1].day.first
    return Known(
        Kind.DAYS,
        days,
        days,
        f"{mine.what}: {first[0].label} on day {first[1].day}, {second[0].label} on day {second[1].day}:",
        mine.topics | {TWO_SIDES},
        Dimension.DAYS,
        exactly(days, Dimension.DAYS, 1),
        plants=first[0].plants,
        other=second[0].plants,
        ranks=mine.ranks,
    )


def _packet(log: Log) -> Iterator[Known]:
    seed = log.setup.seed
    source = (log.setup.at("seed"),)
    if seed and seed.claims.days is not None:
        span = seed.claims.days
        value = Quantity(span.first, span.last, Dimension.DAYS, step=1)
        counted = {"sowing": topics("sow"), "transplant": topics("transplant")}.get(
            seed.claims.counted_from, topics()
        )
        what = "days by the packet"
        yield Known(
            Kind.DAYS,
            span.first,
            span.last,
            what,
            topics("packet") | counted,
            Dimension.DAYS,
            value,
            sources=source,
            constant=True,
        )
    timing = log.facts.harvest.timing
    by_packet = timing.claim.value
    if isinstance(by_packet, Quantity) and by_packet.high is not None:
        low, high = sorted((abs(by_packet.low), abs(by_packet.high)))
        sooner = by_packet.high < 0
        what = "first pick before the packet's day:" if sooner else "first pick after the packet's day:"
        yield Known(
            Kind.DAYS,
            low,
            high,
            what,
            topics("packet", "harvest"),
            Dimension.DAYS,
            Quantity(low, high, Dimension.DAYS, step=1),
            ranks=topics("first"),
            sources=timing.claim.rows,
            sooner=sooner,
        )


def _lengths(log: Log) -> Iterator[Known]:
    figures: tuple[tuple[Figure, str, frozenset[str]], ...] = (
        (log.facts.length, "length of the run", topics("end", "sow")),
        (log.facts.harvest.timing.picking, "from first to last pick", topics("harvest")),
    )
    for figure, what, about in figures:
        value = figure.value
        if isinstance(value, Quantity) and value.high is not None:
            ranks = topics("total") if what == "length of the run" else topics()
            yield Known(
                Kind.DAYS,
                value.low,
                value.high,
                what,
                about,
                Dimension.DAYS,
                value,
                sources=figure.rows,
                constant=True,
                ranks=ranks,
            )
