"""The whole tree: names, formulas, plants, work, and a run of nothing."""

from __future__ import annotations

import re
from dataclasses import fields, replace
from typing import Any

import pytest

from sitegen.core.facts.figure import Figure, figures
from sitegen.core.facts.tree import Facts, Move
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.records.rows import Deed, Rows, Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure import measure, methods
from sitegen.measure.methods import formulas
from tests.measure.builders import (
    event,
    grams,
    joint,
    litres,
    milestone,
    ml,
    of,
    pick,
    reading,
    remarks_of,
    run_of,
    seeds,
    setup_of,
)
from tests.measure.naming import by_name, paths

ALL = joint("P1", "P2", "P3", "P4", word="all")
METHODS = {method.name: method for method in methods()}


def full(**more: Any) -> Run:
    """A run that fills every branch of the facts: two tubs, two varieties, a group."""
    setup = setup_of(tubs=("left", "right"), varieties=("amber", "rust"), groups=(("early", ("P1", "P3")),))
    events = [
        seeds(0, 2, *ALL.ids),
        event(Deed.SPROUTED, 6, ALL, amount=counted(7), out_of=8),
        event(Deed.SPROUTED, 8, joint("P1"), amount=counted(2)),
        event(Deed.WATER, 0, tub="left", filled=True, line=50),
        event(Deed.WATER, 0, tub="right", filled=True, line=51),
        event(Deed.FEED, 20, tub="left", product="syrup", amount=ml(9)),
        event(Deed.ADJUST, 20, tub="left", product="ph-down", amount=ml(1), line=52),
        event(Deed.PRUNE, 44, ALL),
        event(Deed.MOVE, 45, joint("P2"), tub="right"),
        event(Deed.LOST, 60, joint("P4"), what="snapped"),
        event(Deed.END, 90, what="cold", kept=False),
    ]
    return run_of(
        setup,
        events=events,
        milestones=[
            milestone("seed_leaves", 8, of(3, 4)),
            milestone("first_flower", 40, joint("P1", "P2")),
            milestone("ripe", 50, of(0), reached=False),
        ],
        readings=[reading("height", 50, exactly(31, Dimension.LENGTH, 1), ("P1",))],
        picks=[
            pick(70, joint("P1"), grams(30), part="fruit", grade="good", count=4, spoilt=1),
            pick(90, ALL, unknown(Dimension.MASS), part="fruit"),
        ],
        **more,
    )


FACTS = measure(full())


@pytest.mark.parametrize("facts", [FACTS, measure(run_of())], ids=["full", "empty"])
def test_name_is_the_path(facts: Facts) -> None:
    """Every figure is named by its path of attributes, and no two alike."""
    found = list(paths(facts))
    assert [figure.name for _, figure in found] == [path for path, _ in found]
    assert len({path for path, _ in found}) == len(found)


def test_every_figure_is_found() -> None:
    """The walk by name misses no figure of the tree."""
    assert sorted(f.name for f in figures(FACTS)) == sorted(by_name(FACTS))


@pytest.mark.parametrize("facts", [FACTS, measure(run_of())], ids=["full", "empty"])
def test_formulas_are_methods(facts: Facts) -> None:
    """Every formula that a figure names is on the methods page."""
    assert {figure.formula for figure in figures(facts)} <= METHODS.keys()


@pytest.mark.parametrize("formula", formulas(), ids=lambda f: f.__name__)
def test_method_is_complete(formula: Any) -> None:
    """Each method has a title, words and an equation, free of markup."""
    method = METHODS[formula.__name__]
    assert method.title
    assert method.equation
    assert not re.search(r"::|^ |-{3,}", f"{method.title}\n{method.text}", re.MULTILINE)


def test_method_of_the_share() -> None:
    """A method's equation and references come out of its docstring."""
    method = METHODS["wilson_interval"]
    assert method.title == "Share with its 95 % interval"
    assert method.equation == "(p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n)"
    assert [reference.split(" (")[0] for reference in method.references] == [
        "Wilson, E. B.",
        "Newcombe, R. G.",
        "Agresti, A. and Coull, B. A.",
    ]


def test_recorded_figures_show_their_rows() -> None:
    """A value that is there leads to the places in the journal that gave it."""
    without = {f.name for f in figures(FACTS) if f.recorded and not f.rows}
    nothing = {name for name in without if by_name(FACTS)[name].value in (counted(0), grams(0, step=0))}
    assert without == nothing


def test_length_and_last_entry() -> None:
    """A run that ended is as long as its end says, a running one as its log."""
    assert FACTS.length.value == Quantity(90, 90, Dimension.DAYS, step=1)
    running = measure(run_of(picks=[pick(70, ALL, grams(9))]))
    assert (running.length.value, remarks_of(running.length)) == (
        Quantity(70, 70, Dimension.DAYS, step=1),
        "up to the last visit",
    )
    assert running.last_entry.value == Day.on(70)
    assert (running.axis.last, running.axis.end) == (70, 70)


def test_entries_after_an_end_that_kept_the_plants() -> None:
    """Entries after the end lengthen the axis, not the run."""
    run = run_of(events=[event(Deed.END, 60, kept=True), event(Deed.NOTE, 75)])
    facts = measure(run)
    assert (facts.length.value, facts.axis.end) == (Quantity(60, 60, Dimension.DAYS, step=1), 84)


def test_plants() -> None:
    """A plant's row: its fate, its move, its own picks."""
    plants = {plant.plant: plant for plant in FACTS.plants}
    assert [(p.fate.word, p.fate.why) for p in FACTS.plants] == [("cleared", "cold")] * 3 + [
        ("lost", "snapped")
    ]
    assert (plants["P2"].moved, plants["P1"].moved, plants["P1"].sown) == (
        Move("right", Day.on(45)),
        None,
        Day.on(0),
    )
    assert plants["P1"].harvest.value == Quantity(30, None, Dimension.MASS, unweighed=1, step=1)
    assert [name for name, _ in plants["P1"].milestones] == ["first_flower", "ripe"]


def test_losses_that_name_no_plant() -> None:
    """A loss that names no plant is said with every plant that may be the one."""
    facts = measure(run_of(events=[event(Deed.LOST, 20, of(1, 4))]))
    assert {(p.fate.word, remarks_words(p.fate.remarks)) for p in facts.plants} == {
        ("standing", "one plant was lost; which one was not recorded")
    }


def test_work() -> None:
    """Visits, and those with water, feed and work by hand."""
    work = FACTS.work
    values = [figure.value for figure in (work.visits, work.waterings, work.feedings, work.hands_on)]
    assert values == [counted(n) for n in (11, 1, 1, 3)]


def test_same_rows_in_any_order() -> None:
    """The facts do not depend on the order in which rows are handed over."""
    run = full()
    given = [field.name for field in fields(Rows) if field.init]
    turned = Rows(**{name: tuple(reversed(getattr(run.rows, name))) for name in given})
    assert _values(measure(replace(run, rows=turned))) == _values(measure(run))


def _values(facts: Facts) -> dict[str, Figure]:
    return by_name(facts)


def test_water_of_every_tub() -> None:
    """A tub's figure goes by the tub's id."""
    assert by_name(FACTS)["solution.tubs.left.water"].value == litres(8)
    assert by_name(FACTS)["solution.tubs.left.doses.syrup.total"].value == ml(9)
