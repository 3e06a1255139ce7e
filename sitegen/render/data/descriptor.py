"""The descriptor of a Data Package: each file and column, the set-up that no table has, and the terms of MIAPPE 1.1.

In: facts, the journal, the tables. Out: JSON. The set-up stands under `experiment`, what things cost under `prices`;
with them and the tables the same facts can be computed again. What is held back or private is not in it.

References
----------
Data Package 2.0, https://datapackage.org/standard/data-package/ ; Table Schema 2.0. MIAPPE 1.1: see
`sitegen.core.records.tables`.

"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sitegen.core.facts.tree import Facts
from sitegen.core.files.spreadsheet_cells import RULE
from sitegen.core.language.catalogue import tr
from sitegen.core.records.codec import to_mapping
from sitegen.core.records.columns import Column
from sitegen.core.records.rows import Action, Addition, Run
from sitegen.core.records.setup import Journal, Lamp, Setup
from sitegen.core.records.tables import PLANTS, TABLES
from sitegen.core.reference.licences import LICENCES
from sitegen.core.site.addresses import absolute, experiment_page
from sitegen.core.values.units import CANONICAL
from sitegen.render.data.tables import CSV, DataTable, data_file


@dataclass(frozen=True, slots=True)
class Term:
    """A file, or one of its columns (`column` is not empty), and the field that it answers to."""

    file: str
    column: str
    about: str
    term: str


def terms() -> tuple[Term, ...]:
    """Every file and column with a term, in the order of the tables."""
    found: list[Term] = []
    for table in (PLANTS, *TABLES):
        file = f"{table.name}.csv"
        if table.term:
            found.append(Term(file, "", tr(table.about).rstrip("."), table.term))
        found += [
            Term(file, column.name, tr(column.about), column.term) for column in table.columns if column.term
        ]
    return tuple(found)


DESCRIPTOR = "datapackage.json"
_PROFILE = "https://datapackage.org/profiles/2.0/datapackage.json"
_NOT_GIVEN = "not given"


def descriptor(facts: Facts, journal: Journal, tables: Sequence[DataTable]) -> str:
    """The descriptor as JSON text."""
    setup = facts.run.setup
    found = {
        "$schema": _PROFILE,
        "name": setup.id,
        **_id(setup, journal),
        "title": setup.title,
        "description": _description(setup),
        **_licences(journal),
        "contributors": [_author(journal)],
        "keywords": _keywords(setup),
        "resources": [_resource(table) for table in tables],
        "units": {dimension.value: unit.symbol for dimension, unit in CANONICAL.items() if unit.symbol},
        "experiment": _experiment(facts.run),
        "lamps": [to_mapping(lamp) for lamp in _lamps(facts.run)],
        **({"prices": prices} if (prices := to_mapping(journal.prices)) else {}),
        "shown": {"units": journal.units, "language": journal.language},
        "miappe": _miappe(facts, journal),
    }
    return json.dumps(found, indent=1, ensure_ascii=False) + "\n"


def _id(setup: Setup, journal: Journal) -> dict[str, str]:
    if not journal.address:
        return {}
    return {
        "id": absolute(data_file(setup.id, DESCRIPTOR), journal.address),
        "homepage": absolute(experiment_page(setup.id), journal.address),
    }


def _description(setup: Setup) -> str:
    question = f"{setup.question} " if setup.question else ""
    return (
        f"{question}The records of one indoor growing experiment, as they were written: quantities are intervals with "
        f"flags, days count from sowing, an empty cell was not recorded; {RULE}."
    )


def _licences(journal: Journal) -> dict[str, Any]:
    if not journal.licence:
        return {}
    path = LICENCES.get(journal.licence, "")
    return {"licenses": [{"name": journal.licence, **({"path": path} if path else {})}]}


def _author(journal: Journal) -> dict[str, Any]:
    link = {"path": journal.author.link} if journal.author.link else {}
    return {"title": journal.author.name or journal.title, **link, "roles": ["creator"]}


def _keywords(setup: Setup) -> list[str]:
    crop = setup.crop
    words = (crop.name, crop.latin, *map(setup.variety_name, setup.variety_ids))
    kinds = (tub.system.kind for tub in setup.tubs)
    return list(dict.fromkeys(word for word in (*words, *kinds) if word))


def _resource(table: DataTable) -> dict[str, Any]:
    body = table.body()
    return {
        "name": table.name,
        "type": "table",
        "path": table.path,
        "description": table.about,
        "format": "csv",
        "mediatype": CSV,
        "encoding": "utf-8",
        "bytes": len(body),
        "hash": f"sha256:{hashlib.sha256(body).hexdigest()}",
        **({"miappe": table.term} if table.term else {}),
        **({"series": dict(table.series)} if table.series else {}),
        "schema": _schema(table),
    }


def _schema(table: DataTable) -> dict[str, Any]:
    key = {PLANTS.name: ["id"], "entries": ["index"]}.get(table.name)
    names = {column.name for column in table.columns}
    visit = {"fields": ["entry"], "reference": {"resource": "entries", "fields": ["index"]}}
    return {
        "fields": [_field(column) for column in table.columns],
        "missingValues": [""],
        **({"primaryKey": key} if key else {}),
        **({"foreignKeys": [visit]} if "entry" in names else {}),
    }


def _field(column: Column) -> dict[str, Any]:
    limits: dict[str, Any] = {"required": True} if column.required else {}
    if column.choices:
        limits["enum"] = list(column.choices)
    return {
        "name": column.name,
        "type": column.kind,
        "description": column.about,
        **({"unit": column.unit} if column.unit else {}),
        **({"miappe": column.term} if column.term else {}),
        **({"constraints": limits} if limits else {}),
    }


def _experiment(run: Run) -> dict[str, Any]:
    """The set-up without parts that have a table of their own, are about publishing only, or were not used."""
    setup = run.setup
    used = {
        row.product
        for rows in (run.rows.of(Addition), run.rows.of(Action), run.rows.routines)
        for row in rows
    }
    used |= {dose.product for share in setup.shares if share.log for dose in share.log.doses}
    grown = set(setup.variety_ids)
    varieties = tuple(each for each in setup.crop.varieties if each.id in grown)
    kept = replace(
        setup,
        crop=replace(setup.crop, varieties=varieties),
        products=tuple(product for product in setup.products if product.id in used),
        plants=(),
        publish=None,
        draft=False,
    )
    named: dict[str, Any] = to_mapping(kept)
    del named["plants"]
    return named


def _lamps(run: Run) -> tuple[Lamp, ...]:
    """Every lamp that was used, whole: the table of settings has their ids."""
    used = (light.use.lamp for light in run.rows.lights)
    return tuple(dict.fromkeys(lamp for lamp in used if lamp is not None))


def _miappe(facts: Facts, journal: Journal) -> dict[str, Any]:
    """The fields of a study in MIAPPE 1.1; a place of residence is never among them."""
    setup = facts.run.setup
    start, last = (facts.axis.start.date_of(day) for day in (0, facts.axis.last))
    return {
        "MIAPPE version": "1.1",
        "Investigation title": journal.title,
        "Study unique ID": setup.id,
        "Study title": setup.title,
        "Study description": setup.question or _NOT_GIVEN,
        "Start date of study": start.isoformat() if start else _NOT_GIVEN,
        "End date of study": last.isoformat() if last and not facts.running else _NOT_GIVEN,
        "Contact institution": journal.author.name or journal.title,
        "Geographic location (country)": _NOT_GIVEN,
        "Experimental site name": journal.title,
        "Description of the experimental design": _design(setup),
        "Observation unit description": "one plant; water and feed belong to its tub",
        "Description of growth facility": _listed(_system(setup)),
        "Organism": setup.crop.latin or setup.crop.name,
        "Infraspecific name": _listed(map(setup.variety_name, setup.variety_ids)),
        "Person name": journal.author.name or journal.title,
        "Person role": "author",
    }


def _design(setup: Setup) -> str:
    groups = "; ".join(f"{name}: {', '.join(plants)}" for name, plants in setup.groups)
    return f"groups {groups}" if groups else "one group, no control"


def _system(setup: Setup) -> Iterable[str]:
    for tub in setup.tubs:
        yield f"{tub.system.name} ({tub.system.kind})" if tub.system.kind else tub.system.name


def _listed(words: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(word for word in words if word)) or _NOT_GIVEN
