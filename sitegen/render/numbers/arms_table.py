"""Arms of several runs side by side in a table.

In: summaries. Out: `ArmsTable` with HTML cells. It states facts beside each other and infers nothing from them: what was
not reached, not weighed or not kept is said so, cell by cell.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from textwrap import shorten

from markupsafe import Markup, escape

from sitegen.core.facts.across import ArmFigures
from sitegen.core.facts.figure import Figure, Label
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.figure_words import label_words, remarks_words
from sitegen.core.language.text import listed
from sitegen.core.language.wording import mid_sentence, opening
from sitegen.core.reference.milestones import stage_that_matters
from sitegen.core.site.addresses import link
from sitegen.core.values.quantity import Quantity
from sitegen.render.numbers.compared_arms import ComparedArm, compared_arms
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.tables import nothing_said
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.run_sentences import VERDICTS

Cell = Callable[[ComparedArm, FigureBook], Markup]
EMPTY = Markup("")
TASTE_LENGTH = 60  # letters of a note in a cell; more makes the row higher than all its numbers


@dataclass(frozen=True, slots=True)
class ArmColumn:
    """A column: its heading; whether it holds numbers, a phone shows it first, it comes from a log."""

    title: str
    cell: Cell
    number: bool = False
    first: bool = False
    logged: bool = True


@dataclass(frozen=True, slots=True)
class ArmsTable:
    """Cells by row; the first of a row is its heading. `runs` are the ids of their runs, `note` is a sentence below."""

    label: str
    columns: tuple[ArmColumn, ...]
    rows: tuple[tuple[Markup, ...], ...]
    runs: tuple[str, ...]
    note: str = ""


def _experiment(row: ComparedArm, book: FigureBook) -> Markup:
    """The run with the arm, and that it still grows."""
    said = Markup('<a href="{}">{}</a>').format(link(row.summary.address, book.page), row.summary.title)
    if row.label and row.label != row.varieties:
        said += Markup("<span>{}</span>").format(opening(row.label))
    if row.state:
        said += Markup('<span class="state">{}</span>').format(row.state)
    return said


def _variety(row: ComparedArm, _: FigureBook) -> Markup:
    return escape(row.varieties) if row.varieties else nothing_said(tr("not recorded"))


def _sown(row: ComparedArm, book: FigureBook) -> Markup:
    start = row.summary.setup.start
    if start.date is None:
        return nothing_said(tr("not recorded"))
    moment = start.date.isoformat()[: 4 if start.precision == "year" else 7]
    return Markup('<time datetime="{}">{}</time>').format(moment, row.sown(book.wording))


def _shown(figure: Figure, row: ComparedArm, book: FigureBook, *, sentence: bool = False) -> Markup:
    """A figure, and what it counts beside the plants of the row; or why there is none."""
    if figure.recorded:
        said = book.show(figure, row.summary, sentence=sentence, named=False)
        others = [each for each in figure.remarks if each.code == "whole_tub_with_moves"]
        return said + Markup(" <span>{}</span>").format(remarks_words(others)) if others else said
    if row.arm.kind != "run" and not figure.remarks:
        return nothing_said(tr("not recorded apart"))
    return nothing_said(remarks_words(figure.remarks) if figure.remarks else tr("not recorded"))


def _figure(pick: Callable[[ArmFigures], Figure], *, sentence: bool = False) -> Cell:
    return lambda row, book: _shown(pick(row.figures), row, book, sentence=sentence)


def _stage(row: ComparedArm, book: FigureBook) -> Markup:
    """The day of the stage that matters: a median; else that some, or none, had come to it when the log ended."""
    figure, stage = row.figures.stage, row.stage
    if figure.recorded or stage is None or not stage.open:
        return _shown(figure, row, book)
    none_there = stage.first is None and not stage.reached
    by = tr("not yet on day {day}", day=_last(row)) if none_there else remarks_words(figure.remarks)
    return nothing_said(by or tr("fewer than half got there"))


def _named_stage(row: ComparedArm, book: FigureBook) -> Markup:
    """The same with the name of the stage, where the crops of a table differ in it."""
    name = stage_that_matters(row.summary.setup.crop.kind)
    said = _stage(row, book)
    return Markup("{} <span>{}</span>").format(said, label_words(Label(name, "stage")))


def _first_pick(row: ComparedArm, book: FigureBook) -> Markup:
    figure = row.figures.first_pick
    if figure.recorded or row.arm.kind != "run":
        return _shown(figure, row, book)
    return nothing_said(tr("none yet on day {day}", day=_last(row)))


def _last(row: ComparedArm) -> int:
    return row.summary.arms.last_day if row.summary.arms else row.summary.axis.last


def _harvest(pick: Callable[[ArmFigures], Figure]) -> Cell:
    """A weight: nothing, where nothing has been picked yet; not weighed, where something was."""

    def cell(row: ComparedArm, book: FigureBook) -> Markup:
        figure = pick(row.figures)
        if figure.recorded or figure.remarks or row.arm.kind != "run":
            return _shown(figure, row, book)
        picked = row.figures.first_pick.recorded
        if picked and not _weighed(row):
            return nothing_said(tr("not weighed"))
        return nothing_said(tr("not recorded") if picked else tr("nothing picked yet"))

    return cell


def _in_all(row: ComparedArm, book: FigureBook) -> Markup:
    """The total; of a run told from memory what its author wrote."""
    memory = row.summary.setup.from_memory
    if memory is not None:
        return escape(memory.harvest_text)
    return _harvest(lambda figures: figures.total)(row, book) if row.summary.logged else EMPTY


def _weighed(row: ComparedArm) -> bool:
    value = row.figures.total.value
    return isinstance(value, Quantity) and value.known


def _taste(row: ComparedArm, _: FigureBook) -> Markup:
    """The notes of taste, or how they begin: the run's own page has the rest."""
    if not row.arm.taste:
        return nothing_said(tr("not recorded"))
    return escape(shorten(row.arm.taste, TASTE_LENGTH, placeholder=" …"))


def _verdict(row: ComparedArm, _: FigureBook) -> Markup:
    answer = row.summary.setup.answer
    if answer is None or answer.verdict is None:
        return EMPTY
    return escape(mid_sentence(tr(VERDICTS[answer.verdict])))


_NAME = ArmColumn(tr_noop("Run"), _experiment, logged=False)
_CROP = ArmColumn(tr_noop("Crop"), lambda row, _: escape(row.summary.setup.crop.name), logged=False)
_VARIETY = ArmColumn(tr_noop("Variety"), _variety, logged=False)
_SYSTEM = ArmColumn(tr_noop("System"), lambda row, _: escape(row.systems), logged=False)
_COLUMNS = (
    ArmColumn(tr_noop("Sown"), _sown, logged=False),
    ArmColumn(tr_noop("Came up"), _figure(lambda figures: figures.emergence), number=True),
    ArmColumn("", _stage, number=True),
    ArmColumn(
        tr_noop("Plants that reached that stage"),
        _figure(lambda figures: figures.reached, sentence=True),
        number=True,
    ),
    ArmColumn(tr_noop("First pick"), _first_pick, number=True, first=True),
    ArmColumn(
        tr_noop("Harvest per spot"), _harvest(lambda figures: figures.per_spot), number=True, first=True
    ),
    ArmColumn(
        tr_noop("Harvest for the floor space used"),
        _harvest(lambda figures: figures.square_metre),
        number=True,
    ),
    ArmColumn(tr_noop("Harvest in all"), _in_all, number=True, logged=False),
    ArmColumn(tr_noop("Taste"), _taste),
    ArmColumn(tr_noop("Grow it again?"), _verdict, logged=False),
)


def arms_table(
    summaries: Sequence[RunSummary], book: FigureBook, *, crops: bool = False, system: str = ""
) -> ArmsTable:
    """The arms of runs, one a row; with the crop where they are of several, or only those in one system."""
    rows = [row for row in compared_arms(summaries) if not system or system in row.arm.systems]
    kinds = {stage_that_matters(summary.setup.crop.kind) for summary in summaries}
    wanted = (_NAME, *((_CROP,) if crops else ()), _VARIETY, *(() if system else (_SYSTEM,)), *_COLUMNS)
    columns = tuple(_titled(column, kinds) for column in wanted)
    cells = [[_cell(column, row, book) for column in columns] for row in rows]
    runs = tuple(row.summary.id for row in rows)
    return _without_empty(ArmsTable(tr("Runs side by side"), columns, tuple(map(tuple, cells)), runs), cells)


def _cell(column: ArmColumn, row: ComparedArm, book: FigureBook) -> Markup:
    """A cell; of a run without a log only what its set-up says."""
    return column.cell(row, book) if row.summary.logged or not column.logged else EMPTY


def _titled(column: ArmColumn, stages: set[str]) -> ArmColumn:
    """The column with its heading in words; that of the stage is the stage's name where there is one only."""
    if column.title:
        return replace(column, title=tr(column.title))
    if len(stages) == 1:
        return ArmColumn(opening(label_words(Label(min(stages), "stage"))), _stage, number=True)
    return ArmColumn(tr("Stage"), _named_stage, number=True)


def _without_empty(table: ArmsTable, cells: list[list[Markup]]) -> ArmsTable:
    """The table without the columns that say nothing of any run; a note names them."""
    kept = [i for i in range(len(table.columns)) if i == 0 or any(_says(row[i]) for row in cells)]
    left = [mid_sentence(each.title) for i, each in enumerate(table.columns) if i not in kept]
    return ArmsTable(
        table.label,
        tuple(table.columns[i] for i in kept),
        tuple(tuple(row[i] for i in kept) for row in table.rows),
        table.runs,
        tr("Not recorded for any run: {things}.", things=listed(left)) if left and cells else "",
    )


def _says(cell: Markup) -> bool:
    return bool(cell) and cell != nothing_said(tr("not recorded"))
