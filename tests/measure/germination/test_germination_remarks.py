"""What is said with the figures of germination."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.facts.figure import NOT_RECORDED, Remark, RemarkCode, remark
from sitegen.core.facts.tree import Germination
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Deed, Event
from sitegen.core.records.setup import Claims, Crop, Seed
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.germination.germination import germination_of
from tests.measure.builders import event, joint, run_of, seeds, setup_of

FOUR = ("P1", "P2", "P3", "P4")
ALL = joint(*FOUR, word="all")
SOWN = seeds(0, 3, *FOUR)
SOME = Quantity(1, None, Dimension.COUNT, open=1, step=1)


def up(day: int, number: int | Quantity) -> Event:
    """So many seedlings in all."""
    amount = counted(number) if isinstance(number, int) else number
    return event(Deed.SPROUTED, day, ALL, amount=amount)


def germinated(*events: Event, **head: Any) -> Germination:
    """Germination of a run with these events."""
    return germination_of(run_of(replace(setup_of(), **head), events=events))


def said(*codes: RemarkCode) -> tuple[Remark, ...]:
    """Remarks without values."""
    return tuple(remark(code) for code in codes)


@pytest.mark.parametrize(
    ("events", "remarks"),
    [
        ((SOWN, up(5, 9)), ()),
        ((SOWN, up(5, 13)), said("more_seedlings_than_seeds")),
        ((SOWN, up(5, SOME)), said("seedlings_not_all_counted")),
        ((SOWN,), said("seedlings_not_counted")),
        ((event(Deed.SOW, 0, ALL), up(5, 9)), said("seeds_not_counted")),
        ((event(Deed.SOW, 0, ALL), up(5, SOME)), said("seedlings_not_all_counted")),
        ((SOWN, up(5, 9), seeds(5, 1, "P1")), ()),
        ((SOWN, up(5, 9), seeds(6, 1, "P1")), (remark("sowings_after_last_count", n=1),)),
        (
            (SOWN, up(5, 9), seeds(6, 1, "P1"), seeds(7, 1, "P2")),
            (remark("sowings_after_last_count", n=2),),
        ),
    ],
)
def test_share(events: tuple[Event, ...], remarks: tuple[Remark, ...]) -> None:
    """A share says why it is missing, or how many sowings no count can hold."""
    assert germinated(*events).share.remarks == remarks


def test_seeds_and_seedlings() -> None:
    """Sowings and seedlings that nobody counted are said, counted ones are not."""
    counted_all = germinated(SOWN, up(5, 9))
    assert (counted_all.sown.remarks, counted_all.sprouted.remarks) == ((), ())
    two = germinated(event(Deed.SOW, 0, ALL), event(Deed.SOW, 1, ALL), SOWN, up(5, SOME))
    assert two.sown.remarks == (remark("sowings_not_counted", n=2),)
    assert two.sprouted.remarks == said("not_counted")
    bare = germinated()
    assert (bare.sown.remarks, bare.sprouted.remarks) == ((), ())


def test_first_and_last_day() -> None:
    """The last look before the first seedling that found none is said, later and earlier ones are not."""
    assert germinated(SOWN, up(3, 0), up(4, 0), up(5, 2)).first_day.remarks == (
        remark("none_up_on", day=Day.on(4)),
    )
    assert germinated(SOWN, up(5, 2)).first_day.remarks == ()
    assert germinated(SOWN, up(4, 0)).first_day.remarks == (remark("none_up_on", day=Day.on(4)),)
    same_day = (up(5, 0), up(5, 2)._replace(entry=6))
    assert germinated(SOWN, *same_day).first_day.remarks == ()
    assert (germinated(SOWN, up(4, 0)).last_day.remarks, germinated(SOWN, up(5, 2)).last_day.remarks) == (
        (NOT_RECORDED,),
        (),
    )


def first_seedling_of(*events: Event) -> str:
    """The first seedling in words."""
    return Wording().say(germinated(*events).first_day).replace("\u00a0", " ")


def test_the_first_seedling_lies_between_two_looks() -> None:
    """One look says by when; a look that found none in every spot bounds it below, one in some spots does not."""
    assert first_seedling_of(SOWN, up(5, 12)) == "by day 5"
    assert first_seedling_of(SOWN, up(2, 0), up(5, 12)) == "days 3–5"
    assert first_seedling_of(SOWN, up(4, 0), up(5, 12)) == "day 5"
    part = event(Deed.SPROUTED, 4, joint("P1"), amount=counted(0))
    assert first_seedling_of(SOWN, part, up(5, 12)) == "by day 5"
    rest = event(Deed.SPROUTED, 4, joint("P2", "P3", "P4"), 4, amount=counted(0))
    assert first_seedling_of(SOWN, part, rest, up(5, 12)) == "day 5"
    assert first_seedling_of(seeds(3, 1, *FOUR), up(8, 4)) == "days 3–8"
    wide = up(5, 0)._replace(day=Day(3, 6))
    assert first_seedling_of(SOWN, wide, up(9, 2), up(7, SOME)) == "days 4–7"


def test_a_look_that_counted_some_bounds_no_mean() -> None:
    """`some` on day 5 does not say that the others were not up: they may have come at any time since sowing."""
    found = germinated(SOWN, up(5, SOME), up(9, 8)).rate
    assert found.mean_time.value == Quantity(0, 8.5, Dimension.DAYS, step=0.1)
    assert found.synchrony.remarks == said("seedlings_not_counted")


@pytest.mark.parametrize(
    ("before", "later", "both"),
    [
        (SOME, 11, (11, 11)),
        (2, SOME, (2, None)),
        (5, 3, (5, 5)),
        (Quantity(3, 6, Dimension.COUNT, step=1), 4, (4, 6)),
        (Quantity(3, 6, Dimension.COUNT, step=1), 8, (8, 8)),
        (Quantity(9, None, Dimension.COUNT, open=1, step=1), 4, (9, None)),
    ],
)
def test_a_count_after_another(
    before: int | Quantity, later: int | Quantity, both: tuple[int, int | None]
) -> None:
    """In all, never fewer are up than before, and as many as either leaves open; a later count closes an open one."""
    found = germinated(SOWN, up(5, before), up(9, later)).sprouted.value
    assert isinstance(found, Quantity)
    assert (found.low, found.high) == both


def test_counts_by_eye_or_about_leave_no_rate() -> None:
    """A count by eye or about leaves nothing but the mean, which is then about."""
    for flag in ({"by_eye": True}, {"about": True}):
        found = germinated(SOWN, up(5, replace(counted(3), **flag)), up(9, 8)).rate
        assert isinstance(found.mean_time.value, Quantity)
        assert found.mean_time.value.about
        assert found.half_time.value is None
        assert found.synchrony.remarks == said("seedlings_not_counted")


NAMES = ("mean_time", "half_time", "variation", "speed", "synchrony", "uncertainty")


def paces(*events: Event) -> dict[str, tuple[Remark, ...]]:
    """The remarks of each rate that has any."""
    rate = germinated(*events).rate
    return {name: getattr(rate, name).remarks for name in NAMES if getattr(rate, name).remarks}


@pytest.mark.parametrize(
    ("events", "code"),
    [
        ((SOWN, seeds(6, 2, "P1"), up(9, 6)), "sown_on_several_days"),
        ((SOWN, seeds(6, 2, "P1"), up(9, SOME)), "sown_on_several_days"),
        ((SOWN, up(9, SOME)), "seedlings_not_counted"),
        ((SOWN,), "seedlings_not_counted"),
        ((SOWN, up(4, 0), up(9, 0)), "nothing_came_up"),
        ((SOWN, up(5, 4)), "all_up_at_first_count"),
    ],
)
def test_no_pace(events: tuple[Event, ...], code: RemarkCode) -> None:
    """Where there is no pace every rate says why."""
    assert paces(*events) == dict.fromkeys(NAMES, said(code))


def test_single_rates_that_are_missing() -> None:
    """A rate that alone is missing says why: one seedling, half at the first count, seedlings on day 0."""
    few, half = said("fewer_than_two_seedlings"), said("half_up_at_first_count")
    assert paces(SOWN, up(4, 0), up(5, 1)) == {"variation": few, "synchrony": few}
    assert paces(SOWN, up(5, 4), up(7, 6)) == {"half_time": half}
    assert paces(SOWN, up(0, 2), up(5, 8)) == {"speed": said("seedlings_on_day_of_sowing")}
    assert paces(SOWN, up(4, 0), up(5, 4), up(8, 8)) == {}


# 7 CFR 201.31: tomato 75 %, lettuce 80 %, read in a copy of the regulations; 7 CFR 201.54: 400 seeds.
TOMATO = Crop("tomato", "Tomato", "fruiting", "Solanum lycopersicum")
TEST = remark("minimum_of_test", source="7 CFR 201.31", seeds=400)
PACKET = Seed(claims=Claims(germination=exactly(40, Dimension.SHARE, 1), by="the packet"))
BY_PACKET = remark("claimed_by", who="the packet")


@pytest.mark.parametrize(
    ("number", "packet", "law"),
    [
        # Wilson limits of 12, 9, 5 and 1 of 12: 75.7-100, 46.8-91.1, 19.3-68.0 and 1.5-35.4 %.
        (12, "claim_above", "claim_met"),
        (9, "claim_above", "claim_met"),
        (5, "claim_met", "claim_below"),
        (1, "claim_below", "claim_below"),
    ],
)
def test_claims(number: int, packet: RemarkCode, law: RemarkCode) -> None:
    """How a count stands to the packet's share and to the law's least share, which more than it never breaks."""
    claims = germinated(SOWN, up(5, number), crop=TOMATO, seed=PACKET).claims
    assert claims.seed.remarks == (BY_PACKET, remark(packet))
    assert claims.standard.remarks == (TEST, remark(law))


def test_claims_with_nothing_beside_them() -> None:
    """Claims without a count, counts without a claim, and neither."""
    uncounted = germinated(SOWN, crop=TOMATO, seed=PACKET).claims
    assert uncounted.seed.remarks == (BY_PACKET, remark("claim_without_count"))
    assert uncounted.standard.remarks == (TEST, remark("claim_without_count"))
    unlisted = Crop("physalis", "Physalis", "fruiting")
    for found in (germinated(SOWN, up(5, 9), crop=unlisted), germinated(crop=unlisted, seed=Seed())):
        assert found.claims.seed.remarks == said("no_share_claimed")
        assert found.claims.standard.remarks == said("minimum_unknown")
