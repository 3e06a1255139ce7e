"""Height by day: a line for each plant, and the median where at least three were measured.

In: the heights among the facts. Out: a picture. A value given for several plants at once is each plant's,
is drawn once, and says for whom it stands.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from statistics import median

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.records.roster import Roster
from sitegen.core.site.chart import Table
from sitegen.plot.chart_type import ChartType, Layer
from sitegen.plot.charts import plateaus
from sitegen.plot.charts.height_readings import Seen, heights_seen
from sitegen.plot.charts.plateaus import Stop
from sitegen.plot.drawing import tables
from sitegen.plot.drawing.picture import Ending, Picture
from sitegen.plot.drawing.scale import Scale, Units, scale_for
from sitegen.plot.marks import pins, series
from sitegen.plot.marks.series import Line, Point, Say

FEWEST_FOR_MEDIAN = 3  # two plants are better shown as two; custom, no source
_COLOUR = "var(--growth)"
_LAYERS = (
    Layer("bar", "threads", "var(--ink-soft)", width=1, opacity=0.6, dash=(1, 3)),
    Layer("line", "plants", _COLOUR, width=1.25, opacity=0.5),
    Layer("line", "plant-gaps", _COLOUR, width=1.25, opacity=0.6, dash=(0.1, 4), cap="round"),
    Layer("line", "alone", _COLOUR, width=2),
    Layer("line", "median", _COLOUR, width=3),
    Layer("line", "more-medians", _COLOUR, width=3, dash=(14, 4)),
    Layer("line", "median-gaps", _COLOUR, width=3, dash=(0.1, 7), cap="round"),
    Layer("bar", "ranges", _COLOUR, width=6, opacity=0.55),
    Layer("arrow", "arrows", _COLOUR),
    Layer("span", "spans", _COLOUR),
    Layer("bar", "plateaus", "var(--ink)", width=2),
    Layer("symbol", "points", _COLOUR),
    Layer("symbol", "prunings", "var(--ink)", size=50),
    Layer("symbol", "troubles", "var(--trouble)", size=60),
)


@dataclass(frozen=True, slots=True)
class _Curve:
    """A line with its name."""

    line: Line
    name: str


def picture(facts: Facts, units: Units, say: Say) -> Picture | None:
    """The chart, where any height is known."""
    seen = heights_seen(facts)
    known = [s for s in seen if s.value.known]
    if not known:
        return None
    pinned = pins.pins_of(facts)
    stops = plateaus.stops(facts, known)
    scale = scale_for("length", units, (s.value for s in known), room=0.25 if pinned else 0.12)
    own = _own(known, scale)
    medians = _medians(facts, known, scale) if any(s.alone for s in known) else []
    lead, more, faint = (medians[:1], medians[1:], own) if medians else (own, [], [])
    points = [_point(s, facts, say) for s in known]
    return Picture(
        title=tr("Height, {unit}", unit=scale.unit.symbol),
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
            "plateaus": plateaus.strokes(stops, scale, facts),
            **pins.layers(pinned, scale.top),
        },
        endings=(
            *plateaus.names(stops, scale),
            *_endings((*lead, *more), strong=True),
            *_endings(faint),
            *_shared(known, scale, {curve.name for curve in own}),
            *pins.endings(pinned, scale.top),
        ),
    )


def _point(seen: Seen, facts: Facts, say: Say) -> Point:
    text = tr("{who}, {day}: {value}", who=seen.words, day=seen.day.words, value=_said(seen, say))
    return Point(seen.day, seen.value, text, series.shape_of(seen.tub, tables.tub_ids(facts)))


def _said(seen: Seen, say: Say) -> str:
    """A height, and what it was taken to where that was not the top."""
    said = say(seen.value)
    return tr("{value} to the {place}", value=said, place=tr(seen.at)) if seen.at else said


def _own(known: Iterable[Seen], scale: Scale) -> list[_Curve]:
    """A curve for each plant, or set of plants, that no smaller set was told apart from."""
    known = list(known)
    sets = {frozenset(s.plants): s.words for s in known if s.plants}
    smallest = {plants: words for plants, words in sets.items() if not any(other < plants for other in sets)}
    curves: dict[tuple[str, str], list[tuple[float, float]]] = defaultdict(list)
    for seen in known:
        for name in (words for plants, words in smallest.items() if plants <= frozenset(seen.plants)):
            curves[name, seen.at].append((seen.day.middle, scale.of(seen.value.middle)))
    return [
        _Curve(Line(f"{name} {at}".strip(), tuple(corners)), f"{name}, {tr(at)}" if at else name)
        for (name, at), corners in curves.items()
    ]


def _medians(facts: Facts, known: Iterable[Seen], scale: Scale) -> list[_Curve]:
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


def _countable(seen: Seen) -> bool:
    """Whether a value may enter a median: taken to the topmost leaf, and bounded on both sides."""
    return not seen.at and seen.value.high is not None


def _median_name(tub: str, facts: Facts) -> str:
    return tables.tub_label(tub, facts) if tub else tr("median")


def _endings(curves: Iterable[_Curve], *, strong: bool = False) -> list[Ending]:
    return [Ending(*curve.line.corners[-1], curve.name, strong) for curve in curves]


def _shared(known: Iterable[Seen], scale: Scale, named: set[str]) -> list[Ending]:
    """Whom a value stands for, above it: needless where a line has that name already."""
    return [
        Ending(
            s.day.middle, scale.of(s.value.low if s.value.high is None else s.value.high), s.words, above=True
        )
        for s in known
        if not s.alone and s.words not in named
    ]


def _description(known: list[Seen], stops: list[Stop], medians: bool, say: Say) -> str:
    tallest = max((s for s in known), key=lambda s: (s.value.high or s.value.low, -s.day.middle))
    plants = {plant for s in known for plant in s.plants}
    days = tr_n("{n} day", "{n} days", len({s.day for s in known}))
    parts = [plateaus.finding(tallest, stops, say), _measured(len(plants), days)]
    parts += [
        tr("{who} stopped rising on {day}.", who=stop.words, day=stop.day.words)
        for stop in stops
        if tallest.plants != stop.plants
    ]
    if medians:
        parts.append(tr("Strong lines are medians of the plants measured on a day, three or more of them."))
    return " ".join(parts)


def _measured(plants: int, days: str) -> str:
    if not plants:
        return tr("Plants not told apart measured on {days}.", days=days)
    return tr_n("{n} plant measured on {days}.", "{n} plants measured on {days}.", plants, days=days)


def _table(facts: Facts, say: Say) -> Table:
    rows = [(s.day, (s.words, _said(s, say))) for s in heights_seen(facts)]
    return tables.by_day(facts, (tr("Plant"), tr("Height")), rows)


CHARTS = (ChartType("height", _LAYERS, picture),)
