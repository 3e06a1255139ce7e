"""What is told in a sentence, because it makes no line: fewer than three days, or always the same."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.tree import Facts
from sitegen.core.site.chart import NO_DRAWING, Chart
from sitegen.plot import draw
from tests.plot.builders import (
    EMPTY_CLIMATE,
    cm,
    degrees,
    facts,
    g,
    ms,
    picks,
    point,
    read,
    say,
    whole_run,
)


def drawn(run: Facts) -> dict[str, Chart]:
    """The charts of a page by name."""
    return {chart.name: chart for chart in draw(run, units="metric", say=say)}


def test_three_days_are_drawn() -> None:
    """Two readings of one day are one day."""
    run = facts(heights=[point(day, "P1", cm(day)) for day in (10, 20, 30)])
    two = facts(heights=[point(day, plant, cm(day)) for day in (10, 20) for plant in ("P1", "P2")])

    assert drawn(run)["height"].drawn
    assert not drawn(two)["height"].drawn
    assert drawn(two)["height"].wide == NO_DRAWING


def test_two_days_are_named() -> None:
    """From the least to the most."""
    run = facts(heights=(point(10, "P1", cm(4)), point(30, "P1", cm(9, about=True))))

    assert drawn(run)["height"].said == "Height was about 4-9 cm, read on day 10 and day 30."
    assert len(drawn(run)["height"].table.rows) == 2


def test_one_reading_is_told_with_its_day() -> None:
    """It was read once."""
    assert drawn(facts(ec=(read(12, "ec", ms(1.4)),)))["ec"].said == "EC was 1.4 mS/cm, read once, on day 12."


def test_a_constant_is_told_once() -> None:
    """However often it was read."""
    run = facts(ec=tuple(read(day, "ec", ms(1.8)) for day in (3, 9, 20, 41)))

    assert drawn(run)["ec"].said == "EC was 1.8 mS/cm at each of 4 readings, from day 3 to day 41."


def test_two_days_of_picking_are_told() -> None:
    """With what was not weighed, and nothing about a drawing."""
    found = drawn(facts(harvest=picks((31, "leaf", g(46)), (40, "leaf", g(20)))))["harvest"]

    assert found.said == found.caption == "Picked on 2 days, from day 31 to day 40: 66 g."


def test_air_is_told_only_where_water_is_too() -> None:
    """One drawing holds both."""
    few = (read(10, "air_temperature", degrees(21)),)
    run = facts(climate=replace(EMPTY_CLIMATE, readings=few))

    assert drawn(run)["temperature"].said.startswith("Air was 21 °C, read once, on day 10.")


def test_a_whole_run_is_drawn() -> None:
    """What has enough days stays a drawing, and its caption stands in its description."""
    found = drawn(whole_run())

    assert {name for name, chart in found.items() if not chart.drawn} < set(found)
    assert all(chart.caption.split(".")[0] in chart.description for chart in found.values())
