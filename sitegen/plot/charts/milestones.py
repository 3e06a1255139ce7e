"""Growth stages: a row for each plant, thicker with every stage; counts as steps where nobody told plants apart.

In: milestones and fates among the facts. Out: a picture. A stage that came between two visits is hatched from the one
to the other. A plant that had not reached one when it was last looked at has an open arrow there, and is dotted from
then on; a loss is a cross.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts, MilestoneFacts
from sitegen.core.language.catalogue import tr
from sitegen.plot.chart_type import ChartType, Layer
from sitegen.plot.charts import plant_rows, stage_counts
from sitegen.plot.charts.milestone_words import description, table
from sitegen.plot.charts.plant_rows import PlantRow, plant_row
from sitegen.plot.charts.stage_counts import LANE
from sitegen.plot.drawing.picture import Bar, Label, Picture
from sitegen.plot.drawing.scale import Units
from sitegen.plot.marks.series import Say

_COLOUR = "var(--growth)"
_LAYERS = (
    Layer("bar", "leaders", "var(--ink-soft)", width=1, opacity=0.55, dash=(1, 3)),
    Layer("span", "floors", "var(--ink-soft)", width=1),
    Layer("span", "stages", _COLOUR, width=None),
    Layer("span", "unseen", _COLOUR, width=2, dash=(0.1, 5), cap="round"),
    Layer("span", "between", _COLOUR, width=None, dash=(1.5, 2)),
    Layer("bar", "seen", "var(--ink)", width=1.5),
    Layer("line", "counts", _COLOUR, width=2.5),
    Layer("span", "spans", _COLOUR),
    Layer("symbol", "points", _COLOUR, size=40),
    Layer("symbol", "not-yet", _COLOUR, size=60),
    Layer("symbol", "losses", "var(--trouble)", size=70),
)
_TITLE = 18.0  # a line with a stage's name, in units of the drawing
_ROW = 20.0  # a plant whose id stands in the margin
_TALL_ROW = 32.0  # a plant whose id stands over its row
_SHORT = 3  # letters that have room in the margin of the narrowest drawing
_AIR = 6.0


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


def picture(facts: Facts, units: Units, say: Say) -> Picture | None:  # noqa: ARG001 - all pictures are asked alike
    """The chart, where any stage is in the log."""
    apart = tuple(m for m in facts.milestones if m.arrivals)
    counted = tuple(m for m in facts.milestones if m.steps)
    if not apart and not counted:
        return None
    named = {arrival.plant for m in apart for arrival in m.arrivals}
    layout = _Layout(apart, counted, tuple(p for p in facts.run.setup.plant_ids if p in named))
    plants = [plant_row(plant, apart, layout.middle(i), facts) for i, plant in enumerate(layout.plants)]
    lanes = [(stage, layout.floor(i)) for i, stage in enumerate(counted)]
    return Picture(
        title=tr("Growth stages by plant") if apart else tr("Growth stages, plants counted"),
        description=description(apart, counted, facts),
        table=table(facts),
        unit="",
        top=layout.top,
        scale=(),
        layers={
            "leaders": tuple(_leaders(layout)),
            **plant_rows.layers(plants, len(apart)),
            **stage_counts.layers(lanes, facts),
        },
        fixed=(*_titles(layout), *_ids(plants, layout)),
        endings=(*plant_rows.lost(plants), *stage_counts.names(lanes, facts)),
        height=layout.top,
    )


def _leaders(layout: _Layout) -> Iterator[Bar]:
    """From each stage's name down through the rows, on the day that the first plant was seen in it."""
    for index, stage in enumerate(layout.stages):
        first = _first(stage)
        if first is not None:
            yield Bar(first, layout.lanes + _AIR, layout.title(index) - _TITLE / 2)


def _first(stage: MilestoneFacts) -> float | None:
    return min((a.day.middle for a in stage.arrivals if a.day), default=None)


def _titles(layout: _Layout) -> Iterator[Label]:
    """The stages' names, each where its leader begins; one that nobody reached stands over the last look."""
    for index, stage in enumerate(layout.stages):
        reached = sum(a.day is not None for a in stage.arrivals)
        whole = len(stage.arrivals)
        noun = tr(stage.noun)
        text = (
            noun
            if reached == whole
            else tr("{what}, {part} of {whole}", what=noun, part=reached, whole=whole)
        )
        first = _first(stage)
        looks = [a.last_look.middle for a in stage.arrivals if a.last_look]
        if first is None:
            yield Label(max(looks, default=0.0), layout.title(index), text, "right")
        else:
            yield Label(first, layout.title(index), text, "left")


def _ids(plants: Iterable[PlantRow], layout: _Layout) -> Iterator[Label]:
    for plant in plants:
        if layout.row == _ROW:
            yield Label(0.0, plant.middle, plant.id, "right", -8.0)
        else:
            yield Label(0.0, plant.middle + 14.0, plant.id, "left", 0.0)


CHARTS = (ChartType("milestones", _LAYERS, picture),)
