"""EC and pH by day: a line for each tub, before and after of one visit joined, and what is usual for the crop.

In: the solution's readings among the facts, and the published bands. Out: two pictures. The band is shaded and
names its source; a reading outside it is no fault.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sitegen.core.facts.figure import Figure, Share
from sitegen.core.facts.tree import Facts, PlotPoint
from sitegen.core.language.catalogue import tr, tr_n, tr_noop
from sitegen.core.language.text import listed
from sitegen.core.language.wording import mid_sentence
from sitegen.core.reference.reading_ranges import Solution, solution_of
from sitegen.core.site.chart import Table
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_type import ChartType, Layer
from sitegen.plot.drawing import tables
from sitegen.plot.drawing.picture import FULL, Bar, Ending, Picture, Shade, Span
from sitegen.plot.drawing.scale import Scale, Units, scale_around, scale_for
from sitegen.plot.marks import series
from sitegen.plot.marks.series import Line, Point, Say

_COLOUR = "var(--feed)"
_LAYERS = (
    Layer("area", "usual", _COLOUR, opacity=0.13),
    Layer("span", "usual-ends", _COLOUR, width=1, opacity=0.6, dash=(2, 3)),
    Layer("line", "lines", _COLOUR, width=1.5),
    Layer("line", "more-lines", _COLOUR, width=1.5, dash=(12, 3)),
    Layer("line", "gaps", _COLOUR, width=1.5, dash=(0.1, 6), cap="round"),
    Layer("bar", "visits", _COLOUR, width=5, opacity=0.4),
    Layer("bar", "ranges", _COLOUR, width=6, opacity=0.55),
    Layer("arrow", "arrows", _COLOUR),
    Layer("span", "spans", _COLOUR),
    Layer("symbol", "points", _COLOUR),
)
_LEAST_PH = 1.5  # what the scale of pH spans at least; custom, no source
_FEW, _LOW = 3, 120.0  # fewer readings do not need the height of a chart
_ORDER = (tr_noop("before"), "", tr_noop("after"))
_SOURCE = "Singh and Dunn, Oklahoma State University Extension, HLA-6722, Table 2"
_WIDENED = tr_noop("widened by what other sources give")


@dataclass(frozen=True, slots=True)
class _Usual:
    """What is usual for a crop, in the canonical unit; `said` names crop and source."""

    low: float
    high: float
    said: str


@dataclass(frozen=True, slots=True)
class _Kind:
    """EC or pH: its readings, and the words around them."""

    title: str
    read: tuple[PlotPoint, ...]
    dimension: Dimension
    usual: _Usual | None
    within: tuple[tuple[str, Figure], ...]


def ec(facts: Facts, units: Units, say: Say) -> Picture | None:
    """The chart of EC, where any was read. It starts at 0."""
    row = solution_of(facts.run.setup.crop)
    usual = _usual(row, row.usual_ec, bool(row.other_ec), facts) if row else None
    within = tuple((tub.label, tub.trend.ec_within) for tub in facts.solution.tubs)
    kind = _Kind("EC", facts.solution.ec, Dimension.CONDUCTIVITY, usual, within)
    top = _room_for(usual, Dimension.CONDUCTIVITY)
    known = [p.value for p in kind.read if p.value.known]
    return _picture(kind, scale_for(kind.dimension, units, [*known, *top]), facts, say) if known else None


def ph(facts: Facts, units: Units, say: Say) -> Picture | None:
    """The chart of pH, where any was read: around the readings, for a pH of 0 is no measure of anything."""
    row = solution_of(facts.run.setup.crop)
    usual = _usual(row, row.usual_ph, True, facts) if row else None
    within = tuple((tub.label, tub.trend.ph_within) for tub in facts.solution.tubs)
    kind = _Kind("pH", facts.solution.ph, Dimension.ACIDITY, usual, within)
    bounds = [bound for p in kind.read if p.value.known for bound in (p.value.low, p.value.high)]
    ends = (usual.low, usual.high) if usual else ()
    known = [bound for bound in bounds if bound is not None]
    return (
        _picture(kind, scale_around(kind.dimension, units, [*known, *ends], _LEAST_PH), facts, say)
        if known
        else None
    )


def _usual(row: Solution, band: tuple[float, float], widened: bool, facts: Facts) -> _Usual:
    """The band of a crop, with how far its source is to be trusted."""
    notes = [_SOURCE, tr(row.evidence), *([tr(_WIDENED)] if widened else [])]
    return _Usual(*band, f"{mid_sentence(facts.run.setup.crop.name)} ({'; '.join(notes)})")


def _room_for(usual: _Usual | None, dimension: Dimension) -> list[Quantity]:
    return [Quantity(usual.low, usual.high, dimension)] if usual else []


def _picture(kind: _Kind, scale: Scale, facts: Facts, say: Say) -> Picture:
    read = sorted(kind.read, key=lambda p: (p.day.middle, _ORDER.index(p.moment)))
    known = [p for p in read if p.value.known]
    points = [_point(p, kind, facts, say) for p in known]
    lines = _lines(known, facts, scale)
    symbol = scale.unit.symbol
    return Picture(
        title=f"{kind.title}, {symbol}" if symbol else kind.title,
        description=_description(kind, known, facts, say),
        table=_table(kind, read, facts, say),
        unit=symbol,
        top=scale.top,
        bottom=scale.bottom,
        scale=scale.ticks,
        height=FULL if len(known) >= _FEW else _LOW,
        layers={
            **_band(kind.usual, facts, scale),
            "lines": series.solid(lines[:1]),
            "more-lines": series.solid(lines[1:]),
            "gaps": series.dotted(lines),
            "visits": _visits(known, scale),
            "ranges": series.ranges(points, scale),
            "arrows": series.arrows(points, scale),
            "spans": series.day_spans(points, scale),
            "points": series.marks(points, scale, _COLOUR),
        },
        endings=(*_names(lines, facts), *_band_name(kind.usual, facts, scale, say, kind.dimension)),
    )


def _point(read: PlotPoint, kind: _Kind, facts: Facts, say: Say) -> Point:
    tubs = tables.tub_ids(facts)
    where = f"{tables.tub_label(read.subject, facts)}, " if len(tubs) > 1 else ""
    what = _said(kind, read.value, say)
    text = where + tr("{day}: {what}", day=tables.visit_text(read), what=what)
    return Point(read.day, read.value, text, series.shape_of(read.subject, tubs))


def _said(kind: _Kind, value: Quantity, say: Say) -> str:
    """A reading with its name; a pH has no unit that would tell it."""
    return f"{kind.title} {say(value)}"


def _lines(known: Sequence[PlotPoint], facts: Facts, scale: Scale) -> list[Line]:
    corners: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for read in known:
        corners[read.subject].append((read.day.middle, scale.of(read.value.middle)))
    order = [tub for tub in tables.tub_ids(facts) if tub in corners]
    return [Line(tub, tuple(corners[tub])) for tub in [*order, *(t for t in corners if t not in order)]]


def _names(lines: Sequence[Line], facts: Facts) -> list[Ending]:
    """The tubs' names, where there are several."""
    if len(lines) < 2:
        return []
    return [Ending(*line.corners[-1], tables.tub_label(line.key, facts), strong=True) for line in lines]


def _visits(known: Sequence[PlotPoint], scale: Scale) -> list[Bar]:
    """A broad bar from what a visit found to what it left."""
    return [
        Bar(one.day.middle, scale.of(one.value.middle), scale.of(other.value.middle))
        for reads in _by_tub(known).values()
        for one, other in pairwise(reads)
        if one.day == other.day and (one.moment, other.moment) == ("before", "after")
    ]


def _by_tub(known: Iterable[PlotPoint]) -> dict[str, list[PlotPoint]]:
    found: dict[str, list[PlotPoint]] = defaultdict(list)
    for read in known:
        found[read.subject].append(read)
    return found


def _band(usual: _Usual | None, facts: Facts, scale: Scale) -> dict[str, Sequence[Shade | Span]]:
    if usual is None:
        return {}
    low, high, end = scale.of(usual.low), scale.of(usual.high), float(facts.axis.end)
    return {
        "usual": (Shade(0.0, end, low, high),),
        "usual-ends": tuple(Span(0.0, end, value) for value in (low, high)),
    }


def _band_name(
    usual: _Usual | None, facts: Facts, scale: Scale, say: Say, dimension: Dimension
) -> list[Ending]:
    """The band's bounds, along its upper edge."""
    if usual is None:
        return []
    name = tables.briefly(say(Quantity(usual.low, usual.high, dimension)))
    return [
        Ending(
            facts.axis.end,
            scale.of(usual.high),
            tr("usual: {range}", range=name),
            since=0.0,
            brief=tr("usual"),
        )
    ]


def _description(kind: _Kind, known: Sequence[PlotPoint], facts: Facts, say: Say) -> str:
    texts = [_found(kind, known, say)]
    visits = sum(read.moment == "after" for read in known)
    if visits:
        texts.append(
            tr_n(
                "{n} reading taken after something was done; a broad bar joins the two.",
                "{n} readings taken after something was done; a broad bar joins the two.",
                visits,
            )
        )
    if kind.usual:
        texts.append(_against(kind, kind.usual, say))
    else:
        crop = mid_sentence(facts.run.setup.crop.name)
        texts.append(tr("No usual range of {what} is known here for {crop}.", what=kind.title, crop=crop))
    return " ".join(texts)


def _found(kind: _Kind, known: Sequence[PlotPoint], say: Say) -> str:
    """What was read, how often, and when."""
    lowest = min(known, key=lambda p: p.value.low)
    highest = max(known, key=lambda p: p.value.high or p.value.low)
    if len(known) == 1:
        what = _said(kind, lowest.value, say)
        return tr("{what}, read once, on {day}.", what=what, day=lowest.day.words)
    return tr(
        "{what}: lowest {low} on {low_day}, highest {high} on {high_day}; {readings} on {days}. "
        "Lines only join them.",
        what=kind.title,
        low=say(lowest.value),
        low_day=lowest.day.words,
        high=say(highest.value),
        high_day=highest.day.words,
        readings=tr_n("{n} reading", "{n} readings", len(known)),
        days=tr_n("{n} day", "{n} days", len({p.day for p in known})),
    )


def _against(kind: _Kind, usual: _Usual, say: Say) -> str:
    """The band with its source, and how many readings lay in it."""
    band = say(Quantity(usual.low, usual.high, kind.dimension))
    shares = [(label, figure.value) for label, figure in kind.within if isinstance(figure.value, Share)]
    counts = [
        tr_n("{part} of {n} reading", "{part} of {n} readings", share.whole, part=share.part)
        for _, share in shares
    ]
    if len(kind.within) > 1:
        counts = [f"{count} ({label})" for (label, _), count in zip(shares, counts, strict=True)]
    said = tr("Shaded: {range}, usual for {crop}.", range=band, crop=usual.said)
    return f"{said} {tr('Within it lay {readings}.', readings=listed(counts))}" if counts else said


def _table(kind: _Kind, read: Sequence[PlotPoint], facts: Facts, say: Say) -> Table:
    moments = any(p.moment for p in read)
    columns = (tr("Tub"), tr("When"), kind.title) if moments else (tr("Tub"), kind.title)
    rows = []
    for p in read:
        cells = (tables.tub_label(p.subject, facts), tr(p.moment) if p.moment else "", say(p.value))
        rows.append((p.day, cells if moments else (cells[0], cells[2])))
    return tables.by_day(facts, columns, rows)


CHARTS = (
    ChartType("ec", _LAYERS, ec, family="readings"),
    ChartType("ph", _LAYERS, ph, family="readings"),
)
