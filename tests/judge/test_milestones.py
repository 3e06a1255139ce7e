"""Milestones in the order of growth."""

from __future__ import annotations

from sitegen.core.records.setup import Crop
from sitegen.judge.milestones import milestone_back, milestone_order, pick_before_milestone
from tests.judge.builders import by, everyone, lost, named, none, picked, run, seen, setup, some_of, sown

LEAFY = Crop("orach", "Orach", "leafy")


def test_later_stage_first() -> None:
    """Plants that set fruit before they flowered are said together, at the later row."""
    rows = seen("first_fruit", 40, named("P1", "P2")), seen("first_flower", 52, named("P1", "P2"))

    assert by(milestone_order, run(sown(), *rows)) == [
        (
            "e.yaml:152:5: warning[milestone-order]: `P1` and `P2` had flowered on day 52, "
            "after they had set a fruit on day 40 (check the days of `first_flower` and `first_fruit`)"
        )
    ]


def test_stages_in_order() -> None:
    """Stages in the order of growth, or seen at one visit, are right."""
    rows = seen("first_flower", 40, named("P1")), seen("first_fruit", 40, named("P1"))

    assert by(milestone_order, run(sown(), *rows)) == []


def test_stages_of_two_plants() -> None:
    """One plant may be ahead of another."""
    rows = seen("first_fruit", 40, named("P1")), seen("first_flower", 52, named("P2"))

    assert by(milestone_order, run(sown(), *rows)) == []


def test_bolting_comes_when_it_comes() -> None:
    """Bolting has no place in the order of growth."""
    rows = seen("bolting", 30, named("P1")), seen("full_rosette", 36, named("P1"))

    assert by(milestone_order, run(sown(), *rows, head=setup(crop=LEAFY))) == []


def test_resown_plant_begins_anew() -> None:
    """The stages of a plant count from its last sowing."""
    rows = seen("first_flower", 40, named("P1")), seen("seed_leaves", 52, named("P1"))

    assert by(milestone_order, run(sown(), *rows, sown(45, which=named("P1")))) == []


def test_stage_taken_back() -> None:
    """A stage of named plants cannot be reached by none later."""
    rows = seen("first_fruit", 40, named("P1", "P2")), seen("first_fruit", 52, none(), reached=False)

    assert by(milestone_back, run(sown(), *rows)) == [
        (
            "e.yaml:152:5: error[milestone-back]: `P1` and `P2` had set a fruit on day 40; "
            "`first_fruit` cannot be taken back on day 52 (check `first_fruit` on both days)"
        )
    ]


def test_counted_stage_taken_back() -> None:
    """A stage of counted plants cannot be reached by none later."""
    rows = seen("first_fruit", 40, some_of(2, 4)), seen("first_fruit", 52, none(), reached=False)

    assert by(milestone_back, run(sown(), *rows)) == [
        (
            "e.yaml:152:5: error[milestone-back]: 2 of 4 plants had set a fruit on day 40; "
            "`first_fruit` cannot be taken back on day 52 (check `first_fruit` on both days)"
        )
    ]


def test_not_yet_before_reached() -> None:
    """`none` before a stage was reached is data."""
    rows = seen("first_fruit", 30, none(), reached=False), seen("first_fruit", 52, named("P1"))

    assert by(milestone_back, run(sown(), *rows)) == []


def test_not_there_after_loss() -> None:
    """`none` is true again once the plants that had reached a stage are lost."""
    rows = seen("first_fruit", 40, named("P1")), seen("first_fruit", 52, none(), reached=False)

    assert by(milestone_back, run(sown(), *rows, lost(45, named("P1")))) == []


def test_fruit_without_flower() -> None:
    """Fruit without a recorded flower is asked about where milestones are kept."""
    made = run(sown(), seen("seed_leaves", 5, everyone()), picked(60, 40), picked(70, 40))

    assert by(pick_before_milestone, made) == [
        (
            "e.yaml:160:5: warning[pick-before-milestone]: the first fruit was picked on day 60, "
            "and no flower was recorded before it (write `first_flower` under `milestone` on the day it was seen, "
            "or check the day of the pick)"
        )
    ]


def test_fruit_after_flower() -> None:
    """Fruit after a flower is right."""
    made = run(sown(), seen("first_flower", 50, some_of(1, 4)), picked(60, 40))

    assert by(pick_before_milestone, made) == []


def test_fruit_without_milestones() -> None:
    """A log that keeps no milestones is not asked for one."""
    assert by(pick_before_milestone, run(sown(), picked(60, 40))) == []


def test_leaf_of_a_fruiting_crop() -> None:
    """Leaves may be picked before flowers."""
    made = run(sown(), seen("seed_leaves", 5, everyone()), picked(30, 40, part="leaf"))

    assert by(pick_before_milestone, made) == []
