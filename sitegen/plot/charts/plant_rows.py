"""The rows of plants in the chart of growth stages.

In: one plant's arrivals and fate, and where its row lies. Out: rows for the chart's layers. Nothing is drawn as known
that nobody looked at.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.facts.tree import Arrival, Facts, Fate, MilestoneFacts
from sitegen.core.language.catalogue import tr, tr_c
from sitegen.core.values.day import Day
from sitegen.plot.drawing.picture import Bar, Ending, Mark, Row, Span
from sitegen.plot.marks import series

_CROSS = "M-1,-1L1,1M-1,1L1,-1"
_NOT_YET = "triangle-right"
_THIN, _THICK = 2.0, 11.0  # of a row, before its first stage and at its last
_FEWEST = 4  # stages that the thickness is shared out to at least
_HALF_STROKE = 6.5  # of the upright stroke where a stage was seen, in units of the drawing
_STEP = 7.0  # of an arrow beyond the last look

Thickness = Callable[[int], float]


@dataclass(frozen=True, slots=True)
class _Reached:
    """A stage that a plant reached: its number in the order of growth."""

    number: int
    noun: str
    arrival: Arrival
    day: Day


@dataclass(frozen=True, slots=True)
class PlantRow:
    """One row: where its middle lies, and what is known of the plant."""

    id: str
    middle: float
    since: float
    until: float
    fate: Fate | None
    reached: tuple[_Reached, ...]
    waiting: tuple[tuple[str, Arrival], ...]


def plant_row(plant: str, stages: Sequence[MilestoneFacts], middle: float, facts: Facts) -> PlantRow:
    """What is known of a plant, at the height of its row."""
    mine = [(m, a) for m in stages for a in m.arrivals if a.plant == plant]
    reached = [_Reached(stages.index(m), tr(m.noun), a, a.day) for m, a in mine if a.day]
    known = next((p for p in facts.plants if p.plant == plant), None)
    fate = known.fate if known else None
    gone = fate.day.middle if fate and fate.day else float(facts.axis.last)
    last_seen = max((r.day.middle for r in reached), default=0.0)
    return PlantRow(
        plant,
        middle,
        known.sown.middle if known and known.sown else 0.0,
        max(gone, last_seen),
        fate,
        tuple(sorted(reached, key=lambda r: (r.day.middle, r.number))),
        tuple((tr(m.noun), a) for m, a in mine if a.day is None and a.last_look),
    )


def layers(plants: Sequence[PlantRow], stages: int) -> dict[str, Sequence[Row]]:
    """Everything in the rows, for so many stages."""
    most = max(stages, _FEWEST)

    def thick(number: int) -> float:
        return _THIN + (_THICK - _THIN) * (number + 1) / most

    return {
        "stages": tuple(span for plant in plants for span in _stages(plant, thick)),
        "unseen": tuple(span for plant in plants for span in _unseen(plant)),
        "between": tuple(span for plant in plants for span in _between(plant, thick)),
        "seen": tuple(
            Bar(
                r.day.middle,
                plant.middle - _HALF_STROKE,
                plant.middle + _HALF_STROKE,
                0.0,
                _seen_text(plant, r),
            )
            for plant in plants
            for r in plant.reached
        ),
        "not-yet": tuple(mark for plant in plants for mark in _not_yet(plant)),
        "losses": tuple(
            Mark(p.until, p.middle, _CROSS, "none", _lost_text(p, p.fate))
            for p in plants
            if p.fate and p.fate.word == "lost"
        ),
    }


def _stages(plant: PlantRow, thick: Thickness) -> Iterator[Span]:
    """From each stage to the last visit without the next, and thin from sowing to the first."""
    begins = [(plant.since, -1, tr("sown")), *((float(r.day.last), r.number, r.noun) for r in plant.reached)]
    ends = [*(_before(r) for r in plant.reached), _looked(plant)]
    for (day, number, noun), until in zip(begins, ends, strict=True):
        if until > day:
            yield Span(day, until, plant.middle, _since_text(plant, noun, day), thick(number))


def _looked(plant: PlantRow) -> float:
    """Until when a plant's last stage is known: a plant that waited for another one may have reached it unseen."""
    looks = [a.last_look.middle for _, a in plant.waiting if a.last_look]
    reached = max((r.day.last for r in plant.reached), default=0)
    return min(plant.until, max(float(reached), *looks)) if looks else plant.until


def _unseen(plant: PlantRow) -> Iterator[Span]:
    """From the last look at a plant that waited for a stage to its end."""
    since = _looked(plant)
    if plant.until > since:
        said = tr("stage not looked at after day {day}", day=f"{since:g}")
        yield Span(since, plant.until, plant.middle, f"{plant.id}: {said}")


def _between(plant: PlantRow, thick: Thickness) -> Iterator[Span]:
    """Hatched from the visit that said not yet to the one that saw it."""
    for r in plant.reached:
        begin, end = _before(r), float(r.day.last)
        if end > begin:
            yield Span(begin, end, plant.middle, _seen_text(plant, r), thick(r.number))


def _before(reached: _Reached) -> float:
    """The last day on which a plant was known not to be there yet; else the first on which it may have been."""
    return reached.arrival.after.middle if reached.arrival.after else float(reached.day.first)


def _seen_text(plant: PlantRow, reached: _Reached) -> str:
    said = tr("{stage}, seen {day}", stage=reached.noun, day=reached.day.words)
    if reached.arrival.after:
        said = f"{said}, {tr('not yet on {day}', day=reached.arrival.after.words)}"
    return f"{plant.id}: {said}"


def _since_text(plant: PlantRow, noun: str, day: float) -> str:
    return f"{plant.id}: {tr('{stage}, from day {day}', stage=noun, day=f'{day:g}')}"


def _lost_text(plant: PlantRow, fate: Fate) -> str:
    when = f", {fate.day.words}" if fate.day else ""
    why = f": {fate.why}" if fate.why else ""
    return f"{plant.id}: {tr_c('a plant', 'lost')}{when}{why}"


def _not_yet(plant: PlantRow) -> Iterator[Mark]:
    """One arrow where a plant still waited for stages when it was last looked at; none for a lost one."""
    if plant.fate and plant.fate.word == "lost":
        return
    by_look: dict[float, list[str]] = {}
    for noun, arrival in plant.waiting:
        if arrival.last_look:
            by_look.setdefault(arrival.last_look.middle, []).append(noun)
    for look, nouns in by_look.items():
        said = tr(
            "not reached when last looked at, day {day}: {stages}",
            day=f"{look:g}",
            stages=", ".join(nouns),
        )
        yield Mark(look, plant.middle, _NOT_YET, series.OPEN, f"{plant.id}: {said}", _STEP)


def lost(plants: Iterable[PlantRow]) -> Iterator[Ending]:
    """The word beside each loss."""
    for plant in plants:
        if plant.fate and plant.fate.word == "lost":
            yield Ending(plant.until, plant.middle, tr_c("a plant", "lost"), strong=True)
