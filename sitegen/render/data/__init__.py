"""The records of an experiment for other programs: a Data Package beside its page.

In: facts and the journal. Out: pages (a descriptor and its CSV files) and the `Download`s that the experiment's page
lists. Nothing is computed, and nothing private has a column.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.records.setup import Journal
from sitegen.core.site.content import Download
from sitegen.core.site.page import Page
from sitegen.render.data.descriptor import DESCRIPTOR, descriptor
from sitegen.render.data.public_names import public_run
from sitegen.render.data.tables import CSV, DataTable, data_file, tables_of

__all__ = ["Package", "package_of"]


@dataclass(frozen=True, slots=True)
class Package:
    """The files of one Data Package, the descriptor first."""

    pages: tuple[Page, ...]
    downloads: tuple[Download, ...]


def package_of(
    facts: Facts, journal: Journal, *, is_public: Callable[[str], object] = lambda _run: True
) -> Package:
    """The Data Package of one experiment; `is_public` says of the id of another run whether a reader may know it."""
    facts = replace(facts, run=public_run(facts.run, is_public))
    tables = tables_of(facts.run)
    head = Page(
        data_file(facts.id, DESCRIPTOR),
        "application/json",
        lambda: descriptor(facts, journal, tables).encode(),
    )
    bodies = tuple(Page(data_file(facts.id, table.path), CSV, table.body) for table in tables)
    downloads = (
        Download(head.address, tr("A Data Package: what each file and column holds, and the set-up.")),
        *(Download(data_file(facts.id, table.path), _about(table)) for table in tables),
    )
    return Package((head, *bodies), downloads)


def _about(table: DataTable) -> str:
    """The content of a file, for the list on the page: the files themselves are in English."""
    if not table.series:
        return tr(table.about)
    name, unit = table.series["name"].replace("_", " "), table.series["unit"]
    return tr("A sensor's own series: {name}, {unit}.", name=tr(name), unit=unit)
