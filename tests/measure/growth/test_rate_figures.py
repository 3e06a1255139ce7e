"""Growth rates against published points, and as figures of a run."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Per, Rate, Several
from sitegen.core.facts.tree import Growth, PlotPoint
from sitegen.core.records.rows import Reading
from sitegen.core.records.setup import Claims, Seed
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension, unit_named
from sitegen.measure.growth.growth import growth_of
from sitegen.measure.growth.rates import (
    absolute_growth_rate,
    group_relative_growth_rate,
    plateau_day,
    relative_growth_rate,
)
from tests.measure.builders import reading, remarks_of, run_of, setup_of
from tests.measure.published import published

ROWS = published("growth_rates")
SIZES = st.floats(0.5, 500)


def cm(size: float, step: float = 1) -> Quantity:
    """A length."""
    return exactly(size, Dimension.LENGTH, step)


def height(day: int, size: float, *ids: str) -> Reading:
    """The height of some plants, each as tall."""
    return reading("height", day, cm(size), ids, line=int(100 * day + size))


def grown(*rows: Reading, number: int = 4, **head: object) -> Growth:
    """Growth of a run; P1 to P3 are a group."""
    groups = (("early", ("P1", "P2", "P3")[:number]),)
    return growth_of(run_of(replace(setup_of(number, groups=groups), **head), readings=rows))  # type: ignore[arg-type]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["case"])
def test_published_rates(row: dict[str, str]) -> None:
    """Absolute and relative rates agree with the published ones."""
    ends = float(row["first"]), float(row["last"]), float(row["days"])
    assert relative_growth_rate(*ends) == pytest.approx(float(row["relative"]), rel=1e-6)
    if row["absolute"]:
        assert absolute_growth_rate(*ends) == pytest.approx(float(row["absolute"]), rel=1e-6)


def test_the_mean_of_logarithms() -> None:
    """A group's rate is the mean of logarithms, 0.325867; the logarithm of the means would give 0.333625.

    Worked from Hoffmann and Poorter 2002, Annals of Botany 90, 37-42.
    """
    first, last = (0.10, 0.12, 0.08), (1.0, 1.5, 0.6)
    assert group_relative_growth_rate(first, last, 7) == pytest.approx(0.325867, abs=5e-7)
    assert relative_growth_rate(sum(first), sum(last), 7) == pytest.approx(0.333625, abs=5e-7)


def test_doubling() -> None:
    """At 0.2 a day a plant doubles in ln 2 / 0.2 = 3.4657 days."""
    assert relative_growth_rate(1, 2, 3.4657) == pytest.approx(0.2, abs=1e-5)


@given(SIZES, SIZES, st.integers(1, 90), st.sampled_from(["mm", "in", "ft", "m"]))
def test_units_change_no_relative_rate(first: float, last: float, days: int, symbol: str) -> None:
    """A relative rate is the same in every unit."""
    unit = unit_named(symbol, Dimension.LENGTH)
    assert unit is not None
    ends = unit.from_canonical(first), unit.from_canonical(last)
    assert relative_growth_rate(*ends, days) == pytest.approx(
        relative_growth_rate(first, last, days), abs=1e-9
    )


def test_a_plant_s_rates() -> None:
    """From the first reading to the last; a plant measured once has none."""
    rate = grown(
        height(10, 4, "P1"), height(20, 9, "P1"), height(30, 14, "P1"), height(30, 14, "P2")
    ).rate.height
    (absolute,), (relative,) = rate.absolute, rate.relative
    assert absolute.figure.value == Rate(cm(0.5, 0.01), Per.DAY)
    assert relative.figure.value == Rate(exactly(relative_growth_rate(4, 14, 20), Dimension.COUNT), Per.DAY)
    assert (absolute.key, remarks_of(absolute.figure)) == ("P1", "from day 10 to day 30")


def test_ranges_make_a_range() -> None:
    """A height between two bounds gives a rate between two."""
    first = height(10, 4, "P1")._replace(value=Quantity(3, 5, Dimension.LENGTH, step=1))
    (absolute,) = grown(first, height(20, 15, "P1")).rate.height.absolute
    assert absolute.figure.value == Rate(Quantity(1, 1.2, Dimension.LENGTH, step=0.1), Per.DAY)


def test_a_group_of_three_has_a_mean() -> None:
    """Between the first and last day on which all of them were measured."""
    rows = [height(10, 4, "P1", "P2", "P3"), height(15, 6, "P1"), height(20, 8, "P1", "P2", "P3")]
    (group,) = grown(*rows).rate.height.by_group
    assert remarks_of(group.figure) == "3 plants; day 10 to day 20"
    assert isinstance(group.figure.value, Rate)
    assert group.figure.value.amount.low == pytest.approx(math.log(2) / 10)


def test_a_group_of_two_is_shown_plant_by_plant() -> None:
    """Two plants make no mean."""
    (group,) = grown(height(10, 4, "P1", "P2"), height(20, 8, "P1", "P2"), number=2).rate.height.by_group
    one = Rate(exactly(relative_growth_rate(4, 8, 10), Dimension.COUNT), Per.DAY)
    assert group.figure.value == Several((one, one))


def test_a_group_not_measured_alike() -> None:
    """Without two days on which all were measured there is no rate of the group."""
    (group,) = grown(height(10, 4, "P1", "P2", "P3"), height(20, 8, "P1", "P2")).rate.height.by_group
    assert remarks_of(group.figure) == "no two days on which all its plants were measured"


def series(*heights: float) -> list[tuple[Day, Quantity]]:
    """A reading every week."""
    return [(Day.on(7 * n), cm(size)) for n, size in enumerate(heights)]


@pytest.mark.parametrize(
    ("heights", "day"),
    [
        ((5, 12, 20, 21, 20), 14),  # within a step of 1 cm
        ((5, 12, 20, 22, 24), None),
        ((5, 12, 20, 21), None),  # one reading after is not enough
        ((20, 20, 20), 0),
        ((5, 20, 12, 13), 7),  # cut back
        ((), None),
    ],
)
def test_plateau(heights: tuple[float, ...], day: int | None) -> None:
    """A plant stands still from the first reading that two later ones do not pass by more than a step."""
    assert plateau_day(series(*heights)) == (None if day is None else Day.on(day))


def test_height_against_the_packet() -> None:
    """The claim is the value; the note says how the tallest plant stands to it."""
    seed = Seed(claims=Claims(height=Quantity(25, 30, Dimension.LENGTH, step=1)))
    notes = [remarks_of(grown(height(50, size, "P1"), seed=seed).rate.claim) for size in (20, 28, 31)]
    assert notes == [
        f"the tallest plant {word} that; who said so was not recorded"
        for word in ("stayed below", "was within", "outgrew")
    ]
    assert grown(height(50, 20, "P1")).rate.claim.value is None


def test_points_of_a_group_that_is_not_told_apart() -> None:
    """A reading of several plants together belongs to no plant and has no rate."""
    together = height(10, 4)._replace(which=None)
    growth = grown(together, together._replace(day=Day.on(20)))
    assert growth.rate.height.absolute == ()
    assert all(isinstance(point, PlotPoint) for point in growth.heights)
