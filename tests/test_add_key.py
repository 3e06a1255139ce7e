"""What a new key of the log takes: its row, the name of its event, and words in a catalogue.

A copy of the program is given four keys, and a small journal that uses them is written with the copy: an amount, plants,
words and a reading. The keys and the journal are invented.
"""

from __future__ import annotations

import csv
import filecmp
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

PROGRAM = Path(__file__).parent.parent
BASE = Path(__file__).parent / "journals" / "broken" / "base"
ROWS = "sitegen/core/records/rows.py"
KEYS = "sitegen/core/format/entry.py"
EDITS = {
    ROWS: (
        '    TROUBLE = "trouble"\n',
        '    MISTED = "misted"\n    SHADED = "shaded"\n    SMELL = "smell"\n',
    ),
    KEYS: (
        '    LogKey("trouble",',
        """\
    LogKey("misted", F.DEED, "water sprayed on leaves", "200 ml", dimension=D.VOLUME, subject=PLANTS,
        record=Action, word=tr_noop("Misted"), work=tr_c_noop("work", "misting"), verb="be misted"),
    LogKey("shaded", F.WHICH, "which plants", "[P1, P2]", record=Action, word=tr_noop("Shaded")),
    LogKey("smell", F.TEXT, "of the solution", "of earth", record=Action, word=tr_noop("Smell")),
    _reading("fan_speed", D.SHARE, "of what the fan can do", "40 %", tr_noop("fan speed"), "light"),
""",
    ),
}
GERMAN = {
    "Misted": "Besprüht",
    "Shaded": "Beschattet",
    "Smell": "Geruch",
    "misting": "Besprühen",
    "fan speed": "Lüfter",
}
EXPERIMENT = """\
format: 1
title: Sorrel in a crate
crop: sorrel
start: 2026-03-01
plants: 2
system: crate
log:
  - day: 0
    sow: 1 a spot
  - day: 9
    misted: 200 ml
    fan_speed: 40 %
    shaded: [P1, P2]
    smell: "of earth: # faint"
  - day: 12
    misted: {P1: about 50 ml}
"""
BROKEN = f"""{EXPERIMENT}\
    lost: P2
  - day: 14
    misted: [P2]
  - day: 15
    misted: 3 kg
    fan_speed: fast
    shaded: P9
    smell: of earth #2
"""
FILE = "seasons/spring/sorrel-crate/experiment.yaml"


def _run(home: Path, *arguments: str) -> str:
    """What a command of the copy prints."""
    own = {
        "PYTHONPATH": str(home / "copy"),
        "SITEGEN_CACHE": str(home / "cache"),
        "PYTHONDONTWRITEBYTECODE": "",
    }
    done = subprocess.run(
        [sys.executable, "-m", *arguments],
        cwd=home,
        env={**os.environ, **own},
        capture_output=True,
        text=True,
        check=False,
    )
    return done.stdout + done.stderr


def _write_journal(root: Path, experiment: str) -> None:
    shutil.copytree(BASE, root)
    (root / "journal.yaml").write_text("format: 1\ntitle: Invented bench\nlanguage: de\n", "utf-8")
    path = root / FILE
    path.parent.mkdir()
    path.write_text(experiment, "utf-8")


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a copy of the program that has four keys more, and the German site of a journal that uses them."""
    home = tmp_path_factory.mktemp("keys")
    for part in ("sitegen", "themes"):
        shutil.copytree(PROGRAM / part, home / "copy" / part, ignore=shutil.ignore_patterns("__pycache__"))
    for name, (mark, added) in EDITS.items():
        path = home / "copy" / name
        before, after = path.read_text("utf-8").split(mark)
        path.write_text(before + added + mark + after, "utf-8")
    _run(home, "sitegen.words")
    catalogue = home / "copy" / "sitegen" / "words" / "de.po"
    text = catalogue.read_text("utf-8")
    for message, words in GERMAN.items():
        text = text.replace(f'msgid "{message}"\nmsgstr ""', f'msgid "{message}"\nmsgstr "{words}"')
    catalogue.write_text(text, "utf-8")
    _write_journal(home / "journal", EXPERIMENT)
    _run(home, "sitegen", "write", "journal", "-o", "site", "--today", "2026-06-01")
    return home


def test_two_files_and_the_catalogues_are_touched(home: Path) -> None:
    """A deed takes its row and its name, a reading its row alone; the catalogues take their words."""
    files = [
        path.relative_to(home / "copy") for path in (home / "copy").rglob("*.*") if path.suffix != ".pyc"
    ]
    _, changed, _ = filecmp.cmpfiles(PROGRAM, home / "copy", map(str, files), shallow=False)

    assert sorted(changed) == [KEYS, ROWS, "sitegen/words/de.po", "sitegen/words/site.pot"]


def test_page(home: Path) -> None:
    """The timeline tells each value in the words of the journal's language, and the work is counted."""
    page = (home / "site" / "experiments" / "sorrel-crate" / "record.html").read_text("utf-8")
    text = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))

    for said in (
        "Besprüht: 200 ml (6,76 fl oz).",
        "Besprüht: etwa 50 ml (1,7 fl oz), P1.",
        "Beschattet: P1 und P2.",
        "Geruch: of earth: # faint.",
        "Lüfter 40 %",
        "Besuche: Besprühen: 2",
    ):
        assert said in text


def _rows(home: Path, table: str, *columns: str) -> list[list[str]]:
    path = home / "site" / "data" / "sorrel-crate" / f"{table}.csv"
    with path.open(encoding="utf-8", newline="") as file:
        return [[row[column] for column in columns] for row in csv.DictReader(file)]


def test_data(home: Path) -> None:
    """The tables for download hold each value with its unit."""
    events = _rows(home, "events", "deed", "day_first", "plants", "amount_low", "amount_unit")
    readings = _rows(home, "readings", "name", "day_first", "tub", "value_low", "value_unit")

    assert [row for row in events if row[0] != "sow"] == [
        ["misted", "9", "", "200", "ml"],
        ["shaded", "9", "P1 P2", "", ""],
        ["smell", "9", "", "", ""],
        ["misted", "12", "P1", "50", "ml"],
    ]
    assert readings == [["fan_speed", "9", "tub", "40", "%"]]


@pytest.mark.parametrize(
    "source", [("--journal", "journal"), ("--from", "site/data/sorrel-crate/datapackage.json")]
)
def test_facts(home: Path, source: tuple[str, str]) -> None:
    """The facts count the visits, from the journal and from the tables of the site alike."""
    facts = _run(home, "sitegen", "facts", *source)

    assert re.search(r"work\.tasks\.misted +2\n", facts)


def test_schema(home: Path) -> None:
    """The reference of the format has the keys, each with its example."""
    lines = [line.split() for line in _run(home, "sitegen", "schema").splitlines()]

    assert ["misted:", "200", "ml"] in lines
    assert ["fan_speed:", "40", "%"] in lines


def test_findings(home: Path) -> None:
    """A lost plant, another dimension, no quantity, an unknown plant, and words cut off by a comment are findings."""
    _write_journal(home / "broken", BROKEN)

    assert _run(home, "sitegen", "validate", "broken", "--line").splitlines() == [
        (
            f"{FILE}:19:13: error[lost-plant]: `P2` was lost on day 12; it cannot be misted on day 14 "
            "(check which plant it was, or the day that `P2` was lost)"
        ),
        (
            f"{FILE}:21:15: error[wrong-dimension]: `kg` is a weight; `misted` wants a volume "
            f"(write a volume, such as `2 L`)"
        ),
        (
            f"{FILE}:22:16: error[not-a-quantity]: `fast` is not a percentage "
            "(write a value such as `60 %`, or `unmeasured`)"
        ),
        (
            f"{FILE}:23:13: error[unknown-plant]: `P9` is not a plant, group or tub of this experiment "
            "(write one of `P1`, `P2`)"
        ),
        (
            f"{FILE}:24:21: error[yaml-twist]: in `smell`, what follows ` #` is a comment and would be lost "
            "(write `smell: 'of earth #2'`)"
        ),
    ]
