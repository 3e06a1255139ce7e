"""What is said of two varieties or systems: the decision table row by row, and open data sets."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

import pytest

from sitegen.core.facts.across import RunArms
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.across.comparison import compare
from sitegen.render.story.evidence.evidence_words import EvidenceWords, evidence_words, luck_sentence
from tests.measure.across.builders import figure_of, grown
from tests.measure.across.open_data import barley, cabbages, soybean
from tests.measure.builders import grams

NAMES = {"a": "Amber", "b": "Beryl"}
APART = "These runs differ in more than the variety."


def words(*runs: RunArms, names: Mapping[str, str] = NAMES) -> EvidenceWords:
    """What is said of the first contrast."""
    found = compare(runs)
    return evidence_words(found.contrasts[0], found, names, Wording())


def said(*runs: RunArms, names: Mapping[str, str] = NAMES) -> list[str]:
    """The sentences, with plain spaces."""
    return [sentence.replace(NBSP, " ") for sentence in words(*runs, names=names).sentences]


def worked(*runs: RunArms, names: Mapping[str, str] = NAMES) -> list[str]:
    """The working, with plain spaces."""
    return [line.replace(NBSP, " ") for line in words(*runs, names=names).working]


def within(*values: tuple[float | Quantity, float | Quantity]) -> list[RunArms]:
    """A run with both varieties for each pair of values."""
    return [grown(number, {"a": first, "b": second}) for number, (first, second) in enumerate(values, 1)]


def apart(first: list[float], second: list[float]) -> list[RunArms]:
    """Runs of one variety each."""
    both = [("a", value) for value in first] + [("b", value) for value in second]
    return [grown(number, {name: value}) for number, (name, value) in enumerate(both, 1)]


SIX = [(10, 12), (8, 13), (9, 20), (11, 12), (10, 14), (9, 12)]
OPEN = Quantity(30, None, Dimension.MASS, unweighed=1, step=1)


# one run


def test_one_run() -> None:
    """One run describes its tubs, once, and by how much."""
    assert said(*within((10, 12))) == [
        "In this one tub, this one time: Beryl gave more per spot than Amber.",
        "That is 2 g (0.071 oz) more.",
    ]
    assert worked(*within((10, 12))) == ["No test: 1 run."]


def test_one_run_with_two_tubs() -> None:
    """The tubs of the run are counted."""
    (run,) = within((12, 10))
    two = replace(run, uses=(replace(run.uses[0], tubs=2),))
    assert said(two)[0] == "In these two tubs, this one time: Amber gave more per spot than Beryl."


def test_one_run_alike() -> None:
    """As much is said to be alike, and about as much cannot be told."""
    assert said(*within((12, 12))) == [
        "In this one tub, this one time: harvest per spot alike for Amber and Beryl."
    ]
    assert said(*within((12, grams(12, about=True)))) == [
        "Harvest per spot: not clear in these tubs, because what was recorded overlaps."
    ]


def test_one_run_with_bounds() -> None:
    """Where a pick was not weighed it is at least so much more; a harvest by eye has an order alone."""
    assert said(*within((10, OPEN)))[1] == "That is at least 20 g (0.71 oz) more."
    assert said(*within((10, grams(30, by_eye=True))))[1] == "By how much is not known: it was judged by eye."


# two to five runs


def test_few_runs() -> None:
    """How often it was so, and how often luck would do that; no amount."""
    assert said(*within(*SIX[:3])) == [
        "Beryl gave more per spot than Amber, in three of three runs.",
        "Luck alone does that one time in four.",
    ]
    assert worked(*within(*SIX[:3])) == ["Sign test, two-sided, 3 runs: p = 0.2500."]


def test_few_runs_with_one_the_other_way() -> None:
    """A run that goes the other way is named, and so is one that cannot be told."""
    assert said(*within(*SIX[:3], (20, 10), (10, grams(10, about=True)))) == [
        "Beryl gave more per spot than Amber, in three of five runs.",
        "Luck alone does that more often than not.",
        "The other way round in one run: Run 4.",
        "In one more run it is not clear: the two overlap.",
    ]


def test_few_runs_without_a_leader() -> None:
    """As many of either order lead to none."""
    assert said(*within((10, 12), (12, 10)))[0] == (
        "Harvest per spot: each of Amber and Beryl was ahead in one of two runs."
    )
    about = grams(10, about=True)
    assert said(*within((10, about), (10, about)))[0] == ("Harvest per spot: two runs show no clear order.")


# six and more runs


def test_evidence() -> None:
    """Six runs of one order: evidence, the usual difference with what it may be, and the chance of luck."""
    assert said(*within(*SIX)) == [
        "Evidence that Beryl gave more per spot than Amber.",
        "Typically 4 g (0.14 oz) more; going by these runs, 1–11 g (0.035–0.388 oz).",
        "Luck alone does that about one time in 32.",
        "Beryl gave more per spot than Amber, in six of six runs.",
    ]
    assert worked(*within(*SIX)) == [
        "Exact test of all signs of the differences, two-sided, 6 runs: p = 0.0313.",
        "Mean difference, Beryl less Amber: 4.3 g; 96.9 % interval 1.0 g to 11.0 g.",
    ]


def test_no_evidence() -> None:
    """Six runs that do not agree: no evidence, with the interval, and the run that goes the other way."""
    found = said(*within(*SIX[:5], (20, 10)))
    assert found[0] == "Harvest per spot: no evidence either way."
    assert found[1].startswith("Beryl may give up to 10 g")
    assert found[-1] == "The other way round in one run: Run 6."


def test_bounds_in_six_runs() -> None:
    """Six runs of which one is open are told by their order alone, and are no evidence."""
    assert said(*within(*SIX[:5], (10, OPEN))) == [
        "Beryl gave more per spot than Amber, in six of six runs.",
        "Luck alone does that about one time in 32.",
    ]


# different runs


def test_few_different_runs() -> None:
    """Runs of one variety each that are few differ in more than it, and no more is said."""
    assert said(*apart([10, 11, 12], [20, 21, 22])) == [APART]
    assert worked(*apart([10, 11, 12], [20, 21, 22])) == ["No test: 6 runs."]


def test_many_different_runs() -> None:
    """Four a side (worked case: 32.75 g, p = 2/70): evidence, over runs that differ in more than the variety."""
    runs = apart([150, 160, 171, 176], [182, 195, 201, 210])
    assert said(*runs) == [
        "Evidence that Beryl gave more per spot than Amber.",
        "Typically 33 g (1.16 oz) more; going by these runs, 13–53 g (0.46–1.87 oz).",
        "Luck alone does that about one time in 35.",
        APART,
    ]
    assert worked(*runs) == [
        "Exact permutation test of the means of runs, two-sided, 8 runs: p = 0.0286.",
        "Difference of means, Beryl less Amber: 32.8 g; Welch’s 95.0 % interval 12.5 g to 53.0 g.",
    ]


def test_different_runs_with_bounds() -> None:
    """Four a side, of which some are bounds, are put in order where none overlaps; fewer are not."""
    runs = [*apart([10, 11, 10, 9], [33, 34, 35]), grown(8, {"b": OPEN})]
    assert said(*runs[1:]) == [APART]
    assert said(*runs) == [
        APART,
        "So far, in every one of them, Beryl gave more per spot than Amber.",
        "That is at least 19 g (0.67 oz) more.",
    ]
    assert said(*runs, grown(9, {"a": 40}))[1] == (
        "Harvest per spot: not clear, because what was recorded overlaps."
    )


# several comparisons, measures


def test_several_comparisons() -> None:
    """Among three comparisons the chance is three times as large, and the working says so."""
    runs = [grown(n, {"a": 10 + n, "b": 20 + 2 * n, "c": 50 + 4 * n}) for n in range(6)]
    assert said(*runs)[0] == "Harvest per spot: no evidence either way."
    assert worked(*runs)[-1] == "Allowed for 3 comparisons (Holm): p = 0.0938."


@pytest.mark.parametrize(
    ("measure", "sentence"),
    [
        ("first_pick", "Amber was first picked earlier than Beryl"),
        ("emergence", "Amber came up earlier than Beryl"),
        ("stage", "Amber had flowered earlier than Beryl"),
    ],
)
def test_days(measure: str, sentence: str) -> None:
    """Of days the earlier is ahead."""
    (run,) = within((0, 0))
    days = [Day.on(40), Day(45, 47)]
    arms = [
        replace(arm, figures=replace(arm.figures, per_spot=figure_of(None), **{measure: figure_of(day)}))
        for arm, day in zip(run.arms[1:], days, strict=True)
    ]
    assert said(replace(run, arms=(run.arms[0], *arms))) == [
        f"In this one tub, this one time: {sentence}.",
        "That is 5–7 days earlier.",
    ]


def test_a_day_that_only_sowing_bounds_gives_no_most() -> None:
    """Seen at the first look, by day 52: how much earlier that was than days 53–56 has a least and no most."""
    (run,) = within((0, 0))
    arms = [
        replace(arm, figures=replace(arm.figures, per_spot=figure_of(None), stage=figure_of(day)))
        for arm, day in zip(run.arms[1:], (Day(0, 52), Day(53, 56)), strict=True)
    ]
    assert said(replace(run, arms=(run.arms[0], *arms)))[1] == "That is at least 1 day earlier."


@pytest.mark.parametrize(
    ("chance", "sentence"),
    [
        (Fraction(1), "Luck alone does that more often than not."),
        (Fraction(5, 8), "Luck alone does that more often than not."),
        (Fraction(1, 2), "Luck alone does that one time in two."),
        (Fraction(3, 8), "Luck alone does that three times in eight."),
        (Fraction(22, 70), "Luck alone does that about one time in three."),
        (Fraction(1, 5000), "Luck alone does that less than one time in 1000."),
    ],
)
def test_chances_in_words(chance: Fraction, sentence: str) -> None:
    """A chance is said as times in so many."""
    assert luck_sentence(chance) == sentence


# open data


def test_soybean() -> None:
    """P over F in three of three years, and by luck one time in four: no more is said."""
    assert said(*soybean(), names={}) == [
        "P gave more per spot than F, in three of three runs.",
        "Luck alone does that one time in four.",
    ]


def test_cabbages() -> None:
    """No winner over all; the planting date that goes the other way is named."""
    assert said(*cabbages(), names={}) == [
        "c39 gave more per spot than c52, in two of three runs.",
        "Luck alone does that more often than not.",
        "The other way round in one run: d20.",
    ]


def test_barley() -> None:
    """Five sites against one are no evidence, and the one is named."""
    found = said(*barley(), names={})
    assert found[0] == "Harvest per spot: no evidence either way."
    assert found[-2:] == [
        "1931 gave more per spot than 1932, in five of six runs.",
        "The other way round in one run: Morris.",
    ]
