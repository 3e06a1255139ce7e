"""What was spoilt by weight, its share, and the harvest without it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.indices import Culls
from sitegen.core.facts.tree import Harvest
from sitegen.core.records.rows import Pick, Tally
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.harvest import harvest_of
from sitegen.measure.harvest.pieces import sound_weight, spoilt_share
from tests.measure.builders import grams, joint, pick, remarks_of, run_of, tally, unweighed
from tests.measure.values import amount, bounds, lines

P1, P2 = joint("P1"), joint("P2")
ALL = joint("P1", "P2", "P3", "P4", word="all")


def harvest(*rows: Pick | Tally) -> Harvest:
    """What four plants gave."""
    picks = [row for row in rows if isinstance(row, Pick)]
    return harvest_of(run_of(picks=picks, tallies=[row for row in rows if isinstance(row, Tally)]))


def culled(day: int, weight: Quantity, part: Quantity | None, **more: Any) -> Pick:
    """A pick of one plant with a spoilt part."""
    return pick(day, P1, weight, spoilt_weight=part, **more)


def test_by_definition() -> None:
    """30 g of 120 g are 25 %, and leave 90 g (by definition of the quantities, worked)."""
    assert (spoilt_share(30, 120), sound_weight(120, 30)) == (25, 90)
    assert (spoilt_share(121, 120), sound_weight(120, 121)) == (
        100,
        0,
    )  # by rounding, not more than all of it


def test_every_pick_says() -> None:
    """Weight, share and sound harvest, where every pick says its weight and that of its spoilt part."""
    found = harvest(culled(50, grams(84), grams(30)), culled(52, grams(36), grams(0))).culls
    assert (found.weight.value, remarks_of(found.weight), lines(found.weight)) == (
        grams(30),
        "",
        [2050, 2052],
    )
    assert found.share.value == exactly(25, Dimension.SHARE, 1)
    assert found.sound.value == grams(90)


def test_a_pick_that_does_not_say() -> None:
    """It makes the spoilt weight a lower bound, leaves no share, and may be spoilt as a whole or not at all."""
    found = harvest(culled(50, grams(84), grams(30)), pick(52, P2, grams(36))).culls
    assert (bounds(found.weight), remarks_of(found.weight)) == (
        (30, None),
        "the spoilt part of one pick was not weighed",
    )
    assert (found.share.value, remarks_of(found.share)) == (
        None,
        "the spoilt part of one pick was not weighed",
    )
    assert bounds(found.sound) == (54, 90)


def test_nothing_of_no_piece_and_all_of_all() -> None:
    """No spoilt piece weighs nothing, and all pieces of a pick weigh what it does."""
    rows = culled(50, grams(84), grams(30)), culled(51, grams(16), None, count=4, spoilt=0)
    found = harvest(*rows, culled(52, grams(20), None, count=2, spoilt=2)).culls
    assert (found.weight.value, found.sound.value) == (grams(50), grams(70))
    assert bounds(found.share) == pytest.approx((100 * 50 / 120,) * 2)


def test_a_pick_that_was_not_weighed() -> None:
    """Its spoilt part may have been weighed; the total is open, and with it what was left."""
    found = harvest(culled(50, unweighed(), grams(30))).culls
    assert (found.weight.value, found.share.value, found.sound.value) == (grams(30), None, None)
    assert remarks_of(found.share) == "one pick was not weighed"


def test_a_spoilt_part_that_was_not_weighed() -> None:
    """It has no weight of its own, and leaves a range of what was sound."""
    found = harvest(culled(50, grams(84), unweighed(), count=9, spoilt=2)).culls
    assert (found.weight.value, remarks_of(found.weight)) == (
        None,
        "the spoilt part of one pick was not weighed",
    )
    assert bounds(found.sound) == (0, 84)


def test_ranges_and_flags() -> None:
    """Both intervals reach the share and the sound weight; so do flags."""
    part = replace(grams(20), high=30, by_eye=True)
    found = harvest(culled(50, replace(grams(80), high=100, about=True), part)).culls
    assert bounds(found.share) == pytest.approx((20, 37.5))
    assert bounds(found.sound) == (50, 80)
    assert (amount(found.sound).about, amount(found.sound).by_eye) == (True, True)


def test_a_running_total_above_its_picks() -> None:
    """What it holds beside the picks may be spoilt or not; a total of the very picks says nothing new."""
    above = harvest(culled(50, grams(84), grams(30)), tally(60, grams(100), ALL))
    assert (bounds(above.culls.weight), remarks_of(above.culls.weight)) == (
        (30, None),
        "one total so far is more than its picks add up to",
    )
    assert (above.culls.share.value, bounds(above.culls.sound)) == (None, (54, 70))
    same = harvest(culled(50, grams(84), grams(30)), tally(60, grams(84), ALL)).culls
    assert (same.weight.value, same.sound.value) == (grams(30), grams(54))


def test_pieces_under_a_running_total() -> None:
    """A running total above its picks holds pieces that nobody counted; no share is given of those counted."""
    found = harvest(pick(50, P1, grams(84), count=9, spoilt=2), tally(60, grams(100), ALL))
    assert (bounds(found.pieces), remarks_of(found.pieces)) == (
        (9, None),
        "one total so far is more than its picks add up to",
    )
    assert (bounds(found.spoilt), remarks_of(found.spoilt)) == ((2, None), "of at least 9 pieces")


def test_no_weight_of_what_was_spoilt() -> None:
    """Without any such weight there are no such figures: a number of pieces gives none."""
    assert harvest(pick(50, P1, grams(84), count=9, spoilt=2)).culls == Culls()


WRITTEN = st.sampled_from(("exact", "range", "at least", "up to", "unweighed", "none"))


def _as_written(weight: int, form: str) -> Quantity | None:
    """A weight in one of the forms in which it may be written; None where it is not."""
    exact = grams(weight)
    return {
        "exact": exact,
        "range": replace(exact, low=max(0, weight - 3), high=weight + 2),
        "at least": replace(exact, low=max(0, weight - 3), high=None, open=1),
        "up to": replace(exact, low=0.0, high=weight + 2),
        "unweighed": unweighed(),
        "none": None,
    }[form]


PICKED = st.tuples(st.integers(1, 300), st.integers(0, 300), WRITTEN, WRITTEN, st.integers(0, 200))


@given(st.lists(PICKED, min_size=1, max_size=5), st.booleans())
def test_figures_hold_what_was_there(rows: list[tuple[int, int, str, str, int]], tallied: bool) -> None:
    """However weights are written, the spoilt weight, its share and the sound weight contain those that there were."""
    made, picked, spoilt = [], 0, 0
    # Unlogged picks show where the logged ones were weighed exactly.
    weighed = all(written == "exact" for _, _, written, _, _ in rows)
    for n, (whole, of_it, written, part_written, unlogged) in enumerate(rows):
        part = min(of_it, whole)
        picked, spoilt = picked + whole, spoilt + part
        weight = _as_written(whole, written) or unweighed()
        made.append(pick(50 + n, P1, weight, line=n + 1, spoilt_weight=_as_written(part, part_written)))
        if tallied and weighed:
            picked, spoilt = picked + unlogged, spoilt + unlogged // 2
    tallies = [tally(90, grams(picked), ALL)] if tallied else []
    found = harvest_of(run_of(picks=made, tallies=tallies)).culls
    for figure, truth in (
        (found.weight, spoilt),
        (found.share, 100 * spoilt / picked),
        (found.sound, picked - spoilt),
    ):
        if figure.recorded:
            low, high = bounds(figure)
            assert low <= truth + 1e-9, figure
            assert high is None or truth <= high + 1e-9, figure
