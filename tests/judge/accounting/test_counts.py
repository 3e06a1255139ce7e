"""Numbers of plants."""

from __future__ import annotations

import pytest

from sitegen.core.records.rows import Deed, Event
from sitegen.judge.accounting.counts import count_of_plants, milestone_went_down, tally_went_down
from tests.judge.builders import by, done, grams, lost, named, run, seen, some_of, sown, tallied


def tip_burn(when: int, count: int, of: int) -> Event:
    """Trouble with some of the plants."""
    return done(Deed.TROUBLE, when, some_of(count, of), what="tip burn")


def test_more_plants_than_stand() -> None:
    """A count of more plants than stand is an error."""
    made = run(sown(), lost(20, named("P1")), tip_burn(30, 2, 4))

    assert by(count_of_plants, made) == [
        "e.yaml:130:5: error[count-of-plants]: `2 of 4` plants on day 30, but 3 were standing (write `2 of 3`)"
    ]


def test_fewer_plants_than_stand() -> None:
    """A count of fewer plants than stand may be a loss that was not written."""
    assert by(count_of_plants, run(sown(), tip_burn(30, 2, 3))) == [
        (
            "e.yaml:130:5: error[count-of-plants]: `2 of 3` plants on day 30, but 4 were standing "
            "(write `2 of 4`, or write before it what was `lost`)"
        )
    ]


def test_more_than_there_are() -> None:
    """Five plants of four cannot be mended by another total."""
    assert by(count_of_plants, run(sown(), tip_burn(30, 5, 6))) == [
        (
            "e.yaml:130:5: error[count-of-plants]: `5 of 6` plants on day 30, but 4 were standing "
            "(check both numbers)"
        )
    ]


@pytest.mark.parametrize("of", [3, 4])
def test_plants_on_the_day_of_a_loss(of: int) -> None:
    """On the day of a loss the plant may still be counted, or not."""
    assert by(count_of_plants, run(sown(), lost(30, named("P1")), tip_burn(30, 2, of))) == []


def test_plants_after_an_unnamed_loss() -> None:
    """Plants lost without being named are not standing."""
    assert by(count_of_plants, run(sown(), lost(20, some_of(1, 4)), tip_burn(30, 2, 3))) == []


def test_plants_sown_anew() -> None:
    """A plant sown anew after its loss stands again."""
    made = run(sown(), lost(20, named("P1")), sown(25, which=named("P1")), tip_burn(30, 2, 4))

    assert by(count_of_plants, made) == []


def test_milestone_of_those_that_began() -> None:
    """Milestones count from the start: those lost since may be among the plants."""
    made = run(sown(), lost(20, named("P1")), seen("first_flower", 30, some_of(2, 4)))

    assert by(count_of_plants, made) == []


def test_fewer_at_a_milestone() -> None:
    """Fewer plants at a milestone than before are an error."""
    made = run(sown(), seen("first_flower", 40, some_of(3, 4)), seen("first_flower", 45, some_of(2, 4)))

    assert by(milestone_went_down, made) == [
        (
            "e.yaml:145:5: error[count-went-down]: `first_flower` counted 3 on day 40; it cannot be 2 on day 45 "
            "(write how many have reached it since the start)"
        )
    ]


def test_fewer_than_were_named() -> None:
    """A count below the plants named before is an error."""
    rows = seen("first_flower", 40, named("P1", "P2")), seen("first_flower", 45, some_of(1, 4))

    assert by(milestone_went_down, run(sown(), *rows)) == [
        (
            "e.yaml:145:5: error[count-went-down]: `first_flower` counted 2 on day 40; it cannot be 1 on day 45 "
            "(write how many have reached it since the start)"
        )
    ]


def test_fewer_after_a_loss() -> None:
    """A count at a milestone may fall by the plants lost in between."""
    rows = seen("first_flower", 40, some_of(3, 4)), seen("first_flower", 45, some_of(2, 3))

    assert by(milestone_went_down, run(sown(), *rows, lost(42, named("P1")))) == []


def test_plants_named_one_after_another() -> None:
    """Plants named at one visit join those named before."""
    rows = seen("first_flower", 40, named("P1", "P2")), seen("first_flower", 45, named("P3"))

    assert by(milestone_went_down, run(sown(), *rows)) == []


def test_tally_falls() -> None:
    """A running tally never falls."""
    assert by(tally_went_down, run(sown(), tallied(40, grams(60)), tallied(50, grams(50)))) == [
        (
            "e.yaml:150:5: error[count-went-down]: 60 g had been picked on day 40; it cannot be 50 g on day 50 "
            "(write everything picked since the start)"
        )
    ]


def test_tally_grows() -> None:
    """A running tally grows or stays."""
    made = run(sown(), tallied(40, grams(60)), tallied(50, grams(60)), tallied(60, grams(90)))

    assert by(tally_went_down, made) == []
