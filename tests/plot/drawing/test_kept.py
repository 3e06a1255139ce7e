"""Drawings that are kept."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.core.site.chart import Drawing, Table
from sitegen.core.values.day import DayAxis, Start
from sitegen.memo import Memo
from sitegen.plot.drawing import drawing as kept
from sitegen.plot.drawing.drawing import both
from sitegen.plot.drawing.picture import Picture, Tick, Vertex

DRAWING = Drawing(760, 242, 47.5, 30, {"lines": '<path class="lines" d="M0,9L9,0"/>'})
AXIS = DayAxis.covering(30, Start())
PICTURE = Picture(
    title="Height, cm",
    description="From 4 to 9 cm.",
    table=Table(("Day", "P1"), (("3", "4"),)),
    unit="cm",
    top=10.0,
    scale=(Tick(0.0, "0"), Tick(10.0, "10")),
    layers={"lines": (Vertex("P1", 3.0, 4.0), Vertex("P1", 9.0, 9.0))},
)


def test_a_picture_is_drawn_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From the store come the same bytes, and nothing is placed, filled or drawn."""
    plain = both("height", PICTURE, AXIS, None)
    with Memo.open(tmp_path) as memo:
        first = both("height", PICTURE, AXIS, memo)
        monkeypatch.setattr(kept, "drawn", lambda *_: pytest.fail("drawn again"))

        assert both("height", PICTURE, AXIS, memo) == first == plain


@pytest.mark.parametrize(
    ("picture", "axis"),
    [
        (replace(PICTURE, title="Height, in"), AXIS),
        (replace(PICTURE, layers={"lines": (Vertex("P1", 3.0, 4.0),)}), AXIS),
        (PICTURE, DayAxis.covering(44, Start())),
    ],
    ids=["words", "rows", "axis"],
)
def test_another_picture_is_drawn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, picture: Picture, axis: DayAxis
) -> None:
    """Whatever differs in the rows, the words or the axis, the drawing is another."""
    drawn: list[str] = []
    monkeypatch.setattr(kept, "drawn", lambda _, picture, *__: drawn.append(picture.title) or DRAWING)
    with Memo.open(tmp_path) as memo:
        both("height", PICTURE, AXIS, memo)
        both("height", picture, axis, memo)

    assert len(drawn) == 4
