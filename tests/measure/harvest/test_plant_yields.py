"""The harvest of each plant of a group, variety or tub: number, mean, range and standard deviation."""

from __future__ import annotations

import statistics
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Several, remark
from sitegen.core.facts.indices import PlantSetFacts, PlantSets, Statistics
from sitegen.core.facts.tree import Facts
from sitegen.core.records.rows import Deed, Event, Pick, Tally
from sitegen.core.records.setup import Setup
from sitegen.core.values.quantity import Quantity, counted
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.measure.harvest.plant_yields import mean_weight
from sitegen.measure.plant_statistics import mean_of_plants, standard_deviation
from tests.measure.builders import event, grams, joint, pick, remarks_of, run_of, seeds, setup_of, tally
from tests.measure.values import amount, bounds, lines

FOUR = ("P1", "P2", "P3", "P4")
ALL = joint(*FOUR, word="all")
SOWN = seeds(0, 2, *FOUR)
ENDED = event(Deed.END, 100, kept=False)
THREE = setup_of(groups=(("three", FOUR[:3]), ("one", FOUR[3:])))

Row = Event | Pick | Tally


def facts(*rows: Row, setup: Setup = THREE, ended: Event | None = ENDED) -> Facts:
    """The facts of a run of 100 days."""
    events = [row for row in rows if isinstance(row, Event)]
    return measure(
        run_of(
            setup,
            events=[SOWN, *events, *([ended] if ended else [])],
            picks=[row for row in rows if isinstance(row, Pick)],
            tallies=[row for row in rows if isinstance(row, Tally)],
        )
    )


def sets(*rows: Row, **more: Any) -> PlantSets:
    """Its groups, varieties and tubs."""
    return facts(*rows, **more).sets


def three(*rows: Row, **more: Any) -> Statistics:
    """The harvest of the group of three."""
    return sets(*rows, **more).by_group[0].harvest


def mass(low: float, high: float | None, step: float = 1, **flags: Any) -> Quantity:
    """A weight between two bounds."""
    return Quantity(low, high, Dimension.MASS, step=step, **flags)


def own(*weights: Quantity) -> list[Pick]:
    """Each plant picked by itself."""
    return [
        pick(80, joint(plant), weight, line=n + 1)
        for n, (plant, weight) in enumerate(zip(FOUR, weights, strict=False))
    ]


TENS = own(grams(10), grams(20), grams(30), grams(40))


def means(found: tuple[PlantSetFacts, ...]) -> list[object]:
    """The mean of each set."""
    return [each.harvest.mean.value for each in found]


def test_by_definition() -> None:
    """600 g of four plants are 150 g a plant; by definition, worked."""
    assert (mean_weight(600, 4), mean_of_plants([182, 195, 201, 210])) == (150, 197)


def test_three_plants_kept_apart() -> None:
    """Number, mean, range and deviation of 10, 20 and 30 g: 3, 20 g, 10 to 30 g, 10 g (worked)."""
    found = three(*TENS)
    assert (found.number.value, found.mean.value) == (counted(3), grams(20))
    assert (found.range.value, found.deviation.value) == (mass(10, 30), grams(10))
    assert [lines(f) for f in (found.number, found.mean, found.range, found.deviation)] == [[1, 2, 3]] * 4
    assert {f.remarks for f in (found.number, found.mean, found.range, found.deviation)} == {()}
    assert (found.mean.name, found.mean.formula) == ("sets.by_group.three.harvest.mean", "mean_of_plants")


def test_fewer_than_three_are_shown_one_by_one() -> None:
    """Two plants have neither mean nor deviation; their two weights stand in the range, one weight alone."""
    two, one = sets(*TENS, setup=setup_of(groups=(("two", FOUR[:2]), ("one", FOUR[3:])))).by_group
    assert (two.harvest.range.value, one.harvest.range.value) == (Several((grams(10), grams(20))), grams(40))
    for each in (two.harvest, one.harvest):
        assert (each.mean.value, each.deviation.value) == (None, None)
        assert remarks_of(each.mean) == remarks_of(each.deviation) == "fewer than three plants"
    assert [each.harvest.number.value for each in (two, one)] == [counted(2), counted(1)]


def test_bounds_and_flags() -> None:
    """Bounds and flags of each plant reach the mean; a range leaves no deviation."""
    found = three(*own(mass(10, 16, about=True), mass(20, 20, 5), mass(30, 30, by_eye=True)))
    assert (bounds(found.mean), amount(found.mean).about, amount(found.mean).by_eye) == (
        (20, 22),
        True,
        True,
    )
    assert bounds(found.range) == (10, 30)
    assert (found.deviation.value, remarks_of(found.deviation)) == (None, "a plant's value is a range")


def test_a_plant_that_gave_nothing_counts() -> None:
    """A plant without a pick at the end, and one that was lost, gave nothing: both lower the mean."""
    assert three(*own(grams(10), grams(20))).mean.value == grams(10)
    lost = event(Deed.LOST, 30, joint("P3"))
    found = three(*own(grams(10), grams(20)), lost, ended=None)
    assert (found.mean.value, found.range.value, found.number.value) == (grams(10), mass(0, 20), counted(3))


def test_no_mean_while_a_plant_waits() -> None:
    """A set of which a plant still grows unpicked has no mean yet; the plants that were picked are shown."""
    found = three(*own(grams(10), grams(20)), ended=None)
    waiting = remark("nothing_picked_yet_from", plants=("P3",))
    assert (found.mean.value, found.mean.remarks) == (None, (waiting,))
    assert (found.range.value, found.range.remarks) == (Several((grams(10), grams(20))), (waiting,))


def test_plants_weighed_together_inside_the_set() -> None:
    """A weight of two plants of one group goes into its mean; range and deviation are of plants kept apart only."""
    found = three(*TENS, pick(90, joint("P2", "P3"), grams(9)))
    assert (found.mean.value, remarks_of(found.mean)) == (grams(23), "3 plants")
    assert (found.number.value, lines(found.mean)) == (counted(3), [1, 2, 3, 2090])
    assert (found.range.value, remarks_of(found.range)) == (
        grams(10),
        "two plants were not weighed by themselves",
    )
    assert found.deviation.value is None
    together = three(pick(90, joint(*FOUR[:3]), grams(90)))
    assert (together.number.value, together.mean.value) == (counted(3), grams(30))
    assert not together.range.recorded


def test_two_plants_weighed_together_have_a_mean() -> None:
    """A mean of plants weighed together needs no three plants: there is nothing to show one by one."""
    two, _ = sets(
        pick(90, joint("P1", "P2"), grams(90)), setup=setup_of(groups=(("a", FOUR[:2]), ("b", FOUR[2:])))
    ).by_group
    assert (two.harvest.mean.value, two.harvest.number.value) == (grams(45), counted(2))


def test_a_weight_shared_with_others_leaves_no_mean() -> None:
    """A weight shared between two sets gives neither a mean; the plants kept apart are shown."""
    first, second = sets(*TENS, pick(90, joint("P2", "P4"), grams(9))).by_group
    assert (first.harvest.mean.value, remarks_of(first.harvest.mean)) == (None, "not recorded plant by plant")
    assert first.harvest.range.value == Several((grams(10), grams(30)))
    assert (second.harvest.mean.value, second.harvest.range.recorded) == (None, False)


def test_three_of_more_plants_kept_apart() -> None:
    """Where three plants were kept apart and others shared a weight outside the set, the mean is of the three."""
    setup = setup_of(6, groups=(("five", ("P1", "P2", "P3", "P4", "P5")), ("one", ("P6",))))
    found = three(*TENS, pick(90, joint("P4", "P5", "P6"), grams(9)), setup=setup)
    assert (found.mean.value, found.number.value) == (grams(20), counted(3))
    assert remarks_of(found.mean) == "two plants were not weighed by themselves"
    assert found.deviation.value == grams(10)


def test_a_moved_plant_is_left_out_of_groups_and_tubs() -> None:
    """A plant that changed its tub is in no group and no tub, and is named; its variety keeps it."""
    setup = setup_of(
        6,
        tubs=("left", "right"),
        varieties=("amber", "rust"),
        groups=(("five", ("P1", "P2", "P3", "P4", "P5")), ("one", ("P6",))),
    )
    picks = [pick(80, joint(f"P{n}"), grams(10 * n), line=n) for n in range(1, 7)]
    moved = event(Deed.MOVE, 40, joint("P1"), tub="right")
    found = sets(*picks, moved, setup=setup)
    assert means(found.by_group) == [grams(35), None]
    assert means(found.by_variety) == [grams(20), grams(50)]
    assert means(found.by_tub) == [None, grams(50)]
    assert remarks_of(found.by_group[0].harvest.mean) == "not counting P1, moved to another tub"
    assert found.by_tub[0].harvest.range.value == Several((grams(20), grams(30)))
    both = event(Deed.MOVE, 40, joint("P1", "P2", "P3"), tub="right")
    left = sets(*picks, both, setup=setup).by_tub[0].harvest
    assert (left.mean.value, left.range.recorded) == (None, False)
    assert (
        remarks_of(left.mean)
        == "not recorded plant by plant; not counting P1, P2 and P3, moved to another tub"
    )


def test_a_running_total_above_its_picks_leaves_no_mean() -> None:
    """What a running total holds beside the picks may be of any plant; one of the very picks changes nothing."""
    assert three(*TENS[:3], tally(90, grams(100), ALL)).mean.value is None
    assert three(*TENS[:3], tally(90, grams(60), ALL)).mean.value == grams(20)


def test_a_single_group_is_set_against_the_rest() -> None:
    """A group beside plants of none is a set; a group of all plants repeats the run."""
    assert [s.key for s in sets(*TENS, setup=setup_of(groups=(("three", FOUR[:3]),))).by_group] == ["three"]
    assert sets(*TENS, setup=setup_of(groups=(("all-four", FOUR),))).by_group == ()


def test_no_harvest() -> None:
    """Without a harvest a set has no figure of it."""
    found = sets().by_group[0]
    assert (found.harvest, found.plant_day.name) == (Statistics(), "")


@given(st.lists(st.tuples(st.sampled_from(FOUR), st.integers(0, 90)), min_size=1, max_size=12))
def test_statistics_of_plants_kept_apart(picks: list[tuple[str, int]]) -> None:
    """Of exact picks of single plants: mean, range and deviation are those of the plants' sums (`statistics`)."""
    rows = [pick(60 + n, joint(plant), grams(weight), line=n + 1) for n, (plant, weight) in enumerate(picks)]
    found = facts(*rows)
    sums = [sum(w for p, w in picks if p == plant) for plant in FOUR[:3]]
    group = found.sets.by_group[0].harvest
    assert amount(group.mean).low == pytest.approx(statistics.fmean(sums))
    assert bounds(group.range) == (min(sums), max(sums))
    assert amount(group.deviation).low == pytest.approx(standard_deviation(sums))
    last = amount(found.sets.by_group[1].harvest.range)
    assert 3 * amount(group.mean).low + last.low == pytest.approx(amount(found.harvest.total).low)


NAMED = st.sampled_from([joint(plant) for plant in FOUR] + [joint("P1", "P2"), joint("P3", "P4"), ALL])


@given(st.lists(st.tuples(NAMED, st.integers(0, 90)), min_size=1, max_size=6))
def test_a_mean_of_weights_inside_a_set_is_its_sum_over_its_plants(picks: list[tuple[Any, int]]) -> None:
    """A mean times its number of plants is the harvest of a group of which no weight was shared."""
    rows = [pick(60 + n, which, grams(weight), line=n + 1) for n, (which, weight) in enumerate(picks)]
    found = facts(*rows)
    group = found.sets.by_group[0]
    assume(
        all(
            set(which.ids) <= set(group.plants) or not set(which.ids) & set(group.plants)
            for which, _ in picks
        )
    )
    whole = next(row.figure for row in found.harvest.by_group if row.key == "three")
    assert 3 * amount(group.harvest.mean).low == pytest.approx(amount(whole).low)
