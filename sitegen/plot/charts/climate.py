"""Temperature, humidity and vapour pressure deficit by day: daily ranges of sensors, and single readings.

In: readings and daily ranges among the facts. Out: up to three pictures. A sensor's day is a bar from its lowest to its
highest sample with a line through the means; the line breaks where a day has no samples.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.facts.indices import DailyRange, TubClimate
from sitegen.core.facts.tree import Facts, PlotPoint
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.text import listed
from sitegen.core.language.wording import opening
from sitegen.core.site.chart import FRAMES, Frame, Table
from sitegen.core.values.day import Day, DayAxis
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_type import ChartType, Layer
from sitegen.plot.drawing import tables
from sitegen.plot.drawing.picture import FULL, Bar, Ending, Picture, Row, Vertex
from sitegen.plot.drawing.scale import Scale, Units, Use, plain, scale_around, scale_for
from sitegen.plot.marks import series
from sitegen.plot.marks.series import Point, Say
from sitegen.plot.marks.stretches import Stretch, days_a_bar, pieces, runs_of, together

_COLOURS = {"air": "var(--light)", "water": "var(--water)"}
_LAYERS = (
    Layer("bar", "air-days", _COLOURS["air"], width=3, narrow_width=2, opacity=0.5),
    Layer("bar", "water-days", _COLOURS["water"], width=3, narrow_width=2, opacity=0.5),
    Layer("line", "air-means", _COLOURS["air"], width=2),
    Layer("line", "water-means", _COLOURS["water"], width=2, dash=(5, 2)),
    Layer("bar", "air-ranges", _COLOURS["air"], width=6, opacity=0.55),
    Layer("bar", "water-ranges", _COLOURS["water"], width=6, opacity=0.55),
    Layer("arrow", "air-arrows", _COLOURS["air"]),
    Layer("arrow", "water-arrows", _COLOURS["water"]),
    Layer("symbol", "air-points", _COLOURS["air"]),
    Layer("symbol", "water-points", _COLOURS["water"]),
)
_SHAPES = {"air": "circle", "water": "square"}
_LEAST = 8.0  # °C that the scale of temperature spans at least; custom, no source
_FEW, _LOW = 3, 120.0  # fewer readings do not need the height of a chart
_APART = 1.5  # the bars of air and water of one day, in units of the drawing


def temperature(facts: Facts, units: Units, say: Say) -> Picture | None:
    """Air and water, where either was recorded: around what was read, for 0 degrees is no beginning."""
    climate = facts.climate
    air = Recorded("air", tr("air"), _on_axis(climate.air_daily, facts), _read(facts, "air_temperature"))
    water = Recorded(
        "water", tr("water"), _on_axis(climate.water_daily, facts), _read(facts, "water_temperature")
    )
    sources = [source for source in (air, water) if source.any]
    if not sources:
        return None
    scale = scale_around(
        "warmth",
        units,
        (bound for source in sources for bound in _bounds(source)),
        _LEAST,
        4 if _many(sources) else 2,
    )
    last = [
        tr("{what}: not recorded.", what=opening(source.words)) for source in (air, water) if not source.any
    ]
    last += [warmth(tub, say, several=len(facts.climate.tubs) > 1) for tub in facts.climate.tubs]
    return _picture(tr("Temperature"), sources, scale, last, facts, say)


def humidity(facts: Facts, units: Units, say: Say) -> Picture | None:
    """Relative humidity, where it was recorded: from 0."""
    source = Recorded(
        "air", tr("humidity"), _on_axis(facts.climate.humidity_daily, facts), _read(facts, "humidity")
    )
    return _from_zero(tr("Humidity"), source, Dimension.SHARE, facts, units, say)


def vpd(facts: Facts, units: Units, say: Say) -> Picture | None:
    """Vapour pressure deficit by day, where temperature and humidity give it: from 0."""
    source = Recorded("air", tr("vapour pressure deficit"), _on_axis(facts.climate.vpd_daily, facts), ())
    return _from_zero(tr("Vapour pressure deficit"), source, Dimension.PRESSURE, facts, units, say)


def _from_zero(
    title: str, source: Recorded, dimension: Use, facts: Facts, units: Units, say: Say
) -> Picture | None:
    if not source.any or not isinstance(dimension, Dimension):
        return None
    values = [Quantity(bound, bound, dimension) for bound in _bounds(source)]
    return _picture(title, [source], scale_for(dimension, units, values), [], facts, say)


def _on_axis(days: Iterable[DailyRange], facts: Facts) -> tuple[DailyRange, ...]:
    """A sensor may have run before sowing and after the end."""
    return tuple(day for day in days if 0 <= day.day <= facts.axis.end)


def _read(facts: Facts, name: str) -> tuple[PlotPoint, ...]:
    return tuple(p for p in facts.climate.readings if p.at == name and p.value.known)


def _bounds(source: Recorded) -> Iterator[float]:
    for day in source.days:
        yield from (day.low, day.high)
    for read in source.read:
        yield read.value.low
        yield read.value.high if read.value.high is not None else read.value.low


def _picture(
    title: str,
    sources: Sequence[Recorded],
    scale: Scale,
    last: Sequence[str],
    facts: Facts,
    say: Say,
) -> Picture:
    layers: dict[str, Sequence[Row]] = {}
    for source in sources:
        layers |= _layers(source, scale, say)
    return Picture(
        title=f"{title}, {scale.unit.symbol}",
        description=description(sources, scale, last, facts, say),
        table=table(sources, scale, facts, say),
        unit=scale.unit.symbol,
        top=scale.top,
        bottom=scale.bottom,
        scale=scale.ticks,
        height=FULL if _many(sources) else _LOW,
        layers=layers,
        by_frame={frame.name: _sampled(sources, scale, facts.axis, frame) for frame in FRAMES},
        endings=tuple(_name(source, scale) for source in sources if len(sources) > 1),
    )


def _many(sources: Sequence[Recorded]) -> bool:
    """Whether there is enough to fill a chart."""
    return any(s.days for s in sources) or sum(len(s.read) for s in sources) >= _FEW


def _layers(source: Recorded, scale: Scale, say: Say) -> dict[str, Sequence[Row]]:
    points = [_point(p, source, say) for p in source.read]
    return {
        f"{source.key}-ranges": series.ranges(points, scale),
        f"{source.key}-arrows": series.arrows(points, scale),
        f"{source.key}-points": series.marks(points, scale, _COLOURS[source.key]),
    }


def _sampled(
    sources: Sequence[Recorded], scale: Scale, axis: DayAxis, frame: Frame
) -> dict[str, Sequence[Row]]:
    """What a sensor gave, in as many bars as stand apart in a frame."""
    layers: dict[str, Sequence[Row]] = {}
    for source in sources:
        stretches = together(source.days, days_a_bar(axis, frame))
        shift = 0.0 if len(sources) == 1 else _APART if source.key == "water" else -_APART
        layers[f"{source.key}-days"] = tuple(
            Bar(s.middle, scale.of(s.low), scale.of(s.high), shift, said(s, scale)) for s in stretches
        )
        layers[f"{source.key}-means"] = tuple(
            Vertex(f"{source.key} {piece}", s.middle, scale.of(s.mean)) for piece, s in pieces(stretches)
        )
    return layers


def _point(read: PlotPoint, source: Recorded, say: Say) -> Point:
    text = tr(
        "{who}, {day}: {value}",
        who=opening(source.words),
        day=tables.visit_text(read),
        value=say(read.value),
    )
    return Point(read.day, read.value, text, _SHAPES[source.key])


def _name(source: Recorded, scale: Scale) -> Ending:
    if source.days:
        last = source.days[-1]
        return Ending(last.day, scale.of(last.mean), source.words, strong=True)
    read = source.read[-1]
    return Ending(read.day.middle, scale.of(read.value.middle), source.words, strong=True)


# Decimals that such sensors tell apart; common practice, no source.
_DECIMALS = {Dimension.TEMPERATURE: 1, Dimension.SHARE: 0, Dimension.PRESSURE: 2}
_MOST_GAPS = 4  # more of them are counted


@dataclass(frozen=True, slots=True)
class Recorded:
    """What was recorded of one thing: `key` names its layers, `words` it in texts."""

    key: str
    words: str
    days: tuple[DailyRange, ...]
    read: tuple[PlotPoint, ...]

    @property
    def any(self) -> bool:
        """Whether there is anything."""
        return bool(self.days or self.read)


def said(stretch: Stretch, scale: Scale) -> str:
    """A stretch of samples in words."""
    return f"{stretch.name}: {_range(stretch, scale)}"


def _range(stretch: Stretch, scale: Scale) -> str:
    low, mean, high = (_short(value, scale) for value in (stretch.low, stretch.mean, stretch.high))
    return tr(
        "{low} to {high} {unit}, mean {mean} ({samples})",
        low=low,
        high=high,
        unit=scale.unit.symbol,
        mean=mean,
        samples=tr_n("{n} sample", "{n} samples", stretch.samples),
    )


def _cell(day: DailyRange, scale: Scale) -> str:
    return _range(Stretch.of((day,)), scale)


def _short(canonical: float, scale: Scale) -> str:
    """No more decimals than such a sensor tells apart."""
    return plain(round(scale.of(canonical), _DECIMALS[scale.unit.dimension]))


def description(
    sources: Iterable[Recorded], scale: Scale, last: Sequence[str], facts: Facts, say: Say
) -> str:
    """What each source recorded, and what is said last."""
    texts = []
    for source in sources:
        texts += [_of_days(source, scale, facts)] if source.days else []
        texts += [_of_readings(source, say)] if source.read else []
    return " ".join(filter(None, (*texts, *last)))


def warmth(tub: TubClimate, say: Say, *, several: bool) -> str:
    """The degree days of a tub, where they are known."""
    value = tub.degree_days.value
    note = f" {tub.degree_days.note}" if tub.degree_days.note else ""
    if not isinstance(value, Quantity):
        return ""
    said = say(value) + note
    if several:
        return tr("Degree days, {tub}: {amount}.", tub=tub.label, amount=said)
    return tr("Degree days: {amount}.", amount=said)


def _of_days(source: Recorded, scale: Scale, facts: Facts) -> str:
    coldest = min(source.days, key=lambda d: d.low)
    warmest = max(source.days, key=lambda d: d.high)
    unit = f" {scale.unit.symbol}"
    low, high = _short(coldest.low, scale), _short(warmest.high, scale)
    found = tr(
        "{what}: lowest {low} on day {coldest}, highest {high} on day {warmest}; a sensor on {days}.",
        what=opening(source.words),
        low=low + unit,
        coldest=coldest.day,
        high=high + unit,
        warmest=warmest.day,
        days=tr_n("{n} day", "{n} days", len(source.days)),
    )
    return f"{found} {_drawn(facts)} {_gaps(source, facts)}"


def _drawn(facts: Facts) -> str:
    """How to read the bars, and whether they hold more than a day in any frame."""
    if any(days_a_bar(facts.axis, f) > 1 for f in FRAMES):
        return tr(
            "Bars run from a day's lowest sample to its highest, the line through its mean; days that would "
            "touch share a bar."
        )
    return tr("Bars run from a day's lowest sample to its highest, the line through its mean.")


def _gaps(source: Recorded, facts: Facts) -> str:
    """The days without samples."""
    sampled = {d.day for d in source.days}
    without = [day for day in range(facts.axis.last + 1) if day not in sampled]
    if not without:
        return tr("No day is missing.")
    spans = runs_of(without)
    if len(spans) > _MOST_GAPS:
        return tr_n(
            "Without samples: {n} day of {whole}.",
            "Without samples: {n} days of {whole}.",
            len(without),
            whole=facts.axis.last + 1,
        )
    return tr_n(
        "Without samples: day {days}.",
        "Without samples: days {days}.",
        len(without),
        days=listed([str(span) for span in spans]),
    )


def _of_readings(source: Recorded, say: Say) -> str:
    if len(source.read) == 1:
        (read,) = source.read
        return tr(
            "{what}: read once, {value} on {day}.",
            what=opening(source.words),
            value=say(read.value),
            day=read.day.words,
        )
    low = min(source.read, key=lambda p: p.value.low)
    high = max(source.read, key=lambda p: p.value.high or p.value.low)
    return tr(
        "{what}: {readings}, lowest {low} on {low_day}, highest {high} on {high_day}; not read between them.",
        what=opening(source.words),
        readings=tr_n("{n} single reading", "{n} single readings", len(source.read)),
        low=say(low.value),
        low_day=low.day.words,
        high=say(high.value),
        high_day=high.day.words,
    )


def table(sources: Sequence[Recorded], scale: Scale, facts: Facts, say: Say) -> Table:
    """Each day of a sensor, and each reading."""
    rows: list[tuple[Day, tuple[str, ...]]] = []
    for source in sources:
        rows += [(Day.on(d.day), (source.words, _cell(d, scale))) for d in source.days]
        rows += [(p.day, (source.words, say(p.value))) for p in source.read]
    ordered = sorted(rows, key=lambda row: row[0].middle)
    return tables.by_day(facts, (tr("Of"), tr("Recorded")), ordered)


CHARTS = (
    ChartType("temperature", _LAYERS, temperature, family="climate"),
    ChartType("humidity", _LAYERS, humidity, family="climate"),
    ChartType("vpd", _LAYERS, vpd, family="climate"),
)
