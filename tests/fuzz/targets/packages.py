"""Data Packages that are read back: the descriptor and its tables."""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

from sitegen.core.facts.data import facts_data
from sitegen.core.language.wording import Wording
from sitegen.ingest import read_experiment
from sitegen.ingest.data_package.run import read_package
from sitegen.measure import measure
from sitegen.render.data import package_of
from tests.fuzz.target import Run, Target, joined, sections
from tests.fuzz.targets.journals import WORDS, report
from tests.ingest.data_package.test_run import journal_files
from tests.render.builders import JOURNAL, full_run, remembered_run, started_run

_HEAD = "datapackage.json"


def _package(folder: Path) -> Run:
    def run(data: bytes) -> object:
        home = folder / "package"
        home.mkdir()
        try:
            for name, body in sections(data).items():
                if (
                    name
                    and "/" not in name
                    and "\0" not in name
                    and len(name) < 60
                    and name not in (".", "..")
                ):
                    (home / name).write_bytes(body)
            found, findings = read_package(home / _HEAD)
            if found is None:
                return report(findings)
            read, journal = found
            say = Wording(journal.units, journal.language).say
            return json.dumps(facts_data(measure(read, journal.prices), say), allow_nan=False)
        finally:
            shutil.rmtree(home)

    return run


def _seeds() -> Iterator[bytes]:
    demo = journal_files()
    some = [read_experiment(folder, demo)[0] for folder in demo.folders[:3]]
    runs = [
        (started_run(), JOURNAL),
        (remembered_run(), JOURNAL),
        (full_run(), JOURNAL),
        *((run, demo.journal) for run in some if run),
    ]
    for run, journal in runs:
        pages = package_of(measure(run, journal.prices), journal).pages
        yield _short((page.address.rpartition("/")[2], page.content) for page in pages)


def _short(files: Iterator[tuple[str, bytes]]) -> bytes:
    """A package with short tables, and what of its descriptor is read."""
    kept = []
    for name, content in files:
        if name == _HEAD:
            kept.append((name, _descriptor(content)))
        elif name.endswith(".csv"):
            kept.append((name, b"".join(content.splitlines(keepends=True)[:6])))
    return joined(kept)


def _descriptor(content: bytes) -> bytes:
    data = json.loads(content)
    read = {key: data[key] for key in ("experiment", "lamps", "shown", "prices") if key in data}
    wanted = ("name", "path", "series")
    resources = [{key: each[key] for key in wanted if key in each} for each in data["resources"]]
    return json.dumps({"resources": resources, **read}, indent=1).encode()


_JSON = (b"null", b"true", b"[]", b"{}", b'""', b"1e999", b"-0.0", b"NaN", b"\\ud800", b'"path": "../x.csv"', b'"path": ', b'"plants"', b'"start"', b'"tubs"', b'"crop"', b'"low"', b'"high"', b'"step"', b"2025-10-01", b"day", b"=== entries.csv\n", b",,,")  # fmt: skip

TARGETS = (
    Target("data-package", _package, _seeds, ("ingest/data_package", "core/records/codec.py", "core/records/columns.py", "core/records/tables.py"),
           "sitegen.ingest.data_package.run:_rows", "cells", (*_JSON, *WORDS), 12_000),
)  # fmt: skip
