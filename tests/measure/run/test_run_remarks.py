"""What is said with the length of a run, and what phases, tasks and moves are called."""

from __future__ import annotations

from sitegen.core.facts.figure import Label, remark
from sitegen.core.facts.tree import Move
from sitegen.core.records.rows import Deed
from sitegen.core.values.day import Day
from sitegen.measure import measure
from tests.measure.builders import event, grams, joint, pick, run_of, setup_of, unweighed

ALL = joint("P1", "P2", "P3", "P4")


def test_length() -> None:
    """A running run is as long as its log, and says so; one that ended needs no remark."""
    assert measure(run_of(events=[event(Deed.END, 9)])).length.remarks == ()
    running = measure(run_of(events=[event(Deed.NOTE, 9)]))
    assert (running.length.remarks, running.last_entry.remarks) == ((remark("to_last_entry"),), ())
    assert measure(run_of()).length.remarks == (remark("no_entry"),)


def test_phases_and_tasks() -> None:
    """Phases and tasks are labels of their kinds; visits need no remark."""
    work = measure(run_of(events=[event(Deed.PRUNE, 9, ALL)], picks=[pick(20, ALL, grams(9))])).work
    assert [n.label for n in work.visits_by_phase] == [
        Label("germination", "phase"),
        Label("picking", "phase"),
    ]
    assert [n.label for n in work.tasks] == [Label("prune", "work"), Label("harvest", "work")]
    assert [n.figure.remarks for n in (*work.visits_by_phase, *work.tasks)] == [()] * 4


def test_plants() -> None:
    """The first move of a plant with its tub and day; what is said of the harvest, where it has none of its own."""
    moves = [event(Deed.MOVE, 40, joint("P2"), tub="right"), event(Deed.MOVE, 50, joint("P2"), tub="left")]
    plants = measure(run_of(setup_of(tubs=("left", "right")), events=moves)).plants
    assert [plant.moved for plant in plants] == [None, Move("right", Day.on(40)), None, None]
    assert plants[0].harvest.remarks == (remark("no_harvest"),)
    picked = measure(run_of(picks=[pick(80, joint("P1"), unweighed())])).plants
    waiting = (remark("nothing_picked_yet"),)
    assert [plant.harvest.remarks for plant in picked] == [
        (remark("picks_not_weighed", n=1),),
        waiting,
        waiting,
        waiting,
    ]
