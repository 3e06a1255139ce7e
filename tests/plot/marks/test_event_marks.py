"""Troubles and prunings pinned over the heights."""

from __future__ import annotations

from sitegen.core.records.rows import Deed, Event, Rows
from sitegen.core.site.chart import Chart
from tests.plot.builders import charts, cm, event, facts, hovers, layer, places, point, texts


def height(*events: Event) -> Chart:
    """A chart of one plant's height with events."""
    heights = (point(10, "P1", cm(4)), point(30, "P1", cm(9)))
    return charts(facts(heights=heights, rows=Rows(events=events)))["height"]


def test_a_pin_stands_on_its_day_with_its_name() -> None:
    """A cross for a trouble, a triangle for a pruning, each with a thread to the ground."""
    drawn = height(event(Deed.TROUBLE, 14, "thrips"), event(Deed.PRUNE, 21, "lowest leaves"))

    assert hovers(drawn.wide, "troubles") == ["Day 14: trouble: thrips"]
    assert hovers(drawn.wide, "prunings") == ["Day 21: pruned: lowest leaves"]
    assert [x for x, _ in places(drawn.wide, "threads")] == [
        places(drawn.wide, "troubles")[0][0],
        places(drawn.wide, "prunings")[0][0],
    ]
    assert {"thrips", "pruned"} <= set(texts(drawn.wide, "labels"))
    assert layer(drawn.wide, "troubles")[0].get("d") != layer(drawn.wide, "prunings")[0].get("d")


def test_a_long_trouble_is_named_in_full_beside_the_drawing() -> None:
    """The drawing has room for a word."""
    drawn = height(event(Deed.TROUBLE, 14, "the pump stopped some time in the night"))

    assert "trouble" in texts(drawn.wide, "labels")
    assert (
        "Marked along the top: trouble: the pump stopped some time in the night on day 14."
        in drawn.description
    )


def test_what_was_logged_for_several_plants_is_one_pin() -> None:
    """Rows of one subject each are one event."""
    drawn = height(event(Deed.PRUNE, 14, "tips", ("P1",)), event(Deed.PRUNE, 14, "tips", ("P2",)))

    assert len(layer(drawn.wide, "prunings")) == 1


def test_two_pins_of_one_day_stand_side_by_side() -> None:
    """Neither hides the other."""
    drawn = height(event(Deed.TROUBLE, 14, "mould"), event(Deed.PRUNE, 14, "lowest leaves"))

    assert places(drawn.wide, "troubles")[0][0] - places(drawn.wide, "prunings")[0][0] == 11


def test_other_deeds_are_not_pinned() -> None:
    """The strip of the page has them."""
    assert layer(height(event(Deed.CLEAN, 14)).wide, "threads") == []
