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
from typing import Any

from sitegen.core.site.chart import FRAMES, NARROW, Drawing, Frame
from sitegen.core.store import Store
from sitegen.core.values.day import DayAxis
from sitegen.plot.chart_data import ChartData, Label, Row, Tick, ValueAxis, Vertex
from sitegen.plot.drawing import day_labels, label_placement
from sitegen.plot.drawing.label_placement import Plot
from sitegen.plot.drawing.strokes import strokes
from sitegen.plot.drawing.svg import drawing_of

Specification = dict[str, Any]

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


def drawn(name: str, data: ChartData, axis: DayAxis, frame: Frame) -> Drawing:
    """One drawing of a chart, by the name of its specification."""
    import vl_convert  # noqa: PLC0415 - only drawing pays for it

    specification = filled(name, data, axis, frame)
    graph = vl_convert.vega_to_scenegraph(specification, allowed_base_urls=[])
    return drawing_of(graph, specification["usermeta"]["text_size"])


def drawings(name: str, data: ChartData, axis: DayAxis, store: Store | None) -> tuple[Drawing, ...]:
    """A drawing for each frame; `store` keeps them."""
    axis = replace(axis, begin=data.begins, end=data.ends or axis.end)
    if store is None:
        return tuple(drawn(name, data, axis, frame) for frame in FRAMES)
    asked = repr((name, data, axis, FRAMES)).encode()
    key = store.key("plot", blake2b(asked, digest_size=20).hexdigest())
    kept = store.get(key)
    if kept is not None:
        return tuple(Drawing(**drawing) for drawing in _unpacked(kept.value["drawings"]))
    found = drawings(name, data, axis, None)
    store.put(key, {"drawings": _packed([asdict(drawing) for drawing in found])})
    return found


def _packed(value: object) -> str:
    return base64.b64encode(zlib.compress(json.dumps(value).encode(), _QUICK)).decode()


def _unpacked(text: str) -> Any:
    return json.loads(zlib.decompress(base64.b64decode(text)))
