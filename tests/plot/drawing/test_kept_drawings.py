"""Drawings that are kept."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.core.site.chart import Drawing, Table
from sitegen.core.values.day import DayAxis, Start
from sitegen.memo import Memo
from sitegen.plot.chart_data import ChartData, Tick, ValueAxis, Vertex
from sitegen.plot.drawing import draw as kept
from sitegen.plot.drawing.draw import drawings

DRAWING = Drawing(760, 242, 47.5, 30, {"lines": '<path class="lines" d="M0,9L9,0"/>'})
AXIS = DayAxis.covering(30, Start())
HEIGHT = ChartData(
    title="Height, cm",
    caption="From 4 to 9 cm.",
    description="From 4 to 9 cm.",
    table=Table(("Day", "P1"), (("3", "4"),)),
    axis=ValueAxis("cm", 10.0, (Tick(0.0, "0"), Tick(10.0, "10"))),
    layers={"lines": (Vertex("P1", 3.0, 4.0), Vertex("P1", 9.0, 9.0))},
)


def test_a_chart_is_drawn_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From the store come the same bytes, and nothing is placed, filled or drawn."""
    plain = drawings("height", HEIGHT, AXIS, None)
    with Memo(tmp_path) as memo:
        first = drawings("height", HEIGHT, AXIS, memo)
        monkeypatch.setattr(kept, "drawn", lambda *_: pytest.fail("drawn again"))

        assert drawings("height", HEIGHT, AXIS, memo) == first == plain


@pytest.mark.parametrize(
    ("data", "axis"),
    [
        (replace(HEIGHT, title="Height, in"), AXIS),
        (replace(HEIGHT, layers={"lines": (Vertex("P1", 3.0, 4.0),)}), AXIS),
        (HEIGHT, DayAxis.covering(44, Start())),
    ],
    ids=["words", "rows", "axis"],
)
def test_another_chart_is_drawn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, data: ChartData, axis: DayAxis
) -> None:
    """Whatever differs in the rows, the words or the axis, the drawing is another."""
    drawn: list[str] = []
    monkeypatch.setattr(kept, "drawn", lambda _, data, *__: drawn.append(data.title) or DRAWING)
    with Memo(tmp_path) as memo:
        drawings("height", HEIGHT, AXIS, memo)
        drawings("height", data, axis, memo)

    assert len(drawn) == 4
