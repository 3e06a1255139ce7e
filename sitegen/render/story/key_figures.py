"""The four to six figures that a run is judged by, none of them empty.

In: facts. Out: `KeyFigure`s: the stage that matters for the kind of crop, the first pick, the harvest of a plant and of a
week, the seeds that came up, the taste in the author's words. What the answer says is not said again, nor what a table of
arms has.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words, remarks_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.rows import Tasting
from sitegen.core.reference.milestones import stage_that_matters
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity

MOST = 6  # more are a table
LONG_PICKING = 14.0  # days of picking from which an amount a week says something; common practice, no source
TASTE_LENGTH = 90  # letters of a note of taste; longer ones stand in the record


@dataclass(frozen=True, slots=True)
class KeyFigure:
    """One of the main figures with a note on its limits, or words of the author in its place."""

    label: str
    figure: Figure | None
    note: str = ""
    words: str = ""


def key_figures(facts: Facts, wording: Wording, *, compared: bool) -> tuple[KeyFigure, ...]:
    """The figures; where arms are `compared`, those of the whole run that their table has not."""
    found = _of_the_run(facts, wording) if compared else _of_each_plant(facts, wording)
    return tuple(islice(found, MOST))


def _of_each_plant(facts: Facts, wording: Wording) -> Iterator[KeyFigure]:
    label, first = _stage(facts)
    if first is not None:
        yield KeyFigure(label, first, _date(first, facts, wording))
    if facts.harvest.first_pick.recorded:
        pick = facts.harvest.first_pick
        yield KeyFigure(tr("First pick"), pick, _date(pick, facts, wording))
    if _known(facts.harvest.per_spot) and len(facts.run.setup.plants) > 1:
        yield _with_limits(tr("Harvest per spot"), facts.harvest.per_spot, facts)
    yield from _of_the_run(facts, wording)


def _of_the_run(facts: Facts, wording: Wording) -> Iterator[KeyFigure]:
    harvest, picking = facts.harvest, facts.harvest.timing.picking.value
    if _known(harvest.per.week_of_picking) and isinstance(picking, Quantity) and picking.low >= LONG_PICKING:
        yield _with_limits(tr("While picking"), harvest.per.week_of_picking, facts)
    if _known(facts.germination.share):
        yield _with_limits(tr("Seeds that came up"), facts.germination.share, facts)
    if _known(facts.solution.water):
        yield _with_limits(tr("Water poured in"), facts.solution.water, facts)
    yield from _taste(facts, wording)


def _stage(facts: Facts) -> tuple[str, Figure | None]:
    """The first plant's day of the stage that matters, or of the latest stage that was reached."""
    reached = {stage.name: stage for stage in facts.milestones if stage.first.recorded}
    stage = reached.get(stage_that_matters(facts.run.setup.crop.kind)) or next(
        reversed(reached.values()), None
    )
    return (opening(label_words(stage.label)), stage.first) if stage else ("", None)


def _taste(facts: Facts, wording: Wording) -> Iterator[KeyFigure]:
    notes = [note for note in facts.run.rows.of(Tasting) if 0 < len(note.what) <= TASTE_LENGTH]
    if not notes:
        return
    # Marks say most; of notes alike the last one is of what was eaten in the end.
    note = next((each for each in reversed(notes) if each.score and each.out_of), notes[-1])
    said = opening(f"{wording.say(note.day)}.")
    if note.score and note.out_of:
        marks = tr("{marks} out of {most}", marks=wording.say(note.score), most=note.out_of)
        said = f"{marks}, {wording.say(note.day)}."
    yield KeyFigure(tr("Taste"), None, said, opening(note.what))


def _known(figure: Figure) -> bool:
    return figure.recorded and (not isinstance(figure.value, Quantity) or figure.value.known)


def _with_limits(label: str, figure: Figure, facts: Facts) -> KeyFigure:
    """A figure with what limits it, but for what limits the harvest: the answer above says that."""
    limits = [each for each in figure.remarks if each not in facts.harvest.total.remarks]
    return KeyFigure(label, figure, f"{opening(remarks_words(limits))}." if limits else "")


def _date(figure: Figure, facts: Facts, wording: Wording) -> str:
    """The date of a day that is known."""
    if not isinstance(figure.value, Day) or not figure.value.single:
        return ""
    when = facts.axis.start.date_of(figure.value.first)
    return f"{wording.calendar_day(when)}." if when else ""
