"""Packages that are nested, huge or point elsewhere: a finding each, and nothing is read from beyond the folder."""

from __future__ import annotations

import csv
import json
import shutil
import zipfile
from pathlib import Path
from typing import Any

import pytest

from sitegen.app.console.report import finding_line
from sitegen.ingest.data_package.run import read_package
from tests.ingest.data_package.test_run import packed
from tests.render.builders import JOURNAL, full_run

AS_WRITTEN = " (take the package as it was written)"
BESIDE = (
    "datapackage.json:1:1: error[missing-file]: `{}` is not a file beside `datapackage.json`" + AS_WRITTEN
)
NO_PATH = (
    "datapackage.json:1:1: error[missing-key]: the resource `entries` has no `path` that is one file"
    + AS_WRITTEN
)


@pytest.fixture
def package(tmp_path: Path) -> Path:
    """A sound package; its descriptor."""
    (tmp_path / "package").mkdir()
    return packed(full_run(), JOURNAL, tmp_path / "package")


def _said(path: Path) -> tuple[bool, list[str]]:
    """Whether there is a run, and what is found."""
    found, findings = read_package(path)
    return found is not None, [finding_line(each) for each in findings]


def _with_path(descriptor: Path, path: Any) -> Path:
    """The same package, with another path of the file of entries."""
    data = json.loads(descriptor.read_text("utf-8"))
    next(each for each in data["resources"] if each["name"] == "entries")["path"] = path
    descriptor.write_text(json.dumps(data), "utf-8")
    return descriptor


def test_a_file_in_a_folder_of_the_package(package: Path) -> None:
    """A resource may lie in a folder below the descriptor."""
    deep = package.parent / "tables" / "of log"
    deep.mkdir(parents=True)
    shutil.move(package.parent / "entries.csv", deep)

    assert _said(_with_path(package, "tables/of log/entries.csv")) == (True, [])


@pytest.mark.parametrize(
    "path",
    [
        "../entries.csv",
        "tables/../../entries.csv",
        "/etc/passwd",
        "https://example.org/entries.csv",
        "file:///etc/passwd",
        "C:\\\\entries.csv",
        "",
    ],
)
def test_a_path_that_leads_elsewhere(path: str, package: Path) -> None:
    """Up, absolute, an address: it is no file beside the descriptor, and nothing is opened or fetched."""
    shutil.copy(package.parent / "entries.csv", package.parents[1])

    assert _said(_with_path(package, path)) == (False, [BESIDE.format(path)])


@pytest.mark.parametrize("path", [["entries.csv", "more.csv"], 3, None, {"a": 1}], ids=str)
def test_a_path_that_is_no_text(path: Any, package: Path) -> None:
    """A file that is divided, or none: the resource is named."""
    assert _said(_with_path(package, path)) == (False, [NO_PATH])


def test_a_link_that_leads_out(package: Path) -> None:
    """A folder of the package that is a link out of it is not followed."""
    outside = package.parents[1] / "outside"
    outside.mkdir()
    shutil.copy(package.parent / "entries.csv", outside)
    (package.parent / "tables").symlink_to(outside)

    said = (
        f"tables:1:1: error[link-outside]: `tables` is a link that leads out of the journal, to `{outside}`, "
        "so nothing is read through it (copy the folder into the journal, in place of the link)"
    )

    assert _said(_with_path(package, "tables/entries.csv")) == (False, [said])


@pytest.mark.parametrize(("sign", "said"), [(";", "`;`"), ("\t", "tabs")], ids=["semicolons", "tabs"])
def test_a_table_that_a_spreadsheet_program_has_saved_again(sign: str, said: str, package: Path) -> None:
    """Its numbers may have another point by then, and its dates another order: it is not read."""
    path = package.parent / "entries.csv"
    rows = list(csv.reader(path.read_text("utf-8").splitlines()))
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        csv.writer(file, delimiter=sign).writerows(rows)

    wanted = (
        f"entries.csv:1:1: error[mixed-separators]: `entries.csv` is divided by {said}: another program has saved"
        " it again (take the file as it was written)"
    )

    assert _said(package) == (False, [wanted])


def test_numbers_that_a_spreadsheet_program_has_written(package: Path) -> None:
    """A decimal comma in quotes is no number of a package, and is named with its line."""
    path = package.parent / "picks.csv"
    rows = list(csv.reader(path.read_text("utf-8").splitlines()))
    place = next(number for number, name in enumerate(rows[0]) if name.endswith("_low"))
    rows[1][place] = "1,5"
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)
    found, lines = _said(package)

    assert not found
    assert lines[0].startswith("picks.csv:2:1: error[bad-cell]: a row of `picks.csv` cannot be read: ")
    assert "1,5" in lines[0]


def test_an_archive(package: Path) -> None:
    """It is not opened, however much it may hold: 50 MB of zeros are 50 KB of it."""
    archive = package.parent / "package.zip"
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as packed_:
        packed_.writestr("datapackage.json", b"\0" * 50_000_000)

    said = (
        "package.zip:1:1: error[wrong-type]: `package.zip` is an archive, which is not opened "
        "(unpack it, and name the `datapackage.json` that is in it)"
    )

    assert _said(archive) == (False, [said])


@pytest.mark.parametrize(
    ("row", "number", "said"),
    [
        ("x\n", 1_000_000, "`entries.csv` has 1,000,001 rows; at most 400,000 are read"),
        (",,,,,\n", 390_000, None),
        ("x" * 1_000 + "\n", 70_000, "`entries.csv` has 70.1 MB; at most 64 MB are read"),
    ],
    ids=["rows", "cells", "bytes"],
)
def test_a_huge_table(row: str, number: int, said: str | None, package: Path) -> None:
    """A table of more rows, cells or bytes than a run can have is not read."""
    entries = package.parent / "entries.csv"
    head = entries.read_text("utf-8").splitlines()[0]
    entries.write_text(f"{head}\n{row * number}", "utf-8")
    found, (line,) = _said(package)
    plants = (package.parent / "plants.csv").read_text("utf-8").splitlines()
    cells = (number + 1) * (head.count(",") + 1) + len(plants) * (plants[0].count(",") + 1)
    wanted = said or f"the files up to `entries.csv` have {cells:,} cells; at most 2,000,000 are read"

    assert not found
    assert line.startswith(f"entries.csv:1:1: error[file-too-large]: {wanted} (")


@pytest.mark.full
def test_many_resources_of_one_file(package: Path) -> None:
    """What is named again and again counts each time: 2,000 names of a file of 99,000 rows are as many files."""
    data = json.loads(package.read_text("utf-8"))
    (package.parent / "sensor.csv").write_text("time,value\n" + "2025-03-01T10:00:00,1\n" * 99_000, "utf-8")
    series = {"name": "air_temperature", "unit": "C", "tub": "", "source": {"file": "x.yaml", "line": 1}}
    data["resources"] += [{"name": f"s{n}", "path": "sensor.csv", "series": series} for n in range(2_000)]
    package.write_text(json.dumps(data), "utf-8")
    found, lines = _said(package)

    assert not found
    assert "the files up to `sensor.csv` have " in lines[-1]
    assert lines[-1].endswith(" cells; at most 2,000,000 are read (keep the rows of one run)")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "[" * 3_000_000,
            "error[wrong-type]: `datapackage.json` is not JSON: maximum recursion depth exceeded",
        ),
        (
            '{"a": [' + "{}," * 1_500_000 + "0]}",
            "error[file-too-large]: `datapackage.json` has 4.5 MB; at most 4 MB",
        ),
        (
            '{"a": ' + "9" * 3_000_000 + "}",
            "error[wrong-type]: `datapackage.json` is not JSON: Exceeds the limit",
        ),
    ],
    ids=["deep", "wide", "a number"],
)
def test_a_huge_descriptor(text: str, said: str, package: Path) -> None:
    """A descriptor that is deep, or larger than that of a run, is no descriptor."""
    package.write_text(text, "utf-8")
    found, (line,) = _said(package)

    assert not found
    assert line.startswith(f"datapackage.json:1:1: {said}")
