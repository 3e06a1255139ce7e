"""The answer of a run in one sentence, as lists show it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Deed, Run
from sitegen.core.records.setup import Answer
from sitegen.measure import run_arms
from sitegen.render.pages.summary import summary_of
from tests.measure.builders import event, grams, joint, pick, run_of, seeds, setup_of
from tests.render.builders import facts, planned_run, remembered_run


def two_groups(*, ended: bool = True, second: int | None = 30) -> Run:
    """Two plants in two groups; 84 g were picked from the first, `second` g from the other."""
    setup = setup_of(2, groups=(("early", ("P1",)), ("late", ("P2",))))
    picks = [pick(55, joint("P1"), grams(84))]
    picks += [pick(60, joint("P2"), grams(second))] if second else []
    end = (event(Deed.END, 64, what="slow now", kept=True),) if ended else ()
    return run_of(setup, events=(seeds(0, 1, "P1", "P2"), *end), picks=tuple(picks))


def said(run: Run) -> str:
    """The answer in words, with plain spaces."""
    measured = facts(run)
    answer = summary_of(measured, arms=run_arms(measured)).answer
    return answer.plain(Wording()).replace("\u00a0", " ")


def answered(run: Run, result: str) -> Run:
    """The same with an answer of the author's."""
    return replace(run, setup=replace(run.setup, answer=Answer("again", "it fruited", result=result)))


def test_what_each_arm_gave() -> None:
    """Where arms are compared and each was weighed, the answer is by arm."""
    assert said(two_groups()) == "Early: 84 g (2.96 oz). Late: 30 g (1.06 oz)."


def test_an_arm_that_still_grows_says_since_when_it_is_picked() -> None:
    """Of a run that goes on, each arm has the day of its first pick."""
    told = said(two_groups(ended=False))

    assert told == (
        "Early: picked since day 55, 84 g (2.96 oz) so far. Late: picked since day 60, 30 g (1.06 oz) so far."
    )


def test_an_arm_without_a_weight_leaves_the_whole_run() -> None:
    """Nothing is said by arm where one gave nothing that was weighed."""
    assert said(two_groups(second=None)).startswith("84 g (2.96 oz) from 2 plants")


@pytest.mark.parametrize(
    ("written", "shown"),
    [("Yes, early in May", "Yes, early in May."), ("Did it? It did!", "Did it? It did!")],
)
def test_the_author_is_heard_first(written: str, shown: str) -> None:
    """The author's own answer stands alone, closed as a sentence; no number is put before or behind it."""
    assert said(answered(two_groups(), written)) == shown


def test_a_run_without_a_log() -> None:
    """A run told from memory has what came of it, one to come nothing: its question stands there."""
    assert said(remembered_run()) == "What came of it: a few small fruits."
    assert said(planned_run()) == ""
