"""The charts as Altair definitions, compiled to the Vega-Lite files that `plot` draws from.

In: a frame. Out: one specification for each chart and frame, with named, empty data and with parameters for
the ends of the scales. Imported by hand and by tests, never while a site is written.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import altair as alt

from sitegen.core.chart import FRAMES, Frame
from sitegen.plot.definitions import feed, harvest, height, water

__all__ = ["DEFINITIONS", "FOLDER", "compiled"]

FOLDER = Path(__file__).parent.parent / "specs"

DEFINITIONS: dict[str, Callable[[Frame], alt.LayerChart]] = {
    "height": height.definition,
    "harvest": harvest.definition,
    "water": water.definition,
    "feed": feed.definition,
}


def compiled() -> dict[str, str]:
    """File name and text of every specification."""
    return {
        f"{name}-{frame.name}.json": json.dumps(define(frame).to_dict(), indent=1, sort_keys=True) + "\n"
        for name, define in DEFINITIONS.items()
        for frame in FRAMES
    }
