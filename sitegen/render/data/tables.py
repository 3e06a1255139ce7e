"""The rows of a run as CSV.

In: a run. Out: `DataTable`s: the text of each file and its columns. Tables without rows are left out. Line ends are
those that every program reads; an empty cell means "not recorded".
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, partial
from typing import Any

from sitegen.core.records.columns import Column
from sitegen.core.records.files import Export
from sitegen.core.records.mapping import to_mapping
from sitegen.core.records.rows import Run
from sitegen.core.records.tables import PLANTS, TABLES, RowTable
from sitegen.core.site.addresses import slug
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
    body = cache(lambda: _csv(table.columns, (table.write(row, start) for row in rows)))
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
