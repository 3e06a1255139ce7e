"""Drawings that are kept."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.core.site.chart import Drawing, Table
from sitegen.core.values.day import DayAxis, Start
from sitegen.memo import Memo
from sitegen.plot.chart_data import ChartData, Tick, ValueAxis, Vertex
from sitegen.plot.drawing import draw as kept
from sitegen.plot.drawing.draw import ToDraw, drawings

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
    asked = [ToDraw("height", HEIGHT, AXIS)]
    plain = drawings(asked, None)
    with Memo(tmp_path) as memo:
        first = drawings(asked, memo)
        monkeypatch.setattr(kept, "drawn", lambda charts: [pytest.fail("drawn again") for _ in charts])

        assert drawings(asked, memo) == first == plain


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

    def draw(charts: Iterable[ToDraw]) -> list[tuple[Drawing, ...]]:
        drawn.extend(chart.data.title for chart in charts)
        return [(DRAWING, DRAWING) for _ in charts]

    monkeypatch.setattr(kept, "drawn", draw)
    with Memo(tmp_path) as memo:
        drawings([ToDraw("height", HEIGHT, AXIS)], memo)
        drawings([ToDraw("height", data, axis), ToDraw("height", HEIGHT, AXIS)], memo)

    assert drawn == [HEIGHT.title, data.title]
