"""A run by arm: what each gave in a sentence, all of its figures side by side, a mark for each plant.

In: the facts of a run whose plants are divided by what it compares. Out: `ArmsView`; None where nothing is compared.
What is only known of several arms together is never said of one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.facts.figure import NOTHING_YET
from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.figure_words import label_words, remarks_words
from sitegen.core.language.text import in_words, listed
from sitegen.core.language.wording import Wording, opening
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.render.drawings.dots import SHAPES, DotPlot, DotRow, Point, dot_plot
from sitegen.render.drawings.lengths import Length, lengths
from sitegen.render.drawings.running_totals import Series, TotalsPlot, totals_plot
from sitegen.render.drawings.spans import DaySpan, SpanRow, SpansPlot, spans_plot
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.story.arms.arm_facts import ArmFacts, arm_facts_of
from sitegen.render.story.arms.arm_table import ArmTable, arm_table
from sitegen.render.story.run_sentences import Sentence, filled_sentence

_FEWEST_MARKS = 2  # plants of which something was weighed by itself: fewer make no drawing


@dataclass(frozen=True, slots=True)
class ArmView:
    """One arm on the page: its name, in what its tubs differ, what it gave, and why that is not exact.

    `shape` is the shape of its marks in every drawing, `length` what it gave as a bar beside the others.
    """

    name: str
    note: str
    shape: int
    sentence: Sentence
    remark: str
    length: Length | None


@dataclass(frozen=True, slots=True)
class ArmsView:
    """All arms with their table, the drawings with what each says, and the caveat.

    Stages that are drawn are not in the table, nor are details; the record has them all.
    """

    arms: tuple[ArmView, ...]
    table: ArmTable
    dots: DotPlot | None
    said: str
    left_out: str
    totals: TotalsPlot | None
    totals_said: str
    stages: SpansPlot | None
    stages_said: str
    caveat: str

    @property
    def names(self) -> tuple[tuple[int, str], ...]:
        """The name of each shape."""
        return tuple((arm.shape % SHAPES, arm.name) for arm in self.arms)


def arms_view(facts: Facts, book: FigureBook) -> ArmsView | None:
    """The arms of a run, side by side; the one that gave most first."""
    arms = arm_facts_of(facts)
    if not arms:
        return None
    plot = _dots(arms, facts, book.wording)
    table = arm_table(arms, facts, book)
    totals, stages = _totals(arms, facts, book.wording), _stages(arms, facts, book.wording)
    moved = tuple(dict.fromkeys(plant for arm in arms for plant in arm.moved))
    left_out = (
        opening(tr("not counting {plants}, moved to another tub", plants=listed(moved)))
        if moved and plot
        else ""
    )
    return ArmsView(
        _views(arms, facts),
        table.in_short(stages=not stages),
        plot,
        _plot_words(plot, book.wording) if plot else "",
        opening(f"{left_out}.") if left_out else "",
        totals,
        _totals_words(totals, book.wording) if totals else "",
        spans_plot(stages),
        _stages_words(stages),
        _caveat(arms),
    )


def _views(arms: Sequence[ArmFacts], facts: Facts) -> tuple[ArmView, ...]:
    bars = lengths([arm.total.value for arm in arms])
    return tuple(
        _view(arm, shape, bar, facts) for shape, (arm, bar) in enumerate(zip(arms, bars, strict=True))
    )


def _view(arm: ArmFacts, shape: int, bar: Length | None, facts: Facts) -> ArmView:
    said = [each for each in arm.total.remarks if each != NOTHING_YET] if arm.total.recorded else []
    remark = f"{opening(remarks_words(said))}." if said else ""
    return ArmView(opening(arm.name), arm.note, shape, _sentence(arm, facts), remark, bar)


def _sentence(arm: ArmFacts, facts: Facts) -> Sentence:
    """What an arm gave; while nothing was picked from any, how far it came."""
    name, value = opening(arm.name), arm.total.value
    if not facts.harvest.total.recorded:
        return _stage_sentence(name, arm, facts)
    if NOTHING_YET in arm.total.remarks:
        return filled_sentence(tr("{arm}: nothing picked so far."), arm=name)
    if not isinstance(value, Quantity) or not value.known or (value.low == 0 and value.high is None):
        return filled_sentence(tr("{arm}: picked, but how much is not known."), arm=name)
    if value.low == value.high == 0:
        return filled_sentence(tr("{arm}: nothing was picked."), arm=name)
    kept = {"arm": "{arm}", "harvest": "{harvest}"}
    if facts.running:
        message = tr_n(
            "{arm}: {harvest} so far, from {n} plant.",
            "{arm}: {harvest} so far, from {n} plants.",
            arm.givers,
            **kept,
        )
    else:
        message = tr_n(
            "{arm}: {harvest} from {n} plant.", "{arm}: {harvest} from {n} plants.", arm.givers, **kept
        )
    return filled_sentence(message, arm=name, harvest=arm.total)


def _stage_sentence(name: str, arm: ArmFacts, facts: Facts) -> Sentence:
    """The latest stage that a plant of the run has reached, and how many of the arm have."""
    seen = [stage.name for stage in facts.milestones if stage.first.recorded]
    stage = next((each for each in reversed(arm.of_set.stages) if each.key in seen), None)
    nothing = tr("nothing picked so far") if facts.running else tr("nothing was picked")
    if stage is None or not stage.share.recorded:
        return filled_sentence("{arm}: {nothing}.", arm=name, nothing=nothing)
    return filled_sentence(
        tr("{arm}: {nothing}; {stage} on {plants}."),
        arm=name,
        nothing=nothing,
        stage=label_words(stage.label),
        plants=stage.share,
    )


def _dots(arms: Sequence[ArmFacts], facts: Facts, wording: Wording) -> DotPlot | None:
    """A mark for each plant that stayed in its arm, and the mean; None where too few were weighed by themselves."""
    plants = {row.key: row.figure.value for row in facts.harvest.by_plant}
    rows = []
    for shape, arm in enumerate(arms):
        stayed = [plant for plant in arm.arm.plants if plant not in arm.moved]
        values = [(plant, value) for plant in stayed if isinstance(value := plants.get(plant), Quantity)]
        points = tuple(Point(value, f"{plant}: {wording.say(value)}") for plant, value in values)
        mean = arm.of_set.picks.per_spot.value
        rows.append(
            DotRow(
                opening(arm.name), points, mean if isinstance(mean, Quantity) else None, arm.note, "", shape
            )
        )
    apart = sum(point.value.low > 0 for row in rows for point in row.points)
    return dot_plot(rows, wording.units) if apart >= _FEWEST_MARKS else None


def _plot_words(plot: DotPlot, wording: Wording) -> str:
    """What the drawing shows, for who cannot see it."""
    said = []
    for each in plot.rows:
        parts = [mark.name for mark in each.dots]
        if each.row.mean is not None:
            parts.append(tr("mean {value}", value=wording.say(each.row.mean)))
        said.append(tr("{arm}: {values}.", arm=each.row.label, values="; ".join(parts)) if parts else "")
    return " ".join(part for part in said if part)


def _totals(arms: Sequence[ArmFacts], facts: Facts, wording: Wording) -> TotalsPlot | None:
    """The running total of each arm; None where all was picked on one day."""
    series = [
        Series(opening(arm.name), tuple((p.day, p.total) for p in arm.of_set.cumulative), shape)
        for shape, arm in enumerate(arms)
    ]
    days = {point.day for arm in arms for point in arm.of_set.cumulative}
    return totals_plot(series, facts.axis.last, wording.units) if len(days) > 1 else None


def _totals_words(plot: TotalsPlot, wording: Wording) -> str:
    """Where each line begins and ends."""
    said = []
    for line in plot.lines:
        (first, _), (last, value) = line.series.points[0], line.series.points[-1]
        said.append(
            tr(
                "{arm}: from {first} to {last}, then {value}.",
                arm=line.series.label,
                first=wording.say(first),
                last=wording.say(last),
                value=wording.say(value),
            )
        )
    return " ".join(said)


def _stages(arms: Sequence[ArmFacts], facts: Facts, wording: Wording) -> tuple[SpanRow, ...]:
    """Each stage that several arms came to, with the day by which half of each were there; none where all were alike."""
    rows = []
    for stage in facts.milestones:
        medians = [
            (shape, arm, each.median.value)
            for shape, arm in enumerate(arms)
            for each in arm.of_set.stages
            if each.key == stage.name and isinstance(each.median.value, Day)
        ]
        spans = tuple(
            DaySpan(day, tr("{arm}: {day}", arm=opening(arm.name), day=wording.say(day)), shape)
            for shape, arm, day in medians
        )
        rows += [SpanRow(opening(label_words(stage.label)), spans)] if len(spans) > 1 else []
    differ = any(len({span.day for span in row.spans}) > 1 for row in rows)
    return tuple(rows) if differ else ()


def _stages_words(rows: Sequence[SpanRow]) -> str:
    """The days of each stage, for who cannot see the drawing."""
    return " ".join(f"{row.label}. {'; '.join(span.name for span in row.spans)}." for row in rows)


def whole_table(facts: Facts, book: FigureBook) -> ArmTable | None:
    """All that is known of each arm, for the record of a run; None where nothing is compared."""
    arms = arm_facts_of(facts)
    return arm_table(arms, facts, book) if arms else None


def _caveat(arms: Sequence[ArmFacts]) -> str:
    """That plants of one tub are no independent trials: said once on a page."""
    tubs = tuple(dict.fromkeys(tub for arm in arms for tub in arm.tubs))
    if len(tubs) == 1:
        return tr(
            "All these plants shared one tub, its water and its luck: this is true of that tub, this "
            "one time."
        )
    return tr_n(
        "Plants in one tub share water, light and luck: this is true of this tub, this one time.",
        "Plants in one tub share water, light and luck: this is true of these {number} tubs, this one time.",
        len(tubs),
        number=in_words(len(tubs)),
    )
