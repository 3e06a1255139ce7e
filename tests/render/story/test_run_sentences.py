"""Sentences that the pages say of their own accord."""

from __future__ import annotations

import pytest

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Deed, Run, Which
from sitegen.render.pages.summary import summary_of
from sitegen.render.story.run_sentences import (
    germination_sentence,
    milestone_sentences,
)
from tests.measure.builders import event, grams, joint, milestone, pick, run_of, seeds, setup_of, unweighed
from tests.render.builders import facts, full_run, started_run

SAY = Wording()


def spaced(text: str) -> str:
    """A text with plain spaces."""
    return text.replace(NBSP, " ")


def dug_up() -> Run:
    """A run that ended without a pick."""
    return run_of(
        setup_of(2), events=(seeds(0, 1, "P1", "P2"), event(Deed.END, 20, what="frost", kept=False))
    )


def eaten() -> Run:
    """A run whose one pick nobody weighed."""
    return run_of(setup_of(1), events=(seeds(0, 1, "P1"),), picks=(pick(30, joint("P1"), unweighed()),))


RESULTS = [
    (full_run(), "At least 196 g (6.9 oz) of fruit from 4 plants started; one pick was not weighed."),
    (started_run(), "Nothing had been picked by the last entry, on day 0."),
    (dug_up(), "Nothing was picked from this run, which ended after 20 days."),
    (eaten(), "Something was picked from 1 plant started, and nobody weighed it."),
]


@pytest.mark.parametrize(("run", "said"), RESULTS, ids=["open total", "running", "nothing", "not weighed"])
def test_result(run: Run, said: str) -> None:
    """The result is one sentence that is true alone, also where nothing was weighed or picked."""
    assert spaced(summary_of(facts(run)).result.plain(SAY)) == said


def test_germination() -> None:
    """Seeds that came up are said with their interval."""
    said = germination_sentence(facts()).plain(SAY)

    assert spaced(said) == "Of the seeds, 7 of 8 (95 % interval 53–98 %) came up."


def test_germination_not_counted() -> None:
    """Where nobody counted, that is said."""
    said = germination_sentence(facts(started_run())).plain(SAY)

    assert said == "How many seeds came up is not recorded: seedlings were not counted."


def test_milestones() -> None:
    """A stage between two visits is not dated to one of them, and who had not got there is said."""
    said = [spaced(sentence.plain(SAY)) for sentence in milestone_sentences(facts())]

    assert said == [
        "Half the plants had flowered at some time in days 38–41; one of four had not when it was last looked at."
    ]


def test_a_stage_that_was_looked_for_in_vain() -> None:
    """A stage that no plant reached is said, where someone looked."""
    run = run_of(
        setup_of(2),
        milestones=(milestone("ripe", 30, Which((), 0, word="none"), reached=False),),
    )

    assert [s.plain(SAY) for s in milestone_sentences(facts(run))] == [
        "No plant had ripe fruit by the last look."
    ]


def test_state_is_true_whenever_it_is_read() -> None:
    """A running run says its last entry, an ended one its length."""
    running = run_of(setup_of(1), picks=(pick(43, joint("P1"), grams(5)),))

    said = [spaced(summary_of(facts(run)).state(SAY)) for run in (running, full_run(), started_run())]

    assert said == ["Day 43, 13 April, last entry", "64 days", "Day 0, last entry"]


def test_run_length() -> None:
    """Dates where they are known, days alone where they are not."""
    ended = full_run()

    said = [spaced(summary_of(facts(run)).dates(SAY)) for run in (ended, started_run())]

    assert said == ["1 March to 4 May 2025", "days 0–0; the dates were not recorded"]
