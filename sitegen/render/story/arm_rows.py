"""The table of the arms of a run: a row for each thing that is known of any of them.

In: arms with their facts. Out: `ArmRow`s with a cell of HTML for each arm; each number leads to its working. A cell that
is not known says why.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup, escape

from sitegen.core.facts.figure import Figure, Remark
from sitegen.core.facts.indices import TasteNote
from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words, remarks_words
from sitegen.core.language.text import day_words, listed
from sitegen.core.language.wording import opening
from sitegen.core.values.quantity import Quantity
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.tables import nothing_said
from sitegen.render.story.arm_facts import ArmFacts

_FEW = 4  # plants that are listed by name
# Remarks that an answer has said already, or that only name how many plants are behind a number.
_SAID = (
    "mean_of_plants",
    "moved_plants_left_out",
    "moved_plants_until_move",
    "counts_until_move",
    "count_until_moves",
)


@dataclass(frozen=True, slots=True)
class ArmRow:
    """One row: its label, and a cell for each arm; `stage` where it is the day of a stage."""

    label: str
    cells: tuple[Markup, ...]
    stage: bool = False


def rows_of(arms: Sequence[ArmFacts], facts: Facts, book: FigureBook) -> tuple[ArmRow, ...]:
    """Every row that has something of any arm; the harvest and the first pick come first."""
    return tuple(row for row in _rows(arms, facts, book) if row is not None)


def _rows(arms: Sequence[ArmFacts], facts: Facts, book: FigureBook) -> Iterator[ArmRow | None]:
    def row(label: str, pick: Callable[[ArmFacts], Figure], *, why: bool = False) -> ArmRow | None:
        found = [pick(arm) for arm in arms]
        if not any(each.recorded for each in found):
            return None
        cells = [_cell(each, arm, facts, book, why=why) for each, arm in zip(found, arms, strict=True)]
        return ArmRow(label, tuple(cells))

    yield row(tr("Harvest so far") if facts.running else tr("Harvest"), lambda arm: arm.total)
    yield row(tr("First pick"), lambda arm: arm.of_set.picks.first, why=True)
    last = tr("Last pick so far") if facts.running else tr("Last pick")
    yield row(last, lambda arm: arm.of_set.picks.last, why=True)
    yield ArmRow(tr("Plants"), tuple(escape(_plants(arm)) for arm in arms))
    yield row(tr("Harvest per spot"), lambda arm: arm.of_set.picks.per_spot)
    yield row(tr("For the floor space"), lambda arm: arm.of_set.picks.square_metre, why=True)
    yield row(tr("For the water used"), lambda arm: arm.of_set.picks.litre, why=True)
    yield row(tr("For the electricity used"), lambda arm: arm.of_set.picks.kilowatt_hour, why=True)
    yield row(tr("Seeds that came up"), lambda arm: arm.of_set.germination)
    yield from _stages(arms, facts, book)
    yield row(tr("Greatest height, mean"), lambda arm: arm.of_set.height.mean)
    if not any(arm.of_set.height.mean.recorded for arm in arms):
        yield row(tr("Greatest height"), lambda arm: arm.of_set.height.range)
    if any(_some(arm.of_set.lost) for arm in arms):
        yield row(tr("Plants lost"), lambda arm: arm.of_set.lost)
    if any(arm.of_set.tastes for arm in arms):
        yield ArmRow(tr("Taste"), tuple(_tastes(arm.of_set.tastes) for arm in arms))


def _cell(figure: Figure, arm: ArmFacts, facts: Facts, book: FigureBook, *, why: bool) -> Markup:
    """A figure with what limits it; why it is not known."""
    said = [each for each in figure.remarks if _is_new(each, arm)] if why or not figure.recorded else []
    shown = book.show(figure, facts, sentence=True) if figure.recorded else nothing_said(tr("not known"))
    if not said:
        return shown
    return Markup("{} <small>{}</small>").format(shown, remarks_words(said))


def _is_new(said: Remark, arm: ArmFacts) -> bool:
    return said.code not in _SAID and said not in arm.total.remarks


def _some(figure: Figure) -> bool:
    return isinstance(figure.value, Quantity) and (figure.value.high is None or figure.value.high > 0)


def _plants(arm: ArmFacts) -> str:
    plants = arm.arm.plants
    if len(plants) > _FEW:
        return str(len(plants))
    return tr("{n}: {plants}", n=len(plants), plants=listed(plants))


def _stages(arms: Sequence[ArmFacts], facts: Facts, book: FigureBook) -> Iterator[ArmRow]:
    """Each stage that a plant reached: the day by which half were there, else how many were."""
    for stage in facts.milestones:
        found = [next((s for s in arm.of_set.stages if s.key == stage.name), None) for arm in arms]
        shown = [
            None if each is None else each.median if each.median.recorded else each.share for each in found
        ]
        if not any(each is not None and _some(each.reached) for each in found):
            continue
        cells = [
            nothing_said(tr("not known")) if each is None else _cell(each, arm, facts, book, why=False)
            for each, arm in zip(shown, arms, strict=True)
        ]
        yield ArmRow(opening(label_words(stage.label)), tuple(cells), stage=True)


def _tastes(notes: Sequence[TasteNote]) -> Markup:
    """Notes as their author wrote them, each with its day."""
    if not notes:
        return nothing_said(tr("not recorded"))
    return escape("; ".join(tr("“{words}”, {day}", words=_taste(n), day=day_words(n.day)) for n in notes))


def _taste(note: TasteNote) -> str:
    score = f"{note.score.low:g}/{note.out_of}" if note.score and note.out_of else ""
    return ", ".join(part for part in (score, note.words) if part)
