"""Water by day: bars for additions, steps for everything so far."""

from __future__ import annotations

import altair as alt

from sitegen.core.site.chart import Frame
from sitegen.plot.definitions import layers

_COLOUR = "var(--water)"


def definition(frame: Frame) -> alt.LayerChart:
    """The chart in one frame."""
    return layers.assembled(
        frame,
        layers.bars("bars", _COLOUR, width=4),
        layers.bars("ranges", _COLOUR, width=8, opacity=0.4),
        *layers.whiskers("arrows", _COLOUR),
        layers.spans("spans", _COLOUR),
        layers.lines("upper", _COLOUR, width=1, dash=(4, 3)),
        layers.lines("steps", _COLOUR, width=1.5),
        layers.lines("more-steps", _COLOUR, width=1.5, dash=(12, 3)),
        *layers.whiskers("open-ends", _COLOUR),
        layers.symbols("points", _COLOUR, size=40),
        layers.symbols("turns", _COLOUR, size=60),
    )
