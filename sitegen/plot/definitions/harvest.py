"""Cumulative harvest by day: steps, with a thin upper line where the total is a range."""

from __future__ import annotations

import altair as alt

from sitegen.core.site.chart import Frame
from sitegen.plot.definitions import layers

_COLOUR = "var(--harvest)"


def definition(frame: Frame) -> alt.LayerChart:
    """The chart in one frame."""
    return layers.assembled(
        frame,
        layers.lines("upper", _COLOUR, width=1, dash=(4, 3)),
        layers.lines("steps", _COLOUR, width=2.5),
        layers.lines("more-steps", _COLOUR, width=2.5, dash=(12, 3)),
        *layers.whiskers("open-ends", _COLOUR),
        layers.symbols("points", _COLOUR, size=54),
    )
