"""Where plants stopped rising: strokes through their last rise, names and a finding in words.

In: plateaus among the facts, and the heights recorded. Out: rows for the chart of heights, and texts. Where plants
stand still is for `measure` to say.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.values.day import Day
from sitegen.plot.charts.height_readings import Seen
from sitegen.plot.drawing import tables
from sitegen.plot.drawing.picture import Bar, Ending
from sitegen.plot.drawing.scale import Scale
from sitegen.plot.marks.series import Say

_STROKE = 0.06  # half a stroke, as a share of the scale


@dataclass(frozen=True, slots=True)
class Stop:
    """The day from which some plants rose no more, with their heights on it."""

    day: Day
    seen: tuple[Seen, ...]
    plants: tuple[str, ...]
    words: str


def stops(facts: Facts, known: Iterable[Seen]) -> list[Stop]:
    """Where plants stopped rising, those of one day together."""
    known = list(known)
    by_day: dict[Day, list[Seen]] = defaultdict(list)
    for plateau in facts.growth.rate.height.plateau:
        day = plateau.figure.value
        if isinstance(day, Day):
            by_day[day] += [s for s in known if s.day == day and plateau.key in s.plants]
    return [_stop(day, seen, facts) for day, seen in sorted(by_day.items()) if seen]


def _stop(day: Day, seen: Iterable[Seen], facts: Facts) -> Stop:
    """One day's plants, of which some may share a record."""
    records = tuple(dict.fromkeys(seen))
    stopped = {p.key for p in facts.growth.rate.height.plateau if p.figure.value == day}
    plants = tuple(plant for plant in facts.run.setup.plant_ids if plant in stopped)
    return Stop(day, records, plants, tables.plants_in_words(plants, facts.run.setup))


def strokes(stops: Iterable[Stop], scale: Scale, facts: Facts) -> tuple[Bar, ...]:
    """A short upright stroke through each last rise."""
    reach = _STROKE * scale.top
    return tuple(
        Bar(
            stop.day.middle,
            scale.of(s.value.middle) - reach,
            scale.of(s.value.middle) + reach,
            say=tr(
                "{who} stopped rising on {day}",
                who=tables.plants_in_words(s.plants, facts.run.setup),
                day=stop.day.words,
            ),
        )
        for stop in stops
        for s in stop.seen
    )


def names(stops: Iterable[Stop], scale: Scale) -> list[Ending]:
    """Who stopped rising, over each stroke."""
    return [
        Ending(
            stop.day.middle,
            max(scale.of(s.value.middle) for s in stop.seen),
            tr("{who} stopped rising", who=stop.words),
            above=True,
            brief=tr("stopped rising"),
        )
        for stop in stops
    ]


def finding(tallest: Seen, stops: Iterable[Stop], say: Say) -> str:
    """How tall the tallest plant was, and whether it had stopped rising."""
    found = ((stop, s) for stop in stops for s in stop.seen if set(s.plants) & set(tallest.plants))
    stop, seen = next(found, (None, None))
    if stop is None or seen is None:
        return tr("Tallest plant {height} on {day}.", height=say(tallest.value), day=tallest.day.words)
    return tr(
        "The tallest plant reached {height} by {day}, then stopped rising.",
        height=say(seen.value),
        day=stop.day.words,
    )
