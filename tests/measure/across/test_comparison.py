"""Runs compared by variety and by system: values by unit, measures, the best arm, open data sets."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from sitegen.core.facts.across import Comparison, Contrast, Evidence, RunArms
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.across.comparison import compare
from tests.measure.across.builders import figure_of, grown, not_yet, run_with, seen
from tests.measure.across.open_data import barley, cabbages, soybean
from tests.measure.builders import grams


def contrast(found: Comparison, measure: str = "per_spot", factor: str = "variety") -> Contrast:
    """The only contrast by a measure."""
    (one,) = [each for each in found.contrasts if (each.measure, each.factor) == (measure, factor)]
    return one


def test_runs_are_oldest_first() -> None:
    """Runs stand in the order in which they began, whatever order they come in."""
    found = compare([grown(3, {"a": 1}), grown(1, {"a": 1}), grown(2, {"a": 1})])
    assert [run.run for run in found.runs] == ["run-1", "run-2", "run-3"]


def test_within_runs() -> None:
    """Runs with both varieties are pairs; one with either alone says nothing beside them."""
    found = contrast(
        compare([grown(1, {"a": 10, "b": 12}), grown(2, {"a": 8, "b": 13}), grown(3, {"b": 90})])
    )
    assert (found.first, found.second) == ("a", "b")
    assert (found.evidence.row, found.evidence.runs, found.evidence.chance) == ("few runs", 2, Fraction(1, 2))


def test_varieties_in_different_systems_are_no_pair() -> None:
    """Where two varieties of a run stood in different systems, their difference is as much that of the systems."""
    run = grown(1, {"a": 10, "b": 12}, systems={"a": "bucket", "b": "raft"})
    assert contrast(compare([run])).evidence == Evidence("different runs", 2)


def test_a_unit_of_several_runs_gives_their_range() -> None:
    """Two runs that shared a tub are one unit, whose value is the range of theirs."""
    two = [grown(1, {"a": 10, "b": 30}), grown(2, {"a": 14, "b": 20}, shares=(("run-1", "bucket"),))]
    (pair,) = contrast(compare(two)).pairs
    assert (pair.first, pair.second) == (
        Quantity(10, 14, Dimension.MASS, step=1),
        Quantity(20, 30, Dimension.MASS, step=1),
    )


def test_varieties_in_two_runs_of_a_shared_tub_are_a_pair() -> None:
    """Runs of one variety each that shared a tub at the same time held both in one unit."""
    two = [grown(1, {"a": 10}), grown(2, {"b": 20}, shares=(("run-1", "bucket"),))]
    assert contrast(compare(two)).evidence.row == "one run"


def test_running_runs_have_no_yield_yet() -> None:
    """A run that still grows takes no part in yields, nor in the best."""
    runs = [grown(1, {"a": 10, "b": 12}), grown(2, {"a": 90, "b": 5}, running=True)]
    found = compare(runs)
    assert contrast(found).evidence.runs == 1
    assert found.best == (("per_spot", "run-1", "b"),)


def test_total_only_where_nothing_else() -> None:
    """The whole harvest is compared where neither that of a spot nor of the ground is known."""
    assert [c.measure for c in compare([grown(1, {"a": 1, "b": 2}, measure="total")]).contrasts] == ["total"]
    both = grown(1, {"a": 1, "b": 2})
    arms = tuple(replace(a, figures=replace(a.figures, total=figure_of(grams(9)))) for a in both.arms)
    assert [c.measure for c in compare([replace(both, arms=arms)]).contrasts] == ["per_spot"]


def test_three_varieties_allow_for_each_other() -> None:
    """Each of three pairs over six runs has its chance three times as large."""
    found = compare([grown(n, {"a": 10 + n, "b": 20 + 2 * n, "c": 50 + 4 * n}) for n in range(6)])
    assert [(c.first, c.second) for c in found.contrasts] == [("a", "b"), ("a", "c"), ("b", "c")]
    assert [(c.evidence.chance, c.evidence.adjusted, c.evidence.beside) for c in found.contrasts] == [
        (Fraction(1, 32), Fraction(3, 32), 2)
    ] * 3


def test_no_best_where_values_overlap() -> None:
    """The best arm is certainly ahead of each other one; with a value that is open none is."""
    at_least = Quantity(9, None, Dimension.MASS, unweighed=1)
    assert compare([grown(1, {"a": 10, "b": 12}), grown(2, {"a": 11})]).best == (("per_spot", "run-1", "b"),)
    assert compare([grown(1, {"a": 10, "b": 12}), grown(2, {"a": at_least})]).best == ()
    assert compare([grown(1, {"a": 12, "b": 12})]).best == ()
    assert compare([grown(1, {"a": 12})]).best == ()


def of_variety(run: RunArms, variety: str) -> RunArms:
    """A run of one variety as a whole."""
    whole = replace(run.arms[0], varieties=(variety,), roles=("row", "variety"))
    return replace(run, arms=(whole,))


def test_a_first_pick_that_never_came_is_later() -> None:
    """A run that ended without a pick had it later, if ever: it is bounded below, not dropped."""
    runs = [of_variety(run_with(1, picked=40), "a"), of_variety(run_with(2, last=90), "b")]
    found = contrast(compare(runs), "first_pick")
    assert [pair.second for pair in found.pairs] == [None, Quantity(91, None, Dimension.DAYS, open=1, step=1)]
    assert found.evidence == Evidence("different runs", 2, bounds=True)


def test_a_stage_not_reached_by_the_last_look_is_later() -> None:
    """A stage that the last look found nowhere came after it; one that nobody looked for says nothing."""
    runs = [
        of_variety(run_with(1, {"first_flower": not_yet(60)}), "a"),
        of_variety(run_with(2), "b"),
    ]
    flowered = of_variety(run_with(3, {"first_flower": seen(Day(50, 52))}), "b")
    arm = replace(flowered.arms[0], figures=replace(flowered.arms[0].figures, stage=figure_of(Day(50, 52))))
    found = contrast(compare([*runs, replace(flowered, arms=(arm,))]), "stage")
    assert [(pair.first, pair.second) for pair in found.pairs] == [
        (Quantity(61, None, Dimension.DAYS, open=1, step=1), None),
        (None, Quantity(50, 52, Dimension.DAYS, step=1)),
    ]


# Open data ---------------------------------------------------------------------------------------


def test_soybean_says_no_more_than_three_of_three() -> None:
    """Leaf weight of soybeans at the end in three years (Davidian and Giltinan 1995, nlme::Soybean): P over F in each."""
    found = contrast(compare(soybean())).evidence
    assert (found.row, len(found.units(1)), found.runs, found.chance, found.significant) == (
        "few runs",
        3,
        3,
        Fraction(1, 4),
        False,
    )


def test_cabbages_have_no_winner() -> None:
    """Two cultivars at three planting dates (Rawlings 1988, MASS::cabbages): the middle date goes the other way."""
    found = compare(cabbages())
    evidence = contrast(found).evidence
    assert (evidence.leader, evidence.opposite, evidence.chance) == (-1, ("run-2",), Fraction(1))
    assert found.runs[1].title == "d20"


def test_barley_has_one_site_against_five() -> None:
    """Yields of 1931 and 1932 at six sites (Immer 1934, lattice::barley): Morris alone goes the other way."""
    found = compare(barley())
    evidence = contrast(found).evidence
    titles = {run.run: run.title for run in found.runs}
    assert (evidence.row, [titles[each] for each in evidence.opposite]) == ("many runs", ["Morris"])
    assert not evidence.significant
    assert evidence.chance == pytest.approx(Fraction(5, 16), abs=0.2)
