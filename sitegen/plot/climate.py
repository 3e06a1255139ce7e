"""Temperature, humidity and vapour pressure deficit by day: daily ranges of sensors, and single readings.

In: readings and daily ranges among the facts. Out: up to three pictures. A sensor's day is a bar from its lowest to its
highest sample with a line through the means; the line breaks where a day has no samples.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from sitegen.core.chart import FRAMES, Frame
from sitegen.core.day import DayAxis
from sitegen.core.facts import DailyRange, Facts, PlotPoint
from sitegen.core.quantity import Quantity
from sitegen.core.tongue import tr
from sitegen.core.units import Dimension
from sitegen.core.wording import opening
from sitegen.plot import series, tables
from sitegen.plot.climate_words import Recorded, description, said, table, warmth
from sitegen.plot.picture import FULL, Bar, Ending, Picture, Row, Vertex
from sitegen.plot.scale import Scale, Units, Use, scale_around, scale_for
from sitegen.plot.series import Point, Say
from sitegen.plot.stretches import days_a_bar, pieces, together

__all__ = ["humidity", "temperature", "vpd"]

_COLOURS = {"air": "var(--light)", "water": "var(--water)"}
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
    return _picture("temperature", tr("Temperature"), sources, scale, last, facts, say)


def humidity(facts: Facts, units: Units, say: Say) -> Picture | None:
    """Relative humidity, where it was recorded: from 0."""
    source = Recorded(
        "air", tr("humidity"), _on_axis(facts.climate.humidity_daily, facts), _read(facts, "humidity")
    )
    return _from_zero("humidity", tr("Humidity"), source, Dimension.SHARE, facts, units, say)


def vpd(facts: Facts, units: Units, say: Say) -> Picture | None:
    """Vapour pressure deficit by day, where temperature and humidity give it: from 0."""
    source = Recorded("air", tr("vapour pressure deficit"), _on_axis(facts.climate.vpd_daily, facts), ())
    return _from_zero("vpd", tr("Vapour pressure deficit"), source, Dimension.PRESSURE, facts, units, say)


def _from_zero(
    name: str, title: str, source: Recorded, dimension: Use, facts: Facts, units: Units, say: Say
) -> Picture | None:
    if not source.any or not isinstance(dimension, Dimension):
        return None
    values = [Quantity(bound, bound, dimension) for bound in _bounds(source)]
    return _picture(name, title, [source], scale_for(dimension, units, values), [], facts, say)


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
    name: str,
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
        name=name,
        definition="climate",
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
