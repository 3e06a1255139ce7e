"""The layers that charts are put together from.

In: a layer's name (its data set has the same) and its colour. Out: Altair layers on the shared day axis.
Colours are variables of the theme; nothing is clipped, nothing carries a legend, and scales are given,
never guessed from data.
"""

from __future__ import annotations

from typing import Any, Literal

import altair as alt

from sitegen.core.site.chart import Frame

Cap = Literal["butt", "round"]

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


def assembled(frame: Frame, *layers: alt.Chart) -> alt.LayerChart:
    """A chart on the shared frame: grid and scales first, then its own layers, then the names of its lines."""
    parts = (*_ground(frame), *layers, _text("labels", "var(--ink)", frame.text, y=_Y))
    ends = [alt.param(name=name, value=1) for name in ("day_end", "value_start", "value_end")]
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


def lines(
    name: str,
    colour: str,
    *,
    width: float = 1.5,
    opacity: float = 1.0,
    dash: tuple[float, float] | None = None,
    cap: Cap = "butt",
) -> alt.Chart:
    """Joined corners, one line a piece."""
    looks: dict[str, Any] = {"strokeDash": list(dash), "strokeCap": cap} if dash else {}
    mark: alt.Chart = _layer(name).mark_line(
        stroke=colour, strokeWidth=width, opacity=opacity, strokeJoin="round", aria=False, **looks
    )
    drawn: alt.Chart = mark.encode(x=_X, y=_Y, detail="piece:N", order=alt.value(0))
    return drawn


def bars(
    name: str, colour: str, *, width: float, opacity: float = 1.0, dash: tuple[float, float] | None = None
) -> alt.Chart:
    """Upright bars from `low` to `value`."""
    looks: dict[str, Any] = {"strokeDash": list(dash)} if dash else {}
    mark: alt.Chart = _layer(name).mark_rule(
        stroke=colour,
        strokeWidth=width,
        opacity=opacity,
        xOffset=_SHIFT,
        x2Offset=_SHIFT,
        y2Offset=_TRIM,
        **looks,
    )
    return mark.encode(x=_X, y=_LOW, y2="value:Q", description="say:N")


def whiskers(name: str, colour: str) -> tuple[alt.Chart, alt.Chart]:
    """Dashed stems with an open head: at least so much."""
    stem = _layer(name).mark_rule(
        stroke=colour,
        strokeWidth=1.5,
        strokeDash=[3, 2],
        aria=False,
        xOffset=_SHIFT,
        x2Offset=_SHIFT,
        yOffset=-4,
        y2Offset=_TRIM,
    )
    head = _layer(name, f"{name}-heads").mark_point(
        stroke=colour, strokeWidth=1.5, size=70, shape="triangle-up", fill=None, opacity=1, aria=False,
        xOffset=_SHIFT,
    )  # fmt: skip
    return stem.encode(x=_X, y=_LOW, y2="value:Q"), head.encode(x=_X, y=_Y)


def spans(
    name: str,
    colour: str,
    *,
    width: float = 1.5,
    opacity: float = 1.0,
    dash: tuple[float, float] | None = None,
    cap: Cap = "round",
) -> alt.Chart:
    """Lying bars from `day` to `until`; broad ones with a short dash are hatched."""
    looks: dict[str, Any] = {"strokeDash": list(dash), "strokeCap": cap} if dash else {}
    mark: alt.Chart = _layer(name).mark_rule(stroke=colour, strokeWidth=width, opacity=opacity, **looks)
    return mark.encode(x=_X, x2="until:Q", y=_Y, description="say:N")


def stretches(name: str, colour: str, *, dash: tuple[float, float] | None = None) -> alt.Chart:
    """Lying bars as thick as their rows say."""
    looks: dict[str, Any] = {"strokeDash": list(dash), "strokeCap": "butt"} if dash else {}
    mark: alt.Chart = _layer(name).mark_rule(
        stroke=colour, strokeWidth=alt.ExprRef("datum.thick"), opacity=1, **looks
    )
    return mark.encode(x=_X, x2="until:Q", y=_Y, description="say:N")


def shades(name: str, colour: str, *, opacity: float) -> alt.Chart:
    """Areas from `day` to `until` and from `low` to `value`."""
    mark: alt.Chart = _layer(name).mark_rect(fill=colour, stroke=None, opacity=opacity, aria=False)
    return mark.encode(x=_X, x2="until:Q", y=_LOW, y2="value:Q")


def texts(name: str, colour: str, frame: Frame) -> alt.Chart:
    """Text at its rows, beside the names of lines: a size smaller."""
    return _text(name, colour, frame.text - 1, y=_Y)


def symbols(name: str, colour: str, *, size: float = 44) -> alt.Chart:
    """A symbol a row, filled or open, that says on hover what was recorded."""
    mark: alt.Chart = _layer(name).mark_point(
        stroke=colour, strokeWidth=1.5, size=size, opacity=1, xOffset=_SHIFT
    )
    return mark.encode(
        x=_X,
        y=_Y,
        shape=alt.Shape("shape:N", scale=None),
        fill=alt.Fill("fill:N", scale=None),
        description="say:N",
    )


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
        _photos(floor),
        _text("days", "var(--ink)", frame.text, y=floor, down=17),
    )


def _photos(floor: Any) -> alt.Chart:
    """Days with photos, between the ground line and the days."""
    mark: alt.Chart = _layer("photos").mark_point(
        stroke="var(--ink-soft)", strokeWidth=1.2, size=76, opacity=1, yOffset=6
    )
    return mark.encode(
        x=_X,
        y=floor,
        shape=alt.Shape("shape:N", scale=None),
        fill=alt.Fill("fill:N", scale=None),
        description="say:N",
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
