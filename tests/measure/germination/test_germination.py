"""Seeds, seedlings and their share."""

from __future__ import annotations

from typing import Any

import pytest

from sitegen.core.records.rows import Deed, Event, Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.germination.counts import SpotCount, seedlings_up
from sitegen.measure.germination.germination import germination_of
from sitegen.measure.ranges import share_of
from tests.measure.builders import event, joint, remarks_of, run_of, seeds

ALL = joint("P1", "P2", "P3", "P4", word="all")


def up(day: int, number: int | None, *ids: str, **more: Any) -> Event:
    """So many seedlings; every one where no number is given."""
    which = joint(*ids) if ids else ALL
    return event(Deed.SPROUTED, day, which, amount=None if number is None else counted(number), **more)


def sown(*rows: Event) -> Run:
    """A run with three seeds in each of four spots."""
    return run_of(events=(seeds(0, 3, "P1", "P2", "P3", "P4"), *rows))


def test_share() -> None:
    """Seedlings of all seeds, with the interval."""
    facts = germination_of(sown(up(5, 9, out_of=12)))
    assert facts.share.value == share_of(9, 12)


def test_counts_are_cumulative() -> None:
    """A count said again later adds nothing."""
    facts = germination_of(sown(up(5, 9), up(7, 9), up(9, 10)))
    assert (facts.sprouted.value, [step.count for step in facts.steps]) == (counted(10), [9, 9, 10])


def test_spots_add_up_within_a_count_of_all() -> None:
    """Spots counted singly stand inside a count of all; the larger of the two holds."""
    facts = germination_of(sown(up(5, 5), up(6, 3, "P1"), up(6, 3, "P2", line=7), up(6, 1, "P3", line=8)))
    assert facts.sprouted.value == counted(7)
    assert {spot.key: spot.figure.value for spot in facts.by_spot} == {
        "P1": share_of(3, 3),
        "P2": share_of(3, 3),
        "P3": share_of(1, 3),
    }


def test_every_seed() -> None:
    """`all` means every seed sown by then."""
    facts = germination_of(sown(up(6, None, what="all")))
    assert facts.share.value == share_of(12, 12)


def test_resowing_counts_its_seeds() -> None:
    """A later sowing in a spot adds to the seeds; one after the last count is said."""
    facts = germination_of(sown(up(5, 9), seeds(9, 4, "P4")))
    assert (facts.sown.value, remarks_of(facts.share)) == (
        counted(16),
        "one sowing came after the last count",
    )


def test_uncounted_seedlings_give_no_share() -> None:
    """`some` is at least one: there is a first day and no share."""
    some = Quantity(1, None, Dimension.COUNT, open=1, step=1)
    facts = germination_of(sown(event(Deed.SPROUTED, 4, ALL, amount=some, what="some")))
    assert (facts.share.value, remarks_of(facts.share)) == (None, "not all seedlings were counted")
    assert facts.first_day.value == Day(0, 4)


def test_none_is_not_a_seedling() -> None:
    """A look that found nothing is a step of 0, not the first day."""
    facts = germination_of(sown(up(3, 0), up(5, 2)))
    assert (facts.first_day.value, [step.count for step in facts.steps]) == (Day(4, 5), [0, 2])


def test_seeds_from_the_count() -> None:
    """Where sowing was not counted, `16 of 18` says out of how many."""
    run = run_of(events=(event(Deed.SOW, 0, ALL, amount=unknown(Dimension.COUNT)), up(5, 16, out_of=18)))
    facts = germination_of(run)
    assert (facts.share.value, remarks_of(facts.sown)) == (share_of(16, 18), "one sowing was not counted")


def test_nothing_logged() -> None:
    """Without sowing and counts every figure is empty."""
    facts = germination_of(run_of())
    assert [f.value for f in (facts.sown, facts.sprouted, facts.share, facts.first_day)] == [None] * 4


@pytest.mark.parametrize("flags", [{"about": True}, {"by_eye": True}])
def test_a_bound_of_another_count_is_no_better_known(flags: dict[str, bool]) -> None:
    """Seven, judged by eye, then six to seven: that is seven by eye, and no exact number."""
    rough = Quantity(7, 7, Dimension.COUNT, step=1, **flags)
    spots = frozenset({"P1"})
    up = seedlings_up([SpotCount(spots, rough), SpotCount(spots, Quantity(6, 7, Dimension.COUNT, step=1))])
    assert up == rough
