"""The data of a chart before it is drawn: rows for each of its layers, its value axis, its words.

In: nothing. Out: `ChartData`, and the row types, whose field names are those that the definitions read. Values are in
the unit shown; days are days of the experiment. The width of the drawing is not known.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from sitegen.core.site.chart import Table

FULL_HEIGHT = 184.0  # of a plot, in units of the drawing
LOW_HEIGHT = 120.0  # of a plot with little to show
Align = Literal["left", "center", "right"]


@dataclass(frozen=True, slots=True)
class Vertex:
    """One corner of a line; corners of one segment are joined."""

    segment: str
    day: float
    value: float


@dataclass(frozen=True, slots=True)
class Bar:
    """An upright bar on a day, from `low` to `value`.

    In units of the drawing, `shift` moves it sideways, and `trim` shortens it to the rim of an open symbol.
    """

    day: float
    low: float
    value: float
    shift: float = 0.0
    title: str = ""
    trim: float = 0.0


@dataclass(frozen=True, slots=True)
class Span:
    """A level bar from `day` to `until`; its thickness, in units of the drawing, where thickness has a meaning."""

    day: float
    until: float
    value: float
    title: str = ""
    thickness: float = 0.0


@dataclass(frozen=True, slots=True)
class Area:
    """A shaded area from `day` to `until` and from `low` to `value`."""

    day: float
    until: float
    low: float
    value: float
    title: str = ""


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol; `fill` is a colour: the paper's for an open one."""

    day: float
    value: float
    shape: str
    fill: str
    title: str
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
    """A labelled place on the value axis."""

    value: float
    text: str


@dataclass(frozen=True, slots=True)
class PointLabel:
    """Text that belongs to a point, before it has a position.

    The strong are placed first; `above` keeps it over its point, `before` off the point's right side. Where a line runs
    level since a day, the text may stand anywhere along it. `short` takes its place where it would lie on something.
    """

    day: float
    value: float
    text: str
    strong: bool = False
    above: bool = False
    level_since: float | None = None
    short: str = ""
    before: bool = False


Row = Vertex | Bar | Span | Area | Symbol | Label | Tick
Layers = dict[str, Sequence[Row]]  # rows by the name of their layer


@dataclass(frozen=True, slots=True)
class ValueAxis:
    """The upright axis of a plot, in one unit."""

    unit: str
    top: float
    ticks: tuple[Tick, ...]
    bottom: float = 0.0


@dataclass(frozen=True, slots=True)
class ChartData:
    """One chart, ready for any frame; `frame_layers` has the layers whose rows differ from frame to frame.

    `caption` is short; where there is too little to draw, `said` tells it in a sentence.
    """

    title: str
    caption: str
    description: str
    table: Table
    axis: ValueAxis
    layers: Mapping[str, Sequence[Row]]
    point_labels: tuple[PointLabel, ...] = ()
    fixed_labels: tuple[Label, ...] = ()
    said: str = ""
    begins: int = 0  # the first day of its axis
    ends: int = 0  # the last one; 0: that of the run
    height: float = FULL_HEIGHT
    frame_layers: Mapping[str, Mapping[str, Sequence[Row]]] = field(default_factory=dict)
