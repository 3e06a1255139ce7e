"""Temperature, humidity and vapour pressure deficit by day: daily ranges of sensors, and single readings.

In: readings and daily ranges among the facts. Out: the data of up to three charts. A sensor's day is a bar from its
lowest to its highest sample with a line through the means; the line breaks where a day has no samples. Days are
grouped where bars would touch, and a group never holds a day without samples.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.facts.indices import DailyRange, TubClimate
from sitegen.core.facts.tree import Facts, PlotPoint
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.language.text import day_words, tub_words
from sitegen.core.language.wording import opening
from sitegen.core.site.chart import FRAMES, Frame, Table
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_data import FULL_HEIGHT, LOW_HEIGHT, ChartData, Layers, PointLabel
from sitegen.plot.chart_type import ChartInput, ChartType, Layer, days_note, too_few, visit_text
from sitegen.plot.marks import point_marks
from sitegen.plot.marks.point_marks import Point
from sitegen.plot.marks.sensor_days import day_range_layers, days_description, days_found
from sitegen.plot.numbers_table import Row, number_of, numbers_table, quantity_cells, unit_head
from sitegen.plot.scale import Scale, beginning, scale_around, scale_for

_AIR, _WATER = "var(--light)", "var(--water)"
_LAYERS = (
    Layer("bar", "air-parts", _AIR, width=1.5, narrow_width=1, opacity=0.45, dash=(2, 2)),
    Layer("bar", "water-parts", _WATER, width=1.5, narrow_width=1, opacity=0.45, dash=(2, 2)),
    Layer("bar", "air-days", _AIR, width=3, narrow_width=2, opacity=0.5),
    Layer("bar", "water-days", _WATER, width=3, narrow_width=2, opacity=0.5),
    Layer("line", "air-means", _AIR, width=2),
    Layer("line", "water-means", _WATER, width=2, dash=(5, 2)),
    Layer("bar", "air-ranges", _AIR, width=6, opacity=0.55),
    Layer("bar", "water-ranges", _WATER, width=6, opacity=0.55),
    *point_marks.day_layers(_AIR, "air-"),
    *point_marks.day_layers(_WATER, "water-"),
    Layer("arrow", "air-arrows", _AIR),
    Layer("arrow", "water-arrows", _WATER),
    Layer("symbol", "air-points", _AIR),
    Layer("symbol", "water-points", _WATER),
)
_COLOURS = {"air": _AIR, "water": _WATER}
_SHAPES = {"air": "circle", "water": "square"}
_LEAST = 8.0  # °C that the scale of temperature spans at least; custom, no source
_LEAST_SHARE = 20.0  # the same for humidity, %
_FEW = 3  # fewer readings do not need the height of a chart
_APART = 1.5  # the bars of air and water of one day, in units of the drawing


@dataclass(frozen=True, slots=True)
class Recorded:
    """The records of air or water: `key` is the prefix of their layers, `words` their name in texts."""

    key: str
    words: str
    days: tuple[DailyRange, ...]
    read: tuple[PlotPoint, ...]
    by_tub: bool = False  # whether a reading names its tub where there are several

    def of(self, read: PlotPoint, given: ChartInput) -> str:
        """The name of what was read."""
        named = self.by_tub and read.subject and len(given.tubs) > 1
        return f"{self.words}, {given.tub_label(read.subject)}" if named else self.words

    @property
    def bounds(self) -> Iterator[float]:
        """Every bound of a value."""
        for day in self.days:
            yield from (day.low, day.high)
        for read in self.read:
            yield from (read.value.low, read.value.low if read.value.high is None else read.value.high)


def temperature(given: ChartInput) -> ChartData | None:
    """Air and water, where either was recorded; the scale is around the values, since 0 degrees has no meaning here."""
    climate = given.facts.climate
    both = (
        _recorded("air", tr("air"), climate.air_daily, given.facts, "air_temperature"),
        _recorded("water", tr("water"), climate.water_daily, given.facts, "water_temperature"),
    )
    sources = [source for source in both if source.days or source.read]
    if not sources:
        return None
    bounds = (bound for source in sources for bound in source.bounds)
    scale = scale_around("warmth", given.units, bounds, _LEAST, 4 if _many(sources) else 2)
    last = [tr("{what}: not recorded.", what=opening(each.words)) for each in both if each not in sources]
    last += [_degree_days(tub, given, several=len(climate.tubs) > 1) for tub in climate.tubs]
    return _data("temperature", tr("Temperature"), sources, scale, given, last)


def humidity(given: ChartInput) -> ChartData | None:
    """Relative humidity, where it was recorded: around the values."""
    source = _recorded("air", tr("humidity"), given.facts.climate.humidity_daily, given.facts, "humidity")
    bounds = [*source.bounds]
    if not bounds:
        return None
    scale = scale_around(Dimension.SHARE, given.units, bounds, _LEAST_SHARE)
    last = [beginning(scale, Dimension.SHARE)]
    return _data("humidity", tr("Humidity"), [source], scale, given, last)


def vpd(given: ChartInput) -> ChartData | None:
    """Vapour pressure deficit by day, where temperature and humidity give it: from 0."""
    source = _recorded("air", tr("vapour pressure deficit"), given.facts.climate.vpd_daily, given.facts)
    return _from_zero("vpd", tr("Vapour pressure deficit"), source, Dimension.PRESSURE, given)


def ppfd(given: ChartInput) -> ChartData | None:
    """Light read at the plants, a mark a reading; from 0, with the days on which nobody read it empty."""
    read = tuple(p for p in given.facts.climate.readings if p.at == "ppfd" and p.value.known)
    source = Recorded("air", tr("light at the plants"), (), read, by_tub=True)
    return _from_zero("ppfd", tr("Light at the plants"), source, Dimension.PHOTON_FLUX, given)


def _recorded(key: str, words: str, days: Iterable[DailyRange], facts: Facts, read: str = "") -> Recorded:
    """A sensor's days on the axis (it may have run before sowing and after the end), and the readings of a name."""
    on_axis = tuple(day for day in days if 0 <= day.day <= facts.axis.end)
    return Recorded(
        key, words, on_axis, tuple(p for p in facts.climate.readings if p.at == read and p.value.known)
    )


def _from_zero(
    name: str, title: str, source: Recorded, dimension: Dimension, given: ChartInput
) -> ChartData | None:
    values = [Quantity(bound, bound, dimension) for bound in source.bounds]
    return _data(name, title, [source], scale_for(dimension, given.units, values), given) if values else None


def _data(
    name: str,
    title: str,
    sources: Sequence[Recorded],
    scale: Scale,
    given: ChartInput,
    last: Iterable[str] = (),
) -> ChartData:
    layers: Layers = {}
    for source in sources:
        points = [_point(read, source, given) for read in source.read]
        own = point_marks.layers(points, scale, _COLOURS[source.key])
        layers |= {f"{source.key}-{name}": rows for name, rows in own.items()}
    return ChartData(
        title=f"{title}, {scale.unit.symbol}",
        caption=" ".join(_found(sources, scale, given)),
        description=_description(sources, scale, given, last),
        said=_said(sources, scale, given),
        table=_table(name, sources, scale, given),
        axis=scale.axis,
        height=FULL_HEIGHT if _many(sources) else LOW_HEIGHT,
        layers=layers,
        frame_layers={frame.name: _day_layers(sources, scale, given, frame) for frame in FRAMES},
        point_labels=tuple(_name(source, scale) for source in sources if len(sources) > 1),
    )


def _many(sources: Sequence[Recorded]) -> bool:
    """Whether there is enough to fill a chart."""
    return any(s.days for s in sources) or sum(len(s.read) for s in sources) >= _FEW


def _point(read: PlotPoint, source: Recorded, given: ChartInput) -> Point:
    title = tr(
        "{who}, {day}: {value}",
        who=opening(source.of(read, given)),
        day=visit_text(read),
        value=given.say(read.value),
    )
    shape = point_marks.shape_of(read.subject, given.tubs) if source.by_tub else _SHAPES[source.key]
    return Point(read.day, read.value, title, shape)


def _day_layers(sources: Sequence[Recorded], scale: Scale, given: ChartInput, frame: Frame) -> Layers:
    """The days of each sensor in one frame, side by side where there are two."""
    layers: Layers = {}
    for source in sources:
        shift = 0.0 if len(sources) == 1 else _APART if source.key == "water" else -_APART
        layers |= day_range_layers(source.key, source.days, scale, given.facts.axis, frame, shift)
    return layers


def _name(source: Recorded, scale: Scale) -> PointLabel:
    day, value = (
        (float(source.days[-1].day), source.days[-1].mean)
        if source.days
        else (source.read[-1].day.reach[1], source.read[-1].value.middle)
    )
    return PointLabel(day, scale.of(value), source.words, strong=True)


def _description(sources: Iterable[Recorded], scale: Scale, given: ChartInput, last: Iterable[str]) -> str:
    """The records of each source, then the sentences that come last."""
    texts: list[str] = []
    for source in sources:
        if source.days:
            texts.append(days_description(source.words, source.days, scale, given.facts.axis, given.say))
        if source.read:
            texts.append(_of_readings(source, given))
            texts.append(days_note(p.day for p in source.read))
    return " ".join(filter(None, (*dict.fromkeys(texts), *last)))


def _found(sources: Iterable[Recorded], scale: Scale, given: ChartInput) -> list[str]:
    """The lowest and the highest of each source."""
    texts = []
    for source in sources:
        texts += [days_found(source.words, source.days, scale, given.say)] if source.days else []
        texts += [_of_readings(source, given)] if source.read else []
    return texts


def _said(sources: Sequence[Recorded], scale: Scale, given: ChartInput) -> str:
    """A sentence for each source, where none makes a line."""
    instead = [given.said_instead(opening(source.words), source.read) for source in sources if source.read]
    few = all(too_few(Day.on(day.day) for day in source.days) for source in sources)
    if not few or not all(instead):
        return ""
    sampled = [days_found(source.words, source.days, scale, given.say) for source in sources if source.days]
    return " ".join([*sampled, *instead])


def _degree_days(tub: TubClimate, given: ChartInput, *, several: bool) -> str:
    """The degree days of a tub, where they are known."""
    figure = tub.degree_days
    if not isinstance(figure.value, Quantity):
        return ""
    said = f"{given.in_sentence(figure.value)} {remarks_words(figure.remarks)}".rstrip()
    if several:
        return tr("Degree days, {tub}: {amount}.", tub=tub_words(tub.label), amount=said)
    return tr("Degree days: {amount}.", amount=said)


def _of_readings(source: Recorded, given: ChartInput) -> str:
    if len(source.read) == 1:
        (read,) = source.read
        return tr(
            "{what}: measured once, {value} on {day}.",
            what=opening(source.words),
            value=given.say(read.value),
            day=day_words(read.day),
        )
    if said := given.read_on_one_day(opening(source.words), source.read):
        return said
    low = min(source.read, key=lambda p: p.value.low)
    high = max(source.read, key=lambda p: p.value.high or p.value.low)
    return tr(
        "{what}: {readings}, from {low} on {low_day} to {high} on {high_day}; nothing was "
        "measured in between.",
        what=opening(source.words),
        readings=tr_n("{n} reading by hand", "{n} readings by hand", len(source.read)),
        low=given.say(low.value),
        low_day=day_words(low.day),
        high=given.say(high.value),
        high_day=day_words(high.day),
    )


def _table(name: str, sources: Sequence[Recorded], scale: Scale, given: ChartInput) -> Table:
    """Each day of a sensor, with the mean of its samples, and each single reading."""
    rows: list[Row] = []
    both = name == "temperature"  # of air and of water
    for source in sources:
        of = (source.key,) if both else ()
        for day in source.days:
            flag = "" if day.whole else "part of the day"
            values = map(number_of, (day.low, day.mean, day.high, day.samples))
            rows.append((Day.on(day.day), (*of, "", *values, flag)))
        for read in source.read:
            low, high, flag = quantity_cells(read.value)
            where = read.subject if read.subject in given.tubs else ""
            rows.append((read.day, (*of, where, low, "", high, "", flag)))
    heads = [unit_head(name, scale.unit.dimension, end) for end in ("low", "mean", "high")]
    return numbers_table(
        (*(["of"] if both else []), "tub", *heads, "samples", f"{name}_flag"), rows, given.start
    )


CHARTS = (
    ChartType("ppfd", _LAYERS, ppfd, family="climate"),
    ChartType("temperature", _LAYERS, temperature, family="climate"),
    ChartType("humidity", _LAYERS, humidity, family="climate"),
    ChartType("vpd", _LAYERS, vpd, family="climate"),
)
