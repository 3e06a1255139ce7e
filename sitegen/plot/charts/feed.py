"""Feed by day: a lane for each product (and tub), so that nothing but its place tells products apart.

In: the doses and routines among the facts. Out: a picture. Every lane stands on its own zero; lanes of one
kind of quantity share a scale. A dose of unknown size is an open diamond. A
routine is a dotted line; only one that counts logged refills is among the bars.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from sitegen.core.facts.tree import Facts, PlotPoint, RoutineFacts
from sitegen.core.language.catalogue import tr, tr_n, tr_noop
from sitegen.core.language.text import listed
from sitegen.core.records.rows import Deed
from sitegen.core.site.chart import Table
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_type import ChartType, Layer
from sitegen.plot.drawing import tables
from sitegen.plot.drawing.picture import Bar, Label, Mark, Picture, Row, Span, Tick
from sitegen.plot.drawing.scale import Scale, Units, Use, scale_for
from sitegen.plot.marks import series
from sitegen.plot.marks.series import Point, Say

_COLOUR = "var(--feed)"
_LAYERS = (
    Layer("span", "floors", "var(--ink-soft)", width=1),
    Layer("span", "routines", _COLOUR, width=2.5, dash=(0.1, 6), cap="round"),
    Layer("bar", "bars", _COLOUR, width=4),
    Layer("bar", "ranges", _COLOUR, width=8, opacity=0.4),
    Layer("arrow", "arrows", _COLOUR),
    Layer("symbol", "points", _COLOUR, size=40),
)
_COUNTED = tr_noop(
    "every logged refill"
)  # such a routine is among the doses; any other is said, and not summed
_LANE = 64.0  # height of a lane, in units of the drawing
_REACH = 0.58  # the share of a lane that the tallest bar takes; its name stands above
_NAME = 0.82  # how high over its floor a lane's name stands
_ROUTINE = 0.14  # how high over a lane's floor a routine runs
_USES: dict[Dimension, Use] = {Dimension.VOLUME: "dose", Dimension.MASS: "mass"}


@dataclass(frozen=True, slots=True)
class _Lane:
    """One product in one tub: doses summed by day, routines, and the scale they are drawn on."""

    name: str
    points: tuple[Point, ...]
    routines: tuple[RoutineFacts, ...]
    scale: Scale
    floor: int

    def at(self, value: float) -> float:
        """The height of a value of the scale, in lanes."""
        return self.floor + _REACH * value / self.scale.top


def picture(facts: Facts, units: Units, say: Say) -> Picture | None:
    """The chart, where any feed was logged or any feeding routine named."""
    fed = sorted(facts.solution.fed, key=lambda p: p.day.middle)
    lanes = _lanes(fed, facts, units, say)
    if not lanes:
        return None
    symbols = list(dict.fromkeys(lane.scale.unit.symbol for lane in lanes if lane.points))
    return Picture(
        title=tr("Feed, {units}", units=listed(symbols)) if symbols else tr("Feed"),
        description=_description(fed, facts, say),
        table=_table(fed, facts, say),
        unit=symbols[0] if len(symbols) == 1 else "",
        top=float(len(lanes)),
        scale=tuple(tick for lane in lanes for tick in _ticks(lane)),
        layers=_layers(lanes, facts, say),
        fixed=tuple(Label(0, lane.floor + _NAME, _lane_text(lane), "left", 4.0) for lane in lanes),
        height=_LANE * len(lanes),
    )


def _key(point: PlotPoint, facts: Facts) -> tuple[str, str]:
    """The name of a dose's product, and its tub: of a point's two names, the one that a tub has."""
    tubs = tables.tub_ids(facts)
    product, tub = (point.at, point.subject) if point.subject in tubs else (point.subject, point.at)
    names = {dose.product: dose.label for of in facts.solution.tubs for dose in of.doses}
    return names.get(product, product), tub if len(tubs) > 1 else ""


def _routines(facts: Facts) -> dict[tuple[str, str], list[RoutineFacts]]:
    """The feeding routines by product's name and tub."""
    several = len(tables.tub_ids(facts)) > 1
    found: dict[tuple[str, str], list[RoutineFacts]] = defaultdict(list)
    for routine in facts.solution.routines:
        if routine.what == Deed.FEED:
            found[routine.label, routine.tub if several else ""].append(routine)
    return found


def _lanes(fed: Sequence[PlotPoint], facts: Facts, units: Units, say: Say) -> list[_Lane]:
    """Lanes from the top downwards, in the order in which their products first went in."""
    doses: dict[tuple[str, str], list[PlotPoint]] = defaultdict(list)
    for point in fed:
        doses[_key(point, facts)].append(point)
    routines = _routines(facts)
    keys = list(dict.fromkeys([*doses, *routines]))
    lanes = []
    for index, key in enumerate(keys):
        own = doses.get(key, [])
        name = f"{key[0]}, {tables.tub_label(key[1], facts)}" if key[1] else key[0]
        scale = _scale(own, fed, units)
        floor = len(keys) - 1 - index
        lanes.append(_Lane(name, _points(own, name, say), tuple(routines.get(key, ())), scale, floor))
    return lanes


def _scale(own: Sequence[PlotPoint], fed: Sequence[PlotPoint], units: Units) -> Scale:
    """The scale of every lane of the same kind of quantity."""
    dimension = own[0].value.dimension if own else Dimension.VOLUME
    by_day = _by_day(p for p in fed if p.value.dimension is dimension)
    return scale_for(_USES.get(dimension, dimension), units, by_day.values(), most=1)


def _by_day(fed: Iterable[PlotPoint]) -> dict[tuple[Day, str, str], Quantity]:
    """The sum of each product on each day: what a bar is as tall as."""
    together: dict[tuple[Day, str, str], list[Quantity]] = defaultdict(list)
    for point in fed:
        together[point.day, point.subject, point.at].append(point.value)
    return {key: total(parts, parts[0].dimension) for key, parts in together.items()}


def _points(own: Sequence[PlotPoint], name: str, say: Say) -> tuple[Point, ...]:
    return tuple(
        Point(day, value, tr("{who}, {day}: {value}", who=name, day=day.words, value=say(value)))
        for (day, *_), value in _by_day(own).items()
    )


def _ticks(lane: _Lane) -> tuple[Tick, ...]:
    """A lane's zero and the top of its scale; a lane without doses has none."""
    if not any(point.value.known for point in lane.points):
        return (Tick(lane.floor, ""),)
    return tuple(Tick(lane.at(tick.value), tick.text) for tick in lane.scale.ticks)


def _layers(lanes: Sequence[_Lane], facts: Facts, say: Say) -> dict[str, Sequence[Row]]:
    def gathered(draw: Callable[[_Lane], Iterable[Row]]) -> tuple[Row, ...]:
        return tuple(row for lane in lanes for row in draw(lane))

    return {
        "floors": tuple(Span(0, facts.axis.end, lane.floor) for lane in lanes),
        "bars": gathered(_bars),
        "ranges": gathered(lambda lane: _lifted(series.ranges(lane.points, lane.scale), lane)),
        "arrows": gathered(lambda lane: _lifted(series.arrows(lane.points, lane.scale), lane)),
        "routines": gathered(lambda lane: _routine_spans(lane, facts, say)),
        "points": gathered(_marks),
    }


def _lane_text(lane: _Lane) -> str:
    return tr("{product} (dotted: routine)", product=lane.name) if lane.routines else lane.name


def _bars(lane: _Lane) -> tuple[Bar, ...]:
    return _lifted(series.bars(lane.points, lane.scale), lane)


def _lifted(bars: Iterable[Bar], lane: _Lane) -> tuple[Bar, ...]:
    """Bars of the lane's scale, moved up to the lane."""
    return tuple(replace(bar, low=lane.at(bar.low), value=lane.at(bar.value)) for bar in bars)


def _marks(lane: _Lane) -> tuple[Mark, ...]:
    measured = series.marks(lane.points, lane.scale, _COLOUR)
    unknown = series.unmeasured(lane.points)
    return tuple(replace(mark, value=lane.at(mark.value)) for mark in (*measured, *unknown))


def _routine_spans(lane: _Lane, facts: Facts, say: Say) -> tuple[Span, ...]:
    """From the day a routine began to the day it ended, or to the last entry."""
    return tuple(
        Span(
            routine.first.middle,
            routine.until.middle if routine.until else facts.axis.last,
            lane.floor + _ROUTINE,
            _routine_text(routine, say),
        )
        for routine in lane.routines
    )


def _routine_text(routine: RoutineFacts, say: Say) -> str:
    amount = say(routine.amount) if routine.amount else tr("as labelled") if routine.as_labelled else ""
    often = tr("at {often}", often=tr(routine.often)) if routine.often else ""
    how = " ".join(filter(None, (amount, often))) or tr("amount not kept")
    said = f"{routine.label}: {how}, {_stretch(routine)}"
    return said if routine.often == _COUNTED else f"{said} {tr('(not counted)')}"


def _stretch(routine: RoutineFacts) -> str:
    first = routine.first.words
    if routine.until:
        return tr("from {first} to {last}", first=first, last=routine.until.words)
    return tr("from {first}", first=first)


def _description(fed: Sequence[PlotPoint], facts: Facts, say: Say) -> str:
    by_product: dict[str, list[PlotPoint]] = defaultdict(list)
    for point in fed:
        by_product[_key(point, facts)[0]].append(point)
    sums = [_sum_text(name, points, say) for name, points in by_product.items()]
    routines = [_routine_text(r, say) for rs in _routines(facts).values() for r in rs]
    dotted = [tr("Dotted, a routine: {routines}.", routines="; ".join(routines))] if routines else []
    return " ".join([*(f"{text}." for text in sums), *dotted])


def _sum_text(name: str, points: Sequence[PlotPoint], say: Say) -> str:
    """A product's sum; sums of different kinds of quantity stand side by side."""
    kinds = dict.fromkeys(p.value.dimension for p in points)
    sums = [say(total((p.value for p in points if p.value.dimension is kind), kind)) for kind in kinds]
    days = tr_n("{n} day", "{n} days", len({p.day for p in points}))
    return tr("{what}: {amount} on {days}", what=name, amount=listed(sums), days=days)


def _table(fed: Sequence[PlotPoint], facts: Facts, say: Say) -> Table:
    several = len(tables.tub_ids(facts)) > 1
    columns = (tr("Product"), tr("Tub"), tr("Dose")) if several else (tr("Product"), tr("Dose"))
    rows = []
    for point in fed:
        product, tub = _key(point, facts)
        cells = (product, tables.tub_label(tub, facts), say(point.value))
        rows.append((point.day, cells if several else (product, cells[2])))
    return tables.by_day(facts, columns, rows)


CHARTS = (ChartType("feed", _LAYERS, picture),)
