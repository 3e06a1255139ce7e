"""Plants that were observed one by one, in the chart of growth stages: a row each, and in words.

In: one plant's arrivals and fate, and where its row lies. Out: rows for the chart's layers, labels, and text. Nothing is
drawn as known that nobody looked at; a plant that had not reached a stage is said to have waited, never left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts, Fate, MilestoneFacts
from sitegen.core.language.catalogue import tr, tr_c, tr_n
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import day_words
from sitegen.core.language.wording import opening
from sitegen.core.values.day import Day
from sitegen.plot.chart_data import Bar, Layers, PointLabel, Span, Symbol
from sitegen.plot.marks.point_marks import CROSS, OPEN

_NOT_YET = "triangle-right"
_THIN, _THICK = 2.0, 11.0  # of a row, before its first stage and at its last
_FEWEST = 4  # stages that the thickness is shared out to at least
_HALF_STROKE = 6.5  # of the upright stroke where a stage was seen, in units of the drawing
_STEP = 7.0  # of an arrow beyond the last look


@dataclass(frozen=True, slots=True)
class _Reached:
    """A stage that a plant reached: its number in the order of growth."""

    number: int
    noun: str
    day: Day
    after: Day | None

    @property
    def begin(self) -> float:
        """The last day on which the plant was known not to be there yet; else the first on which it may have been."""
        return self.after.middle if self.after else float(self.day.first)

    @property
    def text(self) -> str:
        """When it was seen."""
        said = tr("{stage}, seen {day}", stage=self.noun, day=day_words(self.day))
        return f"{said}, {tr('not yet on {day}', day=day_words(self.after))}" if self.after else said


@dataclass(frozen=True, slots=True)
class PlantRow:
    """One row: its middle, and the observations of the plant; `waiting` has the last looks by stage."""

    id: str
    middle: float
    since: float
    until: float
    lost: Fate | None
    reached: tuple[_Reached, ...]
    waiting: tuple[tuple[str, Day], ...]

    @property
    def looked_until(self) -> float:
        """Until when its last stage is known: a plant that waited for another one may have reached it unseen."""
        looks = [look.middle for _, look in self.waiting]
        reached = max((r.day.last for r in self.reached), default=0)
        return min(self.until, max(float(reached), *looks)) if looks else self.until


def plant_row(plant: str, stages: Sequence[MilestoneFacts], middle: float, facts: Facts) -> PlantRow:
    """The observations of a plant, at the height of its row."""
    mine = [
        (number, stage, a) for number, stage in enumerate(stages) for a in stage.arrivals if a.plant == plant
    ]
    reached = [_Reached(number, label_words(m.label), a.day, a.after) for number, m, a in mine if a.day]
    known = next((p for p in facts.plants if p.plant == plant), None)
    fate = known.fate if known else None
    gone = fate.day.middle if fate and fate.day else float(facts.axis.last)
    return PlantRow(
        plant,
        middle,
        known.sown.middle if known and known.sown else 0.0,
        max([0.0, gone, *(r.day.middle for r in reached)]),
        fate if fate and fate.word == "lost" else None,
        tuple(sorted(reached, key=lambda r: (r.day.middle, r.number))),
        tuple(
            (label_words(m.label), a.last_look) for _, m, a in mine if a.state == "not yet" and a.last_look
        ),
    )


def layers(rows: Sequence[PlantRow], stages: int) -> Layers:
    """Everything in the rows, for so many stages."""
    step = (_THICK - _THIN) / max(stages, _FEWEST)
    return {
        "stages": [span for row in rows for span in _stages(row, step)],
        "unseen": [span for row in rows for span in _unseen(row)],
        "between": [span for row in rows for span in _between(row, step)],
        "seen": [
            Bar(
                r.day.middle,
                row.middle - _HALF_STROKE,
                row.middle + _HALF_STROKE,
                title=f"{row.id}: {r.text}",
            )
            for row in rows
            for r in row.reached
        ],
        "not-yet": [symbol for row in rows for symbol in _not_yet(row)],
        "losses": [
            Symbol(row.until, row.middle, CROSS, "none", _lost_text(row, row.lost))
            for row in rows
            if row.lost
        ],
    }


def _stages(row: PlantRow, step: float) -> Iterator[Span]:
    """From each stage to the last visit without the next, and thin from sowing to the first."""
    begins = [(row.since, -1, tr("sown")), *((float(r.day.last), r.number, r.noun) for r in row.reached)]
    ends = [*(r.begin for r in row.reached), row.looked_until]
    for (day, number, noun), until in zip(begins, ends, strict=True):
        if until > day:
            said = tr("{stage}, from day {day}", stage=noun, day=f"{day:g}")
            yield Span(day, until, row.middle, f"{row.id}: {said}", _thickness(number, step))


def _thickness(number: int, step: float) -> float:
    """Of a row at a stage."""
    return _THIN + step * (number + 1)


def _unseen(row: PlantRow) -> Iterator[Span]:
    """From the last look at a plant that waited for a stage to its end."""
    since = row.looked_until
    if row.until > since:
        said = tr("stage not looked at after day {day}", day=f"{since:g}")
        yield Span(since, row.until, row.middle, f"{row.id}: {said}")


def _between(row: PlantRow, step: float) -> Iterator[Span]:
    """Hatched from the last visit without a stage to the first with it."""
    for r in row.reached:
        if r.day.last > r.begin:
            title = f"{row.id}: {r.text}"
            yield Span(r.begin, float(r.day.last), row.middle, title, _thickness(r.number, step))


def _lost_text(row: PlantRow, fate: Fate) -> str:
    when = f", {day_words(fate.day)}" if fate.day else ""
    why = f": {fate.why}" if fate.why else ""
    return f"{row.id}: {tr_c('a plant', 'lost')}{when}{why}"


def _not_yet(row: PlantRow) -> Iterator[Symbol]:
    """One arrow where a plant still waited for stages when it was last looked at; none for a lost one."""
    by_look: dict[float, list[str]] = {}
    for noun, look in row.waiting if not row.lost else ():
        by_look.setdefault(look.middle, []).append(noun)
    for day, nouns in by_look.items():
        said = tr(
            "not reached when last looked at, day {day}: {stages}",
            day=f"{day:g}",
            stages=", ".join(nouns),
        )
        yield Symbol(day, row.middle, _NOT_YET, OPEN, f"{row.id}: {said}", _STEP)


def names(rows: Iterable[PlantRow]) -> Iterator[PointLabel]:
    """The word beside each loss."""
    for row in rows:
        if row.lost:
            yield PointLabel(row.until, row.middle, tr_c("a plant", "lost"), strong=True)


def description(stage: MilestoneFacts) -> str:
    """The number of plants that reached a stage, the days, and the state of the others."""
    days = [a.day for a in stage.arrivals if a.day]
    reached = _reached(len(days), len(stage.arrivals))
    said = f", {_span(days)}{_half(stage, days)}" if days else ""
    rest = _rest(stage)
    return f"{opening(label_words(stage.label))}: {reached}{said}{rest}."


def _reached(part: int, whole: int) -> str:
    if not part:
        return tr_n("none of {n} plant", "none of {n} plants", whole)
    if part == whole > 1:
        return tr_n("all {n} plant", "all {n} plants", whole)
    return tr_n("{part} of {n} plant", "{part} of {n} plants", whole, part=part)


def _span(days: Sequence[Day]) -> str:
    first, last = min(days, key=lambda d: d.last), max(days, key=lambda d: d.last)
    if first == last:
        return tr("seen on {day}", day=day_words(first))
    return tr("seen from {first} to {last}", first=day_words(first), last=day_words(last))


def _half(stage: MilestoneFacts, days: Sequence[Day]) -> str:
    """The day by which half the plants had reached it, where the days differ."""
    median = stage.median.value
    if not isinstance(median, Day) or len(set(days)) < 2:
        return ""
    # A span from the day of sowing has no lower bound but that one: "by day 70" says as much as "days 0-70".
    by = median if median.first > 0 else Day.on(median.last, about=median.about)
    return f", {tr('half by {day}', day=day_words(by))}"


def _rest(stage: MilestoneFacts) -> str:
    """The state of the plants that had not reached it: not there at the last look, picked, lost, not looked at."""
    waiting, lost = stage.in_state("not yet"), len(stage.in_state("lost"))
    unknown, picked = len(stage.in_state("unknown")), len(stage.in_state("picked"))
    parts = []
    if looks := [a.last_look for a in waiting if a.last_look]:
        last = max(looks, key=lambda day: day.last)
        parts.append(
            tr_n(
                "{n} had not when last looked at, on {day}",
                "{n} had not when last looked at, on {day}",
                len(waiting),
                day=day_words(last),
            )
        )
    if picked:
        parts.append(tr_n("{n} picked before", "{n} picked before", picked))
    if lost:
        parts.append(tr_n("{n} lost before", "{n} lost before", lost))
    if unknown:
        parts.append(tr_n("{n} not looked at for it", "{n} not looked at for it", unknown))
    return f" ({'; '.join(parts)})" if parts else ""
