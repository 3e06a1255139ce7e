"""Growth stages: a row for each plant, thicker with every stage; counts as steps where nobody told plants apart.

In: milestones and fates among the facts. Out: a picture. A stage that came between two visits is hatched from the one
to the other; after the last look for a stage a row is dotted; a plant that had not reached one when it was last looked at ends in an open arrow; a loss is a cross.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.day import Day
from sitegen.core.facts import Arrival, Facts, Fate, MilestoneFacts
from sitegen.plot import series
from sitegen.plot.milestone_words import count_text, description, table
from sitegen.plot.picture import Bar, Ending, Label, Mark, Picture, Row, Span, Vertex
from sitegen.plot.scale import Units
from sitegen.plot.series import Say

__all__ = ["picture"]

_COLOUR = "var(--growth)"
_CROSS = "M-1,-1L1,1M-1,1L1,-1"
_NOT_YET = "triangle-right"
_TITLE = 18.0  # a line with a stage's name, in units of the drawing
_ROW = 20.0  # a plant whose id stands in the margin
_TALL_ROW = 32.0  # a plant whose id stands over its row
_SHORT = 3  # letters that have room in the margin of the narrowest drawing
_LANE = 58.0  # a stage that was only counted
_REACH = 0.5  # the share of such a lane that all its plants take
_THIN, _THICK = 2.0, 11.0  # of a row, before its first stage and at its last
_AIR = 6.0

Thickness = Callable[[int], float]


@dataclass(frozen=True, slots=True)
class _Reached:
    """A stage that a plant reached: its number in the order of growth."""

    number: int
    noun: str
    arrival: Arrival
    day: Day


@dataclass(frozen=True, slots=True)
class _Plant:
    """One row: where its middle lies, and what is known of the plant."""

    id: str
    middle: float
    since: float
    until: float
    fate: Fate | None
    reached: tuple[_Reached, ...]
    waiting: tuple[tuple[str, Arrival], ...]


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
        return _LANE * len(self.counted)

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
        return self.lanes - _LANE * (index + 1)


def picture(facts: Facts, units: Units, say: Say) -> Picture | None:  # noqa: ARG001 - all pictures are asked alike
    """The chart, where any stage is in the log."""
    apart = tuple(m for m in facts.milestones if m.arrivals)
    counted = tuple(m for m in facts.milestones if m.steps)
    if not apart and not counted:
        return None
    named = {arrival.plant for m in apart for arrival in m.arrivals}
    layout = _Layout(apart, counted, tuple(p for p in facts.run.setup.plant_ids if p in named))
    plants = [_plant(plant, layout, facts) for plant in layout.plants]
    return Picture(
        name="milestones",
        title="Growth stages by plant" if apart else "Growth stages, plants counted",
        description=description(apart, counted, facts),
        table=table(facts),
        unit="",
        top=layout.top,
        scale=(),
        layers={**_plant_layers(plants, layout), **_count_layers(layout, facts)},
        fixed=(*_titles(layout), *_ids(plants, layout)),
        endings=(*_lost(plants), *_lane_names(layout, facts), *_counts(layout)),
        height=layout.top,
    )


def _plant(plant: str, layout: _Layout, facts: Facts) -> _Plant:
    mine = [(m, a) for m in layout.stages for a in m.arrivals if a.plant == plant]
    reached = [_Reached(layout.stages.index(m), m.noun, a, a.day) for m, a in mine if a.day]
    known = next((p for p in facts.plants if p.plant == plant), None)
    fate = known.fate if known else None
    gone = fate.day.middle if fate and fate.day else float(facts.axis.last)
    last_seen = max((r.day.middle for r in reached), default=0.0)
    return _Plant(
        plant,
        layout.middle(layout.plants.index(plant)),
        known.sown.middle if known and known.sown else 0.0,
        max(gone, last_seen),
        fate,
        tuple(sorted(reached, key=lambda r: (r.day.middle, r.number))),
        tuple((m.noun, a) for m, a in mine if a.day is None and a.last_look),
    )


def _plant_layers(plants: Sequence[_Plant], layout: _Layout) -> dict[str, Sequence[Row]]:
    most = max(len(layout.stages), 4)

    def thick(number: int) -> float:
        return _THIN + (_THICK - _THIN) * (number + 1) / most

    return {
        "leaders": tuple(_leaders(layout)),
        "stages": tuple(span for plant in plants for span in _stages(plant, thick)),
        "unseen": tuple(span for plant in plants for span in _unseen(plant)),
        "between": tuple(span for plant in plants for span in _between(plant, thick)),
        "seen": tuple(
            Bar(r.day.middle, plant.middle - 6.5, plant.middle + 6.5, 0.0, _seen_text(plant, r))
            for plant in plants
            for r in plant.reached
        ),
        "not-yet": tuple(mark for plant in plants for mark in _not_yet(plant)),
        "losses": tuple(
            Mark(p.until, p.middle, _CROSS, "none", f"{p.id}: lost, day {p.fate.day}: {p.fate.why}")
            for p in plants
            if p.fate and p.fate.word == "lost"
        ),
    }


def _leaders(layout: _Layout) -> Iterator[Bar]:
    """From each stage's name down through the rows, on the day that the first plant was seen in it."""
    for index, stage in enumerate(layout.stages):
        first = _first(stage)
        if first is not None:
            yield Bar(first, layout.lanes + _AIR, layout.title(index) - _TITLE / 2)


def _first(stage: MilestoneFacts) -> float | None:
    return min((a.day.middle for a in stage.arrivals if a.day), default=None)


def _stages(plant: _Plant, thick: Thickness) -> Iterator[Span]:
    """From each stage to the last visit without the next, and thin from sowing to the first."""
    begins = [(plant.since, -1, "sown"), *((float(r.day.last), r.number, r.noun) for r in plant.reached)]
    ends = [*(_before(r) for r in plant.reached), _looked(plant)]
    for (day, number, noun), until in zip(begins, ends, strict=True):
        if until > day:
            yield Span(day, until, plant.middle, f"{plant.id}: {noun}, from day {day:g}", thick(number))


def _looked(plant: _Plant) -> float:
    """Until when a plant's last stage is known: a plant that waited for another one may have reached it unseen."""
    looks = [a.last_look.middle for _, a in plant.waiting if a.last_look]
    reached = max((r.day.last for r in plant.reached), default=0)
    return min(plant.until, max(float(reached), *looks)) if looks else plant.until


def _unseen(plant: _Plant) -> Iterator[Span]:
    """From the last look at a plant that waited for a stage to its end."""
    since = _looked(plant)
    if plant.until > since:
        yield Span(since, plant.until, plant.middle, f"{plant.id}: stage not looked at after day {since:g}")


def _between(plant: _Plant, thick: Thickness) -> Iterator[Span]:
    """Hatched from the visit that said not yet to the one that saw it."""
    for r in plant.reached:
        begin, end = _before(r), float(r.day.last)
        if end > begin:
            yield Span(begin, end, plant.middle, _seen_text(plant, r), thick(r.number))


def _before(reached: _Reached) -> float:
    """The last day on which a plant was known not to be there yet; else the first on which it may have been."""
    return reached.arrival.after.middle if reached.arrival.after else float(reached.day.first)


def _seen_text(plant: _Plant, reached: _Reached) -> str:
    after = f", not yet on day {reached.arrival.after}" if reached.arrival.after else ""
    return f"{plant.id}: {reached.noun}, seen day {reached.day}{after}"


def _not_yet(plant: _Plant) -> Iterator[Mark]:
    """One arrow where a plant still waited for stages when it was last looked at; none for a lost one."""
    if plant.fate and plant.fate.word == "lost":
        return
    by_look: dict[float, list[str]] = {}
    for noun, arrival in plant.waiting:
        if arrival.last_look:
            by_look.setdefault(arrival.last_look.middle, []).append(noun)
    for look, nouns in by_look.items():
        said = f"{plant.id}: not reached when last looked at, day {look:g}: {', '.join(nouns)}"
        yield Mark(look, plant.middle, _NOT_YET, series.OPEN, said, 7.0)


def _titles(layout: _Layout) -> Iterator[Label]:
    """The stages' names, each where its leader begins; one that nobody reached stands over the last look."""
    for index, stage in enumerate(layout.stages):
        reached = sum(a.day is not None for a in stage.arrivals)
        whole = len(stage.arrivals)
        text = stage.noun if reached == whole else f"{stage.noun}, {reached} of {whole}"
        first = _first(stage)
        looks = [a.last_look.middle for a in stage.arrivals if a.last_look]
        if first is None:
            yield Label(max(looks, default=0.0), layout.title(index), text, "right")
        else:
            yield Label(first, layout.title(index), text, "left")


def _ids(plants: Iterable[_Plant], layout: _Layout) -> Iterator[Label]:
    for plant in plants:
        if layout.row == _ROW:
            yield Label(0.0, plant.middle, plant.id, "right", -8.0)
        else:
            yield Label(0.0, plant.middle + 14.0, plant.id, "left", 0.0)


def _lost(plants: Iterable[_Plant]) -> Iterator[Ending]:
    for plant in plants:
        if plant.fate and plant.fate.word == "lost":
            yield Ending(plant.until, plant.middle, "lost", strong=True)


def _count_layers(layout: _Layout, facts: Facts) -> dict[str, Sequence[Row]]:
    lanes = list(enumerate(layout.counted))
    return {
        "floors": tuple(Span(0.0, facts.axis.end, layout.floor(i)) for i, _ in lanes),
        "counts": tuple(v for i, stage in lanes for v in _staircase(stage, layout.floor(i), facts)),
        "spans": tuple(
            Span(s.day.first, s.day.last, _level(layout.floor(i), s.count, _whole(stage)))
            for i, stage in lanes
            for s in stage.steps
            if not s.day.single
        ),
        "points": tuple(
            Mark(
                s.day.middle,
                _level(layout.floor(i), s.count, _whole(stage)),
                "circle",
                _COLOUR if s.of and s.day.single else series.OPEN,
                f"{stage.noun}: {count_text(s)}, day {s.day}",
            )
            for i, stage in lanes
            for s in stage.steps
        ),
    }


def _whole(stage: MilestoneFacts) -> int:
    return max([step.of or step.count for step in stage.steps], default=1) or 1


def _level(floor: float, count: int, whole: int) -> float:
    return floor + _LANE * _REACH * count / whole


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


def _lane_names(layout: _Layout, facts: Facts) -> Iterator[Ending]:
    """The stages' names, along their last level."""
    for index, stage in enumerate(layout.counted):
        last = max(stage.steps, key=lambda step: step.day.last)
        until = float(max(facts.axis.last, last.day.last))
        level = _level(layout.floor(index), last.count, _whole(stage))
        name = f"{stage.noun}, counted"
        yield Ending(
            until, level, name, strong=True, since=float(last.day.last), brief=stage.noun, before=True
        )


def _counts(layout: _Layout) -> Iterator[Ending]:
    for index, stage in enumerate(layout.counted):
        for step in stage.steps:
            level = _level(layout.floor(index), step.count, _whole(stage))
            yield Ending(step.day.middle, level, count_text(step), before=True)
