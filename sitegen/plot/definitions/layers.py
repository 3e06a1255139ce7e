"""Layers as Altair defines them.

In: the layers that a chart declares, and a frame. Out: an Altair chart on the shared day axis. Colours are variables of
the theme; nothing is clipped, nothing carries a legend, and scales are given, never guessed from data.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import altair as alt

from sitegen.core.site.chart import NARROW, Frame
from sitegen.plot.chart_type import Layer, LayerKind

_ABOVE = 30  # free above the plot: a row of dates
_BELOW = 28  # free below it: a row of days
_X = alt.X(
    "day:Q",
    axis=None,
    scale=alt.Scale(domainMin=0, domainMax=alt.ExprRef("day_end"), nice=False, zero=False),
)
_Y = alt.Y(
    "value:Q",
    axis=None,
    scale=alt.Scale(
        domainMin=alt.ExprRef("value_start"), domainMax=alt.ExprRef("value_end"), nice=False, zero=False
    ),
)
_LOW = alt.Y("low:Q", axis=None)
_SHIFT = alt.ExprRef("datum.shift")
_TRIM = alt.ExprRef("datum.trim")


def definition(layers: Iterable[Layer], frame: Frame) -> alt.LayerChart:
    """A chart on the shared frame: grid and scales first, then its own layers, then the names of its lines."""
    own = (part for layer in layers for part in _KINDS[layer.kind](layer, _stroke(layer, frame)))
    parts = (*_ground(frame), *own, _text("labels", "var(--ink)", frame.text, y=_Y))
    ends = [alt.param(name=name, value=1) for name in ("day_start", "day_end", "value_start", "value_end")]
    chart: alt.LayerChart = (
        alt.layer(*parts)
        .add_params(*ends)
        .properties(
            width=frame.inner,
            height=184,
            padding={"left": frame.left, "right": frame.right, "top": _ABOVE, "bottom": _BELOW},
            autosize="none",
            background="transparent",
        )
        .configure(font="var(--chart-font)")
        .configure_view(stroke=None)
        .configure_mark(invalid=None)  # rows are whole; looking for gaps in them costs time
    )
    return chart


def _stroke(layer: Layer, frame: Frame) -> dict[str, Any]:
    """The colour, width and dash of a layer."""
    width: Any = (frame == NARROW and layer.narrow_width) or layer.width or alt.ExprRef("datum.thickness")
    stroke = {"stroke": layer.colour, "strokeWidth": width, "opacity": layer.opacity}
    if layer.dash:
        stroke["strokeDash"] = list(layer.dash)
    if layer.cap:
        stroke["strokeCap"] = layer.cap
    return stroke


def _line(layer: Layer, stroke: dict[str, Any]) -> tuple[alt.Chart, ...]:
    """Joined corners, one line a segment."""
    mark = _layer(layer.name).mark_line(strokeJoin="round", aria=False, **stroke)
    return (mark.encode(x=_X, y=_Y, detail="segment:N", order=alt.value(0)),)


def _bar(layer: Layer, stroke: dict[str, Any]) -> tuple[alt.Chart, ...]:
    """From `low` up to `value`."""
    mark = _layer(layer.name).mark_rule(xOffset=_SHIFT, x2Offset=_SHIFT, y2Offset=_TRIM, **stroke)
    return (mark.encode(x=_X, y=_LOW, y2="value:Q", description="title:N"),)


def _arrow(layer: Layer, _: dict[str, Any]) -> tuple[alt.Chart, ...]:
    """A dashed stem from `low`, and an open head at `value`."""
    look: dict[str, Any] = {
        "stroke": layer.colour,
        "strokeWidth": layer.width,
        "xOffset": _SHIFT,
        "aria": False,
    }
    stem = _layer(layer.name).mark_rule(
        strokeDash=[3, 2], x2Offset=_SHIFT, yOffset=-4, y2Offset=_TRIM, **look
    )
    head = _layer(layer.name, f"{layer.name}-heads").mark_point(
        size=70, shape="triangle-up", fill=None, opacity=1, **look
    )
    return stem.encode(x=_X, y=_LOW, y2="value:Q"), head.encode(x=_X, y=_Y)


def _span(layer: Layer, stroke: dict[str, Any]) -> tuple[alt.Chart, ...]:
    """From `day` to `until`; broad ones with a short dash are hatched."""
    mark = _layer(layer.name).mark_rule(**stroke)
    return (mark.encode(x=_X, x2="until:Q", y=_Y, description="title:N"),)


def _area(layer: Layer, _: dict[str, Any]) -> tuple[alt.Chart, ...]:
    """From `day` to `until` and from `low` to `value`."""
    mark = _layer(layer.name).mark_rect(fill=layer.colour, stroke=None, opacity=layer.opacity)
    return (mark.encode(x=_X, x2="until:Q", y=_LOW, y2="value:Q", description="title:N"),)


def _symbol(layer: Layer, stroke: dict[str, Any]) -> tuple[alt.Chart, ...]:
    """A symbol a row, filled or open, with the record as its title."""
    mark = _layer(layer.name).mark_point(size=layer.size, xOffset=_SHIFT, **stroke)
    return (_shaped(mark, _Y),)


_KINDS: dict[LayerKind, Callable[[Layer, dict[str, Any]], tuple[alt.Chart, ...]]] = {
    "line": _line,
    "bar": _bar,
    "arrow": _arrow,
    "span": _span,
    "area": _area,
    "symbol": _symbol,
}


def _shaped(mark: alt.Chart, y: Any) -> alt.Chart:
    """Symbols whose rows have their shape and fill."""
    shaped: alt.Chart = mark.encode(
        x=_X,
        y=y,
        shape=alt.Shape("shape:N", scale=None),
        fill=alt.Fill("fill:N", scale=None),
        description="title:N",
    )
    return shaped


def _ground(frame: Frame) -> tuple[alt.Chart, ...]:
    """Grid, ground line, and the labels of both scales."""
    floor, ceiling = alt.value(alt.ExprRef("height")), alt.value(0)
    ticks = _layer("scale").mark_rule(stroke="var(--line)", strokeWidth=1, aria=False)
    weeks = _layer("days", "weeks").mark_rule(
        stroke="var(--line)", strokeWidth=1, yOffset=-4, y2Offset=5, aria=False
    )
    ground = _layer("ground").mark_rule(stroke="var(--ink-soft)", strokeWidth=1, aria=False)
    numbers = _layer("scale", "numbers").mark_text(
        align="right", baseline="middle", fontSize=frame.text, fill="var(--ink-soft)", aria=False
    )
    return (
        ticks.encode(y=_Y),
        weeks.encode(x=_X, y=ceiling, y2=floor),
        ground.encode(y=_Y),
        numbers.encode(x=alt.value(-8), y=_Y, text="text:N"),
        _text("unit", "var(--ink-soft)", frame.text - 1, y=alt.value(-16)),
        _text("dates", "var(--ink-soft)", frame.text - 1, y=alt.value(-16)),
        _text("days", "var(--ink)", frame.text, y=floor, down=17),
    )


def _text(name: str, colour: str, size: int, *, y: Any, down: int = 0) -> alt.Chart:
    """Text placed by its row."""
    mark: alt.Chart = _layer(name).mark_text(
        align=alt.ExprRef("datum.align"),
        baseline="middle",
        dx=alt.ExprRef("datum.dx"),
        dy=alt.ExprRef(f"datum.dy + {down}"),
        fontSize=size,
        fill=colour,
        aria=False,
    )
    return mark.encode(x=_X, y=y, text="text:N")


def _layer(data: str, name: str = "") -> alt.Chart:
    return alt.Chart(alt.NamedData(data), name=name or data)
