"""Random logs that were written from one true story: no rule finds that they contradict themselves."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.records.rows import Which
from sitegen.judge.accounting.picks import tally_below_earlier, tally_below_picks
from sitegen.judge.accounting.plants import milestone_went_down, more_at_later_stage, tally_went_down
from sitegen.judge.accounting.seeds import seeds_disagree, sprouted_went_down, too_many_sprouted
from tests.judge.builders import (
    Row,
    checked,
    everyone,
    grams,
    lost,
    named,
    picked,
    run,
    seen,
    some_of,
    sown,
    tallied,
    up,
)

PLANTS = ("P1", "P2", "P3", "P4")
STAGES = ("flower_bud", "first_flower", "first_fruit", "ripe")  # in the order of growth
RULES = (
    more_at_later_stage,
    milestone_went_down,
    tally_below_earlier,
    tally_below_picks,
    tally_went_down,
    too_many_sprouted,
    seeds_disagree,
    sprouted_went_down,
)
DAYS = st.integers(10, 80)


def among(which: tuple[str, ...], form: str) -> Which | None:
    """Plants named, counted, or not said how many; None where a form cannot say that there are none."""
    if form == "some":
        return Which(word="some") if which else None
    if form == "count":
        return some_of(len(which), len(PLANTS))
    return (everyone() if which == PLANTS else named(*which)) if which else None


@st.composite
def stories(draw: Any) -> list[Row]:
    """Stages reached in their order, looks that see some, picks with exact tallies, seedlings of what was sown."""
    rows: list[Row] = [sown(0, 3)]
    reached = {plant: sorted(draw(st.lists(DAYS, min_size=4, max_size=4))) for plant in PLANTS}
    dead = draw(st.none() | st.tuples(st.sampled_from(PLANTS), DAYS))
    for look in sorted(set(draw(st.lists(DAYS, max_size=6)))):
        for n, stage in enumerate(STAGES):
            there = tuple(plant for plant in PLANTS if reached[plant][n] <= look)
            which = among(there, draw(st.sampled_from(("names", "count", "some", ""))) or "some")
            if which is not None and which.count == 0:
                rows.append(seen(stage, look, everyone(), reached=False))
            elif which is not None:
                rows.append(seen(stage, look, which))
    if dead is not None:
        rows.append(lost(dead[1], named(dead[0])))
    return [*rows, *_picks(draw), *_seedlings(draw)]


def _picks(draw: Any) -> list[Row]:
    """Picks on days of their own, some of them logged, and running totals of all of them."""
    rows: list[Row] = []
    whole = 0
    for when in sorted(set(draw(st.lists(st.integers(81, 120), max_size=8)))):
        if draw(st.booleans()):
            whole += (weight := draw(st.integers(1, 90)))
            if draw(st.booleans()):
                rows.append(picked(when, weight, named(draw(st.sampled_from(PLANTS))), line=600 + when))
        elif whole:
            rows.append(tallied(when, grams(whole)))
    return rows


def _seedlings(draw: Any) -> list[Row]:
    """Seedlings counted from the start, of three seeds a spot and of those sown again on day 5."""
    before = draw(st.integers(1, 12))
    rows: list[Row] = [up(3, before, draw(st.sampled_from((None, 12))))]
    if draw(st.booleans()):
        again = draw(st.integers(1, 3))
        rows += [sown(5, again, named("P1")), up(9, draw(st.integers(before, 12 + again)))]
    return rows


@given(stories())
def test_a_true_story_contradicts_itself_nowhere(rows: list[Row]) -> None:
    """Whatever part of it was written, and in which form, no rule of accounting has a finding."""
    made = run(*rows)
    assert [finding for rule in RULES for finding in checked(rule, made)] == []


@given(stories(), st.integers(1, 4), DAYS)
def test_a_later_stage_with_more_plants_is_found_in_any_story(rows: list[Row], extra: int, when: int) -> None:
    """A count of fruits above the count of flowers of the same look is a finding, whatever else is in the log."""
    quiet = [row for row in rows if not (hasattr(row, "name") or getattr(row, "deed", "") == "lost")]
    looks = [seen("first_fruit", when, some_of(extra)), seen("first_flower", when, some_of(extra - 1))]
    found = checked(more_at_later_stage, run(*(r for r in quiet if getattr(r, "deed", "") != "sow"), *looks))
    assert [finding.code for finding in found] == ["more-at-later-stage"]
