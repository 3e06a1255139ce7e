"""Height by day: a line for each plant, and the median where at least three were measured.

In: the heights among the facts. Out: a picture. A value given for several plants at once is each plant's,
is drawn once, and says for whom it stands.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from statistics import median

from sitegen.core.day import Day
from sitegen.core.facts import Facts, PlotPoint
from sitegen.core.quantity import Quantity
from sitegen.core.roster import Roster
from sitegen.core.text import plural
from sitegen.plot import pins, series, tables
from sitegen.plot.picture import Bar, Ending, Picture
from sitegen.plot.scale import Scale, Units, scale_for
from sitegen.plot.series import Line, Point, Say

__all__ = ["FEWEST_FOR_MEDIAN", "picture"]

FEWEST_FOR_MEDIAN = 3  # two plants are better shown as two; custom, no source
_COLOUR = "var(--growth)"
_STROKE = 0.06  # half a stroke through a last rise, as a share of the scale


@dataclass(frozen=True, slots=True)
class _Seen:
    """One recorded value: for one plant, for several at once, or for plants that nobody told apart."""

    day: Day
    value: Quantity
    plants: tuple[str, ...]
    words: str
    at: str
    tub: str

    @property
    def alone(self) -> bool:
        return len(self.plants) == 1


@dataclass(frozen=True, slots=True)
class _Curve:
    """A line with its name."""

    line: Line
    name: str


@dataclass(frozen=True, slots=True)
class _Stop:
    """The day from which some plants rose no more, with their heights on it."""

    day: Day
    seen: tuple[_Seen, ...]
    plants: tuple[str, ...]
    words: str


def picture(facts: Facts, units: Units, say: Say) -> Picture | None:
    """The chart, where any height is known."""
    seen = _seen(facts)
    known = [s for s in seen if s.value.known]
    if not known:
        return None
    pinned = pins.pins_of(facts)
    stops = _stops(facts, known)
    scale = scale_for("length", units, (s.value for s in known), room=0.25 if pinned else 0.12)
    own = _own(known, scale)
    medians = _medians(facts, known, scale) if any(s.alone for s in known) else []
    lead, more, faint = (medians[:1], medians[1:], own) if medians else (own, [], [])
    points = [_point(s, facts, say) for s in known]
    return Picture(
        name="height",
        title=f"Height, {scale.unit.symbol}",
        description=" ".join(
            filter(None, (_description(known, stops, bool(medians), say), pins.sentence(pinned)))
        ),
        table=_table(facts, say),
        unit=scale.unit.symbol,
        top=scale.top,
        scale=scale.ticks,
        layers={
            "plants": series.solid(c.line for c in faint),
            "plant-gaps": series.dotted(c.line for c in faint),
            "alone": series.solid(c.line for c in lead) if not medians else (),
            "median": series.solid(c.line for c in lead) if medians else (),
            "more-medians": series.solid(c.line for c in more),
            "median-gaps": series.dotted(c.line for c in (*lead, *more)),
            "ranges": series.ranges(points, scale),
            "arrows": series.arrows(points, scale),
            "spans": series.day_spans(points, scale),
            "points": series.marks(points, scale, _COLOUR),
            "plateaus": _plateaus(stops, scale, facts),
            **pins.layers(pinned, scale.top),
        },
        endings=(
            *_plateau_names(stops, scale),
            *_endings((*lead, *more), strong=True),
            *_endings(faint),
            *_shared(known, scale, {curve.name for curve in own}),
            *pins.endings(pinned, scale.top),
        ),
    )


def _seen(facts: Facts) -> list[_Seen]:
    """Points that come from one place in the log with one value are one record."""
    together: dict[tuple[object, ...], list[PlotPoint]] = defaultdict(list)
    for point in facts.growth.heights:
        together[point.day, point.source, point.value, point.at].append(point)
    return sorted((_record(points, facts) for points in together.values()), key=lambda s: s.day.middle)


def _record(points: list[PlotPoint], facts: Facts) -> _Seen:
    first = points[0]
    plants = tuple(plant for point in points for plant in tables.plants_named(point.subject, facts.run.setup))
    roster = Roster.of(facts.run.setup, facts.run.rows)
    tubs = {roster.tub_of(plant, first.day.first) for plant in plants}
    tub = tubs.pop() if len(tubs) == 1 else ""
    words = tables.plants_in_words(plants, facts.run.setup) or first.subject or "some plants"
    return _Seen(first.day, first.value, plants, words, first.at, tub)


def _point(seen: _Seen, facts: Facts, say: Say) -> Point:
    place = f" to the {seen.at}" if seen.at else ""
    text = f"{seen.words}, day {seen.day}: {say(seen.value)}{place}"
    return Point(seen.day, seen.value, text, series.shape_of(seen.tub, tables.tub_ids(facts)))


def _own(known: Iterable[_Seen], scale: Scale) -> list[_Curve]:
    """A curve for each plant, or set of plants, that no smaller set was told apart from."""
    known = list(known)
    sets = {frozenset(s.plants): s.words for s in known if s.plants}
    smallest = {plants: words for plants, words in sets.items() if not any(other < plants for other in sets)}
    curves: dict[tuple[str, str], list[tuple[float, float]]] = defaultdict(list)
    for seen in known:
        for name in (words for plants, words in smallest.items() if plants <= frozenset(seen.plants)):
            curves[name, seen.at].append((seen.day.middle, scale.of(seen.value.middle)))
    return [
        _Curve(Line(f"{name} {at}".strip(), tuple(corners)), f"{name}, {at}" if at else name)
        for (name, at), corners in curves.items()
    ]


def _medians(facts: Facts, known: Iterable[_Seen], scale: Scale) -> list[_Curve]:
    """The median curve of each tub, over the days on which enough of its plants have a value."""
    tubs = tables.tub_ids(facts)
    by_tub: dict[str, dict[float, dict[str, float]]] = defaultdict(lambda: defaultdict(dict))
    roster = Roster.of(facts.run.setup, facts.run.rows)
    for seen in known:
        for plant in seen.plants if _countable(seen) else ():
            key = roster.tub_of(plant, seen.day.first) if len(tubs) > 1 else ""
            by_tub[key][seen.day.middle][plant] = scale.of(seen.value.middle)
    found = []
    for tub, days in sorted(by_tub.items()):
        full = {day: values for day, values in days.items() if len(values) >= FEWEST_FOR_MEDIAN}
        corners = tuple((day, float(median(values.values()))) for day, values in sorted(full.items()))
        if len(corners) > 1:
            found.append(_Curve(Line(f"median {tub}".strip(), corners), _median_name(tub, facts)))
    return found


def _countable(seen: _Seen) -> bool:
    """Whether a value may enter a median: taken to the topmost leaf, and bounded on both sides."""
    return not seen.at and seen.value.high is not None


def _median_name(tub: str, facts: Facts) -> str:
    return tables.tub_label(tub, facts) if tub else "median"


def _endings(curves: Iterable[_Curve], *, strong: bool = False) -> list[Ending]:
    return [Ending(*curve.line.corners[-1], curve.name, strong) for curve in curves]


def _shared(known: Iterable[_Seen], scale: Scale, named: set[str]) -> list[Ending]:
    """Whom a value stands for, above it: needless where a line has that name already."""
    return [
        Ending(
            s.day.middle, scale.of(s.value.low if s.value.high is None else s.value.high), s.words, above=True
        )
        for s in known
        if not s.alone and s.words not in named
    ]


def _stops(facts: Facts, known: Iterable[_Seen]) -> list[_Stop]:
    """Where plants stopped rising, those of one day together."""
    known = list(known)
    by_day: dict[Day, list[_Seen]] = defaultdict(list)
    for plateau in facts.growth.rate.height.plateau:
        day = plateau.figure.value
        if isinstance(day, Day):
            by_day[day] += [s for s in known if s.day == day and plateau.key in s.plants]
    return [_stop(day, seen, facts) for day, seen in sorted(by_day.items()) if seen]


def _stop(day: Day, seen: Iterable[_Seen], facts: Facts) -> _Stop:
    """One day's plants, of which some may share a record."""
    records = tuple(dict.fromkeys(seen))
    stopped = {p.key for p in facts.growth.rate.height.plateau if p.figure.value == day}
    plants = tuple(plant for plant in facts.run.setup.plant_ids if plant in stopped)
    return _Stop(day, records, plants, tables.plants_in_words(plants, facts.run.setup))


def _plateaus(stops: Iterable[_Stop], scale: Scale, facts: Facts) -> tuple[Bar, ...]:
    """A short upright stroke through each last rise."""
    reach = _STROKE * scale.top
    return tuple(
        Bar(
            stop.day.middle,
            scale.of(s.value.middle) - reach,
            scale.of(s.value.middle) + reach,
            say=f"{tables.plants_in_words(s.plants, facts.run.setup)} stopped rising on day {stop.day}",
        )
        for stop in stops
        for s in stop.seen
    )


def _plateau_names(stops: Iterable[_Stop], scale: Scale) -> list[Ending]:
    return [
        Ending(
            stop.day.middle,
            max(scale.of(s.value.middle) for s in stop.seen),
            f"{stop.words} stopped rising",
            above=True,
            brief="stopped rising",
        )
        for stop in stops
    ]


def _description(known: list[_Seen], stops: list[_Stop], medians: bool, say: Say) -> str:
    tallest = max((s for s in known), key=lambda s: (s.value.high or s.value.low, -s.day.middle))
    plants = {plant for s in known for plant in s.plants}
    who = plural(len(plants), "plant") if plants else "plants not told apart"
    days = plural(len({s.day for s in known}), "day")
    parts = [_finding(tallest, stops, say), f"{who[:1].upper()}{who[1:]} measured on {days}."]
    parts += [
        f"{stop.words} stopped rising on day {stop.day}." for stop in stops if tallest.plants != stop.plants
    ]
    if medians:
        parts.append("Strong lines are medians of the plants measured on a day, three or more of them.")
    return " ".join(parts)


def _finding(tallest: _Seen, stops: Iterable[_Stop], say: Say) -> str:
    """How tall the tallest plant was, and whether it had stopped rising."""
    found = ((stop, s) for stop in stops for s in stop.seen if set(s.plants) & set(tallest.plants))
    stop, seen = next(found, (None, None))
    if stop is None or seen is None:
        return f"Tallest plant {say(tallest.value)} on day {tallest.day}."
    return f"The tallest plant reached {say(seen.value)} by day {stop.day}, then stopped rising."


def _table(facts: Facts, say: Say) -> tables.Table:
    rows = [
        (s.day, (s.words, f"{say(s.value)} to the {s.at}" if s.at else say(s.value))) for s in _seen(facts)
    ]
    return tables.by_day(facts, ("Plant", "Height"), rows)
