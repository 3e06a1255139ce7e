"""Fills the specification of a chart with its rows, draws it, and stores the drawing.

In: the data of a chart and the day axis. Out: its wide and its narrow drawing, whose bytes depend on nothing but the
data. What is kept of its definition comes from `specs/`. No address is ever fetched.
"""

from __future__ import annotations

import base64
import json
import zlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, replace
from functools import cache
from hashlib import blake2b
from importlib import resources
from typing import Any, NamedTuple

from sitegen.core.site.chart import FRAMES, NARROW, Drawing, Frame
from sitegen.core.store import Store
from sitegen.core.values.day import DayAxis
from sitegen.plot.chart_data import ChartData, Label, Row, Tick, ValueAxis, Vertex
from sitegen.plot.drawing import day_labels, label_placement
from sitegen.plot.drawing.label_placement import Plot
from sitegen.plot.drawing.layout import Mark, Specification, laid_out
from sitegen.plot.drawing.strokes import strokes
from sitegen.plot.drawing.svg import layers_of

# Marks of one layer in 360 px, above which they have no titles: less than 8 px each, where 24 px is the least target
# (WCAG 2.5.8). No finger tells one from another then, and the table holds them all.
CROWDED = 40
_BESIDE = 8.0  # from a scale to its numbers and its unit, in units of the drawing


def filled(name: str, data: ChartData, axis: DayAxis, frame: Frame) -> Specification:
    """The specification with rows, the ends of its scales and its height; layers without rows only cost time."""
    spec = _specification(f"{name}-{frame.name}")
    ends = {
        "day_start": axis.begin,
        "day_end": axis.end,
        "value_start": data.axis.bottom,
        "value_end": data.axis.top,
    }
    own = {**data.layers, **data.frame_layers.get(frame.name, {})}
    layers = {**own, **_common_layers(data, own, axis, frame)}
    return {
        **spec,
        "signals": [{"name": name, "value": value} for name, value in ends.items()],
        "data": [
            {
                "name": name,
                "values": _values(rows, axis, untitled=frame == NARROW and len(rows) > CROWDED),
            }
            for name, rows in layers.items()
            if rows
        ],
        "marks": [mark for mark in spec["marks"] if layers.get(mark["from"]["data"])],
        "height": data.height,
    }


@cache
def _specification(name: str) -> Specification:
    """A stored specification; it is shared, and so never changed."""
    text = resources.files("sitegen.plot").joinpath("specs", f"{name}.json").read_text(encoding="utf-8")
    spec: Specification = json.loads(text)
    return spec


def _values(rows: Iterable[Row], axis: DayAxis, *, untitled: bool) -> list[dict[str, Any]]:
    """Rows as the definitions read them, inside the axis; between two segments of a line one that breaks it off."""
    values: list[dict[str, Any]] = []
    segment = None
    for row in rows:
        if isinstance(row, Vertex):
            if segment not in (None, row.segment):
                values.append({"defined": False})
            segment = row.segment
        value = {name: getattr(row, name) for name in row.__slots__}
        value |= {
            name: min(max(value[name], axis.begin), axis.end) for name in ("day", "until") if name in value
        }
        values.append({**value, "title": ""} if untitled else value)
    return values


def _common_layers(
    data: ChartData, own: Mapping[str, Sequence[Row]], axis: DayAxis, frame: Frame
) -> dict[str, Sequence[Row]]:
    """The layers of every chart: ticks, days, dates, the unit, and the names of its lines."""
    plot = Plot(frame, axis, data.axis, data.height)
    fixed = label_placement.kept_inside(data.fixed_labels, plot)
    marks = strokes(own, plot)
    return {
        "scale": data.axis.ticks,
        "ground": (Tick(data.axis.bottom, ""),),
        "days": day_labels.day_labels(axis, frame),
        "dates": day_labels.date_labels(axis, frame),
        "unit": _unit(data.axis, frame),
        "labels": (*fixed, *label_placement.place(data.point_labels, plot, marks, fixed)),
    }


def _unit(axis: ValueAxis, frame: Frame) -> tuple[Label, ...]:
    """The unit over the scale; the title has it too, so that a narrow margin may do without."""
    fits = label_placement.text_width(axis.unit, frame.text) <= frame.left - _BESIDE
    return (Label(0.0, axis.bottom, axis.unit, "right", -_BESIDE),) if fits else ()


_QUICK = 3  # of nine levels of compression: a tenth larger than the best, in a quarter of its time


class ToDraw(NamedTuple):
    """A chart that is to be drawn: the name of its specification, its data, and the days of its axis."""

    name: str
    data: ChartData
    axis: DayAxis


def drawn(charts: Iterable[ToDraw], frames: Sequence[Frame] = FRAMES) -> list[tuple[Drawing, ...]]:
    """The drawings of each chart, one for each frame."""
    each = [filled(*chart, frame) for chart in charts for frame in frames]
    found = map(_drawing, each, laid_out(each))
    return list(zip(*[iter(found)] * len(frames), strict=True))


def _drawing(specification: Specification, marks: Iterable[Mark]) -> Drawing:
    """The drawing of a specification from its marks, laid out."""
    padding = specification["padding"]
    width = padding["left"] + specification["width"] + padding["right"]
    height = padding["top"] + specification["height"] + padding["bottom"]
    layers = layers_of(marks, specification["usermeta"]["text_size"])
    return Drawing(round(width), round(height), padding["left"], padding["top"], layers)  # frames are whole


def drawings(charts: Iterable[ToDraw], store: Store | None) -> list[tuple[Drawing, ...]]:
    """For each chart a drawing for each frame; `store` keeps them."""
    asked = [
        chart._replace(
            axis=replace(chart.axis, begin=chart.data.begins, end=chart.data.ends or chart.axis.end)
        )
        for chart in charts
    ]
    if store is None:
        return drawn(asked)
    keys = [store.key("plot", _digest(chart)) for chart in asked]
    found = {
        key: tuple(Drawing(**drawing) for drawing in _unpacked(kept.value["drawings"]))
        for key, kept in store.get_all(keys).items()
    }
    missing = {key: chart for key, chart in zip(keys, asked, strict=True) if key not in found}
    for key, new in zip(missing, drawn(missing.values()), strict=True):
        store.put(key, {"drawings": _packed([asdict(drawing) for drawing in new])})
        found[key] = new
    return [found[key] for key in keys]


def _digest(chart: ToDraw) -> str:
    return blake2b(repr((*chart, FRAMES)).encode(), digest_size=20).hexdigest()


def _packed(value: object) -> str:
    return base64.b64encode(zlib.compress(json.dumps(value).encode(), _QUICK)).decode()


def _unpacked(text: str) -> Any:
    return json.loads(zlib.decompress(base64.b64decode(text)))
