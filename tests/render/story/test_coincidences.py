"""Deeds that stand beside a stage first seen soon after them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Deed, Run, Which
from sitegen.core.values.day import Day
from sitegen.render.story.coincidences import MOST, NEAR_DAYS, coincidences
from tests.measure.builders import event, joint, milestone, of, run_of, setup_of, some
from tests.render.builders import facts

SAY = Wording()
FOUR = ("P1", "P2", "P3", "P4")
NAMED = st.sets(st.sampled_from(FOUR), min_size=1).map(lambda ids: joint(*sorted(ids)))
WHICH = NAMED | st.sampled_from([some(), of(1, 4), of(3, 4)])
HALVES = (("tied", ("P1", "P2")), ("free", ("P3", "P4")))
DAYS = st.integers(1, 40)
SPANS = st.builds(
    lambda first, more, about, before: (
        Day(0, first, before=True) if before else Day(first, first + more, about)
    ),
    DAYS,
    st.sampled_from((0, 0, 4)),
    st.booleans(),
    st.sampled_from((False, False, True)),
)


def said(run: Run) -> list[str]:
    """The sentences of a run, with plain spaces."""
    return [text.replace(NBSP, " ") for text in coincidences(facts(run), SAY)]


def run_with(which: Which | None, seen: Which, *, done: Day, found: Day, **more: str) -> Run:
    """A run in which some plants were tied up, and a stage was seen."""
    deed = event(Deed.TRAIN, 1, which, **more)._replace(day=done)
    row = replace(milestone("first_flower", 1, seen), day=found)
    return run_of(setup_of(4), events=(deed,), milestones=(row,))


TEST = (
    "One run cannot say. A fair test: in each tub, {do} half of the plants, drawn by lot, and leave the rest."
)


def test_coincidence_claims_no_cause() -> None:
    """Something done shortly before a stage becomes a question, with what a fair test of it would need."""
    assert said(run_with(joint("P1", "P2"), joint("P1"), done=Day.on(36), found=Day.on(41))) == [
        f"Did training on day 36 bring the first flower on day 41? {TEST.format(do='train')}"
    ]


def test_only_plants_of_the_deed() -> None:
    """Where a plant that nobody touched has the stage on the same day, nothing is set beside it."""
    assert coincidences(facts(), SAY) == ()  # P1 and P2 pruned; P1, P2 and P3 in flower


APART = [
    (joint("P2", "P4"), joint("P1", "P3")),  # tied to canes; the fruit is on the others
    (joint("P3"), joint("P3", "P4")),  # moved; a plant that stayed flowers on the same day
    (joint("P3"), of(2, 4)),
    (of(1, 4), joint("P3", "P4")),
]


@pytest.mark.parametrize(("which", "seen"), APART)
def test_other_plants(which: Which, seen: Which) -> None:
    """A deed is not set beside a stage that was first seen on plants that it cannot have touched."""
    assert said(run_with(which, seen, done=Day.on(30), found=Day.on(34))) == []


def test_a_tub_touches_its_plants() -> None:
    """A deed of a tub is set beside a stage of the plants in that tub alone."""
    setup = setup_of(4)
    plants = (
        *(replace(p, tub="left") for p in setup.plants[:2]),
        *(replace(p, tub="right") for p in setup.plants[2:]),
    )
    tubs = tuple(replace(setup.tubs[0], id=name) for name in ("left", "right"))
    treated = event(Deed.TREAT, 30, tub="left")

    def seen_on(*ids: str, also: str = "left") -> list[str]:
        rows = (milestone("first_flower", 34, joint(*ids)),)
        deeds = (treated, event(Deed.TREAT, 60, tub=also))
        return said(run_of(replace(setup, plants=plants, tubs=tubs), events=deeds, milestones=rows))

    assert seen_on("P3", "P4", also="right") == []
    assert seen_on("P1", "P3", also="right") == []
    assert seen_on("P1", also="right") == [
        f"Did a treatment on day 30 bring the first flower on day 34? {TEST.format(do='treat')}"
    ]
    assert seen_on("P1", "P3") == [
        (
            "Did a treatment on day 30 bring the first flower on day 34? This run was split to test that. Left "
            "tub, with it: 1 of 2, up to 34 days after sowing. Right tub, without it: 1 of 2, up to 34 days "
            "after sowing. They were also in different tubs, so either may be the reason."
        )
    ]


def test_a_vague_day() -> None:
    """Days that are spans are asked about as they are."""
    assert said(run_with(joint("P1"), joint("P1"), done=Day(28, 30), found=Day.on(34))) == [
        f"Did training on days 28–30 bring the first flower on day 34? {TEST.format(do='train')}"
    ]


def test_before_a_day_is_near_nothing() -> None:
    """A deed from before some day is set beside nothing."""
    assert said(run_with(joint("P1"), joint("P1"), done=Day(0, 4, before=True), found=Day.on(6))) == []


def _possible(which: Which) -> tuple[frozenset[str], int, int]:
    """The plants that a record may mean, and the fewest and most of them."""
    if which.named:
        return frozenset(which.ids), len(which.ids), len(which.ids)
    return frozenset(FOUR), which.count or 1, which.count or len(FOUR)


@settings(max_examples=300)
@given(which=WHICH | st.none(), seen=WHICH, done=SPANS, found=SPANS)
def test_any_log(which: Which | None, seen: Which, done: Day, found: Day) -> None:
    """A question stands where the deed may have touched all plants of the stage, from 1 to 14 days before it."""
    touched, _, most = _possible(which or joint(*FOUR))
    there, least, _ = _possible(seen)
    reaches = (there <= touched if seen.named else least <= len(touched)) and least <= most
    gaps = {
        late - early
        for early in range(done.first, done.last + 1)
        for late in range(found.first, found.last + 1)
    }
    near = all(1 <= gap <= NEAR_DAYS for gap in gaps) and not done.before and not found.before

    sentences = said(run_with(which, seen, done=done, found=found))

    assert len(sentences) == (reaches and near)
    assert all(each.endswith(TEST.format(do="train")) and "bring" in each for each in sentences)


# several


def trained_before(*stages: tuple[int, str, int]) -> list[str]:
    """What is asked of a run whose plants were all trained, each time before a stage."""
    deeds = [event(Deed.TRAIN, day, joint(*FOUR)) for day, _, _ in stages]
    rows = [milestone(name, day, joint(*FOUR)) for _, name, day in stages]
    return said(run_of(setup_of(4), events=tuple(deeds), milestones=tuple(rows)))


def test_questions_of_one_deed_share_a_test() -> None:
    """The questions of one kind of deed stand together, in the order of days, before their test."""
    assert trained_before((50, "first_fruit", 60), (10, "flower_bud", 20)) == [
        (
            "Did training on day 10 bring the first bud on day 20? "
            f"Did training on day 50 bring the first fruit on day 60? {TEST.format(do='train')}"
        )
    ]


@pytest.mark.parametrize(
    ("deed", "test"),
    [
        (Deed.PRUNE, "prune"),
        (Deed.TREAT, "treat"),
        (Deed.TRAIN, "train"),
        (Deed.MOVE, "move"),
    ],
)
def test_each_deed_has_its_test(deed: Deed, test: str) -> None:
    """Every kind of deed that is asked about has a test in its own words."""
    which = joint("P1")
    done = event(deed, 30, which, **({"tub": "tub"} if deed is Deed.MOVE else {}))
    run = run_of(setup_of(4), events=(done,), milestones=(milestone("ripe", 36, which),))
    (sentence,) = said(run)
    assert sentence.endswith(TEST.format(do=test))


def test_the_nearest_few() -> None:
    """At most five questions are asked: those with the fewest days between."""
    names = (
        "seed_leaves",
        "first_true_leaf",
        "flower_bud",
        "first_flower",
        "first_fruit",
        "first_colour",
        "ripe",
    )
    gaps = (1, 14, 2, 13, 3, 4, 5)
    (sentence,) = trained_before(
        *((20 * n, name, 20 * n + gap) for n, (name, gap) in enumerate(zip(names, gaps, strict=True), 1))
    )
    assert sentence.count("?") == MOST == 5
    assert "first true leaf" not in sentence
    assert "first flower" not in sentence


# a run that was split for it


def split_run(
    *deeds: Which | None, groups: tuple[tuple[str, tuple[str, ...]], ...] = HALVES, **head: Any
) -> list[str]:
    """Plants that were trained on day 30; the first two flower on days 36 and 38, the third on day 43."""
    rows = (
        milestone("first_flower", 33, Which((), 0, word="none"), reached=False),
        milestone("first_flower", 36, joint("P1")),
        milestone("first_flower", 37, joint("P1")),
        milestone("first_flower", 38, joint("P1", "P2")),
        milestone("first_flower", 42, joint("P1", "P2")),
        milestone("first_flower", 43, joint("P1", "P2", "P3")),
        milestone("first_flower", 50, joint("P4"), reached=False),
    )
    events = tuple(event(Deed.TRAIN, 30, which, line=1000 + n) for n, which in enumerate(deeds))
    return said(run_of(setup_of(4, groups=groups, **head), events=events, milestones=rows))


QUESTION = "Did training on day 30 bring the first flower on day 36?"
SIDES = "Tied, with it: both, 34–38 days after sowing. Free, without it: 1 of 2, 43 days after sowing."


def test_split_by_group() -> None:
    """Where all plants of one group were touched and no others, the days of both stand there, with the caveat."""
    assert split_run(joint("P1", "P2")) == [
        (
            f"{QUESTION} This run was split to test that. {SIDES} "
            "Plants in one tub share water, light and luck: it takes other runs to tell."
        )
    ]


def test_split_whose_other_side_came_first() -> None:
    """A split run is asked about though the plants without the deed were the first."""
    assert split_run(joint("P3", "P4")) == [
        (
            f"{QUESTION} This run was split to test that. "
            "Free, with it: 1 of 2, 43 days after sowing. Tied, without it: both, 34–38 days after sowing. "
            "Plants in one tub share water, light and luck: it takes other runs to tell."
        )
    ]


def test_three_groups() -> None:
    """Each group that was left alone has its own days; nobody in one of them had flowered by the last look."""
    groups = (("tied", ("P1", "P2")), ("free", ("P3",)), ("spare", ("P4",)))
    (sentence,) = split_run(joint("P1", "P2"), groups=groups)
    assert (
        "Free, without it: 1 of 1, 43 days after sowing. Spare, without it: none of 1 when last checked."
    ) in sentence


def test_split_with_tubs_or_varieties() -> None:
    """Where tubs or varieties divide the plants as the deed does, either may be the cause."""
    (tubs,) = split_run(joint("P1", "P2"), tubs=("left", "right"))
    assert tubs.endswith("They were also in different tubs, so either may be the reason.")
    (varieties,) = split_run(joint("P1", "P2"), tubs=("left", "right"), varieties=("amber", "rust"))
    assert varieties.endswith("They were also of different varieties, so either may be the reason.")


@pytest.mark.parametrize(
    "deeds",
    [
        pytest.param((joint("P1"),), id="one plant of the group"),
        pytest.param((joint("P1", "P2"), joint("P3")), id="one of the others too"),
        pytest.param((joint("P1", "P2"), some()), id="nobody knows which"),
        pytest.param((joint(*FOUR),), id="all"),
    ],
)
def test_no_split(deeds: tuple[Which, ...]) -> None:
    """Where a deed did not touch just the plants of one group, there is no answer."""
    assert all("split" not in sentence for sentence in split_run(*deeds))
    assert split_run(*deeds)


def test_a_lost_plant_needs_no_deed() -> None:
    """A plant of the group that was lost before the deed is not missed."""
    lost, tied = event(Deed.LOST, 20, joint("P2")), event(Deed.TRAIN, 30, joint("P1"))
    rows = (milestone("first_flower", 36, joint("P1")),)
    (sentence,) = said(run_of(setup_of(4, groups=HALVES), events=(lost, tied), milestones=rows))
    assert "This run was split to test that. Tied, with it: 1 of 2, up to 36 days after sowing." in sentence


def test_split_without_days_of_plants() -> None:
    """Where the stage was counted and no plant named, the days of either side are not known."""
    tied = event(Deed.TRAIN, 30, joint("P1", "P2"))
    run = run_of(
        setup_of(4, groups=HALVES), events=(tied,), milestones=(milestone("first_flower", 36, of(2, 4)),)
    )
    assert said(run) == [
        (
            f"{QUESTION} This run was split to test that. When each plant got there was not recorded. "
            "Plants in one tub share water, light and luck: it takes other runs to tell."
        )
    ]
