"""How far the plants of a set came: a group, a variety or a tub at each stage.

In: the stages of a run, the plants of a set, and the days on which some of them left it. Out: one `SetStageFacts` for
each stage at which plants were told apart. A plant that left the set counts with what was seen before.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from sitegen.core.facts.figure import NO_FIGURE, Figure, Remark, counted_remark, remark
from sitegen.core.facts.indices import SetStageFacts
from sitegen.core.facts.tree import Arrival, MilestoneFacts, StageState
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import figure, formula
from sitegen.measure.ranges import reading_range, share_of, wilson_interval
from sitegen.measure.stages.looks import arrivals_of, in_order, intervals_of_arrivals
from sitegen.measure.stages.milestones import median_of_arrivals
from sitegen.measure.stages.turnbull import days_of_each

STATES: Mapping[str, StageState] = {
    "reached": "reached",
    "not_yet": "not yet",
    "picked": "picked",
    "lost": "lost",
    "unknown": "unknown",
}


@formula(
    reads=("milestones.plants",),
    exact_if={"a count says how many": ("milestones.plants",)},
)
def plants_in_state(states: Iterable[str], state: str) -> Quantity:
    """Plants by how far they came.

    Of the plants of a group, a variety or a tub: those seen at a stage, those without it when last checked, those
    picked or lost before, those that nobody checked.

    Parameters
    ----------
    states
        One for each plant.
    state
        The one that is counted.

    Returns
    -------
    Quantity
        How many [count].

    Notes
    -----
    Each plant is in one of them::

        plants = reached + not yet + picked before + lost before + not checked

    """
    return counted(sum(each == state for each in states))


def stages_of_set(
    run: Run,
    name: str,
    plants: Sequence[str],
    left: Mapping[str, Day],
    stages: Sequence[MilestoneFacts],
    *said: Remark | None,
) -> tuple[SetStageFacts, ...]:
    """Every stage of a set at which plants were told apart; `said` is true of all figures of the set."""
    return tuple(_stages(run, name, plants, left, stages, said))


def _stages(
    run: Run,
    name: str,
    plants: Sequence[str],
    left: Mapping[str, Day],
    stages: Sequence[MilestoneFacts],
    said: Sequence[Remark | None],
) -> Iterator[SetStageFacts]:
    moved = {plant: day for plant, day in left.items() if plant in plants}
    for stage in stages:
        if not stage.arrivals:
            continue
        rows = in_order([row for row in run.rows.milestones if row.name == stage.name])
        known = arrivals_of(run, rows, moved) if moved else stage.arrivals
        own = [arrival for arrival in known if arrival.plant in plants]
        yield _stage(run, f"{name}.stages.{stage.name}", stage, own, [row.source for row in rows], said)


def _stage(
    run: Run,
    path: str,
    stage: MilestoneFacts,
    arrivals: Sequence[Arrival],
    rows: Sequence[Source],
    said: Sequence[Remark | None],
) -> SetStageFacts:
    states = [arrival.state for arrival in arrivals]
    counts = {
        field: figure(f"{path}.{field}", plants_in_state(states, state), plants_in_state, rows, *whole)
        for field, state in STATES.items()
        for whole in [(remark("of_plants", n=len(arrivals)), *said)]
    }
    median = median_of_arrivals(run, path, arrivals, rows, *said)
    return SetStageFacts(
        stage.name,
        stage.label,
        **counts,
        median=median["median"],
        values=median["values"],
        range=_range(f"{path}.range", run, arrivals, rows, said),
        share=_share(f"{path}.share", states, rows, said),
    )


def _share(name: str, states: Sequence[str], rows: Sequence[Source], said: Sequence[Remark | None]) -> Figure:
    """The plants that reached the stage, of those that anybody looked at for it."""
    seen = [state for state in states if state != "unknown"]
    unseen = counted_remark("plants_not_looked_at", len(states) - len(seen))
    return figure(name, share_of(seen.count("reached"), len(seen)), wilson_interval, rows, unseen, *said)


def _range(
    name: str, run: Run, arrivals: Sequence[Arrival], rows: Sequence[Source], said: Sequence[Remark | None]
) -> Figure:
    """From the first plant to the last one that reached the stage, where there are several."""
    about = any(day.about for a in arrivals for day in (a.day, a.after) if day)
    days = [
        Quantity(each.first, each.last, Dimension.DAYS, about=about, step=1)
        for each in days_of_each(intervals_of_arrivals(run, arrivals))
    ]
    if len(days) < 2:
        return NO_FIGURE
    return figure(name, reading_range(days), reading_range, rows, *said)
