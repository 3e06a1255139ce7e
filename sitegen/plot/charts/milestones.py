"""Growth stages: a row for each plant, thicker with every stage; counts as steps where nobody told plants apart.

In: milestones and fates among the facts. Out: the data of a chart. A stage that came between two visits is hatched from
the one to the other. A plant that had not reached one when it was last looked at has an open arrow there, and is dotted
from then on; a loss is a cross.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.core.facts.tree import Fate, MilestoneFacts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import listed
from sitegen.core.site.chart import FRAMES, Frame, Table
from sitegen.core.values.day import Day, DayAxis
from sitegen.plot.chart_data import Area, Bar, ChartData, Label, ValueAxis
from sitegen.plot.chart_type import ChartInput, ChartType, Layer, days_note, too_few
from sitegen.plot.charts import milestone_counts, milestone_plants
from sitegen.plot.charts.milestone_counts import LANE
from sitegen.plot.charts.milestone_plants import plant_row
from sitegen.plot.drawing.label_placement import Plot, boxed, kept_inside
from sitegen.plot.marks import point_marks
from sitegen.plot.marks.event_marks import on_day
from sitegen.plot.numbers_table import Row, number_of, numbers_table

_COLOUR = "var(--growth)"
_LAYERS = (
    Layer("area", "leader-bands", "var(--ink-soft)", opacity=0.14),
    Layer("bar", "leaders", "var(--ink-soft)", width=1, opacity=0.55, dash=(1, 3)),
    Layer("span", "floors", "var(--ink-soft)", width=1),
    Layer("span", "stages", _COLOUR, width=None),
    Layer("span", "unseen", _COLOUR, width=2, dash=(0.1, 5), cap="round"),
    Layer("span", "between", _COLOUR, width=None, dash=(1.5, 2)),
    Layer("bar", "seen", "var(--ink)", width=1.5),
    Layer("area", "bands", _COLOUR, opacity=0.22),
    Layer("line", "counts", _COLOUR, width=2.5),
    *point_marks.day_layers(_COLOUR)[1:],
    Layer("span", "not-yet-spans", _COLOUR, width=4, opacity=0.8, dash=(4, 2)),
    Layer("span", "loss-spans", "var(--trouble)", width=4, opacity=0.8, dash=(6, 2)),
    Layer("symbol", "points", _COLOUR, size=40),
    Layer("symbol", "not-yet", _COLOUR, size=60),
    Layer("symbol", "losses", "var(--trouble)", size=70),
)
_TITLE = 18.0  # a line with a stage's name, in units of the drawing
_ROW = 20.0  # a plant whose id stands in the margin
_TALL_ROW = 32.0  # a plant whose id stands over its row
_SHORT = 3  # letters that have room in the margin of the narrowest drawing
_AIR = 6.0
_HEADS = ("stage", "stage_flag", "plants_count", "plants_of", "not_yet_day", "plants", "why")


@dataclass(frozen=True, slots=True)
class _Layout:
    """Heights from the ground: counted stages below, plants over them, the names of stages on top."""

    stages: tuple[MilestoneFacts, ...]
    counted: tuple[MilestoneFacts, ...]
    plants: tuple[str, ...]

    @property
    def row(self) -> float:
        return _ROW if all(len(plant) <= _SHORT for plant in self.plants) else _TALL_ROW

    @property
    def lanes(self) -> float:
        return LANE * len(self.counted)

    @property
    def rows_top(self) -> float:
        return self.lanes + (self.row * len(self.plants) + 2 * _AIR if self.plants else 0.0)

    @property
    def top(self) -> float:
        return self.rows_top + _TITLE * len(self.stages)

    def middle(self, index: int) -> float:
        """Of a plant's row; an id over it takes the upper half."""
        return self.rows_top - _AIR - self.row * index - (_ROW / 2 if self.row == _ROW else _ROW)

    def title(self, index: int) -> float:
        """Of a stage's name: the first stage uppermost."""
        return self.top - _TITLE * (index + 0.5)

    def floor(self, index: int) -> float:
        """Of a counted stage's lane."""
        return self.lanes - LANE * (index + 1)


def milestones(given: ChartInput) -> ChartData | None:
    """The chart, where any stage is in the log."""
    facts = given.facts
    apart = tuple(m for m in facts.milestones if m.arrivals)
    counted = tuple(m for m in facts.milestones if m.steps)
    if not apart and not counted:
        return None
    named = {arrival.plant for m in apart for arrival in m.arrivals}
    layout = _Layout(apart, counted, tuple(p for p in facts.run.setup.plant_ids if p in named))
    rows = [plant_row(plant, apart, layout.middle(i), facts) for i, plant in enumerate(layout.plants)]
    lanes = [(stage, layout.floor(i)) for i, stage in enumerate(counted)]
    return ChartData(
        title=tr("Growth stages by plant") if apart else tr("Growth stages, by number of plants"),
        caption=_caption(layout, given),
        description=_description(layout, given),
        said=_said(layout, given),
        table=_table(given),
        axis=ValueAxis("", layout.top, ()),
        layers={
            "leader-bands": tuple(_leader_bands(layout)),
            **milestone_plants.layers(rows, len(apart)),
            **milestone_counts.layers(lanes, facts.axis),
        },
        fixed_labels=(*_stage_names(layout), *_plant_ids(layout)),
        point_labels=(*milestone_plants.names(rows), *milestone_counts.names(lanes, facts.axis)),
        height=layout.top,
        frame_layers={
            frame.name: {"leaders": tuple(_leaders(layout, facts.axis, frame))} for frame in FRAMES
        },
    )


def _leaders(layout: _Layout, days: DayAxis, frame: Frame) -> Iterator[Bar]:
    """From each stage's name down through the rows, on the day that the first plant was seen in it.

    One is broken where the name of a later stage lies in its way.
    """
    plot = Plot(frame, days, ValueAxis("", layout.top, ()), layout.top)
    names = [boxed(name, plot) for name in kept_inside(_stage_names(layout), plot)]
    for index, stage in enumerate(layout.stages):
        first = _first(stage)
        if first is None or first[0] < first[1]:
            continue
        top, x = layout.title(index) - _TITLE / 2, plot.x(first[0])
        for later, name in enumerate(names[index + 1 :], index + 1):
            if name.left < x < name.right:
                yield Bar(first[0], layout.title(later) + _TITLE / 2, top)
                top = layout.title(later) - _TITLE / 2
        yield Bar(first[0], layout.lanes + _AIR, top)


def _leader_bands(layout: _Layout) -> Iterator[Area]:
    """The same, as broad as the days on which the first plant can have been seen in a stage."""
    for index, stage in enumerate(layout.stages):
        first = _first(stage)
        if first is not None and first[0] < first[1]:
            yield Area(*first, layout.lanes + _AIR, layout.title(index) - _TITLE / 2)


def _first(stage: MilestoneFacts) -> tuple[float, float] | None:
    """The days on which the first plant can have been seen in a stage."""
    days = [arrival.day.reach for arrival in stage.arrivals if arrival.day]
    return (min(begin for begin, _ in days), min(end for _, end in days)) if days else None


def _stage_names(layout: _Layout) -> Iterator[Label]:
    """The names of stages, each where its leader begins; one that no plant reached is over the last look."""
    for index, stage in enumerate(layout.stages):
        text, whole = label_words(stage.label), len(stage.arrivals)
        reached = sum(a.day is not None for a in stage.arrivals)
        if reached < whole:
            text = tr("{what}, {part} of {whole}", what=text, part=reached, whole=whole)
        first = _first(stage)
        if first is None:
            last = max((a.last_look.reach[1] for a in stage.arrivals if a.last_look), default=0.0)
            yield Label(last, layout.title(index), text, "right")
        else:
            yield Label(first[0], layout.title(index), text, "left")


def _plant_ids(layout: _Layout) -> Iterator[Label]:
    for index, plant in enumerate(layout.plants):
        if layout.row == _ROW:
            yield Label(0.0, layout.middle(index), plant, "right", -8.0)
        else:
            yield Label(0.0, layout.middle(index) + 14.0, plant, "left", 0.0)


def _losses(given: ChartInput) -> dict[str, Fate]:
    return {plant.plant: plant.fate for plant in given.facts.plants if plant.fate.word == "lost"}


def _description(layout: _Layout, given: ChartInput) -> str:
    """Each stage in a sentence, then the losses, then how to read the drawing."""
    texts = _found(layout, given)
    if layout.stages:
        texts.append(tr("Each row gets thicker with every stage. Hatched: it happened between two visits."))
    texts.append(days_note(step.day for stage in layout.counted for step in stage.steps))
    return " ".join(filter(None, texts))


def _found(layout: _Layout, given: ChartInput) -> list[str]:
    """Each stage in a sentence, then the losses."""
    texts = [milestone_plants.description(stage) for stage in layout.stages]
    texts += [milestone_counts.description(stage) for stage in layout.counted]
    if lost := _losses(given):
        plants = [on_day(plant, fate.day) if fate.day else plant for plant, fate in lost.items()]
        texts.append(tr("Lost: {plants}.", plants=listed(plants)))
    return texts


def _caption(layout: _Layout, given: ChartInput) -> str:
    """The last stage that any plant reached, and the losses."""
    reached = [stage for stage in layout.stages if any(arrival.day for arrival in stage.arrivals)]
    texts = _found(layout, given)
    stages = len(layout.stages) + len(layout.counted)
    last = texts[layout.stages.index(reached[-1])] if reached else texts[stages - 1]
    return " ".join([last, *texts[stages:]])


def _said(layout: _Layout, given: ChartInput) -> str:
    """The stages in words, where they were seen on few days."""
    days = [arrival.day for stage in layout.stages for arrival in stage.arrivals if arrival.day]
    days += [step.day for stage in layout.counted for step in stage.steps]
    return " ".join(_found(layout, given)) if too_few(days) else ""


def _table(given: ChartInput) -> Table:
    """Every day that something is known of: which plants, or how many, were in a stage, not yet, or lost."""
    plants: dict[tuple[Day, str, str, str, str], list[str]] = defaultdict(list)
    rows: list[Row] = []
    for stage in given.facts.milestones:
        for arrival in stage.arrivals:
            if arrival.day:
                since = number_of(arrival.after.last if arrival.after else None)
                plants[arrival.day, stage.name, "seen", since, ""].append(arrival.plant)
            elif arrival.state != "lost" and arrival.last_look:
                plants[arrival.last_look, stage.name, "not yet", "", ""].append(arrival.plant)
        for step in stage.steps:
            flag = "counted" if step.of else "counted, at least"
            rows.append((step.day, (stage.name, flag, str(step.count), number_of(step.of), "", "", "")))
    for plant, fate in _losses(given).items():
        if fate.day:
            plants[fate.day, "", "lost", "", fate.why].append(plant)
    for (day, name, flag, since, why), who in plants.items():
        rows.append((day, (name, flag, str(len(who)), "", since, " ".join(who), why)))
    return numbers_table(_HEADS, rows, given.start)


CHARTS = (ChartType("milestones", _LAYERS, milestones),)
