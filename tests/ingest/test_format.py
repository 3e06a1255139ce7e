"""The examples of the format's description: each is valid as printed, and means what is said of it."""

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path

import pytest

from sitegen.core.records.rows import Run
from sitegen.ingest import JournalFiles, read_experiment, read_journal
from sitegen.pipeline import validate
from tests.ingest.builders import picture, said, shown

PRINTED = Path(__file__).parent.parent / "journals" / "format"
FOLDER = Path("seasons/2025-autumn/pak-choi-pairs")
TODAY = dt.date(2026, 1, 15)

# The commented second forms of the description, each with the line that it stands in for.
OTHER_FORMS = {
    "varieties by plant": ("variety: tiny-jade ", "variety: {P1-P3: tiny-jade, P4-P6: broad-stem} "),
    "a month": ("start: 2025-09-14 ", "start: 2025-09 "),
    "named plants": ("plants: 6  ", "plants: [P1, P2, P3, P4, P5, P6]  "),
    "resown": ("sow: 3 a spot  ", "sow: {plants: P1-P6, seeds: 3 a spot}  "),
    "changed": ("water: filled  ", "water: changed to 11 L  "),
    "unmeasured": ("water: filled  ", "water: unmeasured  "),
    "by plant": ("sprouted: 16 of 18  ", "sprouted: {P1: 3, P2: 2}  "),
    "every seed": ("sprouted: 16 of 18  ", "sprouted: all  "),
    "every spot": ("sprouted: 16 of 18  ", "sprouted: every spot  "),
    "stem tip": ("height: about 9 cm  ", "height: about 9 cm to the stem tip  "),
    "named for a stage": ("{rosette: 4 of 6} ", "{rosette: [P1, P3]} "),
    "as labelled": ("part-b: 10 ml}", "part-b: as labelled}"),
    "by litre": ("part-b: 10 ml}", "part-b: 2 ml/L}"),
    "included": ("earlier_picks: apart", "earlier_picks: included"),
    "unclear": ("earlier_picks: apart", "earlier_picks: unclear"),
    "cleared": ("plants: kept}", "plants: cleared}"),
    "several picks": (
        "harvest: {P1: 84 g, P4: {weight: 121 g, part: leaf, grade: good}, P6: unweighed}",
        "harvest: [{P1: 84 g}, {plants: P2-P3, weight: 118 g, count: 12}]",
    ),
    "pieces": ("harvest: {weight: 205 g,", "harvest: {weights: [8 g, 9 g],"),
    "a tally": ("water: 2 L\n", "water: 2 L\n    total_so_far: 4.6 kg\n"),
}
READINGS = """\
readings:
  - {file: leaves.csv, reading: leaves, columns: {Rot 1: P1, Rot 2: P2}, decimal: comma}
  - {file: air.csv, time: Timestamp, columns: {Temp: air_temperature C, RH: humidity %}, zone: Europe/Vienna}
"""
LEAVES = "day;Rot 1;Rot 2\n20;4;5\n24;ca. 8;12+\n28;-;9\n"
AIR = "Timestamp;Temp;RH\n2025-10-01 08:00;21.5;60\n2025-10-01 09:00;22;58\n"


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """The journal as printed, with the one photo that it names."""
    root = tmp_path / "format"
    shutil.copytree(PRINTED, root)
    photos = root / FOLDER / "photos"
    photos.mkdir(exist_ok=True)
    (photos / "first-cut.jpg").write_bytes(picture())
    return root


def _replace(root: Path, old: str, new: str) -> None:
    path = root / FOLDER / "experiment.yaml"
    text = path.read_text("utf-8")
    assert text.count(old) == 1, old
    path.write_text(text.replace(old, new), "utf-8")


def _read(root: Path) -> tuple[JournalFiles, Run]:
    journal_files, findings = read_journal(root)
    assert journal_files is not None
    run, more = read_experiment(journal_files.folders[0], journal_files)
    assert run is not None
    assert said((*findings, *more)) == []
    return journal_files, run


def test_as_printed(journal: Path) -> None:
    """The printed journal has no error."""
    checked = validate(journal, TODAY)

    assert [finding for finding in checked.findings if finding.is_error] == []
    assert (checked.experiments, checked.entries) == (1, 10)


@pytest.mark.parametrize("form", OTHER_FORMS)
def test_other_forms(form: str, journal: Path) -> None:
    """The other forms that the description prints beside a line can be read in its place."""
    crops = journal / "crops.yaml"
    crops.write_text(crops.read_text("utf-8") + "    broad-stem: {name: Broad Stem}\n", "utf-8")
    _replace(journal, *OTHER_FORMS[form])

    assert said(read_experiment(*_folder(journal))[1]) == []


def _folder(root: Path) -> tuple[object, JournalFiles]:
    journal_files, findings = read_journal(root)
    assert journal_files is not None
    assert said(findings) == []
    return journal_files.folders[0], journal_files


def test_rows(journal: Path) -> None:
    """Each entry gives the rows that its words say."""
    _, run = _read(journal)

    assert [str(entry.day) for entry in run.rows.entries] == [
        "0",
        "5",
        "10",
        "23",
        "30",
        "33-38",
        "35",
        "44",
        "51",
        "64",
    ]
    assert shown(run.rows) == [
        "sow all 3 each",
        "water filled",
        "sprouted all 16 of 18",
        "thin_to single 1 each",
        "thin_to pair 2 each",
        "transplant all",
        "adjust ph-down 2 ml",
        "prune some 'lower leaves'",
        "taste 4 of 5 'crisp and mild'",
        "water 2000 ml",
        "feed part-a 10 ml",
        "feed part-b 10 ml",
        "trouble 2 of 6 'tip burn' until 51",
        "lost P5 'snapped while cutting'",
        "end 'slow now' kept",
        "height all about 9 cm",
        "ec 1.4 mS/cm",
        "ph before 7.1",
        "ph after 5.9",
        "pick P1 84 g",
        "pick P4 121 g leaf good",
        "pick P6 ?",
        "pick all 205 g count 9 spoilt 1 apart",
        "rosette all not yet",
        "rosette 4 of 6 reached",
        "light bar-45 14 h 30 cm",
        "from now feed leaf-mix 20 ml every refill",
        "photo first-cut.jpg A cut rosette on a kitchen scale",
    ]


def test_entry_that_is_not_told(journal: Path) -> None:
    """`tell` and `private` belong to their entry, and the private text is not kept."""
    _, run = _read(journal)
    told = {str(entry.day): (entry.tell, entry.private) for entry in run.rows.entries}

    assert {day for day, (tell, private) in told.items() if tell or private} == {"44"}
    assert told["44"] == ("never", True)
    assert "ask the club" not in repr(run)


def test_set_up(journal: Path) -> None:
    """The head gives plants, groups, lamp, claims and answer."""
    journal_files, run = _read(journal)
    setup = run.setup

    assert (journal_files.journal.title, journal_files.journal.timezone) == ("Cellar Bench", "Europe/Vienna")
    assert [(plant.id, plant.variety, plant.groups) for plant in setup.plants] == [
        (f"P{n}", "tiny-jade", ("single",) if n < 4 else ("pair",)) for n in range(1, 7)
    ]
    assert setup.seed is not None
    assert (setup.seed.source, str(setup.seed.claims.days), setup.seed.claims.counted_from) == (
        "swap table",
        "35",
        "sowing",
    )
    assert setup.answer is not None
    assert (setup.answer.verdict, setup.was, setup.publish) == (
        "again",
        ("pak-choi-test",),
        dt.date(2026, 1, 12),
    )


def test_readings(journal: Path) -> None:
    """A spreadsheet's cells and a sensor's samples stand beside the log."""
    (journal / FOLDER / "leaves.csv").write_text(LEAVES, "utf-8")
    (journal / FOLDER / "air.csv").write_text(AIR, "utf-8")
    _replace(journal, "log:\n", f"{READINGS}log:\n")
    _, run = _read(journal)

    assert [line for line in shown(run.rows) if line.startswith("leaves")] == [
        "leaves P1 4",
        "leaves P2 5",
        "leaves P1 about 8",
        "leaves P2 12+",
        "leaves P2 9",
    ]
    assert [(export.name, export.values) for export in run.rows.exports] == [
        ("air_temperature", (21.5, 22.0)),
        ("humidity", (60.0, 58.0)),
    ]


def test_several_tubs(journal: Path) -> None:
    """With several tubs each plant stands in its own, and a move changes it from the next entry on."""
    gear = journal / "gear.yaml"
    gear.write_text(
        gear.read_text("utf-8").replace("lamps:", "  tub-9: {name: Nine-cup tub, spots: 9}\nlamps:")
    )
    _replace(journal, "system: tub-6 ", "#")
    _replace(journal, "# tubs: {left", "\ntubs: {left")
    path = journal / FOLDER / "experiment.yaml"
    head = path.read_text("utf-8").split("log:\n")[0]
    log = "  - {day: 0, sow: 3 a spot, water: {left: filled, right: 2 L}}\n  - {day: 9, move: {P3: right}}\n"
    path.write_text(
        f"{head}log:\n{log}  - {{day: 12, harvest: {{P3: 9 g}}, photo: first-cut.jpg}}\n", "utf-8"
    )
    _, run = _read(journal)

    assert [(plant.id, plant.tub) for plant in run.setup.plants][2:4] == [("P3", "left"), ("P4", "right")]
    assert [pick.tubs for pick in run.rows.picks] == [("right",)]
