"""Feed by day: lanes of bars, each lane on its own floor."""

from __future__ import annotations

import altair as alt

from sitegen.core.site.chart import Frame
from sitegen.plot.definitions import layers

_COLOUR = "var(--feed)"


def definition(frame: Frame) -> alt.LayerChart:
    """The chart in one frame."""
    return layers.assembled(
        frame,
        layers.spans("floors", "var(--ink-soft)", width=1),
        layers.spans("routines", _COLOUR, width=2.5, dash=(0.1, 6)),
        layers.bars("bars", _COLOUR, width=4),
        layers.bars("ranges", _COLOUR, width=8, opacity=0.4),
        *layers.whiskers("arrows", _COLOUR),
        layers.symbols("points", _COLOUR, size=40),
    )
