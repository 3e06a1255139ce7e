"""Sentences that the pages say of their own accord."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.language.wording import NBSP, Wording, mid_sentence
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Run, Which
from sitegen.core.records.setup import Answer
from sitegen.core.values.day import Day
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
    (full_run(), "At least 196 g (6.9 oz) of fruit from 4 plants; one pick was not weighed."),
    (started_run(), "Nothing had been picked by the last visit, on day 0."),
    (dug_up(), "The run ended after 20 days with nothing picked."),
    (eaten(), "Picked from 1 plant, but never weighed."),
]


@pytest.mark.parametrize(("run", "said"), RESULTS, ids=["open total", "running", "nothing", "not weighed"])
def test_result(run: Run, said: str) -> None:
    """The result is one sentence that is true alone, also where nothing was weighed or picked."""
    assert spaced(summary_of(facts(run)).result.plain(SAY)) == said


def test_germination() -> None:
    """Seeds that came up are said with their interval."""
    said = germination_sentence(facts()).plain(SAY)

    assert spaced(said) == "Seeds that came up: 7 of 8."


def test_germination_not_counted() -> None:
    """Where nobody counted, that is said."""
    said = germination_sentence(facts(started_run())).plain(SAY)

    assert said == "Nobody recorded how many seeds came up: seedlings were not counted."


def test_milestones() -> None:
    """A stage between two visits is not dated to one of them, and who had not got there is said."""
    said = [spaced(sentence.plain(SAY)) for sentence in milestone_sentences(facts())]

    assert said == [
        "Half the plants had flowered somewhere in days 39–41; one was lost before it could, on day 50."
    ]


def test_a_stage_that_was_looked_for_in_vain() -> None:
    """A stage that no plant reached is said, where someone looked."""
    run = run_of(
        setup_of(2),
        milestones=(milestone("ripe", 30, Which((), 0, word="none"), reached=False),),
    )

    assert [spaced(s.plain(SAY)) for s in milestone_sentences(facts(run))] == [
        "No plant had ripe fruit when last checked, on day 30."
    ]


def said_of(*rows: MilestoneRow, events: tuple[Event, ...] = ()) -> list[str]:
    """The sentences of a run with five plants."""
    sown = seeds(0, 1, "P1", "P2", "P3", "P4", "P5")
    run = run_of(setup_of(5), milestones=rows, events=(sown, *events))
    return [spaced(sentence.plain(SAY)) for sentence in milestone_sentences(facts(run))]


def test_a_first_plant_got_there_by_a_day_or_before_one() -> None:
    """Some plants at a look, or at some time before a day, leave the sentence of the first one, who got there by then."""
    some = Which(word="some")
    assert said_of(milestone("first_flower", 40, some)) == ["By day 40, the first plant had flowered."]
    before = milestone("first_flower", Day(0, 59, before=True), some)
    assert said_of(before) == ["The first plant had flowered before day 60."]


def test_reached_not_yet_and_lost_are_three_numbers() -> None:
    """A plant that was lost had not failed to get there, and the last look is the last one for the stage."""
    rows = (
        milestone("first_flower", 22, Which((), 0, word="none"), reached=False),
        milestone("first_flower", 23, joint("P1", "P2", "P3")),
        milestone("first_flower", 66, Which((), 3, 4)),
        milestone("ripe", 80, Which((), 0, word="none"), reached=False),
    )
    lost = event(Deed.LOST, 12, joint("P5"))
    assert said_of(*rows, events=(lost,)) == [
        (
            "Half the plants had flowered by day 23; one had not when last checked (day 66), "
            "and one was lost before it could, on day 12."
        ),
        "No plant had ripe fruit when last checked, on day 80.",
    ]


def test_a_loss_is_said_once() -> None:
    """A plant lost before a stage is said at the first stage that it missed; a later one counts those lost since."""
    rows = (
        milestone("first_flower", 23, joint("P1", "P2", "P3", "P4")),
        milestone("ripe", 66, joint("P1", "P2", "P3")),
        milestone("full_rosette", 80, joint("P1", "P2", "P3")),
    )
    losses = (event(Deed.LOST, 12, joint("P5")), event(Deed.LOST, 40, joint("P4")))
    said = said_of(*rows, events=losses)
    assert sorted(said) == [
        "Half the plants had a full rosette by day 80.",
        "Half the plants had flowered by day 23; one was lost before it could, on day 12.",
        "Half the plants had ripe fruit by day 66; one more was lost before it could, on day 40.",
    ]


def test_one_look_says_by_when() -> None:
    """Plants found at the first look got there at some time by its end; a plant that no look was at is unknown."""
    rows = (milestone("ripe", 40, joint("P1", "P2", "P3")), milestone("ripe", 40, joint("P4"), reached=False))
    assert said_of(*rows) == [
        (
            "Half the plants had ripe fruit by day 40; one had not when last checked (day 40), and one was not "
            "checked for it."
        )
    ]


def test_counts_say_who_was_left() -> None:
    """Of counts, those not there at the last one stand apart from those that it no longer counted."""
    rows = (milestone("ripe", 30, Which((), 1, 5)), milestone("ripe", 37, Which((), 3, 4)))
    assert said_of(*rows) == [
        (
            "Half the plants had ripe fruit somewhere in days 31–37; one had not when last checked (day 37), "
            "and one was no longer counted."
        )
    ]


def test_state_is_true_whenever_it_is_read() -> None:
    """A running run says its last entry, an ended one its length."""
    running = run_of(setup_of(1), picks=(pick(43, joint("P1"), grams(5)),))

    said = [spaced(summary_of(facts(run)).state(SAY)) for run in (running, full_run(), started_run())]

    assert said == ["Day 43, 13 April 2025, last visit", "64 days", "Day 0, last visit"]


def test_run_length() -> None:
    """Dates where they are known, days alone where they are not."""
    ended = full_run()

    said = [spaced(summary_of(facts(run)).dates(SAY)) for run in (ended, started_run())]

    assert said == ["1 March to 4 May 2025", "dates not recorded"]


def test_the_result_of_the_author_leads() -> None:
    """The author's own answer stands before what was picked: after a colon before a figure, else as a sentence."""
    told = Answer(result="Pairs gave more leaf a cup.")
    full, started = full_run(), started_run()
    said = [
        spaced(summary_of(facts(replace(run, setup=replace(run.setup, answer=told)))).result.plain(SAY))
        for run in (full, started)
    ]
    computed = [spaced(summary_of(facts(run)).result.plain(SAY)) for run in (full, started)]
    assert said[0] == f"Pairs gave more leaf a cup: {mid_sentence(computed[0])}"
    assert said[1] == f"Pairs gave more leaf a cup. {computed[1]}"
