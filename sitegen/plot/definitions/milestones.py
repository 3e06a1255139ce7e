"""Growth stages: a row a plant that grows thicker with each stage; counts as steps where nobody told plants apart."""

from __future__ import annotations

import altair as alt

from sitegen.core.site.chart import Frame
from sitegen.plot.definitions import layers

_COLOUR = "var(--growth)"


def definition(frame: Frame) -> alt.LayerChart:
    """The chart in one frame."""
    return layers.assembled(
        frame,
        layers.bars("leaders", "var(--ink-soft)", width=1, opacity=0.55, dash=(1, 3)),
        layers.spans("floors", "var(--ink-soft)", width=1),
        layers.stretches("stages", _COLOUR),
        layers.spans("unseen", _COLOUR, width=2, dash=(0.1, 5)),
        layers.stretches("between", _COLOUR, dash=(1.5, 2)),
        layers.bars("seen", "var(--ink)", width=1.5),
        layers.lines("counts", _COLOUR, width=2.5),
        layers.spans("spans", _COLOUR),
        layers.symbols("points", _COLOUR, size=40),
        layers.symbols("not-yet", _COLOUR, size=60),
        layers.symbols("losses", "var(--trouble)", size=70),
    )
