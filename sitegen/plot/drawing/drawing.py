"""Fills a chart's specification with rows and draws it.

In: a picture, the day axis and a frame. Out: a `Drawing`. The specification comes from `specs/`; no address is
ever fetched; the bytes depend on nothing but the data.
"""

from __future__ import annotations

import base64
import json
import zlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import asdict
from functools import cache
from hashlib import blake2b
from importlib import resources
from typing import Any

from sitegen.core.site.chart import FRAMES, NARROW, WIDE, Drawing, Frame
from sitegen.core.store import Store
from sitegen.core.values.day import DayAxis
from sitegen.plot.drawing import days
from sitegen.plot.drawing.picture import Label, Picture, Row, Tick, Vertex
from sitegen.plot.drawing.svg import SceneGraph, drawing_of
from sitegen.plot.marks import labels
from sitegen.plot.marks.labels import Area, obstacles

Spec = dict[str, Any]
LayOut = Callable[[Spec], SceneGraph]

# Marks of one layer in 360 px, above which they have no titles: less than 8 px each, where 24 px is the least target
# (WCAG 2.5.8). No finger tells one from another then, and the table holds them all.
CROWDED = 40
_BESIDE = 8.0  # from a scale to its numbers and its unit, in units of the drawing


def scene_graph(spec: Spec) -> SceneGraph:
    """Where the library lays out each mark of a specification."""
    import vl_convert  # noqa: PLC0415 - only drawing pays for it

    graph: SceneGraph = vl_convert.vega_to_scenegraph(spec, allowed_base_urls=[])
    return graph


def drawn(
    specification: str, picture: Picture, axis: DayAxis, frame: Frame, lay_out: LayOut = scene_graph
) -> Drawing:
    """One drawing of a chart, by the name of its specification."""
    spec = filled(specification, picture, axis, frame)
    return drawing_of(lay_out(spec), spec["usermeta"]["text_size"])


def filled(specification: str, picture: Picture, axis: DayAxis, frame: Frame) -> Spec:
    """The specification with rows, the ends of its scales and its height; layers without rows only cost time."""
    spec = _specification(f"{specification}-{frame.name}")
    ends = {"day_end": axis.end, "value_start": picture.bottom, "value_end": picture.top}
    own = {**picture.layers, **picture.by_frame.get(frame.name, {})}
    layers = {**own, **_scales(picture, own, axis, frame)}
    return {
        **spec,
        "signals": [{"name": name, "value": value} for name, value in ends.items()],
        "data": [
            {"name": name, "values": _values(rows, untitled=frame == NARROW and len(rows) > CROWDED)}
            for name, rows in layers.items()
            if rows
        ],
        "marks": [mark for mark in spec["marks"] if layers.get(mark["from"]["data"])],
        "height": picture.height,
    }


@cache
def _specification(name: str) -> dict[str, Any]:
    """A kept specification; whoever fills it leaves it as it is."""
    text = resources.files("sitegen.plot").joinpath("specs", f"{name}.json").read_text(encoding="utf-8")
    spec: dict[str, Any] = json.loads(text)
    return spec


def _values(rows: Iterable[Row], *, untitled: bool) -> list[dict[str, Any]]:
    """Rows as the definitions read them; between two pieces of a line one that breaks it off."""
    values: list[dict[str, Any]] = []
    piece = None
    for row in rows:
        if isinstance(row, Vertex):
            if piece not in (None, row.piece):
                values.append({"defined": False})
            piece = row.piece
        value = {name: getattr(row, name) for name in row.__slots__}
        values.append({**value, "say": ""} if untitled else value)
    return values


def _scales(
    picture: Picture, own: Mapping[str, Sequence[Row]], axis: DayAxis, frame: Frame
) -> dict[str, Sequence[Row]]:
    """What every chart has: ticks, days, dates, the unit, and the names of its lines."""
    area = Area(frame, axis, picture.top, picture.height, picture.bottom)
    fixed = labels.kept_inside(picture.fixed, area)
    in_the_way = obstacles(own.values(), area)
    return {
        "scale": picture.scale,
        "ground": (Tick(picture.bottom, ""),),
        "photos": picture.photos,
        "days": days.day_labels(axis, frame),
        "dates": days.date_labels(axis, frame),
        "unit": _unit(picture, frame),
        "labels": (*fixed, *labels.place(picture.endings, area, in_the_way, fixed)),
    }


def _unit(picture: Picture, frame: Frame) -> tuple[Label, ...]:
    """The unit over the scale; the title has it too, so that a narrow margin may do without."""
    fits = labels.text_width(picture.unit, frame.text) <= frame.left - _BESIDE
    return (Label(0.0, picture.bottom, picture.unit, "right", -_BESIDE),) if fits else ()


_QUICK = 3  # of nine levels: a tenth larger than the best, in a quarter of its time


def both(
    specification: str, picture: Picture, axis: DayAxis, store: Store | None, lay_out: LayOut = scene_graph
) -> tuple[Drawing, Drawing]:
    """The wide and the narrow drawing of a picture; `store` keeps them."""
    if store is None:
        return _both(specification, picture, axis, lay_out)
    asked = repr((specification, picture, axis, FRAMES)).encode()
    key = store.key("plot", blake2b(asked, digest_size=20).hexdigest())
    kept = store.get(key)
    if kept is not None:
        wide, narrow = (Drawing(**drawing) for drawing in _unpacked(kept.value["drawings"]))
        return wide, narrow
    found = _both(specification, picture, axis, lay_out)
    store.put(key, {"drawings": _packed([asdict(drawing) for drawing in found])})
    return found


def _both(specification: str, picture: Picture, axis: DayAxis, lay_out: LayOut) -> tuple[Drawing, Drawing]:
    wide, narrow = (drawn(specification, picture, axis, frame, lay_out) for frame in (WIDE, NARROW))
    return wide, narrow


def _packed(value: object) -> str:
    return base64.b64encode(zlib.compress(json.dumps(value).encode(), _QUICK)).decode()


def _unpacked(text: str) -> Any:
    return json.loads(zlib.decompress(base64.b64decode(text)))
