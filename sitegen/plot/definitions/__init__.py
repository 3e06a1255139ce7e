"""The charts as Altair definitions, compiled to the Vega files that `plot` draws from.

In: a frame. Out: one specification for each chart and frame, with named data that are yet to come and with signals
for the ends of the scales. Imported by hand and by tests, never while a site is written.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import altair as alt

from sitegen.core.site.chart import FRAMES, Frame
from sitegen.plot.definitions import climate, feed, harvest, height, light, milestones, readings, water
from sitegen.plot.definitions.compiling import vega

__all__ = ["DEFINITIONS", "FOLDER", "compiled"]

FOLDER = Path(__file__).parent.parent / "specs"

DEFINITIONS: dict[str, Callable[[Frame], alt.LayerChart]] = {
    "height": height.definition,
    "harvest": harvest.definition,
    "water": water.definition,
    "feed": feed.definition,
    "milestones": milestones.definition,
    "readings": readings.definition,
    "light": light.definition,
    "climate": climate.definition,
}


def compiled() -> dict[str, str]:
    """File name and text of every specification."""
    return {
        f"{name}-{frame.name}.json": json.dumps(vega(define(frame)), indent=1, sort_keys=True) + "\n"
        for name, define in DEFINITIONS.items()
        for frame in FRAMES
    }
