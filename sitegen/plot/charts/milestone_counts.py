"""Stages that were only counted, in the chart of growth stages: a lane each, with steps, and in words.

In: the steps of each stage, and the floors of their lanes. Out: rows for the chart's layers, labels, and text. Between
two looks nobody knows the count: it is drawn level until the next look. A look on an uncertain day is a level bar, with
a band from the count before.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sitegen.core.facts.tree import CountStep, MilestoneFacts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import day_words, listed
from sitegen.core.language.wording import opening
from sitegen.core.values.day import Day, DayAxis
from sitegen.plot.chart_data import Area, Layers, PointLabel, Span, Symbol, Vertex
from sitegen.plot.marks import point_marks

LANE = 58.0  # a lane's height, in units of the drawing
_COLOUR = "var(--growth)"
_REACH = 0.5  # the share of a lane that all its plants take

Lane = tuple[MilestoneFacts, float]  # a stage, and the floor of its lane


def layers(lanes: Sequence[Lane], axis: DayAxis) -> Layers:
    """Everything in the lanes."""
    steps = [(lane, step) for lane in lanes for step in lane[0].steps]
    uncertain = [(lane, step) for lane, step in steps if not step.day.exact]
    return {
        "floors": [Span(0.0, axis.end, floor) for _, floor in lanes],
        "counts": [vertex for lane in lanes for vertex in _staircase(lane, axis)],
        "bands": [area for lane in lanes for area in _bands(lane)],
        "spans": [_span(lane, step) for lane, step in uncertain if step.of],
        "open-spans": [_span(lane, step) for lane, step in uncertain if not step.of],
        "points": [
            Symbol(
                step.day.first,
                _level(lane, step),
                "circle",
                _COLOUR if step.of else point_marks.OPEN,
                _title(lane, step),
            )
            for lane, step in steps
            if step.day.exact
        ],
    }


def _title(lane: Lane, step: CountStep) -> str:
    stage = label_words(lane[0].label)
    return tr("{stage}: {count}, {day}", stage=stage, count=count_text(step), day=day_words(step.day))


def _span(lane: Lane, step: CountStep) -> Span:
    """A level bar over the days that a look can have been on."""
    return Span(*step.day.reach, _level(lane, step), _title(lane, step))


def _level(lane: Lane, step: CountStep) -> float:
    stage, floor = lane
    whole = max([each.of or each.count for each in stage.steps], default=1) or 1
    return floor + LANE * _REACH * step.count / whole


def _end(stage: MilestoneFacts, axis: DayAxis) -> float:
    """The day of the last entry, or of a count after it."""
    return float(max(axis.last, *(step.day.reach[1] for step in stage.steps)))


def _in_order(stage: MilestoneFacts) -> list[CountStep]:
    return sorted(stage.steps, key=lambda step: step.day.reach[::-1])


def _staircase(lane: Lane, axis: DayAxis) -> Iterator[Vertex]:
    """Up at each look, at the latest, level to the next."""
    stage, height = lane
    for step in _in_order(stage):
        yield Vertex(stage.name, step.day.reach[1], height)
        height = _level(lane, step)
        yield Vertex(stage.name, step.day.reach[1], height)
    yield Vertex(stage.name, _end(stage, axis), height)


def _bands(lane: Lane) -> Iterator[Area]:
    """From the count before to the count of a look, over the days that the look can have been on."""
    height = lane[1]
    for step in _in_order(lane[0]):
        level = _level(lane, step)
        if not step.day.exact and level != height:
            yield Area(*step.day.reach, min(height, level), max(height, level))
        height = level


def names(lanes: Sequence[Lane], axis: DayAxis) -> Iterator[PointLabel]:
    """The stage of each lane, along its last level, and the count at each step."""
    for lane in lanes:
        stage, _ = lane
        last = max(stage.steps, key=lambda step: step.day.last)
        noun, since = label_words(stage.label), float(last.day.reach[1])
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
    steps = [_by(step) for step in stage.steps]
    return tr(
        "{stage}: {counts}, without noting which plants.",
        stage=opening(label_words(stage.label)),
        counts=listed(steps),
    )


def _by(step: CountStep) -> str:
    """A count with the day by which it was made."""
    day = Day.on(step.day.last, about=step.day.about)
    return tr("{count} by {day}", count=count_text(step), day=day_words(day))
