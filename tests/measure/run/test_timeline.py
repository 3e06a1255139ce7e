"""Phases and visits."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from sitegen.core.facts.tree import Timeline
from sitegen.core.records.rows import Deed, Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import counted
from sitegen.measure.germination.germination import germination_of
from sitegen.measure.run.timeline import timeline_of
from sitegen.measure.stages.milestones import milestones_facts
from tests.measure.builders import event, grams, joint, milestone, pick, run_of, seeds

ALL = joint("P1", "P2", "P3", "P4")


def timeline(run: Run) -> Timeline:
    """The timeline of a run."""
    return timeline_of(run, germination_of(run), milestones_facts(run))


def spans(run: Run) -> list[tuple[str, int, int]]:
    """Phases with their days, which are certain."""
    phases = timeline(run).phases
    assert all(phase.begins.exact and phase.ends.exact for phase in phases)
    return [(phase.name, phase.begins.first, phase.ends.last) for phase in phases]


def grown(*picked: int, ended: int | None = None) -> Run:
    """A fruiting run picked on some days."""
    events = [seeds(0, 1, *ALL.ids), event(Deed.SPROUTED, 6, ALL, amount=counted(4))]
    if ended is not None:
        events.append(event(Deed.END, ended))
    stages = [milestone("first_true_leaf", 12, ALL), milestone("first_flower", 40, ALL)]
    return run_of(events=events, milestones=stages, picks=[pick(day, ALL, grams(9)) for day in picked])


def test_phases() -> None:
    """Each phase lasts until the next begins, picking until the last pick."""
    assert spans(grown(70, 78, ended=90)) == [
        ("germination", 0, 6),
        ("seedling", 6, 12),
        ("leaf growth", 12, 40),
        ("flowering", 40, 70),
        ("picking", 70, 78),
    ]


def test_later_flush() -> None:
    """After a rest of two weeks and a prune picking is a later flush; a rest alone is a pause."""
    picked, pruned = grown(70, 90, 95), event(Deed.PRUNE, 75, ALL)
    cut = replace(picked, rows=replace(picked.rows, events=(*picked.rows.events, pruned)))
    assert spans(cut)[-2:] == [("picking", 70, 90), ("later flush", 90, 95)]
    assert spans(picked)[-1:] == [("picking", 70, 95)]


def test_growing_lasts_to_the_end() -> None:
    """Without a pick the last phase lasts to the end, or to the last entry of a running log."""
    assert spans(grown(ended=60))[-1] == ("flowering", 40, 60)
    assert spans(grown())[-1] == ("flowering", 40, 40)


def test_a_stage_begins_its_phase_with_half_the_plants() -> None:
    """One early plant out of four does not begin the phase of all."""
    rows = [milestone("first_flower", 30, joint("P1")), milestone("first_flower", 36, ALL)]
    assert spans(run_of(milestones=rows)) == [("germination", 0, 36), ("flowering", 36, 36)]


def test_flower_after_picking_does_not_turn_back() -> None:
    """A stage seen after picking had begun draws no earlier phase."""
    rows = [milestone("first_flower", 77, ALL)]
    assert [name for name, *_ in spans(run_of(milestones=rows, picks=[pick(36, ALL, grams(9))]))] == [
        "germination",
        "picking",
    ]


def test_visits() -> None:
    """A visit has its date and the phase it fell in; after the last pick there is none."""
    visits = timeline(grown(70, ended=90)).visits
    assert [(v.entry.day, v.date, v.phase) for v in visits][-2:] == [
        (Day.on(70), dt.date(2025, 5, 10), "picking"),
        (Day.on(90), dt.date(2025, 5, 30), ""),
    ]
