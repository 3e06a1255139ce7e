"""Each chart as two files beside its page: the drawing by itself, and its numbers.

In: the charts of an experiment, and whose they are. Out: `ChartFiles`. A table of more than `LONG` rows stands in its
file alone: daily values for months would be most of their page; nobody reads them there, and a spreadsheet does.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.core.chart import Chart, Table
from sitegen.core.page import Page
from sitegen.render.data.tables import CSV, data_file
from sitegen.render.standalone import SVG, Credit, standalone

__all__ = ["LONG", "ChartFiles", "chart_files"]

LONG = 60  # rows; two months of days


@dataclass(frozen=True, slots=True)
class ChartFiles:
    """The files of one chart; `long` tells that its numbers stand nowhere else."""

    drawing: Page
    table: Page
    long: bool


def chart_files(charts: Iterable[Chart], experiment: str, credit: Credit) -> dict[str, ChartFiles]:
    """The files, by the name of their chart."""
    return {chart.name: _files(chart, experiment, credit) for chart in charts}


def _files(chart: Chart, experiment: str, credit: Credit) -> ChartFiles:
    name = data_file(experiment, f"chart-{chart.name}")
    return ChartFiles(
        Page(f"{name}.svg", SVG, standalone(chart, credit)),
        Page(f"{name}.csv", CSV, _csv(chart.table)),
        len(chart.table.rows) > LONG,
    )


def _csv(table: Table) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")  # as RFC 4180 has it
    writer.writerow(table.columns)
    writer.writerows(table.rows)
    return text.getvalue()
