"""Milestones in the order of growth."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import MilestoneRow, Which
from sitegen.core.records.setup import Crop
from sitegen.judge.order import milestone_back, milestone_order, pick_before_milestone
from tests.judge.builders import (
    Row,
    by,
    checked,
    day,
    everyone,
    lost,
    named,
    none,
    picked,
    place,
    run,
    seen,
    setup,
    some_of,
    sown,
)

LEAFY = Crop("orach", "Orach", "leafy")


def test_later_stage_first() -> None:
    """Plants that set fruit before they flowered share a finding, at the later row."""
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
    """Fruit without a recorded flower is a warning in a log with milestones."""
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


def out_of_order(line: int, plants: str, later: str, ahead: str, *, they: str = "it") -> Finding:
    """A later stage on an earlier day: each stage by its words, name and day."""
    (words, name, when), (other_words, other, before) = later.split("|"), ahead.split("|")
    return Finding(
        "milestone-order",
        place(line),
        f"{plants} {words} {when}, after {they} {other_words} {before}",
        f"check the days of `{name}` and `{other}`",
        f"{name} {when}",
        f"{name} before {other}",
    )


def test_several_stages_out_of_order() -> None:
    """Each row that comes too late is a finding with the first row ahead of it; plants in order are left out."""
    rows = (
        seen("first_fruit", 40, named("P1", "P2")),
        seen("ripe", 41, named("P1")),
        seen("seed_leaves", 50, everyone()),
        seen("first_flower", 52, named("P1")),
        seen("ripe", 60, named("P2")),
    )

    seed_leaves = "had opened its seed leaves|seed_leaves|on day 50"
    fruit = "had set a fruit|first_fruit|on day 40"
    assert checked(milestone_order, run(sown(), *rows)) == [
        out_of_order(150, "`P1` and `P2`", seed_leaves, fruit, they="they"),
        out_of_order(152, "`P1`", "had flowered|first_flower|on day 52", fruit),
    ]


def test_stage_counts_from_its_first_row() -> None:
    """A stage seen again later counts from the day that it was first seen."""
    rows = (
        seen("first_flower", 39, named("P1")),
        seen("first_fruit", 40, named("P1")),
        seen("first_flower", 45, named("P1")),
    )

    assert checked(milestone_order, run(sown(), *rows)) == []


def test_a_plant_named_after_a_count_may_have_been_counted() -> None:
    """Four of four had flowered before their names were written; one of four is known where another was named."""
    fruit_of_one, names = seen("first_fruit", 40, named("P1")), seen("first_flower", 52, named("P1", "P2"))

    for early in (some_of(4, 4), some_of(1, 4), Which(word="some")):
        assert (
            checked(milestone_order, run(sown(), seen("first_flower", 35, early), fruit_of_one, names)) == []
        )
    other = seen("first_flower", 34, named("P2")), seen("first_flower", 35, some_of(1, 4))
    assert len(checked(milestone_order, run(sown(), *other, fruit_of_one, names))) == 1
    late = seen("first_flower", 41, some_of(4, 4))
    assert len(checked(milestone_order, run(sown(), fruit_of_one, late, names))) == 1


def test_stage_not_reached_is_no_stage() -> None:
    """A row that says a stage is not there yet, or a stage that the crop does not have, is left out of the order."""
    rows = seen("first_fruit", 40, named("P1"), reached=False), seen("head_full", 41, named("P1"))

    assert checked(milestone_order, run(sown(), *rows, seen("first_flower", 52, named("P1")))) == []


def test_stage_of_the_day_of_sowing() -> None:
    """A row that reaches the day of the last sowing counts for the new plant; an earlier one does not."""
    early, late = seen("first_fruit", 44, named("P1")), seen("first_flower", 52, named("P1"))
    on_the_day = replace(early, day=day((44, 45)))

    assert checked(milestone_order, run(sown(), early, late, sown(45, which=named("P1")))) == []
    assert len(checked(milestone_order, run(sown(), on_the_day, late, sown(45, which=named("P1"))))) == 1
    assert len(checked(milestone_order, run(sown(44, which=named("P1")), early, late))) == 1
    assert len(checked(milestone_order, run(early, late))) == 1


def test_spans_that_may_be_in_order() -> None:
    """A stage may have been reached within a span; only a span that lies behind is out of order."""
    fruit = replace(seen("first_fruit", 40, named("P1")), day=day((40, 52)))
    flower = seen("first_flower", 52, named("P1"))
    later = seen("first_flower", 53, named("P1"))

    assert checked(milestone_order, run(sown(), fruit, flower)) == []
    assert len(checked(milestone_order, run(sown(), fruit, later))) == 1


def taken_back(line: int, plants: str, which: str = "none", before: str = "on day 40") -> Finding:
    """A fruit taken back."""
    return Finding(
        "milestone-back",
        place(line),
        f"{plants} had set a fruit {before}; `first_fruit` cannot be taken back on day {line - 100}",
        "check `first_fruit` on both days",
        f"first_fruit: {which}",
    )


def not_yet(when: int, which: Which | None = None) -> MilestoneRow:
    """A fruit not set yet."""
    return seen("first_fruit", when, which or none(), reached=False)


def fruit(when: int, which: Which) -> MilestoneRow:
    """A fruit set."""
    return seen("first_fruit", when, which)


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([fruit(40, named("P1")), not_yet(40)], []),
        ([fruit(40, named("P1")), not_yet(41)], [taken_back(141, "`P1`")]),
        ([fruit(40, named("P1", "P2")), not_yet(52, named("P2", "P3"))], [taken_back(152, "`P2`", "P2, P3")]),
        ([fruit(40, named("P1")), not_yet(52, named("P3"))], []),
        ([fruit(40, some_of(1, 4)), not_yet(52)], [taken_back(152, "1 of 4 plants")]),
        ([fruit(40, Which(word="some")), not_yet(52)], [taken_back(152, "some plants")]),
        ([fruit(40, some_of(2, 4)), not_yet(52, named("P1"))], []),
        ([fruit(40, none()), not_yet(52)], []),
        ([fruit(40, named("P1")), seen("first_fruit", 52, none())], [taken_back(152, "`P1`")]),
        ([fruit(40, named("P1")), seen("first_flower", 52, none(), reached=False)], []),
        ([fruit(40, named("P1")), fruit(45, named("P2")), not_yet(52)], [taken_back(152, "`P1`")]),
        (
            [not_yet(30), fruit(40, named("P1")), seen("ripe", 44, none()), not_yet(50), not_yet(52)],
            [taken_back(150, "`P1`"), taken_back(152, "`P1`")],
        ),
        ([fruit(40, named("P1")), lost(45, named("P1")), not_yet(52)], []),
        ([fruit(40, named("P1")), lost(52, named("P1")), not_yet(52)], []),
        ([fruit(40, named("P1")), lost(53, named("P1")), not_yet(52)], [taken_back(152, "`P1`")]),
        ([fruit(40, named("P1", "P2")), lost(45, named("P1")), not_yet(52)], [taken_back(152, "`P2`")]),
        ([fruit(40, named("P1")), sown(45, which=named("P1")), not_yet(52)], []),
        ([fruit(40, named("P1")), sown(40, which=named("P1")), not_yet(52)], [taken_back(152, "`P1`")]),
        ([fruit(40, named("P1")), sown(52, which=named("P1")), not_yet(52)], []),
        ([fruit(40, named("P1")), sown(53, which=named("P1")), not_yet(52)], [taken_back(152, "`P1`")]),
        ([fruit(40, some_of(2, 4)), lost(45, named("P1")), not_yet(52)], [taken_back(152, "2 of 4 plants")]),
        ([fruit(40, some_of(2, 4)), lost(45, named("P1", "P2")), not_yet(52)], []),
        ([fruit(40, some_of(2, 4)), lost(45, some_of(2)), not_yet(52)], []),
        ([fruit(40, some_of(2, 4)), lost(45, some_of(1)), not_yet(52)], [taken_back(152, "2 of 4 plants")]),
        ([fruit(40, some_of(1, 4)), lost(45, Which(word="some")), not_yet(52)], []),
        (
            [fruit(40, some_of(2, 4)), lost(45, Which(word="some")), not_yet(52)],
            [taken_back(152, "2 of 4 plants")],
        ),
        ([fruit(40, some_of(1, 4)), lost(45, None), not_yet(52)], [taken_back(152, "1 of 4 plants")]),
        ([fruit(40, some_of(1, 4)), lost(39, named("P1")), not_yet(52)], [taken_back(152, "1 of 4 plants")]),
        ([fruit(40, some_of(1, 4)), lost(40, named("P1")), not_yet(52)], []),
        ([fruit(40, some_of(1, 4)), lost(52, named("P1")), not_yet(52)], []),
        ([fruit(40, some_of(1, 4)), lost(53, named("P1")), not_yet(52)], [taken_back(152, "1 of 4 plants")]),
        ([fruit(40, some_of(1, 4)), sown(45, which=named("P1")), not_yet(52)], []),
        ([fruit(40, Which(word="some")), lost(45, named("P1")), not_yet(52)], []),
        (
            [fruit(40, some_of(3, 4)), lost(45, named("P1")), lost(46, some_of(1)), not_yet(52)],
            [taken_back(152, "3 of 4 plants")],
        ),
    ],
)
def test_taken_back(rows: list[Row], expected: list[Finding]) -> None:
    """A stage is taken back where plants that had it still stand, were not sown again, and lack it by a later row."""
    assert checked(milestone_back, run(sown(), *rows)) == expected


def test_unknown_stage_taken_back() -> None:
    """A stage that the crop does not have gives no finding."""
    rows = seen("head_full", 40, named("P1")), seen("head_full", 52, none(), reached=False)

    assert checked(milestone_back, run(sown(), *rows)) == []


NO_FLOWER = Finding(
    "pick-before-milestone",
    place(160),
    "the first fruit was picked on day 60, and no flower was recorded before it",
    "write `first_flower` under `milestone` on the day it was seen, or check the day of the pick",
    "picked on day 60",
    "a flower before",
)


FIRST_FRUIT_ON_DAY_59 = replace(
    NO_FLOWER, source=place(159), message=NO_FLOWER.message.replace("60", "59"), found="picked on day 59"
)


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([seen("first_flower", 60, some_of(1))], []),
        ([seen("first_flower", 61, some_of(1))], [NO_FLOWER]),
        ([seen("ripe", 59, some_of(1))], []),
        ([seen("first_flower", 50, some_of(1), reached=False)], [NO_FLOWER]),
        ([seen("first_flower", 50, none())], [NO_FLOWER]),
        ([seen("flower_bud", 50, some_of(1))], [NO_FLOWER]),
        ([seen("head_full", 50, some_of(1))], [NO_FLOWER]),
        ([seen("first_flower", 70, some_of(1)), seen("first_flower", 50, some_of(1))], []),
        ([seen("seed_leaves", 5, everyone()), picked(40, 9, part="leaf"), picked(70, 9)], [NO_FLOWER]),
        ([seen("seed_leaves", 5, everyone()), picked(59, 9, part="fruit")], [FIRST_FRUIT_ON_DAY_59]),
    ],
)
def test_flower_before_fruit(rows: list[Row], expected: list[Finding]) -> None:
    """A flower, or a later stage, on the day of the first fruit or before it is enough; other parts do not count."""
    assert checked(pick_before_milestone, run(sown(), *rows, picked(60, 40))) == expected


def test_flower_within_the_span_of_a_pick() -> None:
    """A pick that may be of a later day than the flower is right."""
    pick = replace(picked(60, 40), day=day((60, 65)))

    assert checked(pick_before_milestone, run(sown(), seen("first_flower", 65, some_of(1)), pick)) == []
    assert len(checked(pick_before_milestone, run(sown(), seen("first_flower", 66, some_of(1)), pick))) == 1


def test_pod_without_flower() -> None:
    """The finding of a legume names the pod; a crop that is no fruit needs no flower."""
    pod = picked(60, 40, part="pod")
    beans, leafy = setup(crop=Crop("bean", "Bean", "legume")), setup(crop=LEAFY)
    leaves = seen("seed_leaves", 5, everyone())

    assert [f.message for f in checked(pick_before_milestone, run(sown(), leaves, pod, head=beans))] == [
        "the first pod was picked on day 60, and no flower was recorded before it"
    ]
    assert checked(pick_before_milestone, run(sown(), leaves, picked(60, 40), head=leafy)) == []
    assert checked(pick_before_milestone, run(sown(), leaves, pod)) == []
