"""The declaration of a chart: its name, its layers, and the function that fills them.

In: nothing. Out: `ChartType` and `Layer`, which the modules of `charts` declare. A layer is plain data: `definitions`
makes Altair of it when specifications are compiled, and nothing here imports that.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from sitegen.plot.chart_data import ChartData
from sitegen.plot.chart_input import ChartInput

LayerKind = Literal["line", "bar", "arrow", "span", "area", "symbol"]


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: the marks of the rows that a chart gives under its name.

    A line joins corners, a bar stands upright, a span lies, an arrow is an upright stem with an open head: at least so
    much. Width and dash are those of a stroke, `size` is a symbol's. Spans without a width are as thick as their rows
    say; `narrow_width` takes the place of the width in narrow drawings.
    """

    kind: LayerKind
    name: str
    colour: str
    width: float | None = 1.5
    narrow_width: float | None = None
    opacity: float = 1.0
    dash: tuple[float, float] | None = None
    cap: Literal["", "round"] = ""
    size: float = 44


@dataclass(frozen=True, slots=True)
class ChartType:
    """One kind of chart: layers in the order drawn, and the function that fills them; without data it gives None.

    Charts of one `family` have the same layers, and share the specifications compiled from them.
    """

    name: str
    layers: tuple[Layer, ...]
    data: Callable[[ChartInput], ChartData | None]
    family: str = ""

    @property
    def specification(self) -> str:
        """The name of its compiled specifications."""
        return self.family or self.name
