"""Fills a chart's specification with rows and draws it.

In: a picture, the day axis and a frame. Out: SVG text. The specification comes from `specs/`; no address is
ever fetched; the bytes depend on nothing but the data.
"""

from __future__ import annotations

import base64
import json
import zlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from hashlib import blake2b
from importlib import resources
from typing import Any

from sitegen.core.site.chart import FRAMES, NARROW, WIDE, Frame
from sitegen.core.store import Store
from sitegen.core.values.day import DayAxis
from sitegen.plot.drawing import days
from sitegen.plot.drawing.picture import Label, Picture, Row, Tick, Vertex
from sitegen.plot.drawing.svg import inlined
from sitegen.plot.marks import labels
from sitegen.plot.marks.labels import Area, obstacles

Spec = dict[str, Any]
Draw = Callable[[Spec], str]

_BESIDE = 8.0  # from a scale to its numbers and its unit, in units of the drawing


def svg_of(spec: Spec) -> str:
    """The drawing of a specification as the library gives it."""
    import vl_convert  # noqa: PLC0415 - only drawing pays for it

    svg: str = vl_convert.vega_to_svg(spec, allowed_base_urls=[])
    return svg


def drawn(picture: Picture, axis: DayAxis, frame: Frame, draw: Draw = svg_of) -> str:
    """One drawing of a chart."""
    spec = filled(picture, axis, frame)
    return inlined(
        draw(spec),
        key=f"{picture.name}-{frame.name}",
        frame=frame.name,
        title=picture.title,
        description=picture.description,
        text_size=spec["usermeta"]["text_size"],
    )


def filled(picture: Picture, axis: DayAxis, frame: Frame) -> Spec:
    """The specification with rows, the ends of its scales and its height; layers without rows only cost time."""
    spec = _specification(f"{picture.definition or picture.name}-{frame.name}")
    ends = {"day_end": axis.end, "value_start": picture.bottom, "value_end": picture.top}
    own = {**picture.layers, **picture.by_frame.get(frame.name, {})}
    layers = {**own, **_scales(picture, own, axis, frame)}
    return {
        **spec,
        "signals": [{"name": name, "value": value} for name, value in ends.items()],
        "data": [{"name": name, "values": _values(rows)} for name, rows in layers.items() if rows],
        "marks": [mark for mark in spec["marks"] if layers.get(mark["from"]["data"])],
        "height": picture.height,
    }


@cache
def _specification(name: str) -> dict[str, Any]:
    """A kept specification; whoever fills it leaves it as it is."""
    text = resources.files("sitegen.plot").joinpath("specs", f"{name}.json").read_text(encoding="utf-8")
    spec: dict[str, Any] = json.loads(text)
    return spec


def _values(rows: Iterable[Row]) -> list[dict[str, Any]]:
    """Rows as the definitions read them; between two pieces of a line one that breaks it off."""
    values: list[dict[str, Any]] = []
    piece = None
    for row in rows:
        if isinstance(row, Vertex):
            if piece not in (None, row.piece):
                values.append({"defined": False})
            piece = row.piece
        values.append({name: getattr(row, name) for name in row.__slots__})
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


def both(picture: Picture, axis: DayAxis, store: Store | None, draw: Draw = svg_of) -> tuple[str, str]:
    """The wide and the narrow drawing of a picture."""
    if store is None:
        return _both(picture, axis, draw)
    asked = repr((picture, axis, FRAMES)).encode()
    key = store.key("plot", blake2b(asked, digest_size=20).hexdigest())
    kept = store.get(key)
    if kept is not None:
        return _unpacked(kept.value["wide"]), _unpacked(kept.value["narrow"])
    wide, narrow = _both(picture, axis, draw)
    store.put(key, {"wide": _packed(wide), "narrow": _packed(narrow)})
    return wide, narrow


def _both(picture: Picture, axis: DayAxis, draw: Draw) -> tuple[str, str]:
    return drawn(picture, axis, WIDE, draw), drawn(picture, axis, NARROW, draw)


def _packed(svg: str) -> str:
    return base64.b64encode(zlib.compress(svg.encode(), _QUICK)).decode()


def _unpacked(text: str) -> str:
    return zlib.decompress(base64.b64decode(text)).decode()
