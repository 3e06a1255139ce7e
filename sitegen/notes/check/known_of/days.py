"""On which day: deeds, picks, stages, readings, entries.

In: a log. Out: `Known`s of days.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.facts.tree import Arrival, MilestoneFacts
from sitegen.core.language.figure_words import stage_reached_by
from sitegen.core.records.rows import Deed, Event, Tasting, Trouble
from sitegen.core.values.day import Day
from sitegen.notes.check.known import Known
from sitegen.notes.check.known_of.log import Log, on_day, stems, topics
from sitegen.notes.check.sentences.topics import nth

_DEEDS: dict[Deed, tuple[str, tuple[str, ...]]] = {
    Deed.SOW: ("sown", ("sow",)),
    Deed.SPROUTED: ("seedlings counted", ("sprouted",)),
    Deed.THIN: ("thinned", ("thin",)),
    Deed.TRANSPLANT: ("transplanted", ("transplant",)),
    Deed.WATER: ("watered", ("water", "refill")),
    Deed.CHANGE: ("water changed", ("change", "water")),
    Deed.FEED: ("fed", ("feed",)),
    Deed.ADJUST: ("pH adjusted", ("ph",)),
    Deed.PRUNE: ("pruned", ("prune",)),
    Deed.TRAIN: ("trained", ("train",)),
    Deed.POLLINATE: ("pollinated", ("pollinate",)),
    Deed.TREAT: ("treated", ("treat",)),
    Deed.CLEAN: ("cleaned", ("clean",)),
    Deed.TROUBLE: ("trouble", ("trouble",)),
    Deed.LOST: ("lost", ("lost",)),
    Deed.MOVE: ("moved", ("move",)),
    Deed.END: ("end of the run", ("end",)),
    Deed.TASTE: ("tasted", ("taste",)),
    Deed.NOTE: ("noted", ()),
    Deed.STOP: ("stopped", ()),
}


def known_days(log: Log) -> tuple[Known, ...]:
    """All of it."""
    found = (_events, _picks, _stages, _lights, _readings, _hottest, _entries)
    return tuple(known for each in found for known in each(log))


def _events(log: Log) -> Iterator[Known]:
    last: dict[Deed, int] = {}
    for event in log.rows.events:
        if event.deed not in _DEEDS:
            continue
        what, about = _DEEDS[event.deed]
        place = log.place(event.which, "" if event.deed is Deed.MOVE else event.tub)
        words = stems(event.what)
        said = (
            f"{what} ({event.what})"
            if event.what and event.deed in (Deed.TROUBLE, Deed.TASTE, Deed.LOST)
            else what
        )
        first = event.deed not in last
        yield on_day(
            event.day,
            said,
            about,
            words=words,
            sources=(event.source,),
            **place,
            seen=_look_before(event, last),
            ranks=topics("first") if first else topics(),
        )
        last[event.deed] = event.day.last
        if isinstance(event, Trouble) and event.until is not None:
            yield on_day(event.until, f"over: {event.what}", ("end",), words=words, sources=(event.source,))


def _look_before(event: Event, last: dict[Deed, int]) -> int | None:
    """The tasting before one that found something: what it found may have come on any day since."""
    return last.get(event.deed, -1) if isinstance(event, Tasting) else None


def _picks(log: Log) -> Iterator[Known]:
    days = list(log.pick_days())
    for at, (day, picks) in enumerate(days):
        sources = tuple(pick.source for pick in picks)
        ranks = topics(*(["first"] if at == 0 else []), *(["last"] if at == len(days) - 1 else []))
        if len(days) > 1 and sum(p.weight.low for p in picks) == max(
            sum(p.weight.low for p in each) for _, each in days
        ):
            ranks |= topics("max")
        ranks |= topics(nth("pick", at + 1))
        unweighed = [pick for pick in picks if pick.weight.unweighed]
        if unweighed:
            plants = log.plants_of(unweighed[0].which) if len(unweighed) == 1 else None
            source = tuple(pick.source for pick in unweighed)
            yield on_day(
                day, "a pick not weighed", {"unweighed"}, plants=plants, who=log.who(plants), sources=source
            )
        what = {0: "first pick"}.get(at, "pick")
        yield on_day(day, what, {"harvest"}, ranks=ranks, sources=sources)
    for arm in log.sets:
        mine = [(day, [p for p in picks if set(p.which.ids) & arm.plants]) for day, picks in days]
        mine = [(day, picks) for day, picks in mine if picks]
        for at, (day, picks) in enumerate(mine):
            ranks = topics(*(["first"] if at == 0 else []), *(["last"] if at == len(mine) - 1 else []))
            yield on_day(
                day,
                "first pick" if at == 0 else "pick",
                {"harvest"},
                plants=arm.plants,
                who=arm.label,
                ranks=ranks,
                sources=tuple(pick.source for pick in picks),
            )


def _stages(log: Log) -> Iterator[Known]:
    for stage in log.facts.milestones:
        for look in stage.not_yet:
            yield on_day(look, f"not yet: {stage_reached_by(stage.name)}", {f"stage:{stage.name}"})
        if isinstance(stage.first.value, Day):
            yield _stage(stage, stage.first.value, stage_reached_by(stage.name), "first", log, None)
        for arm in log.sets:
            arrived = [each for each in log.arrivals(stage, arm.plants) if each.day is not None]
            if arrived:
                first = min(arrived, key=lambda each: each.day.key if each.day else (0, 0))
                yield _arrived(stage, first, "first", log, arm.plants)
        for plants in (None, *(arm.plants for arm in log.arms)):
            every = log.arrivals(stage, plants or log.every)
            if every and len(every) > 1 and all(each.day is not None for each in every):
                last = max(every, key=lambda each: each.day.key if each.day else (0, 0))
                yield _arrived(stage, last, "last", log, plants)


def _arrived(
    stage: MilestoneFacts, arrival: Arrival, rank: str, log: Log, plants: frozenset[str] | None
) -> Known:
    assert arrival.day is not None
    what = stage_reached_by(stage.name)
    before = arrival.after.last if arrival.after else -1
    sources = (arrival.source,) if arrival.source else ()
    seen = Day(arrival.day.last, arrival.day.last, arrival.day.about)
    return on_day(
        seen,
        f"{'all ' if rank == 'last' else ''}{what}",
        {f"stage:{stage.name}"},
        ranks=topics(rank),
        plants=plants,
        who=log.who(plants),
        sources=sources,
        seen=before,
    )


def _stage(
    stage: MilestoneFacts, day: Day, what: str, rank: str, log: Log, plants: frozenset[str] | None
) -> Known:
    before = max((look.last for look in stage.not_yet if look.last < day.first), default=-1)
    return on_day(
        day,
        f"first {what}",
        {f"stage:{stage.name}"},
        ranks=topics(rank),
        plants=plants,
        who=log.who(plants),
        sources=stage.first.rows,
        seen=before,
    )


def _lights(log: Log) -> Iterator[Known]:
    for light in log.rows.lights:
        place = log.place(None, light.tub)
        yield on_day(light.day, "lamp set", {"light"}, sources=(light.source,), **place)


def _readings(log: Log) -> Iterator[Known]:
    seen = set()
    for row in log.rows.readings:
        topic = {"water_temperature": "water", "air_temperature": "air"}.get(row.name, row.name)
        if (row.day, topic, row.plants) in seen:
            continue
        seen.add((row.day, topic, row.plants))
        plants = frozenset(row.plants) if row.plants and frozenset(row.plants) != log.every else None
        what = f"{row.name.replace('_', ' ')} read"
        yield on_day(row.day, what, {topic}, plants=plants, who=log.who(plants), sources=(row.source,))


def _hottest(log: Log) -> Iterator[Known]:
    """The days of a sensor's extremes."""
    climate = log.facts.climate
    for topic, daily in (("air", climate.air_daily), ("water", climate.water_daily)):
        if daily:
            hottest, coldest = max(daily, key=lambda day: day.high), min(daily, key=lambda day: day.low)
            yield on_day(
                Day.on(hottest.day), f"highest temperature of the {topic}", {topic}, ranks=topics("max")
            )
            yield on_day(
                Day.on(coldest.day), f"lowest temperature of the {topic}", {topic}, ranks=topics("min")
            )


def _entries(log: Log) -> Iterator[Known]:
    entries = log.rows.entries
    for at, entry in enumerate(entries):
        ranks = topics("last") if at == len(entries) - 1 else topics()
        yield on_day(entry.day, "an entry of the log", {"visit"}, ranks=ranks, sources=(entry.source,))
