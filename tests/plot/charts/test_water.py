"""Water: bars by day, running totals by tub, refills that nobody measured."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.figure import Figure, Per, Rate, remark
from sitegen.core.facts.indices import Uptake
from sitegen.core.facts.tree import PlotPoint
from sitegen.core.site.chart import Chart
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from tests.plot.builders import (
    charts,
    extents,
    facts,
    hovers,
    layer,
    ml,
    pieces,
    places,
    point,
    setup,
    texts,
    two_tubs,
    whole_run,
)


def chart(*added: PlotPoint) -> Chart:
    """A chart of water alone, in one tub."""
    return charts(facts(setup(), water=added))["water"]


def test_a_finding_in_words() -> None:
    """The description carries the flags of the sum."""
    assert charts(whole_run())["water"].description == (
        "Water added on 8 days: about at least 24000 ml. 1 amount was not measured: an open diamond marks "
        "it, and the line is left open at its end."
    )


def test_additions_of_a_day_are_one_bar_from_zero() -> None:
    """Two records of one day add up to one bar that stands on the ground."""
    svg = chart(
        point(10, "tub", ml(1000), 1), point(10, "tub", ml(500), 2), point(20, "tub", ml(1500), 3)
    ).wide
    heights = extents(svg, "bars")

    assert {y for _, y in places(svg, "bars")} == {places(svg, "ground")[0][1]}
    assert len(heights) == 2
    assert heights[0] == heights[1]
    assert hovers(svg, "points") == [
        "Day 10: 2 additions, 1500 ml = 1000 ml + 500 ml",
        "Day 20: 1500 ml; 3000 ml so far",
    ]


def test_an_unmeasured_refill_is_an_open_diamond_on_the_ground() -> None:
    """It has no bar, and the line is left open at its end."""
    svg = chart(point(10, "tub", ml(1000)), point(20, "tub", unknown(Dimension.VOLUME))).wide

    assert len(layer(svg, "bars")) == 1
    assert places(svg, "points")[1][1] == places(svg, "ground")[0][1]
    assert layer(svg, "points")[1].get("fill") == "var(--paper)"
    assert len(layer(svg, "open-ends")) == 1


def test_a_bar_ends_at_the_rim_of_an_open_symbol() -> None:
    """About a litre: the ring on the bar stays empty."""
    svg = chart(point(10, "tub", ml(1000)), point(20, "tub", ml(1000, about=True))).wide
    measured, about = extents(svg, "bars")

    assert round(about - measured, 2) == 4
    assert [mark.get("fill") for mark in layer(svg, "points")] == ["var(--water)", "var(--paper)"]


def test_a_range_has_a_bar_to_its_lower_bound_and_a_pale_one_beyond() -> None:
    """Both bounds can be read off."""
    svg = chart(point(10, "tub", Quantity(1000, 2000, Dimension.VOLUME))).wide

    assert extents(svg, "bars")[:1] == extents(svg, "ranges")
    assert len(pieces(svg, "upper")) == 1


def test_two_tubs_have_bars_side_by_side_and_lines_with_names() -> None:
    """Bars of one day lie on either side of it; symbol, stroke and name tell the tubs apart."""
    svg = charts(two_tubs())["water"].wide
    (left, _), (right, _) = places(svg, "bars")[:2]

    assert ((left + right) / 2, right - left) == (47.5, 7)
    assert sorted(texts(svg, "labels")) == ["Left tub: 13000 ml", "Right tub: 9000 ml"]
    assert len({mark.get("d") for mark in layer(svg, "turns")}) == 2
    assert layer(svg, "more-steps")[0].get("stroke-dasharray")


def test_the_table_has_each_addition_with_the_tubs_total() -> None:
    """Bounds are numbers, with their flags beside them; what nobody measured leaves the total without an upper bound."""
    rows = chart(
        point(10, "tub", ml(1000, about=True)), point(20, "tub", unknown(Dimension.VOLUME))
    ).table.rows

    assert rows == (
        ("10", "10", "", "2025-09-24", "tub", "1000", "1000", "about", "1000", "1000", "about"),
        ("20", "20", "", "2025-10-04", "tub", "", "", "not measured", "1000", "", "at least, about"),
    )


def test_what_was_taken_up_stands_in_the_lines_name_and_in_words() -> None:
    """Where the facts have it, with their note."""
    run = facts(setup(), water=(point(0, "tub", ml(9000)), point(20, "tub", ml(3000))))
    (tub,) = run.solution.tubs
    rate = Figure(
        "solution.tubs.tub.uptake.per_day",
        Rate(ml(150), Per.DAY),
        "water_taken_up",
        remarks=(remark("over_days", days=exactly(20, Dimension.DAYS, 1)),),
    )
    known = replace(run, solution=replace(run.solution, tubs=(replace(tub, uptake=Uptake(per_day=rate)),)))
    drawn = charts(known)["water"]

    assert texts(drawn.wide, "labels") == ["12000 ml in all, 150 ml a day used"]
    assert drawn.description == (
        "Water added on 2 days: 12000 ml. Water used, going by the refills: 150 ml a day (over 20 days)."
    )


def test_two_additions_are_told_in_a_sentence_of_their_own() -> None:
    """The sentence names the water itself, so that no name stands before it."""
    told = chart(point(3, "tub", ml(8000)), point(20, "tub", ml(1000))).said

    assert told.startswith("Water added on 2 days: 9000 ml.")
