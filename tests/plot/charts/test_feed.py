"""Feed: a lane for each product and tub, doses of unknown size, routines."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.figure import Label
from sitegen.core.facts.tree import Dosing, PlotPoint, RoutineFacts
from sitegen.core.site.chart import Chart
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from tests.plot.builders import (
    HERE,
    NOTHING,
    charts,
    extents,
    facts,
    hovers,
    layer,
    ml,
    places,
    point,
    texts,
    two_tubs,
    whole_run,
)

ROUTINE = RoutineFacts("feed", Label("Brook Leaf"), "", ml(5), False, "every refill", Day.on(7), None, HERE)


def dose(day: int, product: str, value: Quantity, line: int = 0) -> PlotPoint:
    """A dose as it is measured: the tub, and at it the product."""
    return point(day, "tub", value, line, at=product)


def chart(*fed: PlotPoint, routines: tuple[RoutineFacts, ...] = ()) -> Chart:
    """A chart of feed alone."""
    return charts(facts(feed=fed, routines=routines))["feed"]


def test_a_finding_in_words() -> None:
    """Sums by product; a routine that is not counted says so."""
    assert charts(whole_run())["feed"].description == (
        "keel-a: about 60 ml on 3 days. keel-b: at least 35 ml on 3 days. Dotted lines are routines: Brook "
        "Leaf: 5 ml at every refill, from day 7 to day 42 (not in the total where no refill was logged)."
    )


def test_doses_typed_in_ml_stand_on_a_scale_of_ml() -> None:
    """A journal in US units draws doses typed in ml in ml, and others in its own units."""
    typed, spoons = (exactly(5, Dimension.VOLUME, step) for step in (1.0, 4.92892159375))  # a US teaspoon
    titles = [charts(facts(feed=(dose(3, "A", each),)), "us")["feed"].title for each in (typed, spoons)]

    assert titles == ["Feed, ml", "Feed, tsp"]


def test_each_product_stands_on_its_own_zero() -> None:
    """Lanes have a floor each; their bars begin there and share a scale."""
    svg = chart(dose(10, "keel-a", ml(10)), dose(10, "keel-b", ml(10))).wide
    floors = [y for _, y in places(svg, "floors")]

    assert [y for _, y in places(svg, "bars")] == floors
    assert len(set(floors)) == 2
    assert len(set(extents(svg, "bars"))) == 1
    assert texts(svg, "labels") == ["keel-a", "keel-b"]


def test_a_drawing_grows_with_its_lanes() -> None:
    """More products make a taller drawing, never a narrower lane."""
    one, two = chart(dose(10, "a", ml(5))), chart(dose(10, "a", ml(5)), dose(11, "b", ml(5)))

    assert (one.wide.height, two.wide.height) == (122, 186)


def test_a_product_is_called_by_its_name() -> None:
    """The name comes from the tub's doses."""
    run = facts(feed=(dose(10, "keel-a", ml(5)),))
    (tub,) = run.solution.tubs
    named = replace(tub, doses=(Dosing("keel-a", Label("Keel part A"), "feed", NOTHING, NOTHING),))
    run = replace(run, solution=replace(run.solution, tubs=(named,)))

    assert texts(charts(run)["feed"].wide, "labels") == ["Keel part A"]
    assert charts(run)["feed"].table.rows == (
        ("10", "10", "", "2025-09-24", "Keel part A", "tub", "5", "5", ""),
    )


def test_a_dose_of_unknown_size_is_an_open_diamond_on_its_floor() -> None:
    """It has no bar."""
    svg = chart(dose(10, "a", ml(5)), dose(20, "a", unknown(Dimension.VOLUME))).wide

    assert len(layer(svg, "bars")) == 1
    assert places(svg, "points")[1][1] == places(svg, "floors")[0][1]
    assert layer(svg, "points")[1].get("fill") == "var(--paper)"


def test_weights_and_volumes_have_scales_of_their_own() -> None:
    """Grams are never drawn against millilitres, and the title names both."""
    drawn = chart(dose(10, "a", ml(8)), dose(10, "salts", exactly(3, Dimension.MASS)))

    assert drawn.title == "Feed, ml and g"
    assert texts(drawn.wide, "numbers") == ["0", "10", "0", "5"]


def test_a_routine_is_dotted_to_its_end_or_the_last_entry() -> None:
    """It is said on hover and has no bar; a chart of routines alone has no numbers."""
    svg = chart(routines=(ROUTINE, replace(ROUTINE, until=Day.on(21), first=Day.on(14)))).wide
    days = [length * 70 / 693.5 for length in extents(svg, "routines")]

    assert [round(length) for length in days] == [51, 7]
    assert hovers(svg, "routines")[0] == (
        "Brook Leaf: 5 ml at every refill, from day 7 (not in the total where no refill was logged)"
    )
    assert (layer(svg, "bars"), "".join(texts(svg, "numbers"))) == ([], "")


def test_a_routine_of_logged_refills_is_counted() -> None:
    """Its doses are among the bars, so that nothing is said to be missing."""
    svg = chart(dose(10, "a", ml(5)), routines=(replace(ROUTINE, often="every logged refill"),)).wide

    assert hovers(svg, "routines") == ["Brook Leaf: 5 ml at every logged refill, from day 7"]


def test_only_feeding_routines_are_drawn() -> None:
    """A routine of light belongs elsewhere."""
    assert charts(facts(routines=(replace(ROUTINE, what="light"),))) == {}


def test_two_tubs_have_lanes_of_their_own() -> None:
    """The same product in two tubs is two lanes, each named."""
    drawn = charts(two_tubs())["feed"]

    assert texts(drawn.wide, "labels") == ["keel-a, Left tub", "keel-a, Right tub"]
    assert drawn.table.columns[4:] == ("product", "tub", "dose_ml_low", "dose_ml_high", "dose_flag")
    assert {row[5] for row in drawn.table.rows} == {"left", "right"}


def test_doses_of_one_day_are_one_mark() -> None:
    """Its title lists them."""
    svg = charts(facts(feed=(point(10, "tub", ml(5), 1, "Brook"), point(10, "tub", ml(7), 2, "Brook"))))[
        "feed"
    ]

    assert hovers(svg.wide, "points") == ["Brook, day 10: 2 doses, 12 ml = 5 ml + 7 ml"]
