"""Counts of seedlings put together, and what each count is out of."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Share
from sitegen.core.facts.tree import Germination
from sitegen.core.records.rows import Deed, Event, Which
from sitegen.core.records.setup import Claims, Crop, Seed
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.germination.counts import SpotCount, seedlings_up, seeds_sown
from sitegen.measure.germination.germination import germination_of, share_against
from sitegen.measure.ranges import share_of
from tests.measure.builders import event, joint, of, place, run_of, seeds, setup_of
from tests.measure.values import lines

FOUR = ("P1", "P2", "P3", "P4")
ALL = joint(*FOUR, word="all")
SOWN = seeds(0, 3, *FOUR)


def at_least(number: int) -> Quantity:
    """So many or more."""
    return Quantity(number, None, Dimension.COUNT, open=1, step=1)


def said(number: int | Quantity, *spots: str) -> SpotCount:
    """So many seedlings in some spots."""
    return SpotCount(frozenset(spots), counted(number) if isinstance(number, int) else number)


def up(day: int, number: int | None, *ids: str, line: int = 0) -> Event:
    """So many seedlings in some spots; without a number, as many as were sown."""
    which = joint(*ids) if ids else ALL
    return event(Deed.SPROUTED, day, which, line, amount=None if number is None else counted(number))


def germinated(*events: Event) -> Germination:
    """Germination of a run with just these events."""
    return germination_of(run_of(events=events))


@pytest.mark.parametrize(
    ("counts", "seedlings"),
    [
        ((), Quantity(0, 0, Dimension.COUNT)),
        ((said(2, "P1"), said(3, "P2")), counted(5)),
        ((said(2, "P1"), said(3, "P2"), said(4, "P1", "P2")), counted(5)),
        ((said(2, "P1"), said(3, "P2"), said(6, "P1", "P2")), counted(6)),
        ((said(6, "P1", "P2"), said(2, "P1"), said(3, "P2")), counted(6)),
        ((said(2, "P1", "P2"), said(2, "P2", "P3")), counted(4)),
        ((said(1, "P1"), said(3, "P1", "P2"), said(2, "P3"), said(4, "P1", "P2", "P3")), counted(5)),
        ((said(4, "P1", "P2", "P3"), said(2, "P4"), said(3, "P1")), counted(6)),
        ((said(5, "P1"), said(4, "P1")), counted(5)),
    ],
)
def test_seedlings_up(counts: tuple[SpotCount, ...], seedlings: Quantity) -> None:
    """Separate spots add up, a count of several holds those within it, and the larger of the two is taken."""
    assert seedlings_up(counts) == seedlings


def test_a_count_said_again_replaces_the_one_before() -> None:
    """Of two equal counts of the same spots the later one holds, with its own flags."""
    about = replace(counted(4), about=True)
    assert seedlings_up([said(about, "P1"), said(4, "P1")]) == counted(4)
    assert seedlings_up([said(4, "P1"), said(about, "P1")]) == about


def test_of_equal_counts_the_definite_one_holds() -> None:
    """A definite number stands against "at least" the same number, whichever of the two is of all spots."""
    assert seedlings_up([said(3, "P1"), said(at_least(3), "P1", "P2")]) == counted(3)
    assert seedlings_up([said(at_least(3), "P1"), said(3, "P1", "P2")]) == counted(3)
    assert seedlings_up([said(3, "P1"), said(at_least(4), "P1", "P2")]) == at_least(4)


def test_equal_counts_keep_the_flags_of_both() -> None:
    """About six of all spots and exactly six of two are about six: either count may be the larger."""
    about = replace(counted(6), about=True)
    assert seedlings_up([said(about, *FOUR), said(6, "P3", "P4")]) == about
    assert seedlings_up([said(about, *FOUR), said(7, "P3", "P4")]) == counted(7)


def test_about_so_many_seeds_give_no_share() -> None:
    """A share has no flag: of about so many seeds, or seedlings, there is none, nor a pace of emergence."""
    sown = event(Deed.SOW, 0, ALL, amount=replace(counted(40), about=True))
    found = germinated(sown, up(6, 30, *FOUR))
    assert (found.share.value, found.sprouted.value) == (None, counted(30))
    counts = (up(5, 10, *FOUR), event(Deed.SPROUTED, 8, ALL, amount=replace(counted(11), about=True)))
    found = germinated(SOWN, *counts)
    assert (found.share.value, found.rate.speed.value) == (None, None)
    assert germinated(SOWN, up(5, 10, *FOUR), up(8, 11, *FOUR)).rate.speed.recorded


def test_sowings_add_up_with_what_was_not_counted() -> None:
    """Seeds of all sowings; one that nobody counted leaves no upper bound."""
    assert seeds_sown([counted(3), counted(4)]) == counted(7)
    assert seeds_sown([counted(3), unknown(Dimension.COUNT)]) == Quantity(
        3, None, Dimension.COUNT, unweighed=1, step=1
    )


COUNTS = st.lists(
    st.tuples(st.sets(st.sampled_from(FOUR), min_size=1), st.integers(0, 9)), min_size=1, max_size=6
).map(lambda found: [said(number, *spots) for spots, number in found])


@given(COUNTS)
def test_no_count_is_larger_than_the_whole(counts: list[SpotCount]) -> None:
    """There are as many seedlings as any one count says, and no more than all counts together say."""
    whole = seedlings_up(counts)
    assert max(each.count.low for each in counts) <= whole.low
    assert whole.low <= sum(each.count.low for each in counts)


def test_every_seed_is_every_seed_sown_by_then() -> None:
    """`all` on the day of a second sowing holds its seeds; on the day before it does not."""
    again = seeds(9, 4, "P4")
    assert germinated(SOWN, again, up(9, None)).sprouted.value == counted(16)
    assert germinated(SOWN, again, up(8, None)).sprouted.value == counted(12)


def test_a_spot_sown_together_with_others_has_at_least_one_seedling() -> None:
    """Where the sowing was of more spots than came up, each spot named has one seedling or more."""
    assert germinated(SOWN, up(6, None, "P1", "P2")).sprouted.value == at_least(2)
    assert germinated(up(6, None, "P1", "P2", "P3")).sprouted.value == at_least(3)


def test_seedlings_of_spots_not_said_which() -> None:
    """`3 of 8` are three seedlings out of eight; without a number or a name there is at least one."""
    three = germinated(event(Deed.SPROUTED, 5, of(3, 8)))
    assert (three.sprouted.value, three.share.value) == (counted(3), share_of(3, 8))
    assert [germinated(event(Deed.SPROUTED, 5, which)).sprouted.value for which in (None, Which())] == [
        at_least(1)
    ] * 2


def test_a_count_of_all_holds_the_spot_of_a_lost_plant() -> None:
    """`all` names those that stand; seedlings counted in a spot that was lost since are in the count, too."""
    standing = joint("P1", "P2", "P3", word="all")
    late = event(Deed.SPROUTED, 9, standing, amount=counted(9))
    assert germinated(SOWN, up(5, 3, "P4"), late).sprouted.value == counted(9)
    named = replace_word(late)
    assert germinated(SOWN, up(5, 3, "P4"), named).sprouted.value == counted(12)


def replace_word(row: Event) -> Event:
    """The same count, its plants named one by one."""
    assert row.which is not None
    return row._replace(which=Which(row.which.ids))


def test_out_of_how_many_the_latest_count_was() -> None:
    """Where seeds were not counted, each count is out of what was said by then, and the share out of the last."""
    first = up(5, 16)._replace(out_of=18)
    later = up(7, 17)._replace(out_of=20)
    facts = germinated(first, later)
    assert [(step.day, step.count, step.of, step.source.line) for step in facts.steps] == [
        (Day.on(5), 16, 18, 1005),
        (Day.on(7), 17, 20, 1007),
    ]
    assert facts.share.value == share_of(17, 20)


def test_counted_seeds_win_over_what_a_count_was_said_to_be_out_of() -> None:
    """Seeds counted at sowing are the whole, whatever a later count says."""
    facts = germinated(SOWN, up(5, 9)._replace(out_of=10))
    assert (facts.share.value, facts.steps[0].of) == (share_of(9, 12), 12)


def test_seeds_of_a_later_sowing_are_no_part_of_an_earlier_count() -> None:
    """Each count is out of the seeds sown by its own day."""
    facts = germinated(SOWN, seeds(6, 2, "P4"), up(5, 9), up(6, 10))
    assert [step.of for step in facts.steps] == [12, 14]
    assert facts.share.value == share_of(10, 14)


def test_one_step_a_visit() -> None:
    """Several counts of one visit make one step, with everything counted at that visit."""
    rows = (up(5, 2, "P1"), up(5, 3, "P2", line=1006), up(8, 1, "P3"))
    assert [(step.count, step.source.line) for step in germinated(SOWN, *rows).steps] == [
        (5, 1006),
        (6, 1008),
    ]


def test_more_seedlings_than_seeds() -> None:
    """Thirteen of twelve is no share; twelve is."""
    assert germinated(SOWN, up(5, 13)).share.value is None
    assert germinated(SOWN, up(5, 12)).share.value == share_of(12, 12)


def test_rows_of_germination() -> None:
    """Each figure leads to its own rows: sowings, counts, the first day's counts and the look before, the last rise."""
    facts = germinated(SOWN, up(4, 0), up(5, 4), up(5, 1, "P1", line=9), up(7, 8), up(9, 8))
    assert lines(facts.sown) == [1000]
    assert lines(facts.sprouted) == [9, 1004, 1005, 1007, 1009]
    assert lines(facts.share) == [9, 1000, 1004, 1005, 1007, 1009]
    assert lines(facts.first_day) == [9, 1004, 1005]
    assert (facts.last_day.value, lines(facts.last_day)) == (Day.on(7), [1007])
    assert [
        f.formula for f in (facts.sown, facts.sprouted, facts.share, facts.first_day, facts.last_day)
    ] == [
        "seeds_sown",
        "seedlings_up",
        "wilson_interval",
        "first_seedling",
        "last_day",
    ]


def test_no_seedling_has_no_last_day() -> None:
    """Counts of none give neither a first nor a last day."""
    facts = germinated(SOWN, up(4, 0), up(6, 0))
    assert (facts.first_day.value, facts.last_day.value, facts.share.value) == (None, None, share_of(0, 12))
    assert (lines(facts.first_day), lines(facts.last_day)) == ([], [])


def spot(*events: Event) -> tuple[object, list[int]]:
    """What is known of the only spot counted by itself, and its rows."""
    (found,) = germinated(*events).by_spot
    assert (found.key, found.figure.name) == ("P1", "germination.by_spot.P1")
    return found.figure.value, lines(found.figure)


@pytest.mark.parametrize(
    ("sowings", "value", "rows"),
    [
        ((SOWN,), share_of(2, 3), [1000, 1005]),
        ((event(Deed.SOW, 0, joint("P1"), amount=counted(3)),), share_of(2, 3), [1000, 1005]),
        ((event(Deed.SOW, 0, joint("P1", "P2"), amount=counted(6)),), counted(2), [1005]),
        ((seeds(0, 3, "P1"), seeds(2, 2, "P1")), share_of(2, 5), [1000, 1002, 1005]),
        ((seeds(0, 3, "P1"), seeds(2, 2, "P2")), share_of(2, 3), [1000, 1005]),
        ((seeds(0, 3, "P1"), event(Deed.SOW, 2, joint("P1"))), counted(2), [1005]),
        ((event(Deed.SOW, 0, joint("P1"), amount=unknown(Dimension.COUNT)),), counted(2), [1005]),
        ((seeds(0, 1, "P1"),), counted(2), [1005]),
        ((), counted(2), [1005]),
    ],
)
def test_seeds_of_one_spot(sowings: tuple[Event, ...], value: object, rows: list[int]) -> None:
    """A spot has a share only where the seeds in it are known; seeds of several spots are not split."""
    assert spot(*sowings, up(5, 2, "P1")) == (value, rows)


def test_uncounted_seedlings_of_a_spot() -> None:
    """A spot with seedlings that nobody counted has no share."""
    some = event(Deed.SPROUTED, 5, joint("P1"), amount=at_least(1))
    assert spot(SOWN, some) == (at_least(1), [1005])


def test_nothing_sown_and_nothing_counted() -> None:
    """Counts without a sowing leave the seeds open, a sowing without counts the seedlings."""
    counted_only, sown_only = germinated(up(5, 4)), germinated(SOWN)
    assert (counted_only.sown.value, counted_only.sprouted.value) == (None, counted(4))
    assert (sown_only.sown.value, sown_only.sprouted.value) == (counted(12), None)
    assert (counted_only.share.value, sown_only.share.value) == (None, None)


def percent(low: float, high: float | None) -> Quantity:
    """A claimed share."""
    return Quantity(low, high, Dimension.SHARE, step=1)


@pytest.mark.parametrize(
    ("claimed", "standing"),
    [
        (percent(75, 75), "in keeping"),
        (percent(75.1, 75.1), "below"),
        (percent(75.1, None), "below"),
        (percent(75, None), "in keeping"),
        (percent(25, 25), "in keeping"),
        (percent(24.9, 24.9), "above"),
        (percent(20, 25), "in keeping"),
        (percent(20, 24.9), "above"),
        (percent(20, None), "in keeping"),
    ],
)
def test_a_claim_at_the_ends_of_the_interval(claimed: Quantity, standing: str) -> None:
    """An interval from 25 to 75 % speaks against a claim only where the claim lies wholly outside of it."""
    assert share_against(Share(1, 2, 0.25, 0.75), claimed) == standing


def claims(*events: Event, crop: Crop, seed: Seed | None) -> list[tuple[object, list[int]]]:
    """The packet's and the law's claim with their rows."""
    spans = (("seed", place(7)), ("crop", place(8)))
    setup = replace(setup_of(crop=crop), seed=seed, spans=spans)
    found = germination_of(run_of(setup, events=events)).claims
    return [(figure.value, lines(figure)) for figure in (found.seed, found.standard)]


PACKET = Seed(claims=Claims(germination=exactly(85, Dimension.SHARE, 1)))
# 7 CFR 201.31: lettuce 80 % (read in a copy of the regulations).
LETTUCE = Crop("lettuce", "Lettuce", "leafy", "Lactuca sativa")
UNLISTED = Crop("physalis", "Physalis", "fruiting")


def test_rows_of_claims() -> None:
    """A claim leads to the rows of the share and to where it is written; the law, to the crop without a share."""
    eighty_five, eighty = exactly(85, Dimension.SHARE, 1), exactly(80, Dimension.SHARE, 1)
    counted_rows = claims(SOWN, up(5, 9), crop=LETTUCE, seed=PACKET)
    assert counted_rows == [(eighty_five, [7, 1000, 1005]), (eighty, [1000, 1005])]
    assert claims(crop=LETTUCE, seed=PACKET) == [(eighty_five, [7]), (eighty, [8])]
    assert claims(SOWN, up(5, 9), crop=UNLISTED, seed=Seed()) == [(None, []), (None, [])]
    assert claims(SOWN, up(5, 9), crop=UNLISTED, seed=None) == [(None, []), (None, [])]
