"""The tables of a run as CSV: its rows, and each chart's drawing and numbers.

In: a run, its charts. Out: `DataTable`s, the text of each file and its columns; `ChartFiles`. Tables without rows are
left out; an empty cell means "not recorded".
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, partial
from typing import Any

from markupsafe import escape

from sitegen.core.files.spreadsheet_cells import shown_cell
from sitegen.core.language.catalogue import tr
from sitegen.core.records.codec import to_mapping
from sitegen.core.records.columns import Column
from sitegen.core.records.files import Export
from sitegen.core.records.rows import Run
from sitegen.core.records.tables import PLANTS, TABLES, RowTable
from sitegen.core.site.addresses import slug
from sitegen.core.site.chart import Chart, Table
from sitegen.core.site.page import Page
from sitegen.core.values.day import Start

CSV = "text/csv"


@dataclass(frozen=True, slots=True)
class DataTable:
    """One file of a package, written when it is asked for. `series` says whose values a sensor's file holds."""

    name: str
    about: str
    columns: tuple[Column, ...]
    body: Callable[[], bytes]
    term: str = ""
    series: Mapping[str, Any] = field(default_factory=dict)

    @property
    def path(self) -> str:
        """The name of its file."""
        return f"{self.name}.csv"


def data_file(experiment: str, name: str) -> str:
    """The address of a file of an experiment's package."""
    return f"data/{experiment}/{name}"


def tables_of(run: Run) -> tuple[DataTable, ...]:
    """Every table of a run that has rows, plants first, sensors last."""
    start = run.setup.start
    kept = ((table, getattr(run.rows, table.name)) for table in TABLES)
    return (
        _table(PLANTS, run.setup.plants, start),
        *(_table(table, rows, start) for table, rows in kept if rows),
        *_sensors(run.rows.exports),
    )


def _table(table: RowTable, rows: Iterable[object], start: Start) -> DataTable:
    body = cache(lambda: _csv(table.columns, table.write(rows, start)))
    return DataTable(table.name, table.about, table.columns, body, table.term)


def _sensors(exports: Sequence[Export]) -> Iterator[DataTable]:
    for number, export in enumerate(exports, start=1):
        said = export.name.replace("_", " ")
        columns = (
            Column(
                "time", "datetime", "by the clock of the journal's zone", required=True, term="Time scale"
            ),
            Column("value", "number", said, export.unit, term="Trait", required=True),
        )
        yield DataTable(
            f"sensor-{number}-{slug(export.name.replace('_', '-'))}",
            f"A sensor's own series: {said}, {export.unit}.",
            columns,
            cache(partial(_sensor, columns, export)),
            "Observed Variable",
            {
                "name": export.name,
                "tub": export.tub,
                "unit": export.unit,
                "source": to_mapping(export.source),
            },
        )


def _sensor(columns: tuple[Column, ...], export: Export) -> bytes:
    cells = zip((t.isoformat() for t in export.times), map(repr, export.values), strict=True)
    return _csv(columns, cells)


def _csv(columns: Iterable[Column], rows: Iterable[Sequence[str]]) -> bytes:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow([column.name for column in columns])
    writer.writerows(rows)
    return text.getvalue().encode()


@dataclass(frozen=True, slots=True)
class ChartFiles:
    """The files of one chart; a chart that is told in a sentence has no drawing."""

    drawing: Page | None
    table: Page

    @property
    def pages(self) -> tuple[Page, ...]:
        """All of them."""
        return (self.drawing, self.table) if self.drawing else (self.table,)


def chart_files(charts: Iterable[Chart], experiment: str, credit: Credit) -> dict[str, ChartFiles]:
    """The files, by the name of their chart."""
    return {chart.name: _files(chart, experiment, credit) for chart in charts}


def _files(chart: Chart, experiment: str, credit: Credit) -> ChartFiles:
    name = data_file(experiment, f"chart-{chart.name}")
    return ChartFiles(
        Page(f"{name}.svg", SVG, standalone(chart, credit)) if chart.drawn else None,
        Page(f"{name}.csv", CSV, _chart_csv(chart.table)),
    )


def _chart_csv(table: Table) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")  # as RFC 4180 has it
    writer.writerow(map(shown_cell, table.columns))
    writer.writerows(map(shown_cell, row) for row in table.rows)
    return text.getvalue()


SVG = "image/svg+xml"

# The variables that charts are drawn with, for black on white: text 4.5:1, marks 3:1 (WCAG 2.2, 1.4.3 and 1.4.11).
PALETTE = {
    "paper": "#ffffff",
    "ink": "#15181a",
    "ink-soft": "#50565a",
    "line": "#c5c9c4",
    "growth": "#2d7429",
    "water": "#0d6486",
    "feed": "#7f4196",
    "harvest": "#a5440a",
    "trouble": "#a91c36",
    "light": "#765a00",
    "chart-font": "system-ui, sans-serif",
}
_BESIDE = 12  # free at both sides: on a page, text may reach into the margin
_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_DC = "http://purl.org/dc/elements/1.1/"


@dataclass(frozen=True, slots=True)
class Credit:
    """Whose a chart is: the experiment and where its page stands, the site, its author and licence."""

    title: str
    source: str
    site: str
    author: str = ""
    licence: str = ""
    licence_text: str = ""

    @property
    def line(self) -> str:
        """In words."""
        whence = ", ".join(filter(None, (self.title, self.site, self.source)))
        if not self.licence:
            return tr("Source: {source}.", source=whence)
        return tr("Source: {source}. Licence: {licence}.", source=whence, licence=self.licence)


def standalone(chart: Chart, credit: Credit) -> str:
    """The wide drawing of a chart as a document."""
    width, height = chart.wide.width + 2 * _BESIDE, chart.wide.height
    drawn = chart.wide.elements()
    for name, value in PALETTE.items():
        drawn = drawn.replace(f"var(--{name})", value)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-{_BESIDE} 0 {width:g} {height:g}" width="{width:g}"'
        f' height="{height:g}" role="img" aria-labelledby="title description">'
        f'<title id="title">{escape(chart.title)}</title>'
        f'<desc id="description">{escape(chart.description)} {escape(credit.line)}</desc>'
        f'{_metadata(chart, credit)}<rect x="-{_BESIDE}" width="{width:g}" height="{height:g}"'
        f' fill="{PALETTE["paper"]}"/>{drawn}</svg>\n'
    )


def _metadata(chart: Chart, credit: Credit) -> str:
    """Title, creator, source and rights in the words of the Dublin Core Metadata Element Set 1.1."""
    said = {
        "title": chart.title,
        "creator": credit.author,
        "source": credit.source or f"{credit.title}, {credit.site}",
        "rights": " ".join(filter(None, (credit.licence, credit.licence_text))),
    }
    parts = "".join(f"<dc:{name}>{escape(text)}</dc:{name}>" for name, text in said.items() if text)
    return (
        f'<metadata><rdf:RDF xmlns:rdf="{_RDF}" xmlns:dc="{_DC}">'
        f'<rdf:Description rdf:about="">{parts}</rdf:Description></rdf:RDF></metadata>'
    )
