"""The table of the arms of a run: a row for each thing that is known of any of them.

In: arms with their facts. Out: an `ArmTable`: a cell of HTML for each arm in each row; each number leads to its working.
A cell that is not known says why; a remark of several rows stands once, below the table.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain

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
from sitegen.render.story.arms.arm_facts import ArmFacts

_ROWS_OF_A_NOTE = 3  # rows with one remark that share a note below the table
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
    """One row: its label, and a cell for each arm.

    `stage` where it is the day of a stage, `detail` where only the record has it.
    """

    label: str
    cells: tuple[Markup, ...]
    stage: bool = False
    detail: bool = False


@dataclass(frozen=True, slots=True)
class ArmTable:
    """All arms side by side, in the order of `arms`, with the remarks of several rows; `names` are its figures'."""

    arms: tuple[str, ...]
    rows: tuple[ArmRow, ...]
    notes: tuple[str, ...]
    names: frozenset[str]

    @property
    def has_stages(self) -> bool:
        """Whether there are days of stages, which a note explains."""
        return any(row.stage for row in self.rows)

    def in_short(self, *, stages: bool) -> ArmTable:
        """The rows that answer which arm did better; `stages` where no drawing shows them."""
        rows = (row for row in self.rows if not row.detail and (stages or not row.stage))
        return replace(self, rows=tuple(rows))


@dataclass(frozen=True, slots=True)
class _Found:
    """The figure of each arm that a row shows, each with the remarks that stand with it."""

    label: str
    figures: tuple[Figure | None, ...]
    remarks: tuple[tuple[Remark, ...], ...]
    stage: bool = False
    detail: bool = False


def arm_table(arms: Sequence[ArmFacts], facts: Facts, book: FigureBook) -> ArmTable:
    """Every row that has something of any arm; the harvest and the first pick come first."""
    found = [row for row in _rows(arms, facts) if row is not None]
    names = tuple(opening(arm.name) for arm in arms)
    shared = _shared(found)
    rows = [_shown(each, shared, facts, book) if isinstance(each, _Found) else each for each in found]
    shown = (each.figures for each in found if isinstance(each, _Found))
    return ArmTable(
        names,
        tuple(rows),
        tuple(_note(said, found, names) for said in shared),
        frozenset(figure.name for figure in chain.from_iterable(shown) if figure is not None),
    )


def _rows(arms: Sequence[ArmFacts], facts: Facts) -> Iterator[_Found | ArmRow | None]:
    def row(
        label: str, pick: Callable[[ArmFacts], Figure], *, why: bool = False, detail: bool = False
    ) -> _Found | None:
        figures = tuple(pick(arm) for arm in arms)
        if not any(each.recorded for each in figures):
            return None
        return _Found(label, figures, _remarks(figures, arms, why=why), detail=detail)

    yield row(tr("Harvest so far") if facts.running else tr("Harvest"), lambda arm: arm.total)
    yield row(tr("First pick"), lambda arm: arm.of_set.picks.first, why=True)
    last = tr("Last pick so far") if facts.running else tr("Last pick")
    yield row(last, lambda arm: arm.of_set.picks.last, why=True, detail=True)
    yield ArmRow(tr("Plants"), tuple(escape(_plants(arm)) for arm in arms))
    yield row(tr("Harvest per spot"), lambda arm: arm.of_set.picks.per_spot)
    yield row(tr("Harvest for the floor space used"), lambda arm: arm.of_set.picks.square_metre, why=True)
    yield row(tr("Harvest for the water used"), lambda arm: arm.of_set.picks.litre, why=True)
    yield row(tr("Harvest for the electricity used"), lambda arm: arm.of_set.picks.kilowatt_hour, why=True)
    yield row(tr("First seedling"), lambda arm: arm.of_set.emergence, why=True)
    yield row(tr("Seeds that came up"), lambda arm: arm.of_set.germination)
    yield from _stages(arms, facts)
    yield row(tr("Greatest height, mean"), lambda arm: arm.of_set.height.mean, detail=True)
    if not any(arm.of_set.height.mean.recorded for arm in arms):
        yield row(tr("Greatest height"), lambda arm: arm.of_set.height.range, detail=True)
    if any(_some(arm.of_set.lost) for arm in arms):
        yield row(tr("Plants lost"), lambda arm: arm.of_set.lost)
    if any(arm.of_set.tastes for arm in arms):
        yield ArmRow(tr("Taste"), tuple(_tastes(arm.of_set.tastes) for arm in arms))


def _remarks(
    figures: Sequence[Figure | None], arms: Sequence[ArmFacts], *, why: bool
) -> tuple[tuple[Remark, ...], ...]:
    """What limits each figure, or why it is not known; nothing that an answer has said."""
    return tuple(
        tuple(each for each in figure.remarks if each.code not in _SAID and each not in arm.total.remarks)
        if figure is not None and (why or not figure.recorded)
        else ()
        for figure, arm in zip(figures, arms, strict=True)
    )


def _shared(found: Sequence[_Found | ArmRow]) -> tuple[Remark, ...]:
    """The remarks that are said once, for all their rows."""
    rows = Counter(
        said
        for row in found
        if isinstance(row, _Found)
        for said in dict.fromkeys(chain.from_iterable(row.remarks))
    )
    return tuple(said for said, count in rows.items() if count >= _ROWS_OF_A_NOTE)


def _shown(row: _Found, shared: Sequence[Remark], facts: Facts, book: FigureBook) -> ArmRow:
    cells = (
        _cell(figure, [each for each in remarks if each not in shared], facts, book)
        for figure, remarks in zip(row.figures, row.remarks, strict=True)
    )
    return ArmRow(row.label, tuple(cells), row.stage, row.detail)


def _cell(figure: Figure | None, remarks: Sequence[Remark], facts: Facts, book: FigureBook) -> Markup:
    """A figure with what limits it; why it is not known."""
    known = figure is not None and figure.recorded
    shown = book.show(figure, facts, sentence=True) if figure and known else nothing_said(tr("not known"))
    return Markup("{} <small>{}</small>").format(shown, remarks_words(remarks)) if remarks else shown


def _note(said: Remark, found: Sequence[_Found | ArmRow], arms: Sequence[str]) -> str:
    """A remark of several rows with their names, and the name of the arm where it is not true of all."""
    rows = [row for row in found if isinstance(row, _Found) and any(said in each for each in row.remarks)]
    named = [n for n in range(len(arms)) if any(said in row.remarks[n] for row in rows)]
    where = listed([tr("“{label}”", label=row.label) for row in rows])
    if len(named) < len(arms):
        where = f"{listed([arms[n] for n in named])}, {where}"
    return f"{where}: {remarks_words([said])}."


def _some(figure: Figure) -> bool:
    return isinstance(figure.value, Quantity) and (figure.value.high is None or figure.value.high > 0)


def _plants(arm: ArmFacts) -> str:
    plants = arm.arm.plants
    if len(plants) > _FEW:
        return str(len(plants))
    return tr("{n}: {plants}", n=len(plants), plants=listed(plants))


def _stages(arms: Sequence[ArmFacts], facts: Facts) -> Iterator[_Found]:
    """Each stage that a plant reached: the day by which half were there, else how many were."""
    for stage in facts.milestones:
        found = [next((s for s in arm.of_set.stages if s.key == stage.name), None) for arm in arms]
        if not any(each is not None and _some(each.reached) for each in found):
            continue
        shown = tuple(
            None if each is None else each.median if each.median.recorded else each.share for each in found
        )
        yield _Found(opening(label_words(stage.label)), shown, _remarks(shown, arms, why=False), stage=True)


def _tastes(notes: Sequence[TasteNote]) -> Markup:
    """Notes as their author wrote them, each with its day."""
    if not notes:
        return nothing_said(tr("not recorded"))
    return escape("; ".join(tr("“{words}”, {day}", words=_taste(n), day=day_words(n.day)) for n in notes))


def _taste(note: TasteNote) -> str:
    score = f"{note.score.low:g}/{note.out_of}" if note.score and note.out_of else ""
    return ", ".join(part for part in (score, note.words) if part)
