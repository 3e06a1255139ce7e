"""Plants that were observed one by one, in the chart of growth stages: a row each, and in words.

In: one plant's arrivals and fate, and where its row lies. Out: rows for the chart's layers, labels, and text. Nothing is
drawn as known that nobody looked at; a plant that had not reached a stage is said to have waited, never left out. What
came on an uncertain day is drawn over all the days that it can have been.
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
from sitegen.plot.chart_data import Bar, Layers, PointLabel, Row, Span, Symbol
from sitegen.plot.chart_type import last_day_of
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
        """The last day on which the plant was certainly not there yet; else the first on which it may have been."""
        return (self.after or self.day).reach[0]

    @property
    def end(self) -> float:
        """The day from which it was certainly there."""
        return self.day.reach[1]

    @property
    def text(self) -> str:
        """When it was seen."""
        said = tr("{stage}, seen {day}", stage=self.noun, day=day_words(self.day))
        return f"{said}, {tr('not yet on {day}', day=day_words(self.after))}" if self.after else said


@dataclass(frozen=True, slots=True)
class PlantRow:
    """One row: its middle, and the observations of the plant; `waiting` has the last looks by stage.

    `until` is the day up to which it certainly stood, `gone` that of its end or of the last entry.
    """

    id: str
    middle: float
    sown: Day
    until: float
    gone: Day
    fate: Fate | None
    reached: tuple[_Reached, ...]
    waiting: tuple[tuple[str, Day], ...]

    @property
    def lost(self) -> Fate | None:
        """Its fate, where it was lost."""
        return self.fate if self.fate and self.fate.word == "lost" else None

    @property
    def looked_at(self) -> Day | None:
        """The last look at a plant that waited for a stage; None where nothing can have come unseen."""
        looks = [look for _, look in self.waiting]
        return max([*looks, *(r.day for r in self.reached)], key=lambda day: day.reach) if looks else None

    @property
    def looked_until(self) -> float:
        """Until when its last stage is known: a plant that waited for another one may have reached it unseen."""
        looks = [look.reach[0] for _, look in self.waiting]
        reached = max((r.end for r in self.reached), default=0.0)
        return min(self.until, max(reached, *looks)) if looks else self.until


def plant_row(plant: str, stages: Sequence[MilestoneFacts], middle: float, facts: Facts) -> PlantRow:
    """The observations of a plant, at the height of its row."""
    mine = [
        (number, stage, a) for number, stage in enumerate(stages) for a in stage.arrivals if a.plant == plant
    ]
    reached = [_Reached(number, label_words(m.label), a.day, a.after) for number, m, a in mine if a.day]
    known = next((p for p in facts.plants if p.plant == plant), None)
    fate = known.fate if known else None
    gone = fate.day if fate and fate.day else last_day_of(facts)
    return PlantRow(
        plant,
        middle,
        known.sown if known and known.sown else Day.on(0),
        max([0.0, gone.reach[0], *(r.end for r in reached)]),
        gone,
        fate,
        tuple(sorted(reached, key=lambda r: (r.end, r.begin, r.number))),
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
                r.day.first,
                row.middle - _HALF_STROKE,
                row.middle + _HALF_STROKE,
                title=f"{row.id}: {r.text}",
            )
            for row in rows
            for r in row.reached
            if r.day.exact
        ],
        **_ends(rows),
    }


def _stages(row: PlantRow, step: float) -> Iterator[Span]:
    """From each stage to the last visit without the next, and thin from sowing to the first."""
    begins = [(row.sown, -1, tr("sown")), *((r.day, r.number, r.noun) for r in row.reached)]
    ends = [*(r.begin for r in row.reached), row.looked_until]
    for (day, number, noun), until in zip(begins, ends, strict=True):
        since = day.reach[1]
        if until > since:
            said = tr("{stage}, from {day}", stage=noun, day=day_words(_latest(day)))
            yield Span(since, until, row.middle, f"{row.id}: {said}", _thickness(number, step))


def _latest(day: Day) -> Day:
    """The latest that a day can be."""
    return Day.on(day.last, about=day.about)


def _thickness(number: int, step: float) -> float:
    """Of a row at a stage."""
    return _THIN + step * (number + 1)


def _unseen(row: PlantRow) -> Iterator[Span]:
    """From the last look at a plant that waited for a stage to its end, and over the days that its end can be."""
    since, look = row.looked_until, row.looked_at
    if look is not None and row.until > since:
        said = tr("stage not checked after {day}", day=day_words(_latest(look)))
        yield Span(since, row.until, row.middle, f"{row.id}: {said}")
    if not row.gone.exact and not row.lost and row.gone.reach[1] > row.until:
        said = tr("ended on {day}", day=day_words(row.gone))
        yield Span(row.until, row.gone.reach[1], row.middle, f"{row.id}: {said}")


def _between(row: PlantRow, step: float) -> Iterator[Span]:
    """Hatched from the last visit without a stage to the first with it; over the days that an uncertain sowing can be."""
    if not row.sown.exact:
        said = tr("{stage}, {day}", stage=tr("sown"), day=day_words(row.sown))
        yield Span(*row.sown.reach, row.middle, f"{row.id}: {said}", _thickness(0, step))
    for r in row.reached:
        if r.end > r.begin:
            yield Span(r.begin, r.end, row.middle, f"{row.id}: {r.text}", _thickness(r.number, step))


def _lost_text(row: PlantRow, fate: Fate) -> str:
    when = f", {day_words(fate.day)}" if fate.day else ""
    why = f": {fate.why}" if fate.why else ""
    return f"{row.id}: {tr_c('a plant', 'lost')}{when}{why}"


def _ends(rows: Iterable[PlantRow]) -> Layers:
    """The loss of a plant, or one arrow where it still waited for stages when it was last looked at.

    Those of uncertain days are level bars.
    """
    found: dict[str, list[Row]] = {"losses": [], "loss-spans": [], "not-yet": [], "not-yet-spans": []}
    for row in rows:
        if row.lost:
            text, day = _lost_text(row, row.lost), row.gone
            if day.exact:
                found["losses"].append(Symbol(max(row.until, day.first), row.middle, CROSS, "none", text))
            else:
                found["loss-spans"].append(Span(*day.reach, row.middle, text))
        for look, text in _not_yet(row):
            if look.exact:
                found["not-yet"].append(Symbol(look.first, row.middle, _NOT_YET, OPEN, text, _STEP))
            else:
                found["not-yet-spans"].append(Span(*look.reach, row.middle, text))
    return {**found}


def _not_yet(row: PlantRow) -> Iterator[tuple[Day, str]]:
    """Each last look that found a plant without stages, with its text; none of a lost plant."""
    by_look: dict[Day, list[str]] = {}
    for noun, look in row.waiting if not row.lost else ():
        by_look.setdefault(look, []).append(noun)
    for look, nouns in by_look.items():
        said = tr(
            "not yet when last checked, {day}: {stages}",
            day=day_words(look),
            stages=", ".join(nouns),
        )
        yield look, f"{row.id}: {said}"


def names(rows: Iterable[PlantRow]) -> Iterator[PointLabel]:
    """The word beside each loss."""
    for row in rows:
        if row.lost:
            yield PointLabel(
                max(row.until, row.gone.reach[1]), row.middle, tr_c("a plant", "lost"), strong=True
            )


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
    said = tr("half by {day}", day=day_words(by)) if by.single else tr("half in {days}", days=day_words(by))
    return f", {said}"


def _rest(stage: MilestoneFacts) -> str:
    """The state of the plants that had not reached it: not there at the last look, picked, lost, not looked at."""
    waiting, lost = stage.in_state("not yet"), len(stage.in_state("lost"))
    unknown, picked = len(stage.in_state("unknown")), len(stage.in_state("picked"))
    parts = []
    if looks := [a.last_look for a in waiting if a.last_look]:
        last = max(looks, key=lambda day: day.last)
        parts.append(
            tr_n(
                "{n} had not when last checked, on {day}",
                "{n} had not when last checked, on {day}",
                len(waiting),
                day=day_words(last),
            )
        )
    if picked:
        parts.append(tr_n("{n} picked before that", "{n} picked before that", picked))
    if lost:
        parts.append(tr_n("{n} lost before that", "{n} lost before that", lost))
    if unknown:
        parts.append(tr_n("{n} not checked for it", "{n} not checked for it", unknown))
    return f" ({'; '.join(parts)})" if parts else ""
