"""Stages that were only counted, in the chart of growth stages: a lane each, with steps.

In: the steps of each stage, and the floors of their lanes. Out: rows for the chart's layers, and labels. Between two
looks nobody knows the count: it is drawn level until the next look.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sitegen.core.facts.tree import Facts, MilestoneFacts
from sitegen.core.language.catalogue import tr
from sitegen.plot.charts.milestone_words import count_text
from sitegen.plot.drawing.picture import Ending, Mark, Row, Span, Vertex
from sitegen.plot.marks import series

LANE = 58.0  # a lane's height, in units of the drawing
_COLOUR = "var(--growth)"
_REACH = 0.5  # the share of a lane that all its plants take

Lane = tuple[MilestoneFacts, float]  # a stage, and the floor of its lane


def layers(lanes: Sequence[Lane], facts: Facts) -> dict[str, Sequence[Row]]:
    """Everything in the lanes."""
    return {
        "floors": tuple(Span(0.0, facts.axis.end, floor) for _, floor in lanes),
        "counts": tuple(v for stage, floor in lanes for v in _staircase(stage, floor, facts)),
        "spans": tuple(
            Span(s.day.first, s.day.last, _level(floor, s.count, _whole(stage)))
            for stage, floor in lanes
            for s in stage.steps
            if not s.day.single
        ),
        "points": tuple(
            Mark(
                s.day.middle,
                _level(floor, s.count, _whole(stage)),
                "circle",
                _COLOUR if s.of and s.day.single else series.OPEN,
                tr(
                    "{stage}: {count}, {day}",
                    stage=tr(stage.noun),
                    count=count_text(s),
                    day=s.day.words,
                ),
            )
            for stage, floor in lanes
            for s in stage.steps
        ),
    }


def _whole(stage: MilestoneFacts) -> int:
    return max([step.of or step.count for step in stage.steps], default=1) or 1


def _level(floor: float, count: int, whole: int) -> float:
    return floor + LANE * _REACH * count / whole


def _staircase(stage: MilestoneFacts, floor: float, facts: Facts) -> Iterator[Vertex]:
    """Up at each look, level to the next: between two looks nobody knows."""
    steps = sorted(stage.steps, key=lambda s: s.day.last)
    height = floor
    for step in steps:
        level = _level(floor, step.count, _whole(stage))
        yield Vertex(stage.name, step.day.last, height)
        yield Vertex(stage.name, step.day.last, level)
        height = level
    yield Vertex(stage.name, float(max(facts.axis.last, steps[-1].day.last)), height)


def names(lanes: Sequence[Lane], facts: Facts) -> Iterator[Ending]:
    """The stage of each lane, and the count at each step."""
    yield from _lane_names(lanes, facts)
    yield from _counts(lanes)


def _lane_names(lanes: Sequence[Lane], facts: Facts) -> Iterator[Ending]:
    """The stages' names, along their last level."""
    for stage, floor in lanes:
        last = max(stage.steps, key=lambda step: step.day.last)
        until = float(max(facts.axis.last, last.day.last))
        level = _level(floor, last.count, _whole(stage))
        noun = tr(stage.noun)
        name = tr("{stage}, counted", stage=noun)
        yield Ending(until, level, name, strong=True, since=float(last.day.last), brief=noun, before=True)


def _counts(lanes: Sequence[Lane]) -> Iterator[Ending]:
    for stage, floor in lanes:
        for step in stage.steps:
            level = _level(floor, step.count, _whole(stage))
            yield Ending(step.day.middle, level, count_text(step), before=True)
