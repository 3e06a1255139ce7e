"""What is to be drawn, before it is drawn: rows for each layer of a chart's definition.

In: nothing. Out: the row types, whose field names are those that the definitions read, and `Picture`.
Values are in the unit shown; days are days. Never knows how wide a drawing is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from sitegen.core.site.chart import Table

FULL = 184.0  # the height of a plot, in units of the drawing, where its rows do not ask for another
Align = Literal["left", "center", "right"]


@dataclass(frozen=True, slots=True)
class Vertex:
    """One corner of a line; corners of one `piece` are joined."""

    piece: str
    day: float
    value: float


@dataclass(frozen=True, slots=True)
class Bar:
    """Something upright on a day, from `low` to `value`.

    In units of the drawing, `shift` moves it sideways, and `trim` shortens it to the rim of an open symbol.
    """

    day: float
    low: float
    value: float
    shift: float = 0.0
    say: str = ""
    trim: float = 0.0


@dataclass(frozen=True, slots=True)
class Span:
    """Something lying, from `day` to `until`, at a height; `thick` in units of the drawing, where it tells something."""

    day: float
    until: float
    value: float
    say: str = ""
    thick: float = 0.0


@dataclass(frozen=True, slots=True)
class Shade:
    """An area from `day` to `until`, from `low` to `value`."""

    day: float
    until: float
    low: float
    value: float


@dataclass(frozen=True, slots=True)
class Mark:
    """A symbol; `fill` is a colour: the paper's for an open one."""

    day: float
    value: float
    shape: str
    fill: str
    say: str
    shift: float = 0.0


@dataclass(frozen=True, slots=True)
class Label:
    """Placed text: `dx` and `dy` are from its point, in units of the drawing."""

    day: float
    value: float
    text: str
    align: Align = "left"
    dx: float = 0.0
    dy: float = 0.0


@dataclass(frozen=True, slots=True)
class Tick:
    """A labelled place on a scale."""

    value: float
    text: str


@dataclass(frozen=True, slots=True)
class Ending:
    """Text that belongs to a point and is yet to be placed.

    The strong are placed first, `above` keeps it over its point, and where a line runs level since a day, the
    text may stand anywhere along it. `before` keeps it off the point's right side. `brief` takes its place where it
    would lie on something.
    """

    day: float
    value: float
    text: str
    strong: bool = False
    above: bool = False
    since: float | None = None
    brief: str = ""
    before: bool = False


Row = Vertex | Bar | Span | Shade | Mark | Label | Tick


@dataclass(frozen=True, slots=True)
class Picture:
    """One chart, ready for any frame; `height` is that of the plot itself, from `bottom` to `top` of its scale.

    `by_frame` holds the layers whose rows differ from frame to frame.
    """

    title: str
    description: str
    table: Table
    unit: str
    top: float
    scale: tuple[Tick, ...]
    layers: Mapping[str, Sequence[Row]]
    endings: tuple[Ending, ...] = ()
    fixed: tuple[Label, ...] = ()
    height: float = FULL
    bottom: float = 0.0
    by_frame: Mapping[str, Mapping[str, Sequence[Row]]] = field(default_factory=dict)
    photos: tuple[Mark, ...] = ()  # the days that have any
