"""Temperature, humidity and vapour pressure deficit by day: daily ranges of sensors, and single readings.

In: readings and daily ranges among the facts. Out: up to three pictures. A sensor's day is a bar from its lowest to its
highest sample with a line through the means; the line breaks where a day has no samples.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sitegen.core.chart import Table
from sitegen.core.day import Day
from sitegen.core.facts import DailyRange, Facts, PlotPoint, TubClimate
from sitegen.core.quantity import Quantity
from sitegen.core.text import listed, plural
from sitegen.core.units import Dimension
from sitegen.plot import series, tables
from sitegen.plot.picture import FULL, Bar, Ending, Picture, Row, Vertex
from sitegen.plot.scale import Scale, Units, Use, plain, scale_around, scale_for
from sitegen.plot.series import Point, Say

__all__ = ["humidity", "temperature", "vpd"]

_COLOURS = {"air": "var(--light)", "water": "var(--water)"}
_SHAPES = {"air": "circle", "water": "square"}
_LEAST = 8.0  # °C that the scale of temperature spans at least; custom, no source
_FEW, _LOW = 3, 120.0  # fewer readings do not need the height of a chart
_DECIMALS = {
    Dimension.TEMPERATURE: 1,
    Dimension.SHARE: 0,
    Dimension.PRESSURE: 2,
}  # what such sensors tell apart
_MOST_GAPS = 4
_APART = 1.5  # the bars of air and water of one day, in units of the drawing


@dataclass(frozen=True, slots=True)
class _Source:
    """What was recorded of one thing: `key` names its layers, `words` it in texts."""

    key: str
    words: str
    days: tuple[DailyRange, ...]
    read: tuple[PlotPoint, ...]

    @property
    def recorded(self) -> bool:
        return bool(self.days or self.read)


def temperature(facts: Facts, units: Units, say: Say) -> Picture | None:
    """Air and water, where either was recorded: around what was read, for 0 degrees is no beginning."""
    climate = facts.climate
    air = _Source("air", "air", climate.air_daily, _read(facts, "air_temperature"))
    water = _Source("water", "water", climate.water_daily, _read(facts, "water_temperature"))
    sources = [source for source in (air, water) if source.recorded]
    if not sources:
        return None
    scale = scale_around(
        "warmth",
        units,
        (bound for source in sources for bound in _bounds(source)),
        _LEAST,
        4 if _many(sources) else 2,
    )
    last = [f"{source.words.capitalize()}: not recorded." for source in (air, water) if not source.recorded]
    last += [_warmth(tub, say, several=len(facts.climate.tubs) > 1) for tub in facts.climate.tubs]
    return _picture("temperature", "Temperature", sources, scale, last, facts, say)


def humidity(facts: Facts, units: Units, say: Say) -> Picture | None:
    """Relative humidity, where it was recorded: from 0."""
    source = _Source("air", "humidity", facts.climate.humidity_daily, _read(facts, "humidity"))
    return _from_zero("humidity", "Humidity", source, Dimension.SHARE, facts, units, say)


def vpd(facts: Facts, units: Units, say: Say) -> Picture | None:
    """Vapour pressure deficit by day, where temperature and humidity give it: from 0."""
    source = _Source("air", "vapour pressure deficit", facts.climate.vpd_daily, ())
    return _from_zero("vpd", "Vapour pressure deficit", source, Dimension.PRESSURE, facts, units, say)


def _from_zero(
    name: str, title: str, source: _Source, dimension: Use, facts: Facts, units: Units, say: Say
) -> Picture | None:
    if not source.recorded or not isinstance(dimension, Dimension):
        return None
    values = [Quantity(bound, bound, dimension) for bound in _bounds(source)]
    return _picture(name, title, [source], scale_for(dimension, units, values), [], facts, say)


def _read(facts: Facts, name: str) -> tuple[PlotPoint, ...]:
    return tuple(p for p in facts.climate.readings if p.at == name and p.value.known)


def _bounds(source: _Source) -> Iterator[float]:
    for day in source.days:
        yield from (day.low, day.high)
    for read in source.read:
        yield read.value.low
        yield read.value.high if read.value.high is not None else read.value.low


def _picture(
    name: str,
    title: str,
    sources: Sequence[_Source],
    scale: Scale,
    last: Sequence[str],
    facts: Facts,
    say: Say,
) -> Picture:
    layers: dict[str, Sequence[Row]] = {}
    for source in sources:
        layers |= _layers(source, scale, say, both=len(sources) > 1)
    return Picture(
        name=name,
        definition="climate",
        title=f"{title}, {scale.unit.symbol}",
        description=_description(sources, scale, last, facts, say),
        table=_table(sources, scale, facts, say),
        unit=scale.unit.symbol,
        top=scale.top,
        bottom=scale.bottom,
        scale=scale.ticks,
        height=FULL if _many(sources) else _LOW,
        layers=layers,
        endings=tuple(_name(source, scale) for source in sources if len(sources) > 1),
    )


def _many(sources: Sequence[_Source]) -> bool:
    """Whether there is enough to fill a chart."""
    return any(s.days for s in sources) or sum(len(s.read) for s in sources) >= _FEW


def _layers(source: _Source, scale: Scale, say: Say, *, both: bool) -> dict[str, Sequence[Row]]:
    shift = (_APART if source.key == "water" else -_APART) if both else 0.0
    points = [_point(p, source, say) for p in source.read]
    return {
        f"{source.key}-days": tuple(
            Bar(d.day, scale.of(d.low), scale.of(d.high), shift, f"Day {d.day}: {_said(d, scale)}")
            for d in source.days
        ),
        f"{source.key}-means": tuple(_means(source, scale)),
        f"{source.key}-ranges": series.ranges(points, scale),
        f"{source.key}-arrows": series.arrows(points, scale),
        f"{source.key}-points": series.marks(points, scale, _COLOURS[source.key]),
    }


def _point(read: PlotPoint, source: _Source, say: Say) -> Point:
    when = f" ({read.moment})" if read.moment else ""
    text = f"{source.words.capitalize()}, day {read.day}{when}: {say(read.value)}"
    return Point(read.day, read.value, text, _SHAPES[source.key])


def _means(source: _Source, scale: Scale) -> Iterator[Vertex]:
    """A line through the means of days that follow one another."""
    piece = 0
    for before, day in pairwise((None, *source.days)):
        if day is None:
            continue
        piece += before is not None and day.day - before.day > 1
        yield Vertex(f"{source.key} {piece}", day.day, scale.of(day.mean))


def _said(day: DailyRange, scale: Scale) -> str:
    low, mean, high = (_short(value, scale) for value in (day.low, day.mean, day.high))
    unit = f" {scale.unit.symbol}"
    return f"{low} to {high}{unit}, mean {mean}{unit} ({plural(day.samples, 'sample')})"


def _short(canonical: float, scale: Scale) -> str:
    """No more decimals than such a sensor tells apart."""
    return plain(round(scale.of(canonical), _DECIMALS[scale.unit.dimension]))


def _name(source: _Source, scale: Scale) -> Ending:
    if source.days:
        last = source.days[-1]
        return Ending(last.day, scale.of(last.mean), source.words, strong=True)
    read = source.read[-1]
    return Ending(read.day.middle, scale.of(read.value.middle), source.words, strong=True)


def _description(
    sources: Iterable[_Source], scale: Scale, last: Sequence[str], facts: Facts, say: Say
) -> str:
    texts = []
    for source in sources:
        texts += [_of_days(source, scale, facts)] if source.days else []
        texts += [_of_readings(source, say)] if source.read else []
    return " ".join(filter(None, (*texts, *last)))


def _warmth(tub: TubClimate, say: Say, *, several: bool) -> str:
    """The degree days of a tub, where they are known."""
    value = tub.degree_days.value
    note = f" {tub.degree_days.note}" if tub.degree_days.note else ""
    where = f", {tub.label}" if several else ""
    return f"Degree days{where}: {say(value)}{note}." if isinstance(value, Quantity) else ""


def _of_days(source: _Source, scale: Scale, facts: Facts) -> str:
    coldest = min(source.days, key=lambda d: d.low)
    warmest = max(source.days, key=lambda d: d.high)
    unit = f" {scale.unit.symbol}"
    low, high = _short(coldest.low, scale), _short(warmest.high, scale)
    return (
        f"{source.words.capitalize()}: lowest {low}{unit} on day {coldest.day}, highest {high}{unit} on day "
        f"{warmest.day}; a sensor on {plural(len(source.days), 'day')}. Bars run from a day's lowest sample to its "
        f"highest, the line through its mean. {_gaps(source, facts)}"
    )


def _gaps(source: _Source, facts: Facts) -> str:
    """The days without samples."""
    sampled = {d.day for d in source.days}
    without = [day for day in range(facts.axis.last + 1) if day not in sampled]
    if not without:
        return "No day is missing."
    spans = [Day(days[0], days[-1]) for days in _runs(without)]
    if len(spans) > _MOST_GAPS:
        return f"Without samples: {plural(len(without), 'day')} of {facts.axis.last + 1}."
    word = "day" if len(without) == 1 else "days"
    return f"Without samples: {word} {listed([str(span) for span in spans])}."


def _runs(days: Iterable[int]) -> list[list[int]]:
    """Days that follow one another, together."""
    runs: list[list[int]] = []
    for day in days:
        if runs and day == runs[-1][-1] + 1:
            runs[-1].append(day)
        else:
            runs.append([day])
    return runs


def _of_readings(source: _Source, say: Say) -> str:
    if len(source.read) == 1:
        (read,) = source.read
        return f"{source.words.capitalize()}: read once, {say(read.value)} on day {read.day}."
    low = min(source.read, key=lambda p: p.value.low)
    high = max(source.read, key=lambda p: p.value.high or p.value.low)
    return (
        f"{source.words.capitalize()}: {plural(len(source.read), 'single reading')}, lowest {say(low.value)} on day "
        f"{low.day}, highest {say(high.value)} on day {high.day}; not read between them."
    )


def _table(sources: Sequence[_Source], scale: Scale, facts: Facts, say: Say) -> Table:
    rows: list[tuple[Day, tuple[str, ...]]] = []
    for source in sources:
        rows += [(Day.on(d.day), (source.words, _said(d, scale))) for d in source.days]
        rows += [(p.day, (source.words, say(p.value))) for p in source.read]
    ordered = sorted(rows, key=lambda row: row[0].middle)
    return tables.by_day(facts, ("Of", "Recorded"), ordered)
