"""Air and water by day: a bar from the lowest to the highest of a day, a line through the means, single readings."""

from __future__ import annotations

import altair as alt

from sitegen.core.site.chart import Frame
from sitegen.plot.definitions import layers

_AIR, _WATER = "var(--light)", "var(--water)"


def definition(frame: Frame) -> alt.LayerChart:
    """The chart in one frame."""
    width = 3.0 if frame.width > 500 else 2.0
    return layers.assembled(
        frame,
        layers.bars("air-days", _AIR, width=width, opacity=0.5),
        layers.bars("water-days", _WATER, width=width, opacity=0.5),
        layers.lines("air-means", _AIR, width=2),
        layers.lines("water-means", _WATER, width=2, dash=(5, 2)),
        layers.bars("air-ranges", _AIR, width=6, opacity=0.55),
        layers.bars("water-ranges", _WATER, width=6, opacity=0.55),
        *layers.whiskers("air-arrows", _AIR),
        *layers.whiskers("water-arrows", _WATER),
        layers.symbols("air-points", _AIR),
        layers.symbols("water-points", _WATER),
    )
