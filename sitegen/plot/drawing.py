"""Fills a chart's specification with rows and draws it.

In: a picture, the day axis and a frame. Out: SVG text. The specification comes from `specs/`; no address is
ever fetched; the bytes depend on nothing but the data.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from functools import cache
from importlib import resources
from typing import Any

from sitegen.core.chart import Frame
from sitegen.core.day import DayAxis
from sitegen.plot import days, labels
from sitegen.plot.labels import Area
from sitegen.plot.obstacles import obstacles
from sitegen.plot.picture import Label, Picture, Row, Tick
from sitegen.plot.svg import inlined

__all__ = ["drawn"]


def drawn(picture: Picture, axis: DayAxis, frame: Frame) -> str:
    """One drawing of a chart."""
    import vl_convert  # noqa: PLC0415 - only drawing pays for it

    spec = _filled(picture, axis, frame)
    svg: str = vl_convert.vegalite_to_svg(spec, allowed_base_urls=[])
    key = f"{picture.name}-{frame.name}"
    return inlined(svg, key=key, frame=frame.name, title=picture.title, description=picture.description)


@cache
def _specification(name: str) -> str:
    return resources.files("sitegen.plot").joinpath("specs", f"{name}.json").read_text(encoding="utf-8")


def _filled(picture: Picture, axis: DayAxis, frame: Frame) -> dict[str, Any]:
    """The specification with data, the ends of its scales and its height; layers without data only cost time."""
    spec: dict[str, Any] = json.loads(_specification(f"{picture.name}-{frame.name}"))
    ends = {"day_end": axis.end, "value_end": picture.top}
    for parameter in spec["params"]:
        parameter["value"] = ends[parameter["name"]]
    layers = {**picture.layers, **_scales(picture, axis, frame)}
    spec["datasets"] = {name: [asdict(row) for row in rows] for name, rows in layers.items()}
    spec["layer"] = [layer for layer in spec["layer"] if spec["datasets"].get(layer["data"]["name"])]
    spec["height"] = picture.height
    return spec


def _scales(picture: Picture, axis: DayAxis, frame: Frame) -> Mapping[str, Iterable[Row]]:
    """What every chart has: ticks, days, dates, the unit, and the names of its lines."""
    area = Area(frame, axis, picture.top, picture.height)
    return {
        "scale": picture.scale,
        "ground": (Tick(0.0, ""),),
        "days": days.day_labels(axis, frame),
        "dates": days.date_labels(axis, frame),
        "unit": (Label(0.0, 0.0, picture.unit, "right", -8.0),),
        "labels": (
            *picture.fixed,
            *labels.place(picture.endings, area, obstacles(picture.layers.values(), area)),
        ),
    }
