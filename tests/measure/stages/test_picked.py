"""Stages that a pick leaves out of reach, and the order of stages that holds for every plant."""

from __future__ import annotations

import pytest

from sitegen.core.facts.figure import remark
from sitegen.core.facts.tree import Arrival, MilestoneFacts
from sitegen.core.records.rows import Deed, MilestoneRow, Pick
from sitegen.core.records.setup import Crop
from sitegen.core.reference.milestones import KINDS, MILESTONES, milestones_of, pick_ends, stages_before
from sitegen.core.values.day import Day
from sitegen.measure.ranges import share_of
from sitegen.measure.stages.milestones import milestones_facts
from tests.measure.builders import (
    event,
    grams,
    joint,
    milestone,
    of,
    pick,
    remarks_of,
    run_of,
    seeds,
    setup_of,
)

FOUR = ("P1", "P2", "P3", "P4")
LEAFY = Crop("orach", "Orach", "leafy")


def rosette(day: int | Day, *ids: str, line: int = 0) -> MilestoneRow:
    """Full rosettes; without plants, a look that found none."""
    which = joint(*ids) if ids else of(0)
    return milestone("full_rosette", day, which, reached=bool(ids), line=line)


def cut(day: int, *ids: str, part: str = "leaf") -> Pick:
    """Leaves of some plants."""
    return pick(day, joint(*ids), grams(9), part=part)


def facts(*rows: MilestoneRow | Pick) -> MilestoneFacts:
    """Full rosettes of a run of a leafy crop."""
    (found,) = milestones_facts(
        run_of(
            setup_of(crop=LEAFY),
            milestones=[row for row in rows if isinstance(row, MilestoneRow)],
            picks=[row for row in rows if isinstance(row, Pick)],
            events=[seeds(0, 1, *FOUR)],
        )
    )
    return found


def test_a_picked_plant_waits_until_its_pick_and_no_longer() -> None:
    """Looks after the pick say nothing of the plant: it waits until the look before, and is said apart."""
    found = facts(rosette(30), cut(35, "P1", "P2"), rosette(40, "P3"), rosette(50, "P3", "P4"))
    assert [a.state for a in found.arrivals] == ["picked", "picked", "reached", "reached"]
    assert found.arrivals[0] == Arrival("P1", None, Day.on(30), Day.on(30), picked=Day.on(35))
    assert (found.median.value, found.share.value) == (Day(31, 40), share_of(2, 4))
    assert (
        remarks_of(found.median)
        == "from 4 plants; two plants were picked before they were seen at that stage"
    )
    assert remarks_of(found.share) == "two plants were picked before they were seen at that stage"


def test_a_pick_after_the_last_look_changes_nothing() -> None:
    """A plant that had not got there when last looked at, and was picked later, still had not when last looked at."""
    found = facts(rosette(30, "P1"), cut(35, *FOUR))
    assert [a.state for a in found.arrivals] == ["reached", "not yet", "not yet", "not yet"]


def test_a_look_at_the_visit_of_the_pick_counts() -> None:
    """At one visit a grower looks, then cuts: the plant is known to have had no rosette."""
    found = facts(cut(35, "P1"), rosette(35), rosette(50, "P2"))
    assert found.arrivals[0] == Arrival("P1", None, Day.on(35), Day.on(35), picked=Day.on(35))


def test_a_plant_picked_before_any_look_is_in_no_median() -> None:
    """Where nobody looked before the pick nothing bounds the stage: the plant is said, and in no estimate."""
    found = facts(cut(20, "P1"), rosette(30), rosette(40, "P2", "P3", "P4"))
    assert found.arrivals[0] == Arrival("P1", None, None, None, picked=Day.on(20))
    assert found.median.value == Day(31, 40)


def test_a_plant_seen_at_the_stage_after_its_pick_was_there() -> None:
    """The log says that it got there: the pick was no hindrance."""
    found = facts(rosette(30), cut(35, "P1"), rosette(40, "P1"))
    assert (found.arrivals[0].state, found.arrivals[0].after) == ("reached", Day.on(30))


def test_a_plant_picked_and_then_lost_was_picked() -> None:
    """What came first is said."""
    run = run_of(
        setup_of(crop=LEAFY),
        milestones=[rosette(30), rosette(50, "P2")],
        picks=[cut(35, "P1")],
        events=[seeds(0, 1, *FOUR), event(Deed.LOST, 55, joint("P1"))],
    )
    (found,) = milestones_facts(run)
    assert found.arrivals[0].state == "picked"


def test_a_pick_of_the_plant_before_is_none_of_the_next() -> None:
    """A spot that was sown again has a new plant, which nobody picked."""
    run = run_of(
        setup_of(crop=LEAFY),
        milestones=[rosette(50, "P2")],
        picks=[cut(20, "P1")],
        events=[seeds(0, 1, *FOUR), seeds(22, 1, "P1")],
    )
    assert milestones_facts(run)[0].arrivals[0].state == "not yet"


def test_counted_plants_may_have_been_picked() -> None:
    """Where plants are counted, a pick of some of them is said beside share and median."""
    counted = milestone("full_rosette", 50, of(2, 4))
    found = facts(rosette(30), cut(35, "P1"), counted)
    said = remark("plants_picked_meanwhile", n=1)
    assert (said in found.share.remarks, said in found.median.remarks) == (True, True)
    assert said not in facts(rosette(30), counted, cut(55, "P1")).median.remarks


@pytest.mark.parametrize(
    ("kind", "stage", "part", "ends"),
    [
        ("leafy", "full_rosette", "leaf", True),
        ("leafy", "full_rosette", "", True),
        ("leafy", "full_rosette", "flower head", False),
        ("leafy", "bolting", "leaf", False),
        ("leafy", "bolting", "whole plant", True),
        ("heading", "head_full", "leaf", False),
        ("heading", "head_full", "", True),
        ("flower head", "head_full", "flower head", True),
        ("root", "bolting", "root", True),
        ("fruiting", "ripe", "fruit", False),
        ("legume", "full_pod", "pod", False),
        ("fruiting", "ripe", "whole plant", True),
        ("fruiting", "full_rosette", "leaf", False),
    ],
)
def test_picks_that_end_a_stage(kind: str, stage: str, part: str, ends: bool) -> None:
    """What is gone can form no more; a pick without a part is of the usual one (common knowledge, no source)."""
    assert pick_ends(kind, stage, part) is ends


def test_the_order_that_holds_for_every_plant() -> None:
    """A pod comes after a flower, a bud and a leaf; side shoots and bolting have nothing after them."""
    assert set(stages_before("legume", "full_pod")) == {
        "first_pod",
        "first_flower",
        "flower_bud",
        "first_true_leaf",
        "seed_leaves",
    }
    assert stages_before("fruiting", "own stage") == ()
    every = {each for kind in KINDS for name in milestones_of(kind) for each in stages_before(kind, name)}
    assert not every & {"side_shoots", "bolting"}
    assert {each for stage in MILESTONES for each in stage.after} <= {stage.name for stage in MILESTONES}


@pytest.mark.parametrize("kind", KINDS)
def test_the_declared_order_is_that_of_the_codes(kind: str) -> None:
    """A stage that comes before has no higher BBCH code."""
    known = milestones_of(kind)
    for name, stage in known.items():
        assert all(known[each].bbch <= stage.bbch for each in stages_before(kind, name)), name
