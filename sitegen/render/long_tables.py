"""Tables too long for a page: each becomes a file beside it.

In: the charts of an experiment. Out: one CSV file for each table of more than `LONG` rows, with the same cells. A table
of daily values for months would be most of its page; nobody reads it there, and a spreadsheet does.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from sitegen.core.chart import Chart, Table
from sitegen.core.page import Page

__all__ = ["LONG", "long_tables"]

LONG = 60  # rows; two months of days


def long_tables(charts: Iterable[Chart], experiment: str) -> dict[str, Page]:
    """The files, by the name of their chart."""
    return {
        chart.name: Page(f"data/{experiment}/chart-{chart.name}.csv", "text/csv", _csv(chart.table))
        for chart in charts
        if len(chart.table.rows) > LONG
    }


def _csv(table: Table) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")  # as RFC 4180 has it
    writer.writerow(table.columns)
    writer.writerows(table.rows)
    return text.getvalue()
