"""The figures that a run is judged by."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Deed, Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import counted
from sitegen.render.story.key_figures import KeyFigure, key_figures
from tests.measure.builders import event, grams, joint, milestone, pick, run_of, setup_of, unweighed
from tests.render.builders import facts, full_run, started_run

WORDING = Wording()


def shown(run: Run, *, compared: bool = False) -> tuple[KeyFigure, ...]:
    """The figures of a run."""
    return key_figures(facts(run), WORDING, compared=compared)


def labels(run: Run, *, compared: bool = False) -> list[str]:
    """Their labels, in order."""
    return [each.label for each in shown(run, compared=compared)]


def test_the_stage_that_matters_leads() -> None:
    """Of a fruiting crop the first flower stands first, then the first pick; none is empty, and six are the most."""
    found = shown(full_run())

    assert [each.label for each in found][:2] == ["First flower", "First pick"]
    assert 4 <= len(found) <= 6
    assert all(each.words if each.figure is None else each.figure.recorded for each in found)


def test_a_run_that_has_just_begun_has_no_empty_figure() -> None:
    """What was not recorded has no tile."""
    assert labels(started_run()) == []


def test_where_arms_are_compared_their_table_has_the_rest() -> None:
    """What the table of arms has is not said of the run as a whole."""
    assert {"First flower", "First pick", "Harvest per spot"} & set(
        labels(full_run(), compared=True)
    ) == set()
    assert labels(full_run(), compared=True)


def test_what_limits_the_harvest_is_said_once() -> None:
    """The answer says that a pick was not weighed; the harvest of a spot does not say it again."""
    picks = [pick(30, joint("P1"), grams(20), 1), pick(40, joint("P2"), unweighed(), 2)]
    found = shown(run_of(setup_of(), picks=picks))
    (spot,) = (each for each in found if each.label == "Harvest per spot")

    assert spot.figure is not None
    assert WORDING.say(spot.figure).replace(NBSP, " ").startswith("at least 5 g")
    assert "not weighed" not in spot.note


def test_a_day_has_its_date_where_it_is_known() -> None:
    """A single day of a dated run has its date beside it; a span has none."""
    run = full_run()
    pick_of = {each.label: each.note for each in shown(run)}
    between = replace(pick(50, joint("P1"), grams(5), 9), day=Day(50, 54))
    spanned = replace(run, rows=replace(run.rows, picks=(between,)))

    assert pick_of["First pick"].endswith("2025.")
    assert {each.label: each.note for each in shown(spanned)}["First pick"] == ""


def test_taste_is_in_the_words_of_the_author() -> None:
    """The last note of taste stands as written, with its day; one too long for a tile stands in the record alone."""
    short, long = event(Deed.TASTE, 40, what="sharp"), event(Deed.TASTE, 50, what="much to say " * 10)
    found = shown(
        run_of(setup_of(), events=[short, long], milestones=[milestone("first_flower", 25, joint("P1"))])
    )

    tastes = [(each.words, each.note.replace(NBSP, " ")) for each in found if each.label == "Taste"]

    assert tastes == [("Sharp", "Day 40.")]


def test_a_taste_with_marks_is_shown_before_one_without() -> None:
    """The last note with marks, and how many; words alone only where no note has any."""
    marked = event(Deed.TASTE, 40, what="sweet", amount=counted(4), out_of=5)
    found = shown(
        run_of(
            setup_of(),
            events=[marked, event(Deed.TASTE, 50, what="woolly")],
            milestones=[milestone("first_flower", 25, joint("P1"))],
        )
    )
    tastes = [(each.words, each.note.replace(NBSP, " ")) for each in found if each.label == "Taste"]
    assert tastes == [("Sweet", "4 out of 5, day 40.")]
