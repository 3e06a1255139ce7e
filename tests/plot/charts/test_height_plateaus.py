"""Where plants stopped rising, as the facts have it."""

from __future__ import annotations

from sitegen.core.facts.figure import Figure, Label, Named
from sitegen.core.facts.indices import GrowthRates, SeriesRates
from sitegen.core.site.chart import Chart
from sitegen.core.values.day import Day
from tests.plot.builders import charts, cm, facts, hovers, layer, point, setup, texts

GROWN = {10: (4, 3, 2), 24: (15, 9, 8), 40: (19, 16, 14), 47: (19, 18, 17), 54: (19, 20, 18)}


def height(**stopped: int) -> Chart:
    """A chart of three plants, some of which stopped rising on a day."""
    found = tuple(
        Named(plant, Label(plant), Figure(f"growth.rate.height.plateau.{plant}", Day.on(day), "plateau_day"))
        for plant, day in stopped.items()
    )
    heights = tuple(
        point(day, f"P{n}", cm(value)) for day, row in GROWN.items() for n, value in enumerate(row, start=1)
    )
    rate = GrowthRates(height=SeriesRates(plateau=found))
    return charts(facts(setup(3), heights=heights, rate=rate))["height"]


def test_a_plant_that_stopped_has_a_stroke_and_a_name() -> None:
    """On its day, over its last rise."""
    drawn = height(P1=40)

    assert hovers(drawn.wide, "plateaus") == ["P1 stopped rising on day 40"]
    assert "P1 stopped rising" in texts(drawn.wide, "labels")


def test_the_finding_says_whether_the_tallest_had_stopped() -> None:
    """Where the tallest plant still rose, another's standing still is told beside."""
    assert height(P1=40).description.startswith(
        "Tallest plant 20 cm on day 54. 3 plants measured on 5 days. P1 stopped rising on day 40."
    )
    assert height(P2=47).description.startswith(
        "The tallest plant reached 18 cm by day 47, then stopped rising."
    )


def test_plants_that_stopped_on_one_day_are_told_together() -> None:
    """One name, the group's where they are one, and a stroke each."""
    drawn = height(P1=40, P3=40)

    assert "odd stopped rising on day 40." in drawn.description
    assert len(layer(drawn.wide, "plateaus")) == 2


def test_without_a_plateau_nothing_is_said_of_one() -> None:
    """Nobody is told that a plant still rises."""
    drawn = height()

    assert layer(drawn.wide, "plateaus") == []
    assert "rising" not in drawn.description
