"""Where plants stopped rising, as the facts have it."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.core.facts.figure import Figure, Label, Named
from sitegen.core.facts.indices import GrowthRates, SeriesRates
from sitegen.core.records.rows import Reading
from sitegen.core.site.chart import Chart
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from tests.measure.builders import place, reading, run_of
from tests.plot.builders import charts, cm, facts, hovers, layer, point, say, setup, texts

GROWN = {10: (4, 3, 2), 24: (15, 9, 8), 40: (19, 16, 14), 47: (19, 18, 17), 54: (19, 20, 18)}


def height(**stopped: int) -> Chart:
    """A chart of three plants, some of which grew no taller from a day on."""
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

    assert hovers(drawn.wide, "plateaus") == ["P1 grew no taller after day 40"]
    assert "P1 grew no taller" in texts(drawn.wide, "labels")


def test_the_finding_says_whether_the_tallest_had_stopped() -> None:
    """Its height is that of the facts; where it stood still at it, that is said, else beside, as another's is."""
    assert height(P1=40).description.startswith(
        "Tallest plant 20 cm on day 54. 3 plants measured on 5 days. P1 grew no taller after day 40."
    )
    assert height(P2=47).description.startswith(
        "Tallest plant 20 cm on day 54. 3 plants measured on 5 days. P2 grew no taller after day 47."
    )
    assert height(P2=54).description.startswith(
        "The tallest plant had reached 20 cm by day 54 and grew no taller. 3 plants measured on 5 days."
    )


def test_plants_that_stopped_on_one_day_are_told_together() -> None:
    """One name, the group's where they are one, and a stroke each."""
    drawn = height(P1=40, P3=40)

    assert "“odd” grew no taller after day 40." in drawn.description
    assert len(layer(drawn.wide, "plateaus")) == 2


def test_without_a_plateau_nothing_is_said_of_one() -> None:
    """Nobody is told that a plant still rises."""
    drawn = height()

    assert layer(drawn.wide, "plateaus") == []
    assert "rising" not in drawn.description


SIZES = st.one_of(
    st.builds(
        lambda low, more: Quantity(low, low + more, Dimension.LENGTH, step=1),
        st.integers(1, 40),
        st.integers(0, 9),
    ),
    st.builds(lambda low: Quantity(low, None, Dimension.LENGTH, open=1, step=1), st.integers(1, 40)),
)
HEIGHTS = st.builds(
    lambda day, plants, size, at: reading("height", day, size, plants, at=at),
    st.integers(1, 60),
    st.sampled_from([("P1",), ("P2",), ("P1", "P3"), ("P1", "P2", "P3", "P4")]),
    SIZES,
    st.sampled_from(("", "", "stem tip")),
)


@settings(max_examples=40)
@given(st.lists(HEIGHTS, min_size=1, max_size=8))
def test_the_tallest_of_the_text_is_that_of_the_facts(rows: list[Reading]) -> None:
    """Whatever was measured, the text beside the chart and the figure of the facts have one tallest plant."""
    placed = [row._replace(source=place(n)) for n, row in enumerate(rows, 1)]
    measured = measure(run_of(readings=placed))
    tallest = measured.growth.tallest.value
    assert isinstance(tallest, Quantity)
    said = charts(measured)["height"].description
    assert said.startswith(
        (f"Tallest plant {say(tallest)} on ", f"The tallest plant had reached {say(tallest)} by ")
    )
