"""The Data Package beside an experiment's page."""

from __future__ import annotations

import csv
import io
import json
import warnings
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Journal
from sitegen.core.site.page import Page
from sitegen.render import render
from sitegen.render.data import package_of
from sitegen.render.data.descriptor import terms
from tests.render.builders import JOURNAL, facts, full_run, site, started_run

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # the library's own imports, not ours
    from frictionless import validate

RUNS = [full_run(), started_run()]


def pages_of(run: Run, journal: Journal = JOURNAL) -> dict[str, Page]:
    """The files of a run's package by name."""
    return {page.address.rpartition("/")[2]: page for page in package_of(facts(run), journal).pages}


def contents_of(run: Run) -> dict[str, bytes]:
    """What stands in each file."""
    return {name: page.content for name, page in pages_of(run).items()}


def descriptor_of(run: Run, journal: Journal = JOURNAL) -> Any:
    """The descriptor of a run's package."""
    return json.loads(pages_of(run, journal)["datapackage.json"].content)


def rows_of(page: Page) -> list[dict[str, str]]:
    """The rows of a file."""
    return list(csv.DictReader(io.StringIO(page.content.decode())))


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("run", RUNS, ids=lambda run: run.id)
def test_packages_are_valid(run: Run, tmp_path: Path) -> None:
    """An independent reader finds nothing wrong: types, keys, digests and sizes."""
    for name, page in pages_of(run).items():
        (tmp_path / name).write_bytes(page.content)
    report = validate(str(tmp_path / "datapackage.json"))

    assert report.flatten(["title", "note"]) == []
    assert report.stats["tasks"] == len(descriptor_of(run)["resources"])


@pytest.mark.filterwarnings("ignore")
def test_the_independent_reader_can_find_fault(tmp_path: Path) -> None:
    """A cell of the wrong type is found."""
    for name, page in pages_of(full_run()).items():
        (tmp_path / name).write_bytes(page.content.replace(b",true,", b",maybe,"))

    assert not validate(str(tmp_path / "datapackage.json")).valid


def test_limits_of_the_descriptor() -> None:
    """Names are lower-case, paths relative, each resource has exactly one of path and data."""
    found = descriptor_of(full_run())

    for resource in found["resources"]:
        assert resource["name"] == resource["name"].lower()
        assert ("path" in resource) != ("data" in resource)
        assert resource["path"][0] not in "/.~"
        assert ".." not in resource["path"]
    assert all("name" in licence or "path" in licence for licence in found["licenses"])
    assert found["keywords"]
    assert "created" not in found  # nothing in it comes from a clock


def test_without_address_and_licence() -> None:
    """What is not known is left out."""
    found = descriptor_of(full_run(), Journal("Bare"))

    assert {"id", "homepage", "licenses", "prices"} & set(found) == set()
    assert found["contributors"] == [{"title": "Bare", "roles": ["creator"]}]


def test_a_pick_that_nobody_weighed() -> None:
    """It is counted as such, with no upper bound, and not as an infinity or a zero to that bound."""
    picks = rows_of(pages_of(full_run())["picks.csv"])

    shown = [(p["weight_low"], p["weight_high"], p["weight_unweighed"], p["plants"]) for p in picks]
    assert shown == [("84", "84", "0", "P1"), ("0", "", "1", "P2"), ("112", "112", "0", "P1 P2 P3")]


def test_notes_are_in_it_as_written() -> None:
    """A note keeps its signs."""
    notes = [e["what"] for e in rows_of(pages_of(full_run())["events.csv"]) if e["deed"] == "note"]

    assert notes == ["Weighed & eaten: {{ nothing }}"]


def test_a_private_text_is_not_told_of() -> None:
    """Not even that there is one."""
    run = full_run()
    entries = tuple(replace(entry, private=True) for entry in run.rows.entries)
    told = replace(run, rows=replace(run.rows, entries=entries))

    assert contents_of(told) == contents_of(run)


def test_held_back_is_not_told_of() -> None:
    """Whether a run was a draft, and when it was to be shown, stays in the journal."""
    run = full_run()
    draft = replace(run, setup=replace(run.setup, draft=True))

    assert contents_of(draft) == contents_of(run)
    assert "draft" not in descriptor_of(draft)["experiment"]


def test_units_stand_in_the_schema() -> None:
    """A column of one dimension names its unit; one of several has a column for it."""
    fields = {
        (resource["name"], field["name"]): field.get("unit")
        for resource in descriptor_of(full_run())["resources"]
        for field in resource["schema"]["fields"]
    }

    assert fields["picks", "weight_low"] == "g"
    assert fields["picks", "weight_open"] is None
    assert ("events", "amount_unit") in fields


def test_every_file_is_linked() -> None:
    """Each file of the package is linked from the record, those of a chart from the page that shows it."""
    pages, _ = render(site())
    bodies = {p.address: p.content.decode() for p in pages if p.address.endswith(".html")}
    story, record = (bodies[f"experiments/first-physalis{end}.html"] for end in ("", "/record"))

    files = [p.address for p in pages if p.address.startswith("data/first-physalis/")]
    assert len(files) > 5
    lost = [
        file for file in files if f'href="../../{file}"' not in record and f'href="../{file}"' not in story
    ]
    assert lost == []


def test_terms_name_files_and_columns() -> None:
    """The methods page says which columns answer to a field of the checklist."""
    found = {(each.file, each.column): each.term for each in terms()}

    assert found["plants.csv", ""] == "Observation Unit"
    assert found["events.csv", "deed"] == "Event type"
    assert found["readings.csv", "value_unit"] == "Scale"
