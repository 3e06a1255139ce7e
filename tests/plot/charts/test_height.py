"""Heights: lines by plant, a median, and what is drawn for each flag."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.tree import PlotPoint
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Deed, Rows, Which
from sitegen.core.records.tables import event_of
from sitegen.core.site.chart import Drawing
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, unknown
from sitegen.core.values.units import Dimension
from tests.plot.builders import (
    charts,
    cm,
    event,
    extents,
    facts,
    hovers,
    layer,
    pieces,
    places,
    point,
    setup,
    texts,
    together,
    two_tubs,
    whole_run,
)


def wide(*heights: PlotPoint, plants: int = 6) -> Drawing:
    """A chart of heights alone."""
    return charts(facts(setup(plants), heights=heights))["height"].wide


def fills(svg: Drawing) -> list[str | None]:
    """Which symbols are open."""
    return [mark.get("fill") for mark in layer(svg, "points")]


def test_a_finding_in_words() -> None:
    """The description says the tallest plant and how much was measured."""
    chart = charts(whole_run())["height"]

    assert chart.title == "Height, cm"
    assert chart.description == (
        "Tallest plant 19 cm on day 54. 6 plants measured on 6 days. Bold lines show the middle plant (the "
        "median) on days when three or more were measured. Marked along the top: trouble: thrips on day 26 "
        "and pruned: lowest leaves on day 36."
    )


def test_three_plants_have_a_median_and_two_have_not() -> None:
    """The median goes through the middle plant; two plants are drawn as two."""
    heights = [point(day, f"P{n}", cm(day * n / 10)) for day in (10, 20) for n in (1, 2, 3)]
    three, two = wide(*heights, plants=3), wide(*(h for h in heights if h.subject != "P3"), plants=2)
    middle = [
        place
        for place, said in zip(places(three, "points"), hovers(three, "points"), strict=True)
        if "P2" in said
    ]
    corners = layer(three, "median")[0].get("d", "").removeprefix("M").split("L")

    assert [f"{x - 47.5:g},{y - 30:g}" for x, y in middle] == [
        f"{float(x):g},{float(y):g}" for x, y in (c.split(",") for c in corners)
    ]
    assert len(pieces(three, "plants")) == 3
    assert (layer(two, "median"), len(pieces(two, "alone"))) == ([], 2)


def test_one_value_for_all_plants_is_drawn_once_and_says_so() -> None:
    """A value written for several plants is one symbol, named, and part of each plant's line."""
    heights = (*together(10, ("P1", "P2"), cm(4)), point(20, "P1", cm(9)), point(20, "P2", cm(7)))
    svg = wide(*heights, plants=2)

    assert hovers(svg, "points") == ["all 2, day 10: 4 cm", "P1, day 20: 9 cm", "P2, day 20: 7 cm"]
    assert "all 2" in texts(svg, "labels")
    assert len(pieces(svg, "alone")) == 2


def test_a_value_of_a_group_takes_its_name() -> None:
    """A set of plants that is a group is called by the group's name."""
    svg = wide(*together(10, ("P1", "P3", "P5"), cm(4)), *together(11, ("P2", "P4"), cm(5)))

    assert hovers(svg, "points") == ["odd, day 10: 4 cm", "P2, P4, day 11: 5 cm"]


def test_a_value_of_all_begins_the_lines_of_its_groups() -> None:
    """Groups that were later measured apart have a line each from the day they were measured together."""
    everyone, odd, even = ("P1", "P2", "P3", "P4"), ("P1", "P3"), ("P2", "P4")
    svg = wide(
        *together(10, everyone, cm(4)), *together(20, odd, cm(9)), *together(21, even, cm(8)), plants=4
    )

    assert sorted(texts(svg, "labels")) == ["P2, P4", "all 4", "odd"]
    assert len({piece.split("L")[0] for piece in pieces(svg, "alone")}) == 1
    assert len(pieces(svg, "alone")) == 2


def test_plants_not_told_apart_have_a_symbol_and_no_line() -> None:
    """`2 of 6` cannot be joined to any plant."""
    svg = wide(point(10, "2 of 6", cm(4)), point(20, "P1", cm(5)))

    assert hovers(svg, "points") == ["2 of 6, day 10: 4 cm", "P1, day 20: 5 cm"]
    assert [layer(svg, name) for name in ("alone", "plants", "median")] == [[], [], []]


def test_measured_is_filled_and_about_and_by_eye_are_open() -> None:
    """A flag is told by the symbol, not by colour alone."""
    svg = wide(
        point(10, "P1", cm(4)), point(11, "P1", cm(5, about=True)), point(12, "P1", cm(6, by_eye=True))
    )

    assert fills(svg) == ["var(--growth)", "var(--paper)", "var(--paper)"]


def test_a_range_is_a_bar() -> None:
    """A range runs from bound to bound, without a symbol that would claim a middle."""
    svg = wide(point(10, "P1", Quantity(4, 8, Dimension.LENGTH)), point(20, "P1", cm(8)))
    (length,), zero = extents(svg, "ranges"), places(svg, "ground")[0][1]
    bottom = places(svg, "ranges")[0][1]

    assert hovers(svg, "points") == ["P1, day 20: 8 cm"]
    assert round(zero - bottom, 1) == round(-length, 1)
    assert hovers(svg, "ranges") == ["P1, day 10: 4-8 cm"]


def test_a_lower_bound_has_an_arrow_and_stays_out_of_the_median() -> None:
    """At least so much: an open symbol, an arrow upwards, and no median from it."""
    least = Quantity(9, None, Dimension.LENGTH, open=1)
    heights = [
        point(day, f"P{n}", least if (day, n) == (20, 3) else cm(n))
        for day in (10, 20, 30)
        for n in (1, 2, 3)
    ]
    svg = wide(*heights, plants=3)

    assert len(layer(svg, "arrows")) == len(layer(svg, "arrows-heads")) == 1
    assert fills(svg).count("var(--paper)") == 1
    assert layer(svg, "median")[0].get("d", "").count("L") == 1


def test_an_unmeasured_height_is_in_the_table_alone() -> None:
    """Where nothing is known there is nothing to draw, and the table says it."""
    chart = charts(facts(heights=(point(10, "P1", unknown(Dimension.LENGTH)), point(20, "P1", cm(5)))))[
        "height"
    ]

    assert hovers(chart.wide, "points") == ["P1, day 20: 5 cm"]
    assert chart.table.rows[0] == ("10", "10", "", "2025-09-24", "P1", "", "", "", "not measured")


def test_a_gap_of_more_than_three_weeks_is_dotted() -> None:
    """Twenty-one days are joined, twenty-two are not drawn as if somebody had looked."""
    near = wide(point(10, "P1", cm(4)), point(31, "P1", cm(8)))
    far = wide(point(10, "P1", cm(4)), point(32, "P1", cm(8)))

    assert (len(pieces(near, "alone")), len(pieces(near, "median-gaps"))) == (1, 0)
    assert (len(pieces(far, "alone")), len(pieces(far, "median-gaps"))) == (0, 1)
    assert layer(far, "median-gaps")[0].get("stroke-dasharray")


def test_heights_taken_to_something_else_have_a_line_of_their_own() -> None:
    """A height to the stem tip is never joined with one to the topmost leaf."""
    svg = wide(point(10, "P1", cm(4)), point(20, "P1", cm(9)), point(10, "P1", cm(3), 7, at="stem tip"))

    assert hovers(svg, "points")[1:2] == ["P1, day 10: 3 cm to the stem tip"]
    assert len(pieces(svg, "alone")) == 1


def test_two_tubs_differ_by_symbol_line_and_name() -> None:
    """Tubs are told apart without colour."""
    svg = charts(two_tubs())["height"].wide
    by_plant = dict(zip((said[:2] for said in hovers(svg, "points")), layer(svg, "points"), strict=True))

    assert {"Left tub", "Right tub"} <= set(texts(svg, "labels"))
    assert by_plant["P1"].get("d") != by_plant["P4"].get("d")
    assert layer(svg, "median")[0].get("stroke-dasharray") != layer(svg, "more-medians")[0].get(
        "stroke-dasharray"
    )


def test_a_plant_that_moved_is_in_no_median_from_then_on() -> None:
    """From its move a plant counts for neither tub; what it did before counts where it stood, and the text says so."""
    before = two_tubs()
    move = event_of(
        Deed.MOVE,
        day=Day.on(36),
        entry=1,
        source=Source("experiment.yaml", 9),
        which=Which(("P3",)),
        tub="right",
    )
    rows = replace(before.run.rows, events=(*before.run.rows.events, move))
    left_alone, moved = (
        charts(before)["height"],
        charts(replace(before, run=replace(before.run, rows=rows)))["height"],
    )

    assert {"Left tub", "Right tub"} <= set(texts(left_alone.wide, "labels"))
    assert "Without" not in left_alone.description
    assert "Left tub" not in texts(moved.wide, "labels")  # P1 and P2 are too few for a median
    assert "Right tub" in texts(moved.wide, "labels")
    assert "Without P3 after the move to another tub." in moved.description


def test_the_axis_ends_shortly_after_the_last_reading_or_event() -> None:
    """A trouble that came later keeps the days until then in the chart."""
    measured = (point(10, "P1", cm(4)), point(28, "P1", cm(9)), point(34, "P1", cm(12)))
    alone = charts(facts(last=98, heights=measured))["height"]
    later = charts(facts(last=98, heights=measured, rows=Rows(events=(event(Deed.TROUBLE, 90, "thrips"),))))[
        "height"
    ]

    assert texts(alone.wide, "days")[-1] == "42"
    assert alone.description.endswith("Only days 0 to 42 are drawn; there are no readings outside them.")
    assert texts(later.wide, "days")[-1] == "98"
