"""EC and pH of the solution by day: a line for each tub, before and after of one visit joined, and the usual band.

In: the solution's readings among the facts, and the published bands. Out: the data of two charts. The band that is
usual for the crop is shaded and names its source; a reading outside it is no fault.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sitegen.core.facts.figure import Figure, Share
from sitegen.core.facts.tree import PlotPoint
from sitegen.core.language.catalogue import tr, tr_n, tr_noop
from sitegen.core.language.text import day_words, listed
from sitegen.core.language.wording import mid_sentence
from sitegen.core.reference.reading_ranges import solution_of
from sitegen.core.site.chart import Table
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_data import FULL_HEIGHT, LOW_HEIGHT, Area, Bar, ChartData, Layers, PointLabel, Span
from sitegen.plot.chart_type import ChartInput, ChartType, Layer, days_note, visit_text
from sitegen.plot.marks import point_marks
from sitegen.plot.marks.point_marks import Corner, Line, Point, grouped
from sitegen.plot.numbers_table import numbers_table, quantity_cells, quantity_heads
from sitegen.plot.scale import Scale, beginning, scale_around
from sitegen.plot.stretch import stretch, stretch_note

_COLOUR = "var(--feed)"
_LAYERS = (
    Layer("area", "usual", _COLOUR, opacity=0.13),
    Layer("span", "usual-ends", _COLOUR, width=1, opacity=0.6, dash=(2, 3)),
    Layer("line", "lines", _COLOUR, width=1.5),
    Layer("line", "more-lines", _COLOUR, width=1.5, dash=(12, 3)),
    Layer("line", "gaps", _COLOUR, width=1.5, dash=(0.1, 6), cap="round"),
    Layer("bar", "visits", _COLOUR, width=5, opacity=0.4),
    Layer("area", "visit-boxes", _COLOUR, opacity=0.2),
    Layer("bar", "ranges", _COLOUR, width=6, opacity=0.55),
    Layer("arrow", "arrows", _COLOUR),
    *point_marks.day_layers(_COLOUR),
    Layer("symbol", "points", _COLOUR),
)
_LEAST_PH = 1.5  # what the scale of pH spans at least; custom, no source
_LEAST_EC = 0.8  # the same for EC, mS/cm
_FEW = 3  # fewer readings do not need the height of a chart
_ORDER = (tr_noop("before"), "", tr_noop("after"))
_SOURCE = "Singh and Dunn, Oklahoma State University Extension, HLA-6722, Table 2"
_WIDENED = tr_noop("widened to take in other sources")


@dataclass(frozen=True, slots=True)
class _Kind:
    """EC or pH: its readings in order, the usual range of the crop and its source, the shares of readings within it."""

    title: str
    read: Sequence[PlotPoint]
    usual: Quantity | None
    source: str
    within: tuple[tuple[str, Figure], ...]

    @property
    def dimension(self) -> Dimension:
        """Of its readings."""
        return Dimension.ACIDITY if self.title == "pH" else Dimension.CONDUCTIVITY

    @property
    def known(self) -> list[PlotPoint]:
        """The readings that have a value."""
        return [p for p in self.read if p.value.known]

    @property
    def shown(self) -> list[Quantity]:
        """The values that the scale has to hold."""
        return [*(p.value for p in self.known), *([self.usual] if self.usual else [])]


def ec(given: ChartInput) -> ChartData | None:
    """The chart of EC, where any was read: around the readings and what is usual."""
    row, solution = solution_of(given.facts.run.setup.crop), given.facts.solution
    usual = Quantity(*row.usual_ec, Dimension.CONDUCTIVITY) if row else None
    shares = tuple((tub.label, tub.trend.ec_within) for tub in solution.tubs)
    kind = _kind("EC", solution.ec, usual, shares, bool(row and row.other_ec), given)
    return _data(kind, _LEAST_EC, given) if kind.known else None


def ph(given: ChartInput) -> ChartData | None:
    """The chart of pH, where any was read: around the readings, for a pH of 0 is no measure of anything."""
    row, solution = solution_of(given.facts.run.setup.crop), given.facts.solution
    usual = Quantity(*row.usual_ph, Dimension.ACIDITY) if row else None
    shares = tuple((tub.label, tub.trend.ph_within) for tub in solution.tubs)
    kind = _kind("pH", solution.ph, usual, shares, True, given)
    return _data(kind, _LEAST_PH, given) if kind.known else None


def _kind(
    title: str,
    read: Iterable[PlotPoint],
    usual: Quantity | None,
    shares: tuple[tuple[str, Figure], ...],
    widened: bool,
    given: ChartInput,
) -> _Kind:
    """Readings and the usual range of the crop, with its source and the evidence behind it."""
    crop = given.facts.run.setup.crop
    row = solution_of(crop)
    notes = [_SOURCE, tr(row.evidence), *([tr(_WIDENED)] if widened else [])] if row else []
    ordered = sorted(read, key=lambda p: (p.day.key, _ORDER.index(p.moment)))
    return _Kind(title, ordered, usual, f"{mid_sentence(crop.name)} ({'; '.join(notes)})", shares)


def _data(kind: _Kind, least: float, given: ChartInput) -> ChartData:
    known = kind.known
    bounds = [bound for value in kind.shown for bound in (value.low, value.high) if bound is not None]
    scale = scale_around(kind.dimension, given.units, bounds, least)
    points = [_point(p, kind, given) for p in known]
    first, last = stretch((p.day for p in known), given.facts.axis)
    lines = _lines(known, scale, given)
    symbol = scale.unit.symbol
    return ChartData(
        title=f"{kind.title}, {symbol}" if symbol else kind.title,
        caption=_found(kind, given),
        description=" ".join(
            filter(
                None,
                (
                    _description(kind, given),
                    beginning(scale, kind.dimension),
                    stretch_note(first, last, given.facts.axis),
                ),
            )
        ),
        begins=first,
        ends=last,
        said=given.said_instead(kind.title, known),
        table=_table(kind, given),
        axis=scale.axis,
        height=FULL_HEIGHT if len(known) >= _FEW else LOW_HEIGHT,
        layers={
            **point_marks.layers(points, scale, _COLOUR),
            **_band(kind.usual, scale, given),
            "lines": point_marks.lines(lines[:1]),
            "more-lines": point_marks.lines(lines[1:]),
            "gaps": point_marks.lines(lines, gaps=True),
            **_visits(known, scale),
        },
        point_labels=(*_names(lines, given), *_band_name(kind.usual, scale, given)),
    )


def _point(read: PlotPoint, kind: _Kind, given: ChartInput) -> Point:
    where = f"{given.tub_label(read.subject)}, " if len(given.tubs) > 1 else ""
    title = where + tr("{day}: {what}", day=visit_text(read), what=_said(kind, read, given))
    return Point(read.day, read.value, title, point_marks.shape_of(read.subject, given.tubs))


def _said(kind: _Kind, read: PlotPoint, given: ChartInput) -> str:
    """A reading with its name, since a pH has no unit."""
    return f"{kind.title} {given.say(read.value)}"


def _lines(known: Sequence[PlotPoint], scale: Scale, given: ChartInput) -> list[Line]:
    """A line for each tub, in the order declared."""
    read = grouped(known, lambda p: p.subject)
    order = dict.fromkeys([*(tub for tub in given.tubs if tub in read), *read])
    return [Line(tub, tuple(Corner.on(p.day, scale.of(p.value.middle)) for p in read[tub])) for tub in order]


def _names(lines: Sequence[Line], given: ChartInput) -> list[PointLabel]:
    """The tubs' names, where there are several."""
    if len(lines) < 2:
        return []
    return [
        PointLabel(line.corners[-1].end, line.corners[-1].value, given.tub_label(line.key), strong=True)
        for line in lines
    ]


def _visits(known: Sequence[PlotPoint], scale: Scale) -> Layers:
    """A broad bar from the reading before a visit's work to the one after it; a box where the day is uncertain."""
    visits = [
        (one.day, scale.of(one.value.middle), scale.of(other.value.middle))
        for reads in grouped(known, lambda p: p.subject).values()
        for one, other in pairwise(reads)
        if one.day == other.day and (one.moment, other.moment) == ("before", "after")
    ]
    return {
        "visits": [Bar(day.first, one, other) for day, one, other in visits if day.exact],
        "visit-boxes": [
            Area(*day.reach, min(one, other), max(one, other)) for day, one, other in visits if not day.exact
        ],
    }


def _band(usual: Quantity | None, scale: Scale, given: ChartInput) -> Layers:
    if usual is None:
        return {}
    low, high, end = scale.of(usual.low), scale.upper(usual), float(given.facts.axis.end)
    return {"usual": (Area(0.0, end, low, high),), "usual-ends": (Span(0.0, end, low), Span(0.0, end, high))}


def _band_name(usual: Quantity | None, scale: Scale, given: ChartInput) -> list[PointLabel]:
    """The band's bounds, along its upper edge."""
    if usual is None:
        return []
    name = tr("usual: {range}", range=given.short_text(usual))
    end = given.facts.axis.end
    return [PointLabel(end, scale.upper(usual), name, level_since=0.0, short=tr("usual"))]


def _description(kind: _Kind, given: ChartInput) -> str:
    texts = [_found(kind, given)]
    visits = sum(read.moment == "after" for read in kind.known)
    if visits:
        texts.append(
            tr_n(
                "{n} reading was taken after an adjustment; a thick bar joins before and after.",
                "{n} readings were taken after an adjustment; a thick bar joins before and after.",
                visits,
            )
        )
    if kind.usual:
        texts.append(_against(kind, kind.usual, given))
    else:
        crop = mid_sentence(given.facts.run.setup.crop.name)
        texts.append(
            tr("No source here gives a usual range of {what} for {crop}.", what=kind.title, crop=crop)
        )
    texts.append(days_note(read.day for read in kind.known))
    return " ".join(filter(None, texts))


def _found(kind: _Kind, given: ChartInput) -> str:
    """The lowest and the highest reading, their number and days."""
    known = kind.known
    lowest = min(known, key=lambda p: p.value.low)
    highest = max(known, key=lambda p: p.value.high or p.value.low)
    if len(known) == 1:
        return tr(
            "{what}: measured once, on {day}.", what=_said(kind, lowest, given), day=day_words(lowest.day)
        )
    if said := given.read_on_one_day(kind.title, known):
        return said
    return tr(
        "{what}: lowest {low} on {low_day}, highest {high} on {high_day}; {readings} on {days}. "
        "The lines only join the readings.",
        what=kind.title,
        low=given.say(lowest.value),
        low_day=day_words(lowest.day),
        high=given.say(highest.value),
        high_day=day_words(highest.day),
        readings=tr_n("{n} reading", "{n} readings", len(known)),
        days=tr_n("{n} day", "{n} days", len({p.day for p in known})),
    )


def _against(kind: _Kind, usual: Quantity, given: ChartInput) -> str:
    """The band with its source, and how many readings lay in it."""
    shares = [(label, figure.value) for label, figure in kind.within if isinstance(figure.value, Share)]
    counts = [
        tr_n("{part} of {n} reading", "{part} of {n} readings", share.whole, part=share.part)
        for _, share in shares
    ]
    if len(kind.within) > 1:
        counts = [f"{count} ({label})" for (label, _), count in zip(shares, counts, strict=True)]
    said = tr("Shaded: {range}, the usual range for {crop}.", range=given.say(usual), crop=kind.source)
    return f"{said} {tr('In that range: {readings}.', readings=listed(counts))}" if counts else said


def _table(kind: _Kind, given: ChartInput) -> Table:
    """Each reading, and whether it was taken before or after the work of a visit."""
    name = kind.title.lower()
    rows = [(p.day, (p.subject, p.moment, *quantity_cells(p.value))) for p in kind.read]
    return numbers_table(("tub", "moment", *quantity_heads(name, kind.dimension)), rows, given.start)


CHARTS = (
    ChartType("ec", _LAYERS, ec, family="solution"),
    ChartType("ph", _LAYERS, ph, family="solution"),
)
