"""Height by day: faint lines by plant under a strong median; gaps dashed, ranges as bars; pins on top."""

from __future__ import annotations

import altair as alt

from sitegen.core.site.chart import Frame
from sitegen.plot.definitions import layers

_COLOUR = "var(--growth)"
_DOTS = (0.1, 4)


def definition(frame: Frame) -> alt.LayerChart:
    """The chart in one frame."""
    return layers.assembled(
        frame,
        layers.bars("threads", "var(--ink-soft)", width=1, opacity=0.6, dash=(1, 3)),
        layers.lines("plants", _COLOUR, width=1.25, opacity=0.5),
        layers.lines("plant-gaps", _COLOUR, width=1.25, opacity=0.6, dash=_DOTS, cap="round"),
        layers.lines("alone", _COLOUR, width=2),
        layers.lines("median", _COLOUR, width=3),
        layers.lines("more-medians", _COLOUR, width=3, dash=(14, 4)),
        layers.lines("median-gaps", _COLOUR, width=3, dash=(0.1, 7), cap="round"),
        layers.bars("ranges", _COLOUR, width=6, opacity=0.55),
        *layers.whiskers("arrows", _COLOUR),
        layers.spans("spans", _COLOUR),
        layers.bars("plateaus", "var(--ink)", width=2),
        layers.symbols("points", _COLOUR),
        layers.symbols("prunings", "var(--ink)", size=50),
        layers.symbols("troubles", "var(--trouble)", size=60),
    )
