"""Feed by day: a lane for each product and tub; colour has no meaning of its own.

In: the doses and routines among the facts. Out: the data of a chart. Every lane stands on its own zero; lanes of one
kind of quantity share a scale. A dose of unknown size is an open diamond. A
routine is a dotted line; its doses at logged refills are among the bars, and others make a sum a lower bound.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.core.facts.tree import PlotPoint, RoutineFacts
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.display_units import first_system
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import day_words, listed
from sitegen.core.records.rows import Deed
from sitegen.core.site.chart import Table
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_data import Area, Bar, ChartData, Label, Layers, Row, Span, Symbol, Tick, ValueAxis
from sitegen.plot.chart_type import ChartInput, ChartType, Layer, as_sentence, days_note, too_few
from sitegen.plot.marks import point_marks
from sitegen.plot.marks.point_marks import Point, grouped
from sitegen.plot.numbers_table import numbers_table, quantity_cells, unit_head
from sitegen.plot.scale import Scale, Use, scale_for

_COLOUR = "var(--feed)"
_LAYERS = (
    Layer("span", "floors", "var(--ink-soft)", width=1),
    Layer("span", "routines", _COLOUR, width=2.5, dash=(0.1, 6), cap="round"),
    Layer("span", "routine-ends", _COLOUR, width=5, opacity=0.6, dash=(0.1, 6), cap="round"),
    Layer("area", "bar-boxes", _COLOUR, opacity=0.3),
    *point_marks.day_layers(_COLOUR),
    Layer("bar", "bars", _COLOUR, width=4),
    Layer("bar", "ranges", _COLOUR, width=8, opacity=0.4),
    Layer("arrow", "arrows", _COLOUR),
    Layer("symbol", "points", _COLOUR, size=40),
)
_LANE = 64.0  # height of a lane, in units of the drawing
_REACH = 0.58  # the share of a lane that the tallest bar takes; its name stands above
_NAME = 0.82  # how high over its floor a lane's name stands
_ROUTINE = 0.14  # how high over a lane's floor a routine runs
_USES: dict[Dimension, Use] = {Dimension.VOLUME: "dose", Dimension.MASS: "mass"}

_Key = tuple[str, str]  # a product's name, and its tub where there are several


@dataclass(frozen=True, slots=True)
class _Lane:
    """One product in one tub: doses summed by day, routines, and the scale they are drawn on."""

    name: str
    points: tuple[Point, ...]
    routines: Sequence[RoutineFacts]
    scale: Scale
    floor: int

    def at(self, value: float) -> float:
        """The height of a value of the scale, in lanes."""
        return self.floor + _REACH * value / self.scale.top

    @property
    def label(self) -> str:
        """Its name in the drawing."""
        return tr("{product} (dotted: routine)", product=self.name) if self.routines else self.name

    @property
    def ticks(self) -> tuple[Tick, ...]:
        """Its zero and the top of its scale; a lane without known doses has none."""
        if not any(point.value.known for point in self.points):
            return (Tick(self.floor, ""),)
        return tuple(Tick(self.at(tick.value), tick.text) for tick in self.scale.ticks)


def feed(given: ChartInput) -> ChartData | None:
    """The chart, where any feed was logged or any feeding routine named."""
    fed = sorted(given.facts.solution.fed, key=lambda p: p.day.key)
    lanes = _lanes(fed, given)
    if not lanes:
        return None
    symbols = list(dict.fromkeys(lane.scale.unit.symbol for lane in lanes if lane.points))
    ticks = tuple(tick for lane in lanes for tick in lane.ticks)
    return ChartData(
        title=tr("Feed, {units}", units=listed(symbols)) if symbols else tr("Feed"),
        caption=_sums(fed, given) or _dotted(given),
        description=_description(fed, given),
        said=as_sentence(tr("Feed"), [_sums(fed, given), _without_drawing(given)])
        if too_few(p.day for p in fed)
        else "",
        table=_table(fed, given),
        axis=ValueAxis(symbols[0] if len(symbols) == 1 else "", float(len(lanes)), ticks),
        layers=_layers(lanes, given),
        fixed_labels=tuple(Label(0, lane.floor + _NAME, lane.label, "left", 4.0) for lane in lanes),
        height=_LANE * len(lanes),
    )


def _key(point: PlotPoint, given: ChartInput) -> _Key:
    """The product and tub of a dose: of a point's two names, the tub's is the one that a tub has."""
    product, tub = (point.at, point.subject) if point.subject in given.tubs else (point.subject, point.at)
    names = {dose.product: label_words(dose.label) for of in given.facts.solution.tubs for dose in of.doses}
    return names.get(product, product), tub if len(given.tubs) > 1 else ""


def _routines(given: ChartInput) -> dict[_Key, list[RoutineFacts]]:
    """The feeding routines by product's name and tub."""
    several = len(given.tubs) > 1
    routines = (routine for routine in given.facts.solution.routines if routine.what == Deed.FEED)
    return grouped(routines, lambda each: (label_words(each.label), each.tub if several else ""))


def _lanes(fed: Sequence[PlotPoint], given: ChartInput) -> list[_Lane]:
    """Lanes from the top downwards, in the order in which their products first went in."""
    doses = grouped(fed, lambda point: _key(point, given))
    routines = _routines(given)
    keys = list(dict.fromkeys([*doses, *routines]))
    lanes = []
    for floor, (product, tub) in zip(reversed(range(len(keys))), keys, strict=True):
        own = doses.get((product, tub), [])
        name = f"{product}, {given.tub_label(tub)}" if tub else product
        points = tuple(_point(name, day, parts, given) for (day, _), parts in _by_day(own).items())
        lanes.append(_Lane(name, points, routines.get((product, tub), ()), _scale(own, fed, given), floor))
    return lanes


def _scale(own: Sequence[PlotPoint], fed: Sequence[PlotPoint], given: ChartInput) -> Scale:
    """The scale of every lane of the same kind of quantity: in ml where its doses were typed in ml."""
    dimension = own[0].value.dimension if own else Dimension.VOLUME
    alike = [p for p in fed if p.value.dimension is dimension]
    systems = {first_system(p.value, given.units) for p in alike if p.value.known}
    units = systems.pop() if len(systems) == 1 else given.units
    by_lane = grouped(alike, lambda point: _key(point, given)).values()
    sums = [_sum(parts) for lane in by_lane for parts in _by_day(lane).values()]
    return scale_for(_USES.get(dimension, dimension), units, sums, most=1)


def _by_day(of_lane: Iterable[PlotPoint]) -> dict[tuple[Day, Dimension], list[PlotPoint]]:
    """The doses of a lane that share a bar: of one day and one kind of quantity."""
    return grouped(of_lane, lambda point: (point.day, point.value.dimension))


def _sum(doses: Sequence[PlotPoint]) -> Quantity:
    return total((p.value for p in doses), doses[0].value.dimension)


def _point(name: str, day: Day, doses: Sequence[PlotPoint], given: ChartInput) -> Point:
    """All of a day in a lane."""
    what = given.say(_sum(doses))
    if len(doses) > 1:
        times = tr_n("{n} dose", "{n} doses", len(doses))
        what = tr("{times}, {amount}", times=times, amount=what)
    said = given.day_title(day, what, [p.value for p in doses], None)
    return Point(day, _sum(doses), f"{name}, {said}")


def _layers(lanes: Sequence[_Lane], given: ChartInput) -> Layers:
    layers: dict[str, list[Row]] = defaultdict(list)
    for lane in lanes:
        own = point_marks.layers(lane.points, lane.scale, _COLOUR)
        for name, rows in {**own, **point_marks.bars(lane.points, lane.scale)}.items():
            layers[name] += _raised(rows, lane)
        layers["floors"].append(Span(0, given.facts.axis.end, lane.floor))
        layers["routines"] += _routine_spans(lane, given)
        layers["routine-ends"] += _routine_ends(lane, given)
    return {**layers}


def _raised(rows: Iterable[Row], lane: _Lane) -> Iterator[Row]:
    """Marks of the lane's scale, moved up to the lane."""
    for row in rows:
        if isinstance(row, Bar | Area):
            yield replace(row, low=lane.at(row.low), value=lane.at(row.value))
        elif isinstance(row, Symbol | Span):
            yield replace(row, value=lane.at(row.value))


def _routine_spans(lane: _Lane, given: ChartInput) -> Iterator[Span]:
    """From the day a routine had begun by to the day up to which it went on: its end, or the last entry."""
    for routine in lane.routines:
        since, until = routine.first.reach[1], (routine.until or given.end).reach[0]
        if since <= until:
            yield Span(since, until, lane.floor + _ROUTINE, _routine_text(routine, given))


def _routine_ends(lane: _Lane, given: ChartInput) -> Iterator[Span]:
    """Over the days on which a routine may have begun or ended."""
    for routine in lane.routines:
        for day in (routine.first, routine.until or given.end):
            if not day.exact:
                yield Span(*day.reach, lane.floor + _ROUTINE, _routine_text(routine, given))


def _routine_text(routine: RoutineFacts, given: ChartInput) -> str:
    amount = routine.said or (given.say(routine.amount) if routine.amount else "")
    amount = tr("as labelled") if routine.as_labelled and not amount else amount
    often = tr("at {often}", often=routine.often) if routine.often else ""
    often = tr("at every logged refill") if routine.counted else often
    how = " ".join(filter(None, (amount, often))) or tr("amount not recorded")
    first = day_words(routine.first)
    when = (
        tr("from {first} to {last}", first=first, last=day_words(routine.until))
        if routine.until
        else tr("from {first}", first=first)
    )
    said = f"{label_words(routine.label)}: {how}, {when}"
    if routine.counted:
        return said
    note = (
        tr("(not in the total where no refill was logged)")
        if routine.at_each_filling
        else tr("(not in the total)")
    )
    return f"{said} {note}"


def _description(fed: Sequence[PlotPoint], given: ChartInput) -> str:
    note = days_note(point.day for point in fed)
    return " ".join(filter(None, (_sums(fed, given), _dotted(given), note)))


def _sums(fed: Sequence[PlotPoint], given: ChartInput) -> str:
    """The sum of each product."""
    by_product = grouped(fed, lambda point: _key(point, given)[0])
    return " ".join(f"{_sum_text(name, points, given)}." for name, points in by_product.items())


def _routine_texts(given: ChartInput) -> str:
    return "; ".join(_routine_text(each, given) for own in _routines(given).values() for each in own)


def _dotted(given: ChartInput) -> str:
    """The routines, as they are drawn."""
    routines = _routine_texts(given)
    return tr("Dotted lines are routines: {routines}.", routines=routines) if routines else ""


def _without_drawing(given: ChartInput) -> str:
    """The routines, where nothing is drawn."""
    routines = _routine_texts(given)
    return tr("By routine: {routines}.", routines=routines) if routines else ""


def _sum_text(name: str, points: Sequence[PlotPoint], given: ChartInput) -> str:
    """A product's sum; sums of different kinds of quantity stand side by side."""
    kinds = dict.fromkeys(p.value.dimension for p in points)
    wholes = [total((p.value for p in points if p.value.dimension is kind), kind) for kind in kinds]
    if any(not r.counted and label_words(r.label) == name for r in given.facts.solution.routines):
        wholes = [replace(whole, high=None) for whole in wholes]
    sums = [given.in_sentence(whole) for whole in wholes]
    days = tr_n("{n} day", "{n} days", len({p.day for p in points}))
    return tr("{what}: {amount} on {days}", what=name, amount=listed(sums), days=days)


def _table(fed: Sequence[PlotPoint], given: ChartInput) -> Table:
    """Each dose, in the columns of its kind of quantity."""
    kinds = list(dict.fromkeys(p.value.dimension for p in fed)) or [Dimension.VOLUME]
    bounds = [unit_head("dose", kind, end) for kind in kinds for end in ("low", "high")]
    rows = []
    for point in fed:
        product, tub = _key(point, given)
        low, high, flag = quantity_cells(point.value)
        cells = [
            cell for kind in kinds for cell in ((low, high) if kind is point.value.dimension else ("", ""))
        ]
        rows.append((point.day, (product, tub or next(iter(given.tubs), ""), *cells, flag)))
    return numbers_table(("product", "tub", *bounds, "dose_flag"), rows, given.start)


CHARTS = (ChartType("feed", _LAYERS, feed),)
