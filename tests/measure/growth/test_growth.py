"""The largest plants, and the room above them."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.tree import Growth
from sitegen.core.records.rows import Reading, Which
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.growth.growth import growth_of, headroom_left
from tests.measure.builders import reading, remarks_of, run_of


def cm(length: float, high: float | None = None) -> Quantity:
    """A length to the centimetre."""
    return Quantity(length, length if high is None else high, Dimension.LENGTH, step=1)


def growth(*readings: Reading) -> Growth:
    """Of a run with these readings."""
    return growth_of(run_of(readings=readings))


def height(day: int, length: Quantity, *ids: str, **more: Any) -> Reading:
    """A height of some plants."""
    return reading("height", day, length, ids, **more)


def test_tallest() -> None:
    """The tallest plant when it was measured, and where and when that was."""
    facts = growth(height(30, cm(21), "P1"), height(40, cm(34), "P1", "P2", line=8), height(45, cm(30), "P3"))
    assert (facts.tallest.value, remarks_of(facts.tallest)) == (cm(34), "P1 and P2, day 40")
    assert [point.subject for point in facts.heights] == ["P1", "P1", "P2", "P3"]


def test_stem_tip_is_not_the_topmost_leaf() -> None:
    """A height to the stem tip counts only where there is no other."""
    assert growth(height(30, cm(21), "P1"), height(31, cm(40), "P1", at="stem tip")).tallest.value == cm(21)
    only = growth(height(31, cm(40), "P1", at="stem tip")).tallest
    assert (only.value, remarks_of(only)) == (cm(40), "P1, day 31; measured to the stem tip")


def test_headroom() -> None:
    """What the system leaves, less the tallest plant; a range stays one."""
    assert growth(height(30, cm(20, 24), "P1")).headroom.value == cm(26, 30)


def test_plants_not_named() -> None:
    """A height of `2 of 4` is drawn under those words."""
    row = Reading("height", height(30, cm(9)).day, 0, height(30, cm(9)).source, cm(9), (), Which((), 2, 4))
    facts = growth(row)
    assert (facts.heights[0].subject, remarks_of(facts.tallest)) == ("2 of 4", "2 of 4, day 30")


def test_leaves_together_are_no_plant() -> None:
    """A count of several plants together is not the most leaves of one."""
    together = reading("leaves", 30, counted(60), ("P1", "P2"), together=True)
    facts = growth(together, reading("leaves", 31, counted(9), ("P1",)))
    assert (facts.most_leaves.value, len(facts.leaves)) == (counted(9), 2)


def test_nothing_measured() -> None:
    """Without readings nothing is recorded, headroom included."""
    facts = growth()
    figures = (facts.tallest, facts.widest, facts.most_leaves, facts.headroom)
    assert [(f.value, remarks_of(f)) for f in figures] == [(None, "not recorded")] * 4


@given(st.integers(0, 200), st.integers(0, 200))
def test_room_is_never_negative(room: int, plant: int) -> None:
    """A plant above the lamp leaves no room."""
    left = headroom_left(exactly(room, Dimension.LENGTH), exactly(plant, Dimension.LENGTH))
    assert left.low == left.high == max(0, room - plant)
