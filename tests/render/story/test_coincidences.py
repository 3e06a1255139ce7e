"""Deeds that stand beside a stage first seen soon after them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Deed, Run, Which
from sitegen.core.values.day import Day
from sitegen.render.story.coincidences import NEAR_DAYS, coincidences
from tests.measure.builders import event, joint, milestone, of, run_of, setup_of, some
from tests.render.builders import facts

SAY = Wording()
FOUR = ("P1", "P2", "P3", "P4")
NAMED = st.sets(st.sampled_from(FOUR), min_size=1).map(lambda ids: joint(*sorted(ids)))
WHICH = NAMED | st.sampled_from([some(), of(1, 4), of(3, 4)])
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


def test_coincidence_claims_no_cause() -> None:
    """Something done shortly before a stage stands beside it, with the remark that this shows no cause."""
    assert said(run_with(joint("P1", "P2"), joint("P1"), done=Day.on(36), found=Day.on(41))) == [
        (
            "Day 36 brought training, 5 days before this was first seen: first flower. "
            "One run cannot tell chance from cause."
        )
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

    def seen_on(*ids: str) -> list[str]:
        rows = (milestone("first_flower", 34, joint(*ids)),)
        return said(run_of(replace(setup, plants=plants, tubs=tubs), events=(treated,), milestones=rows))

    assert seen_on("P3", "P4") == []
    assert seen_on("P1", "P3") == []
    assert seen_on("P1") == [
        (
            "Day 30 brought a treatment, 4 days before this was first seen: first flower. "
            "One run cannot tell chance from cause."
        )
    ]


def test_a_vague_day_gives_no_number() -> None:
    """Where the day of the deed is a span, the days before the stage are not numbered."""
    assert said(run_with(joint("P1"), joint("P1"), done=Day(28, 30), found=Day.on(34))) == [
        (
            "Days 28–30 brought training, shortly before this was first seen: first flower. "
            "One run cannot tell chance from cause."
        )
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
    """A sentence stands where the deed may have touched all plants of the stage; its number is one that is known."""
    touched, _, most = _possible(which or joint(*FOUR))
    there, least, _ = _possible(seen)
    reaches = (there <= touched if seen.named else least <= len(touched)) and least <= most
    gaps = {
        late - early
        for early in range(done.first, done.last + 1)
        for late in range(found.first, found.last + 1)
    }
    near = all(1 <= gap <= NEAR_DAYS for gap in gaps) and not done.before and not found.before
    known = len(gaps) == 1 and not done.about and not found.about

    sentences = said(run_with(which, seen, done=done, found=found))

    assert len(sentences) == (reaches and near)
    for sentence in sentences:
        (gap, *_) = gaps
        number = f"{gap} day before" if gap == 1 else f"{gap} days before"
        assert (f", {number} this" in sentence) == known
        assert (", shortly before this" in sentence) != known
