"""A Data Package read back: the same run, the same facts, and a finding for all that does not fit."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from sitegen.app.facts.command import command
from sitegen.core.facts.data import facts_data
from sitegen.core.language.wording import Wording
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed, Run
from sitegen.core.records.setup import Journal, Lamp, LampUse
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.ingest import JournalFiles, read_experiment, read_journal
from sitegen.ingest.data_package.run import read_package
from sitegen.measure import measure
from sitegen.render.data import package_of
from sitegen.render.data.public_names import public_run
from tests.measure.builders import event, grams, joint, pick, place, reading, run_of, unweighed
from tests.render.builders import JOURNAL, facts, full_run

DEMO = Path(__file__).parents[3] / "content_demo"


@lru_cache(maxsize=1)
def journal_files() -> JournalFiles:
    """What the demo's experiments share."""
    found, _ = read_journal(DEMO)
    assert found is not None
    return found


def packed(run: Run, journal: Journal, folder: Path) -> Path:
    """A package on the disk; the path of its descriptor."""
    for page in package_of(measure(run, journal.prices), journal).pages:
        (folder / page.address.rpartition("/")[2]).write_bytes(page.content)
    return folder / "datapackage.json"


def said_of(run: Run, journal: Journal) -> dict[str, Any]:
    """All facts of a run, in the words of its journal."""
    return facts_data(measure(run, journal.prices), Wording(journal.units, journal.language).say)


def without_sheets(said: dict[str, Any]) -> str:
    """Facts as text, without the names of spreadsheets."""
    return re.sub(r"[\w./-]+\.(csv|xlsx)", "a sheet", json.dumps(said))


@pytest.mark.parametrize("folder", journal_files().folders, ids=lambda folder: folder.id)
def test_the_same_facts_come_from_the_package(folder: Any, tmp_path: Path) -> None:
    """Every experiment of the demo: figures, words, formulas and the lines behind them are those of the journal.

    But for names of spreadsheets, which are their author's own.
    """
    journal = journal_files().journal
    run, _ = read_experiment(folder, journal_files())
    assert run is not None
    found, findings = read_package(packed(run, journal, tmp_path))

    assert findings == ()
    assert found is not None
    assert said_of(*found) == said_of(public_run(run, lambda _run: True), journal)
    assert without_sheets(said_of(*found)) == without_sheets(said_of(run, journal))


def test_the_same_rows_come_back(tmp_path: Path) -> None:
    """Every row comes back equal, with its place in the journal."""
    run = full_run()
    found, _ = read_package(packed(run, JOURNAL, tmp_path))

    assert found is not None
    assert found[0].rows == run.rows
    assert found[0].setup.plants == run.setup.plants


@pytest.mark.parametrize(
    "text", ["=1+1", "'=1+1", "- a slug", "+3", "@home", "\t=1", "''-", "'tis dry", "＝1", "-3"]
)
def test_a_text_like_a_formula_comes_back(text: str, tmp_path: Path) -> None:
    """A text that a spreadsheet program would calculate has an apostrophe before it, and is read as it was."""
    run = run_of(events=(event(Deed.NOTE, 3, what=text), event(Deed.END, 20, kept=False)))
    descriptor = packed(run, JOURNAL, tmp_path)
    found, findings = read_package(descriptor)

    assert findings == ()
    assert found is not None
    assert found[0].rows == run.rows
    for path in tmp_path.glob("*.csv"):
        cells = [cell for row in csv.reader(io.StringIO(path.read_text("utf-8"), newline="")) for cell in row]
        assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t", "＝"))]


def test_light_and_meters_come_back(tmp_path: Path) -> None:
    """The factor of a lamp, the time at which it goes on, and the scale of a meter give the same facts again."""
    lamp = Lamp("bar", "Bar", lux_factor=66.5, lux_source="its maker")
    use = LampUse(lamp, exactly(14, Dimension.DURATION, 1), on=0)
    readings = (
        reading("lux", 5, exactly(14000, Dimension.ILLUMINANCE, 100), tub="tub"),
        reading("ppfd", 9, exactly(210, Dimension.PHOTON_FLUX, 1), tub="tub"),
        reading("ec", 9, exactly(1.68, Dimension.CONDUCTIVITY, 0.01), tub="tub", line=77, scale=500),
    )
    end = event(Deed.END, 20, kept=False)
    run = run_of(readings=readings, events=(end,), lights=(Light(Day.on(0), None, place(6), "tub", use),))
    found, findings = read_package(packed(run, JOURNAL, tmp_path))

    assert findings == ()
    assert found is not None
    assert found[0].rows == run.rows
    assert said_of(*found) == said_of(run, JOURNAL)


def test_written_again_it_is_the_same(tmp_path: Path) -> None:
    """A package made from what a package holds has the same bytes."""
    path = packed(full_run(), JOURNAL, tmp_path)
    before = {file.name: file.read_bytes() for file in tmp_path.iterdir()}
    found, _ = read_package(path)

    assert found is not None
    packed(found[0], JOURNAL, tmp_path)
    assert {file.name: file.read_bytes() for file in tmp_path.iterdir()} == before


def test_columns_may_stand_in_another_order(tmp_path: Path) -> None:
    """A program may move columns, add its own, and write other line ends."""
    path = packed(full_run(), JOURNAL, tmp_path)
    plants = tmp_path / "plants.csv"
    lines = plants.read_text("utf-8").splitlines()
    turned = ["mine," + ",".join(reversed(line.split(","))) for line in lines]
    plants.write_bytes("\r\n".join(turned).encode("utf-8-sig"))
    found, findings = read_package(path)

    assert findings == ()
    assert found is not None
    assert found[0].setup.plants == full_run().setup.plants


Change = Callable[[Path], None]


def put(name: str, old: str, new: str) -> Change:
    """Replace a text in a file of the package, which must have it."""

    def change(folder: Path) -> None:
        text = (folder / name).read_text("utf-8")
        assert old in text
        (folder / name).write_text(text.replace(old, new, 1), "utf-8")

    return change


def cell(name: str, column: str, value: str) -> Change:
    """Put a value into the first row of a table."""

    def change(folder: Path) -> None:
        header, *rows = csv.reader(io.StringIO((folder / name).read_text("utf-8")))
        rows[0][header.index(column)] = value
        text = io.StringIO()
        csv.writer(text).writerows([header, *rows])
        (folder / name).write_text(text.getvalue(), "utf-8")

    return change


def alter(change: Callable[[dict[str, Any]], object]) -> Change:
    """Change the descriptor as data."""

    def changed(folder: Path) -> None:
        path = folder / "datapackage.json"
        data = json.loads(path.read_text("utf-8"))
        change(data)
        path.write_text(json.dumps(data), "utf-8")

    return changed


def gone(name: str) -> Change:
    """Remove a file."""
    return lambda folder: (folder / name).unlink()


HEAD = "datapackage.json"
BROKEN: list[tuple[str, Change, str, str]] = [
    ("no descriptor", gone(HEAD), "missing-file", "`datapackage.json` is not there"),
    ("no table", gone("picks.csv"), "missing-file", "`picks.csv` is not there"),
    (
        "not JSON",
        put(HEAD, "{", ""),
        "wrong-type",
        "`datapackage.json` is not JSON: Extra data: line 2 column 11",
    ),
    (
        "not finite",
        put(HEAD, '"resources": [', '"x": NaN, "resources": ['),
        "wrong-type",
        "NaN is not a number",
    ),
    ("no resources", alter(lambda d: d.pop("resources")), "missing-key", "has no list `resources`"),
    ("no set-up", alter(lambda d: d.pop("experiment")), "missing-key", "has no mapping `experiment`"),
    (
        "set-up",
        alter(lambda d: d["experiment"].update(title=5)),
        "wrong-type",
        "`setup.title` is not of the type str",
    ),
    (
        "outside",
        alter(lambda d: d["resources"][0].update(path="../x.csv")),
        "missing-file",
        "`../x.csv` is not a file",
    ),
    (
        "too long",
        alter(lambda d: d["resources"][0].update(path="x" * 300)),
        "missing-file",
        f"`{'x' * 300}` is not there",
    ),
    (
        "no name",
        alter(lambda d: d["resources"][0].update(path="\0")),
        "hidden-character",
        "a character that cannot be seen stands here",
    ),
    (
        "absolute",
        alter(lambda d: d["resources"][0].update(path="/x.csv")),
        "missing-file",
        "`/x.csv` is not a file",
    ),
    ("column", put("picks.csv", "weight_low", "weight"), "unknown-column", "has no column `weight_low`"),
    ("cell", put("picks.csv", ",84,84,", ",lots,84,"), "bad-cell", "weight_low: `lots` is not a number"),
    ("infinity", put("picks.csv", ",84,84,", ",84,inf,"), "bad-cell", "weight_low: `inf` is not a number"),
    ("deed", put("events.csv", "sow,", "sew,"), "bad-cell", "deed: `sew` is none of sow, sprouted"),
    ("quotes", put("events.csv", "sow,", '"sow"x,'), "unreadable-sheet", "`events.csv` is not CSV"),
    ("plant", put("plants.csv", "P4,", "Q4,"), "unknown-plant", "`P4`, from seasons/s/e/experiment.yaml:"),
    ("tub", cell("plants.csv", "tub", "tank"), "unknown-plant", "`tank`, from "),
    ("entry", cell("picks.csv", "entry", "99"), "bad-cell", "there is no entry 99"),
    ("nothing", lambda f: (f / "plants.csv").write_text("") and None, "empty-file", "`plants.csv` is empty"),
    (
        "short row",
        put("plants.csv", "P1,", "P1"),
        "bad-cell",
        "a row of `plants.csv` has 8 cells, its head 9",
    ),
    ("bytes", lambda f: (f / "plants.csv").write_bytes(b"\xff") and None, "not-utf8", "is not UTF-8"),
]


@pytest.mark.parametrize(
    ("change", "code", "said"), [case[1:] for case in BROKEN], ids=[case[0] for case in BROKEN]
)
def test_what_does_not_fit_is_a_finding(change: Change, code: str, said: str, tmp_path: Path) -> None:
    """Whatever was done to a package, its reader says so, and gives no run."""
    path = packed(full_run(), JOURNAL, tmp_path)
    change(tmp_path)
    found, findings = read_package(path)

    assert found is None
    assert findings[0].code == code
    assert said in findings[0].message


def test_a_bad_cell_has_its_line(tmp_path: Path) -> None:
    """A finding in a table points at its file and line."""
    path = packed(full_run(), JOURNAL, tmp_path)
    put("picks.csv", ",112,112,", ",x,112,")(tmp_path)
    _, findings = read_package(path)

    assert [str(finding.source) for finding in findings] == ["picks.csv:4"]


def test_the_command(tmp_path: Path) -> None:
    """`facts --from` prints what `facts --json` prints of the journal's own experiment."""
    run, journal = full_run(), replace(JOURNAL, units="us")
    done = CliRunner().invoke(
        command, ["--from", str(packed(run, journal, tmp_path)), "--json"], standalone_mode=False
    )

    assert json.loads(done.stdout)["experiments"] == [json.loads(json.dumps(said_of(run, journal)))]


def test_the_command_takes_no_other_experiment(tmp_path: Path) -> None:
    """A package holds one experiment: naming another is wrong usage."""
    path = packed(facts().run, JOURNAL, tmp_path)
    done = CliRunner().invoke(command, ["--from", str(path), "other"])

    assert done.exit_code == 2
    assert "name no other" in done.output


@pytest.mark.parametrize(
    "weight",
    [
        None,
        grams(30),
        replace(grams(20), high=30, about=True),
        replace(grams(9), high=None, open=1),
        unweighed(),
    ],
    ids=["not said", "exact", "range", "at least", "unweighed"],
)
def test_the_weight_of_what_was_spoilt_comes_back(weight: Quantity | None, tmp_path: Path) -> None:
    """A spoilt part keeps its number and its weight in every form, and gives the same facts."""
    run = run_of(picks=[pick(50, joint("P1"), grams(84), count=9, spoilt=2, spoilt_weight=weight)])
    found, findings = read_package(packed(run, JOURNAL, tmp_path))

    assert findings == ()
    assert found is not None
    assert found[0].rows.picks == run.rows.picks
    assert said_of(*found) == said_of(run, JOURNAL)
