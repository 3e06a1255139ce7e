"""Runs side by side in a table.

In: summaries. Out: a `Table` with HTML cells. It states facts beside each other and infers nothing from them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from markupsafe import Markup, escape

from sitegen.core.facts.figure import Figure
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.wording import mid_sentence
from sitegen.core.site.addresses import link
from sitegen.core.values.day import Day
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.tables import Column, Table, nothing_said
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.result import Headlines

Cell = Callable[[RunSummary, FigureBook], Markup]


def _shown(pick: Callable[[Headlines], Figure], *, sentence: bool = False) -> Cell:
    def cell(summary: RunSummary, book: FigureBook) -> Markup:
        if not summary.logged:
            return Markup("")
        return book.show(pick(summary.figures), summary, sentence=sentence)

    return cell


def _title(summary: RunSummary, book: FigureBook) -> Markup:
    return Markup('<a href="{}">{}</a>').format(link(summary.address, book.page), summary.title)


def _first_pick(summary: RunSummary, book: FigureBook) -> Markup:
    if not summary.logged:
        return nothing_said(mid_sentence(summary.state(book.wording)))
    figure = summary.figures.first_pick
    if isinstance(figure.value, Day) or not summary.figures.last_entry.recorded:
        return book.show(figure, summary)
    last = summary.figures.last_entry.value
    return nothing_said(tr("none by day\u00a0{day}", day=last.last) if isinstance(last, Day) else tr("none"))


# The columns of the comparison.
_COMPARED: tuple[tuple[Column, Cell], ...] = (
    (Column(tr_noop("Experiment")), _title),
    (
        Column(tr_noop("Variety")),
        lambda summary, _: escape(summary.variety) if summary.variety else nothing_said(tr("not noted")),
    ),
    (Column(tr_noop("System")), lambda summary, _: escape(summary.system)),
    (Column(tr_noop("Sown")), lambda summary, _: escape(_sown(summary))),
    (Column(tr_noop("Plants"), number=True), lambda summary, _: escape(str(len(summary.setup.plants)))),
    (Column(tr_noop("First pick"), number=True), _first_pick),
    (Column(tr_noop("Harvest"), number=True), _shown(lambda figures: figures.total)),
    (Column(tr_noop("A spot started"), number=True), _shown(lambda figures: figures.per_spot)),
    (Column(tr_noop("Length"), number=True), _shown(lambda figures: figures.length)),
    (Column(tr_noop("Seeds that came up")), _shown(lambda figures: figures.share, sentence=True)),
)
_CROP = (Column(tr_noop("Crop")), lambda summary, _: escape(summary.setup.crop.name))


def _sown(summary: RunSummary) -> str:
    """Year and month: enough to see the season by."""
    when = summary.setup.start.date
    return f"{when.year}-{when.month:02}" if when else tr("not recorded")


def compared(summaries: Sequence[RunSummary], book: FigureBook, *, crops: bool = False) -> Table:
    """Runs side by side, one a row; with the crop where they are of several."""
    wanted: Iterable[tuple[Column, Cell]] = _COMPARED
    if crops:
        wanted = (_COMPARED[0], _CROP, *_COMPARED[1:])
    columns = tuple(wanted)
    rows = tuple(tuple(cell(summary, book) for _, cell in columns) for summary in summaries)
    return Table(
        tr("Runs side by side"), tuple(Column(tr(column.title), column.number) for column, _ in columns), rows
    )
