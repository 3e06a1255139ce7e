"""Readings of the solution by day: lines by tub, the two readings of a visit joined, and what is usual shaded."""

from __future__ import annotations

import altair as alt

from sitegen.core.site.chart import Frame
from sitegen.plot.definitions import layers

_COLOUR = "var(--feed)"


def definition(frame: Frame) -> alt.LayerChart:
    """The chart in one frame."""
    return layers.assembled(
        frame,
        layers.shades("usual", _COLOUR, opacity=0.13),
        layers.spans("usual-ends", _COLOUR, width=1, opacity=0.6, dash=(2, 3), cap="butt"),
        layers.lines("lines", _COLOUR, width=1.5),
        layers.lines("more-lines", _COLOUR, width=1.5, dash=(12, 3)),
        layers.lines("gaps", _COLOUR, width=1.5, dash=(0.1, 6), cap="round"),
        layers.bars("visits", _COLOUR, width=5, opacity=0.4),
        layers.bars("ranges", _COLOUR, width=6, opacity=0.55),
        *layers.whiskers("arrows", _COLOUR),
        layers.spans("spans", _COLOUR),
        layers.symbols("points", _COLOUR),
    )
