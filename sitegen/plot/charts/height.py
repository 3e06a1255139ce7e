"""Height by day: a line for each plant, and the median where at least three were measured.

In: heights and plateaus among the facts. Out: the data of a chart. A value given for several plants at once is each
plant's, is drawn once, and says for whom it stands. A stroke marks where plants stopped rising, which is for
`measure` to say.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from statistics import median

from sitegen.core.facts.tree import Facts, PlotPoint
from sitegen.core.findings.source import Source
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.text import day_words, name_in_text
from sitegen.core.records.roster import Roster
from sitegen.core.site.chart import Table
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_data import Area, Bar, ChartData, Layers, PointLabel
from sitegen.plot.chart_type import ChartInput, ChartType, Layer, days_note, plants_of, plants_text
from sitegen.plot.marks import event_marks, point_marks
from sitegen.plot.marks.point_marks import Corner, Line, Point, grouped
from sitegen.plot.numbers_table import numbers_table, quantity_cells, quantity_heads
from sitegen.plot.scale import Scale, scale_for
from sitegen.plot.stretch import stretch, stretch_note


@dataclass(frozen=True, slots=True)
class HeightRecord:
    """One recorded value: its plants, their name in words, its upper end, its place, and the tub where all are in one."""

    day: Day
    value: Quantity
    plants: tuple[str, ...]
    words: str
    at: str
    tub: str
    source: Source

    @property
    def alone(self) -> bool:
        """Whether it is one plant's."""
        return len(self.plants) == 1


@dataclass(frozen=True, slots=True)
class Plateau:
    """The day from which some plants rose no more, with their heights on it."""

    day: Day
    records: tuple[HeightRecord, ...]
    plants: tuple[str, ...]
    words: str


def height_records(facts: Facts) -> list[HeightRecord]:
    """Points that come from one place in the log with one value are one record."""
    together = grouped(facts.growth.heights, lambda p: (p.day, p.source, p.value, p.at))
    return sorted((_record(points, facts) for points in together.values()), key=lambda r: r.day.key)


def _record(points: Sequence[PlotPoint], facts: Facts) -> HeightRecord:
    first, setup = points[0], facts.run.setup
    plants = tuple(plant for point in points for plant in plants_of(point.subject, setup))
    roster = Roster.of(setup, facts.run.rows)
    tubs = {roster.tub_of(plant, first.day.first) for plant in plants}
    tub = tubs.pop() if len(tubs) == 1 else ""
    words = plants_text(plants, setup) or first.subject or tr("some plants")
    return HeightRecord(first.day, first.value, plants, words, first.at, tub, first.source)


def plateaus(facts: Facts, known: Sequence[HeightRecord]) -> list[Plateau]:
    """Where plants stopped rising, those of one day together; of these some may share a record."""
    setup = facts.run.setup
    stopped: dict[Day, list[str]] = defaultdict(list)
    for plateau in facts.growth.rate.height.plateau:
        if isinstance(plateau.figure.value, Day):
            stopped[plateau.figure.value].append(plateau.key)
    found = []
    for day, keys in sorted(stopped.items()):
        plants = tuple(plant for plant in setup.plant_ids if plant in keys)
        records = (record for key in keys for record in known if record.day == day and key in record.plants)
        found.append(Plateau(day, tuple(dict.fromkeys(records)), plants, plants_text(plants, setup)))
    return [plateau for plateau in found if plateau.records]


FEWEST_FOR_MEDIAN = 3  # two plants are better shown as two; custom, no source
_STROKE = 0.06  # half a stroke where a plant stopped rising, as a share of the scale
_COLOUR = "var(--growth)"
_LAYERS = (
    event_marks.THREADS,
    Layer("line", "plants", _COLOUR, width=1.25, opacity=0.5),
    Layer("line", "plant-gaps", _COLOUR, width=1.25, opacity=0.6, dash=(0.1, 4), cap="round"),
    Layer("line", "alone", _COLOUR, width=2),
    Layer("line", "median", _COLOUR, width=3),
    Layer("line", "more-medians", _COLOUR, width=3, dash=(14, 4)),
    Layer("line", "median-gaps", _COLOUR, width=3, dash=(0.1, 7), cap="round"),
    Layer("bar", "ranges", _COLOUR, width=6, opacity=0.55),
    Layer("arrow", "arrows", _COLOUR),
    *point_marks.day_layers(_COLOUR),
    Layer("area", "plateau-boxes", "var(--ink)", opacity=0.3),
    Layer("bar", "plateaus", "var(--ink)", width=2),
    Layer("symbol", "points", _COLOUR),
    *event_marks.EVENT_LAYERS,
)


@dataclass(frozen=True, slots=True)
class _Curve(Line):
    """A line with its name."""

    name: str


def height(given: ChartInput) -> ChartData | None:
    """The chart, where any height is known."""
    records = height_records(given.facts)
    known = [record for record in records if record.value.known]
    if not known:
        return None
    events = event_marks.event_marks(given.facts)
    stops = plateaus(given.facts, known)
    scale = scale_for("length", given.units, (r.value for r in known), room=0.25 if events else 0.12)
    own = _own(known, scale)
    medians = _medians(known, scale, given) if any(r.alone for r in known) else []
    lead, more, faint = (medians[:1], medians[1:], own) if medians else (own, [], [])
    points = [_point(record, given) for record in known]
    first, last = stretch([*(r.day for r in known), *(mark.day for mark in events)], given.facts.axis)
    return ChartData(
        title=tr("Height, {unit}", unit=scale.unit.symbol),
        caption=_found(known, stops, given),
        said=_said_instead(known, given),
        description=" ".join(
            filter(
                None,
                (
                    _description(known, stops, bool(medians), given),
                    event_marks.sentence(events),
                    stretch_note(first, last, given.facts.axis),
                    days_note([*(r.day for r in known), *(mark.day for mark in events)]),
                ),
            )
        ),
        begins=first,
        ends=last,
        table=_table(records, given),
        axis=scale.axis,
        layers={
            **point_marks.layers(points, scale, _COLOUR),
            **event_marks.layers(events, scale.top),
            "plants": point_marks.lines(faint),
            "plant-gaps": point_marks.lines(faint, gaps=True),
            "median" if medians else "alone": point_marks.lines(lead),
            "more-medians": point_marks.lines(more),
            "median-gaps": point_marks.lines((*lead, *more), gaps=True),
            **_strokes(stops, scale, given),
        },
        point_labels=(
            *_plateau_labels(stops, scale),
            *_curve_labels((*lead, *more), strong=True),
            *_curve_labels(faint),
            *_shared_labels(known, scale, {curve.name for curve in own}),
            *event_marks.names(events, scale.top),
        ),
    )


def _point(record: HeightRecord, given: ChartInput) -> Point:
    title = tr(
        "{who}, {day}: {value}", who=record.words, day=day_words(record.day), value=_said(record, given)
    )
    return Point(record.day, record.value, title, point_marks.shape_of(record.tub, given.tubs))


def _said(record: HeightRecord, given: ChartInput) -> str:
    """A height, with its upper end where that was not the topmost leaf."""
    said = given.say(record.value)
    return tr("{value} to the {place}", value=said, place=tr(record.at)) if record.at else said


def _own(known: Sequence[HeightRecord], scale: Scale) -> list[_Curve]:
    """A curve for each plant, or for each smallest set of plants that was measured together."""
    sets = {frozenset(r.plants): r.words for r in known if r.plants}
    smallest = {plants: words for plants, words in sets.items() if not any(other < plants for other in sets)}
    curves: dict[tuple[str, str], list[Corner]] = defaultdict(list)
    for record in known:
        for name in (words for plants, words in smallest.items() if plants <= frozenset(record.plants)):
            curves[name, record.at].append(Corner.on(record.day, scale.of(record.value.middle)))
    return [
        _Curve(f"{name} {at}".strip(), tuple(corners), f"{name}, {tr(at)}" if at else name)
        for (name, at), corners in curves.items()
    ]


def _medians(known: Iterable[HeightRecord], scale: Scale, given: ChartInput) -> list[_Curve]:
    """The median curve of each tub, over the days on which enough of its plants have a value.

    Only heights to the topmost leaf that have both bounds enter it, and of a plant only those from before its move.
    """
    by_tub: dict[str, dict[Day, dict[str, float]]] = defaultdict(lambda: defaultdict(dict))
    roster = Roster.of(given.facts.run.setup, given.facts.run.rows)
    for record in known:
        for plant in record.plants if not record.at and record.value.high is not None else ():
            if len(given.tubs) < 2:
                by_tub[""][record.day][plant] = scale.of(record.value.middle)
            elif not _moved_by(record, plant, roster):
                tub = roster.tub_of(plant, record.day.first)
                by_tub[tub][record.day][plant] = scale.of(record.value.middle)
    found = []
    for tub, days in sorted(by_tub.items()):
        full = {day: values for day, values in days.items() if len(values) >= FEWEST_FOR_MEDIAN}
        corners = tuple(
            Corner.on(day, float(median(values.values()))) for day, values in sorted(full.items())
        )
        if len(corners) > 1:
            name = given.tub_label(tub) if tub else tr("median")
            found.append(_Curve(f"median {tub}".strip(), corners, name))
    return found


def _moved_by(record: HeightRecord, plant: str, roster: Roster) -> bool:
    """Whether a plant had moved to another tub, or may have, when it was measured."""
    moved = roster.moved_on(plant)
    return moved is not None and record.day.last >= moved.day.first


def _curve_labels(curves: Iterable[_Curve], *, strong: bool = False) -> list[PointLabel]:
    return [
        PointLabel(curve.corners[-1].end, curve.corners[-1].value, curve.name, strong) for curve in curves
    ]


def _shared_labels(known: Iterable[HeightRecord], scale: Scale, named: set[str]) -> list[PointLabel]:
    """The plants of a shared value, above it; left out where a line has that name."""
    return [
        PointLabel(r.day.middle, scale.upper(r.value), r.words, above=True)
        for r in known
        if not r.alone and r.words not in named
    ]


def _plateau_labels(stops: Iterable[Plateau], scale: Scale) -> list[PointLabel]:
    """Who stopped rising, over each stroke."""
    return [
        PointLabel(
            stop.day.middle,
            max(scale.of(r.value.middle) for r in stop.records),
            tr("{who} grew no taller", who=name_in_text(stop.words)),
            above=True,
            short=tr("grew no taller"),
        )
        for stop in stops
    ]


def _strokes(stops: Iterable[Plateau], scale: Scale, given: ChartInput) -> Layers:
    """A short upright stroke through each last rise; a box where its day is uncertain."""
    reach, strokes, boxes = _STROKE * scale.top, [], []
    for stop in stops:
        for record in stop.records:
            who = name_in_text(plants_text(record.plants, given.facts.run.setup))
            middle = scale.of(record.value.middle)
            title = tr("{who} grew no taller after {day}", who=who, day=day_words(stop.day))
            if stop.day.exact:
                strokes.append(Bar(stop.day.first, middle - reach, middle + reach, title=title))
            else:
                boxes.append(Area(*stop.day.reach, middle - reach, middle + reach, title))
    return {"plateaus": strokes, "plateau-boxes": boxes}


def _description(
    known: Sequence[HeightRecord], stops: Sequence[Plateau], medians: bool, given: ChartInput
) -> str:
    tallest = _tallest(known, given)
    stopped = _stopped_at(stops, tallest)
    parts = [_found(known, stops, given)]
    parts += [
        tr("{who} grew no taller after {day}.", who=name_in_text(stop.words), day=day_words(stop.day))
        for stop in stops
        if stop is not stopped or (tallest and tallest.plants != stop.plants)
    ]
    if medians:
        parts.append(
            tr("Bold lines show the middle plant (the median) on days when three or more were measured.")
        )
        roster = Roster.of(given.facts.run.setup, given.facts.run.rows)
        moved = {p for r in known for p in r.plants if len(given.tubs) > 1 and _moved_by(r, p, roster)}
        if moved:
            who = plants_text(
                tuple(p for p in given.facts.run.setup.plant_ids if p in moved), given.facts.run.setup
            )
            parts.append(tr("Without {who} after the move to another tub.", who=name_in_text(who)))
    return " ".join(parts)


def _found(known: Sequence[HeightRecord], stops: Sequence[Plateau], given: ChartInput) -> str:
    """The tallest plant, and how many were measured."""
    tallest = _tallest(known, given)
    return " ".join([*_tallest_said(tallest, _stopped_at(stops, tallest), given), _measured(known)])


def _table(records: Iterable[HeightRecord], given: ChartInput) -> Table:
    """Each record: whose it is, up to where it was measured where that was not the topmost leaf, and the height."""
    rows = [(r.day, (" ".join(r.plants) or r.words, r.at, *quantity_cells(r.value))) for r in records]
    heads = ("plants", "measured_to", *quantity_heads("height", Dimension.LENGTH))
    return numbers_table(heads, rows, given.start)


def _said_instead(known: Sequence[HeightRecord], given: ChartInput) -> str:
    points = [PlotPoint(r.day, r.words, r.value, r.source, r.at) for r in known]
    return given.said_instead(tr("Height"), points)


def _stopped_at(stops: Iterable[Plateau], tallest: HeightRecord | None) -> Plateau | None:
    """Where the tallest plant stopped rising."""
    return next((stop for stop in stops if tallest and _stopped_as_tall(stop, tallest)), None)


def _tallest(known: Iterable[HeightRecord], given: ChartInput) -> HeightRecord | None:
    """The record of the tallest plant: which one it is, is for `measure` to say."""
    tallest = given.facts.growth.tallest
    return next((r for r in known if r.source in tallest.rows and r.value == tallest.value), None)


def _stopped_as_tall(stop: Plateau, tallest: HeightRecord) -> bool:
    """Whether the tallest plant stopped rising on a day with the very height that makes it the tallest."""
    return any(r.value == tallest.value and set(r.plants) & set(tallest.plants) for r in stop.records)


def _tallest_said(tallest: HeightRecord | None, stopped: Plateau | None, given: ChartInput) -> Iterator[str]:
    """How tall the tallest plant was, and whether it had stopped rising."""
    if tallest is None:
        return
    height = given.in_sentence(tallest.value)
    if stopped is None:
        yield tr("Tallest plant {height} on {day}.", height=height, day=day_words(tallest.day))
    else:
        yield tr(
            "The tallest plant had reached {height} by {day} and grew no taller.",
            height=height,
            day=day_words(stopped.day),
        )


def _measured(known: Iterable[HeightRecord]) -> str:
    plants = {plant for record in known for plant in record.plants}
    days = tr_n("{n} day", "{n} days", len({record.day for record in known}))
    if not plants:
        return tr("Measured on {days}, without noting which plant was which.", days=days)
    return tr_n("{n} plant measured on {days}.", "{n} plants measured on {days}.", len(plants), days=days)


CHARTS = (ChartType("height", _LAYERS, height),)
