"""Stages that were only counted, in the chart of growth stages: a lane each, with steps, and in words.

In: the steps of each stage, and the floors of their lanes. Out: rows for the chart's layers, labels, and text. Between
two looks nobody knows the count: it is drawn level until the next look.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sitegen.core.facts.tree import CountStep, MilestoneFacts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import day_words, listed
from sitegen.core.language.wording import opening
from sitegen.core.values.day import DayAxis
from sitegen.plot.chart_data import Layers, PointLabel, Span, Symbol, Vertex
from sitegen.plot.marks import point_marks

LANE = 58.0  # a lane's height, in units of the drawing
_COLOUR = "var(--growth)"
_REACH = 0.5  # the share of a lane that all its plants take

Lane = tuple[MilestoneFacts, float]  # a stage, and the floor of its lane


def layers(lanes: Sequence[Lane], axis: DayAxis) -> Layers:
    """Everything in the lanes."""
    steps = [
        (stage, step, _level(lane, step)) for lane in lanes for stage in lane[:1] for step in stage.steps
    ]
    return {
        "floors": [Span(0.0, axis.end, floor) for _, floor in lanes],
        "counts": [vertex for lane in lanes for vertex in _staircase(lane, axis)],
        "spans": [
            Span(step.day.first, step.day.last, level) for _, step, level in steps if not step.day.single
        ],
        "points": [
            Symbol(
                step.day.middle,
                level,
                "circle",
                _COLOUR if step.of and step.day.single else point_marks.OPEN,
                tr(
                    "{stage}: {count}, {day}",
                    stage=label_words(stage.label),
                    count=count_text(step),
                    day=day_words(step.day),
                ),
            )
            for stage, step, level in steps
        ],
    }


def _level(lane: Lane, step: CountStep) -> float:
    stage, floor = lane
    whole = max([each.of or each.count for each in stage.steps], default=1) or 1
    return floor + LANE * _REACH * step.count / whole


def _end(stage: MilestoneFacts, axis: DayAxis) -> float:
    """The day of the last entry, or of a count after it."""
    return float(max(axis.last, *(step.day.last for step in stage.steps)))


def _staircase(lane: Lane, axis: DayAxis) -> Iterator[Vertex]:
    """Up at each look, level to the next."""
    stage, height = lane
    for step in sorted(stage.steps, key=lambda s: s.day.last):
        yield Vertex(stage.name, step.day.last, height)
        height = _level(lane, step)
        yield Vertex(stage.name, step.day.last, height)
    yield Vertex(stage.name, _end(stage, axis), height)


def names(lanes: Sequence[Lane], axis: DayAxis) -> Iterator[PointLabel]:
    """The stage of each lane, along its last level, and the count at each step."""
    for lane in lanes:
        stage, _ = lane
        last = max(stage.steps, key=lambda step: step.day.last)
        noun, since = label_words(stage.label), float(last.day.last)
        name = tr("{stage}, counted", stage=noun)
        yield PointLabel(
            _end(stage, axis),
            _level(lane, last),
            name,
            strong=True,
            level_since=since,
            short=noun,
            before=True,
        )
    for lane in lanes:
        for step in lane[0].steps:
            yield PointLabel(step.day.middle, _level(lane, step), count_text(step), before=True)


def count_text(step: CountStep) -> str:
    """`4 of 6`; `at least 4` where the whole was not recorded."""
    if step.of is None:
        return tr("at least {amount}", amount=step.count)
    return tr("{part} of {whole}", part=step.count, whole=step.of)


def description(stage: MilestoneFacts) -> str:
    """The counts of a stage in a sentence."""
    steps = [tr("{count} by day {day}", count=count_text(step), day=step.day.last) for step in stage.steps]
    return tr(
        "{stage}: {counts}; plants not told apart.",
        stage=opening(label_words(stage.label)),
        counts=listed(steps),
    )
