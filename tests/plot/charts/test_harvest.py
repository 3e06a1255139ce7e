"""Cumulative harvest: steps, parts, picks that nobody weighed, tallies."""

from __future__ import annotations

import pytest

from sitegen.core.facts.tree import CumulativePoint
from sitegen.core.site.chart import WIDE, Chart
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from tests.plot.builders import (
    HERE,
    SVG,
    charts,
    facts,
    g,
    hovers,
    layer,
    picks,
    pieces,
    places,
    texts,
    whole_run,
)

UNWEIGHED = unknown(Dimension.MASS)


def chart(*found: tuple[int, str, Quantity], last: int = 58) -> Chart:
    """A chart of picks alone."""
    return charts(facts(last=last, harvest=picks(*found)))["harvest"]


def test_a_finding_in_words() -> None:
    """The description carries the flags of the total."""
    assert charts(whole_run())["harvest"].description == (
        "Picked on 5 days, from day 31 to day 58: at least 329 g. "
        "1 pick was not weighed: an open diamond marks it, and the line is left open at its end. "
        "Drawn from day 28 on: nothing was picked before that. Marked along the top: pruned: lowest leaves on day 36."
    )


def test_the_axis_begins_shortly_before_a_late_first_pick() -> None:
    """Where a third of it would be empty; an early pick, or a pick that may be early, keeps it from day 0."""
    late, early = (
        chart((31, "", g(46)), (40, "", g(50)), (58, "", g(9))),
        chart((12, "", g(46)), (58, "", g(9))),
    )

    assert texts(late.wide, "days")[0] == "day 28"
    assert places(late.wide, "points")[0][0] == pytest.approx(WIDE.left + 3 / 42 * WIDE.inner, abs=0.01)
    assert texts(early.wide, "days")[0] == "day 0"


def test_picks_are_steps_from_zero_to_the_last_entry() -> None:
    """The line rises upright on each day and runs on to the last entry."""
    svg = chart((10, "leaf", g(50)), (20, "leaf", g(50)), last=28).wide
    corners = [
        tuple(map(float, c.split(",")))
        for c in layer(svg, "steps")[0].get("d", "").removeprefix("M").split("L")
    ]

    days = [round(x / 693.5 * 28, 1) for x, _ in corners]
    grams = [round((184 - y) / 184 * 112) for _, y in corners]
    assert (days, grams) == ([10, 10, 20, 20, 28], [0, 50, 50, 100, 100])


def test_a_measured_total_has_a_closed_end() -> None:
    """Nothing is open where every pick was weighed."""
    svg = chart((10, "leaf", g(50))).wide

    assert (layer(svg, "open-ends"), texts(svg, "labels")) == ([], ["leaf: 50 g"])


def test_an_unweighed_pick_is_an_open_diamond_over_the_line_and_opens_its_end() -> None:
    """It adds nothing known, and the total is a lower bound from there."""
    svg = chart((10, "leaf", g(50)), (20, "leaf", UNWEIGHED)).wide
    weighed, diamond = layer(svg, "points")
    (_, level), (_, over) = places(svg, "points")

    assert (weighed.get("fill"), diamond.get("fill")) == ("var(--harvest)", "var(--paper)")
    assert weighed.tag == f"{SVG}circle"
    assert diamond.get("d", "").count("L") == 3
    assert over < level
    assert len(layer(svg, "open-ends")) == len(layer(svg, "open-ends-heads")) == 1
    assert texts(svg, "labels") == ["leaf: at least 50 g"]


def test_an_open_end_stays_inside_the_plot() -> None:
    """The arrow's head does not reach into the row of dates."""
    svg = chart((10, "leaf", g(100)), (20, "leaf", UNWEIGHED)).wide

    assert places(svg, "open-ends-heads")[0][1] > 30 + 5


def test_a_harvest_that_nobody_weighed_is_still_drawn() -> None:
    """A line on the ground with an open end, and a scale that names no number but 0."""
    svg = chart((10, "", UNWEIGHED)).wide

    assert (texts(svg, "numbers"), texts(svg, "labels")) == (["0"], ["not measured"])


def test_a_total_between_two_bounds_has_two_lines() -> None:
    """The upper line is drawn where it differs from the lower."""
    svg = chart((10, "leaf", Quantity(50, 80, Dimension.MASS))).wide

    assert (len(pieces(svg, "upper")), len(pieces(svg, "steps"))) == (1, 1)
    assert layer(svg, "points")[0].get("fill") == "var(--paper)"


def test_several_parts_are_told_apart_by_symbol_line_and_name() -> None:
    """Each part has its own sum."""
    svg = chart((10, "leaf", g(50)), (20, "root", g(30)), (30, "leaf", g(20))).wide
    shapes = [mark.get("d") for mark in layer(svg, "points")]

    assert sorted(texts(svg, "labels")) == ["leaf: 70 g", "root: 30 g"]
    assert len(set(shapes)) == 2
    assert layer(svg, "more-steps")[0].get("stroke-dasharray")
    assert layer(svg, "steps")[0].get("stroke-dasharray") is None


def test_a_tally_makes_one_line_of_the_total_as_it_was_read() -> None:
    """With a running tally the parts no longer add up, so that only the total is drawn."""
    tally = CumulativePoint(Day.on(30), exactly(0, Dimension.MASS), g(120), "", HERE)
    run = facts(harvest=(*picks((10, "leaf", g(50)), (20, "root", g(30))), tally))
    drawn = charts(run)["harvest"]

    assert texts(drawn.wide, "labels") == ["120 g"]
    assert hovers(drawn.wide, "points") == [
        "Day 10: leaf 50 g",
        "Day 20: root 30 g; 80 g so far",
        "Day 30: total so far, 120 g",
    ]
    assert drawn.table.rows[-1] == (
        *("30", "30", "", "2025-10-14", ""),
        *("", "", "tally"),
        *("120", "120", ""),
    )


def test_a_point_shows_all_of_its_day() -> None:
    """Two picks of one day are one mark with its parts, its sum and the total by then."""
    svg = chart((98, "fruit", g(178)), (111, "fruit", g(150)), (111, "fruit", g(100)), last=120).wide

    assert hovers(svg, "points") == [
        "Day 98: fruit 178 g",
        "Day 111: 2 picks, fruit 250 g = 150 g + 100 g; 428 g so far",
    ]


def test_a_day_with_an_unweighed_pick_is_open() -> None:
    """Its sum and the total are at least so much; the mark is an open diamond on the line."""
    svg = chart((10, "leaf", g(50)), (20, "leaf", g(30)), (20, "leaf", UNWEIGHED)).wide
    (_, one), (_, other) = places(svg, "points")

    assert hovers(svg, "points")[1] == (
        "Day 20: 2 picks, leaf at least 30 g = 30 g + not measured; at least 80 g so far"
    )
    assert layer(svg, "points")[1].get("fill") == "var(--paper)"
    assert other < one  # on the higher step


def test_a_total_so_far_is_open_while_a_pick_may_be_to_come() -> None:
    """A pick of an uncertain day may or may not be among what was picked by a day within it."""
    uncertain = CumulativePoint(Day(15, 25), g(30), g(80), "leaf", HERE)
    last = CumulativePoint(Day.on(20), g(10), g(90), "leaf", HERE)
    svg = charts(facts(harvest=(*picks((10, "leaf", g(50))), uncertain, last)))["harvest"].wide

    assert hovers(svg, "points") == ["Day 10: leaf 50 g", "Day 20: leaf 10 g; at least 60 g so far"]
    assert hovers(svg, "spans") == ["Days 15–25: leaf 30 g"]


def test_a_pick_without_a_part_makes_one_line() -> None:
    """Where one pick does not say its part, no part's sum is known."""
    svg = chart((10, "leaf", g(50)), (20, "", UNWEIGHED)).wide

    assert texts(svg, "labels") == ["at least 50 g"]
    assert len(layer(svg, "open-ends")) == 1


def test_a_later_tally_closes_the_end() -> None:
    """What nobody weighed is in the tally, and the description does not call the end open."""
    tally = CumulativePoint(Day.on(30), exactly(0, Dimension.MASS), g(120), "", HERE)
    drawn = charts(facts(harvest=(*picks((10, "leaf", UNWEIGHED)), tally)))["harvest"]

    assert layer(drawn.wide, "open-ends") == []
    assert drawn.description == "Picked on day 10: 120 g. 1 pick was not weighed: an open diamond marks it."


def test_a_tally_alone_is_no_pick() -> None:
    """Where nothing but a running total was logged, the description speaks of that."""
    tally = CumulativePoint(Day.on(30), exactly(0, Dimension.MASS), g(120), "", HERE)

    assert charts(facts(harvest=(tally,)))["harvest"].description == "Total so far, on day 30: 120 g."


def test_a_large_harvest_is_shown_in_kilograms() -> None:
    """Ticks stay plain numbers."""
    drawn = chart((10, "fruit", g(4600)))

    assert drawn.title == "Harvest so far, kg"
    assert texts(drawn.wide, "numbers") == ["0", "2", "4", "6"]
