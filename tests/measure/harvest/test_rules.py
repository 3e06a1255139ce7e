"""What holds of the harvest of any log: moved plants, shares of spoilt pieces, flushes."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Share
from sitegen.core.records.rows import Deed, Pick, Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.measure.harvest.breakdown import Membership
from sitegen.measure.harvest.harvest import harvest_of
from sitegen.measure.harvest.parts import running_weights, weight_of_row
from sitegen.measure.harvest.picks import flush_bounds, flush_numbers
from sitegen.measure.harvest.totals import HarvestRecords, running_parts
from sitegen.measure.methods import day_key
from tests.measure.builders import (
    event,
    grams,
    joint,
    milestone,
    pick,
    place,
    run_of,
    setup_of,
    some,
    tally,
    unweighed,
)
from tests.measure.values import amount

FOUR = ("P1", "P2", "P3", "P4")
ALL = joint(*FOUR, word="all")
COUNTS = st.none() | st.integers(0, 9)
PICKS = st.lists(
    st.builds(
        lambda day, more, which, weight, counts: replace(
            pick(day, which, weight, count=counts[0], spoilt=counts[1]), day=Day(day, day + more)
        ),
        st.integers(30, 120),
        st.sampled_from((0, 0, 4)),
        st.sampled_from((joint("P1"), joint("P2"), joint("P3", "P4"), joint("P1", "P3"), ALL, some())),
        st.integers(1, 500).map(grams) | st.just(unweighed()),
        st.tuples(COUNTS, COUNTS),
    ),
    min_size=1,
    max_size=7,
).map(
    lambda picks: sorted((replace(p, source=place(n + 1)) for n, p in enumerate(picks)), key=lambda p: p.day)
)


@given(PICKS, st.integers(30, 120))
def test_what_a_plant_gives_after_its_move_is_no_tubs(picks: list[Pick], day: int) -> None:
    """A later pick of a plant that moved changes no group and no tub, and all of it is in the remainder."""
    setup = setup_of(tubs=("left", "right"), groups=(("early", FOUR[:2]), ("late", FOUR[2:])))
    moved = event(Deed.MOVE, day, joint("P1"), tub="right")
    later = pick(200, joint("P1"), grams(50), 900)
    before = harvest_of(run_of(setup, picks=picks, events=[moved]))
    after = harvest_of(run_of(setup, picks=[*picks, later], events=[moved]))
    for old, new in ((before.by_group, after.by_group), (before.by_tub, after.by_tub)):
        assert [n.figure.value for n in new[:2]] == [n.figure.value for n in old[:2]]
        rest = amount(old[2].figure).low if len(old) > 2 else 0
        assert amount(new[2].figure).low == rest + 50


@given(PICKS)
def test_a_share_of_spoilt_has_a_whole(picks: list[Pick]) -> None:
    """A share of spoilt pieces is of picks that all say both numbers; a number is no more than what they say."""
    spoilt = harvest_of(run_of(picks=picks)).spoilt.value
    said = sum(p.spoilt or 0 for p in picks)
    if isinstance(spoilt, Share):
        assert all(p.count is not None and p.spoilt is not None for p in picks)
        assert (spoilt.part, spoilt.whole) == (said, sum(p.count or 0 for p in picks))
    elif isinstance(spoilt, Quantity):
        assert spoilt.low == said
        assert (spoilt.high is None) == any(p.spoilt is None for p in picks)


@given(PICKS)
def test_one_flush_without_regrowth(picks: list[Pick]) -> None:
    """Picks alone are of one flush, however long the pauses are."""
    assert flush_numbers(run_of(picks=picks), picks) == (1,) * len(picks)


@given(PICKS, st.lists(st.integers(30, 120), max_size=3), st.lists(st.integers(30, 120), max_size=3))
def test_flushes_need_a_rest(picks: list[Pick], pruned: list[int], tallied: list[int]) -> None:
    """Flushes never fall, rise one by one, and only after 14 days without a pick or a tally before its day."""
    run = run_of(
        picks=picks,
        events=[event(Deed.PRUNE, day, line=800 + n) for n, day in enumerate(pruned)],
        tallies=[tally(day, grams(999), ALL, line=850 + n) for n, day in enumerate(tallied)],
        milestones=[milestone("side_shoots", 80, joint("P1"))],
    )
    numbers = flush_numbers(run, picks)
    for n in range(1, len(picks)):
        assert numbers[n] - numbers[n - 1] in (0, 1)
        if numbers[n] > numbers[n - 1]:
            rested = picks[n].day.first - 14
            assert all(p.day.last <= rested for p in picks[:n])
            assert not any(rested < day < picks[n].day.first for day in tallied)


@given(PICKS, st.lists(st.integers(30, 120), max_size=2), st.sampled_from((("P1",), ("P1", "P2"), FOUR)))
def test_a_running_weight_is_that_of_the_parts_so_far(
    picks: list[Pick], tallied: list[int], plants: tuple[str, ...]
) -> None:
    """The weight of a row after each weight of a run is that of a run which ends there."""
    tallies = [tally(day, grams(999), ALL, line=850 + n) for n, day in enumerate(tallied)]
    records = HarvestRecords.of(run_of(picks=picks, tallies=tallies))
    row = Membership.of(records).cell("", "", plants)
    steps = list(running_parts(records.everything))
    found = list(running_weights(steps, row.certain, row.possible))
    assert found == [weight_of_row(parts, row.certain, row.possible).amount for parts in steps]
    assert len(found) >= len(picks)


DATES = st.integers(30, 80)
STAGE_NAMES = st.sampled_from(("side_shoots", "first_flower"))


@st.composite
def vague_and_known(draw: st.DrawFn) -> tuple[Run, Run]:
    """A run with spans of days and days known about, and the run with days inside of them; picks in the same order."""

    def vague(row: Any) -> Any:
        day, (before, after) = row.day.first, draw(st.sampled_from(((0, 0), (0, 0), (0, 5), (3, 0))))
        vague = Day(day - before, day + after)
        if draw(st.booleans()):
            vague = Day.on(day + draw(st.integers(-2, 2)), about=True)
        return row._replace(day=vague) if isinstance(row, tuple) else replace(row, day=vague)

    picks = [
        replace(
            pick(day, draw(st.sampled_from((joint("P1"), joint("P2"), ALL))), grams(9)), source=place(n + 1)
        )
        for n, day in enumerate(sorted(draw(st.lists(DATES, min_size=2, max_size=4))))
    ]
    known: dict[str, list[Any]] = {
        "picks": picks,
        "tallies": [tally(day, grams(999), ALL) for day in draw(st.lists(DATES, max_size=1))],
        "events": [event(Deed.PRUNE, day) for day in draw(st.lists(DATES, max_size=2))],
        "milestones": [
            milestone(draw(STAGE_NAMES), day, joint("P1")) for day in draw(st.lists(DATES, max_size=2))
        ],
    }
    loose = {table: [vague(row) for row in rows] for table, rows in known.items()}
    assume(sorted(loose["picks"], key=lambda row: (day_key(row.day), row.source)) == loose["picks"])
    return run_of(**loose), run_of(**known)


@given(vague_and_known())
def test_the_flush_of_a_pick_is_one_that_its_day_leaves_open(runs: tuple[Run, Run]) -> None:
    """Whichever of the days that it leaves open a log means, the flush of each pick is among those found for it."""
    vague, known = runs
    found = flush_bounds(vague, vague.rows.picks)
    assert all(
        flush in flushes for flush, flushes in zip(flush_numbers(known, known.rows.picks), found, strict=True)
    )
    as_written = flush_numbers(vague, vague.rows.picks)
    assert all(flush in flushes for flush, flushes in zip(as_written, found, strict=True))
    certain = flush_bounds(known, known.rows.picks)
    assert [list(flushes) for flushes in certain] == [[n] for n in flush_numbers(known, known.rows.picks)]
