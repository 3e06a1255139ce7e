"""Facts as plain data: what each kind of value becomes, and how figures are found."""

from __future__ import annotations

import datetime as dt
import json

import pytest

from sitegen.core.facts.data import facts_data, value_data
from sitegen.core.facts.figure import NO_FIGURE, Figure, Money, Per, Rate, Several, Share, figures
from sitegen.core.facts.indices import GerminationClaims, GerminationRate
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Deed
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from tests.measure.builders import event, grams, joint, pick, run_of, setup_of
from tests.measure.values import lines

WEIGHT = Quantity(1 / 3, 2 / 3, Dimension.MASS, about=True, by_eye=True, open=1, unweighed=2, step=0.1)
WEIGHT_DATA = {
    "low": 0.333333333333,
    "high": 0.666666666667,
    "unit": "g",
    "about": True,
    "by_eye": True,
    "open": 1,
    "unweighed": 2,
    "step": 0.1,
}
OPEN_DATA = {
    **WEIGHT_DATA,
    "low": 5,
    "high": None,
    "about": False,
    "by_eye": False,
    "unweighed": 0,
    "step": 1,
}


@pytest.mark.parametrize(
    ("value", "data"),
    [
        (WEIGHT, WEIGHT_DATA),
        (grams(5, high=None, open=1), OPEN_DATA),
        (Day(3, 5, about=True), {"first_day": 3, "last_day": 5, "about": True, "before": False}),
        (Day(0, 39, before=True), {"first_day": 0, "last_day": 39, "about": False, "before": True}),
        (Day.on(3), {"first_day": 3, "last_day": 3, "about": False, "before": False}),
        (
            Share(1, 3, 1 / 3, 2 / 3),
            {"part": 1, "whole": 3, "low": 0.333333333333, "high": 0.666666666667},
        ),
        (Rate(WEIGHT, Per.LITRE), {**WEIGHT_DATA, "per": "litre of water"}),
        (Several((WEIGHT, Rate(WEIGHT, Per.DAY))), [WEIGHT_DATA, {**WEIGHT_DATA, "per": "day"}]),
        (
            Money(1 / 3, 2 / 3, "EUR", about=True, per="100 g"),
            {"low": 0.333333333333, "high": 0.666666666667, "currency": "EUR", "about": True, "per": "100 g"},
        ),
        (
            Money(1, None, "EUR"),
            {"low": 1, "high": None, "currency": "EUR", "about": False, "per": ""},
        ),
        (dt.date(2025, 3, 1), "2025-03-01"),
        (Source("a.yaml", 7), "a.yaml:7"),
        ("words", "words"),
        (None, None),
    ],
)
def test_values(value: object, data: object) -> None:
    """A value keeps its bounds and flags, with twelve digits; what is not recorded is null."""
    assert value_data(value) == data
    assert json.loads(json.dumps(value_data(value))) == data


def test_one_experiment() -> None:
    """The head of an experiment, and every figure by its name with value, words, formula and rows."""
    run = run_of(setup_of(varieties=("amber", "rust")), picks=[pick(80, joint("P1"), grams(9))])
    facts = measure(run)
    data = facts_data(facts, lambda figure: figure.name.upper())
    head = {name: data[name] for name in data if name != "figures"}
    assert head == {
        "experiment": "first-physalis",
        "season": "s",
        "title": "First physalis",
        "crop": "physalis",
        "varieties": ["amber", "rust"],
        "start": "2025-03-01",
        "start_known_to": "day",
        "running": True,
    }
    assert list(data["figures"]) == [figure.name for figure in figures(facts)]
    total = data["figures"]["harvest.total"]
    assert {name: total[name] for name in ("value", "text", "formula", "rows")} == {
        "value": value_data(grams(9)),
        "text": "HARVEST.TOTAL",
        "formula": "total_weight",
        "rows": [f"{run.setup.source.file}:2080"],
    }


def test_an_experiment_that_ended_and_is_not_dated() -> None:
    """A run with an end is not running; a start that is not known is null."""
    run = run_of(setup_of(start=Start()), events=[event(Deed.END, 9, kept=True)])
    data = facts_data(measure(run), lambda figure: figure.name)
    assert (data["start"], data["start_known_to"], data["running"]) == (None, "unknown", False)


def test_figures_below_a_part() -> None:
    """Figures come in the order of the fields, those in tables too; a part made without a figure has none."""
    one, two = Figure("one", None, "f"), Figure("two", Day.on(3), "f", (Source("a", 1),))
    assert list(figures(GerminationClaims(one, two))) == [one, two]
    assert list(figures(GerminationClaims(standard=two))) == [two]
    assert list(figures(((one,), (two,)))) == [one, two]
    named = measure(run_of(picks=[pick(80, joint("P1"), grams(9))])).harvest.by_plant
    assert list(figures(named)) == [each.figure for each in named]
    assert list(figures(GerminationRate())) == list(figures(NO_FIGURE)) == list(figures(Day.on(3))) == []
    assert (one.recorded, two.recorded, lines(two)) == (False, True, [1])
