"""The set-up of a run told from memory."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from sitegen.core.records.setup import Memory, Setup
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import Quantity, counted
from sitegen.core.values.units import Dimension
from sitegen.ingest import read_experiment, read_journal
from tests.cases import Case
from tests.ingest.builders import EXPERIMENT

HEAD = "format: 1\ntitle: Sorrel in a crate\ncrop: sorrel\nfrom_memory: true\n"
ABOUT_FOUR = Quantity(4, 4, Dimension.COUNT, about=True, step=1)
ABOUT_200_G = Quantity(200, 200, Dimension.MASS, about=True, step=1)


def setup_of(root: Path, text: str) -> Setup:
    """The set-up of a run that is sound."""
    Case("", "", ((EXPERIMENT, (HEAD + text).encode()),), "").write(root)
    journal_files, _ = read_journal(root)
    assert journal_files is not None
    run, findings = read_experiment(journal_files.folders[0], journal_files)
    assert findings == ()
    assert run is not None
    return run.setup


@pytest.mark.parametrize(
    ("text", "start"),
    [
        ("2024", Start(dt.date(2024, 1, 1), "year")),
        ("2024-05", Start(dt.date(2024, 5, 1), "month")),
        ("2024-05-03", Start(dt.date(2024, 5, 3), "day")),
        ("unknown", Start()),
    ],
)
def test_a_start_may_be_rough(text: str, start: Start, tmp_path: Path) -> None:
    """A year is a start as good as a month, a date or none."""
    setup = setup_of(tmp_path, f"start: {text}\nplants: unknown\n")

    assert setup.start == start


def test_a_year_may_have_begun_on_its_last_day() -> None:
    """The latest day 0 of a year is its 31 December."""
    assert Start(dt.date(2024, 1, 1), "year").latest == dt.date(2024, 12, 31)


@pytest.mark.parametrize(
    ("text", "ids", "number"),
    [
        ("unknown", (), None),
        ("some", (), None),
        ("about 4", (), ABOUT_FOUR),
        ("3-4", (), Quantity(3, 4, Dimension.COUNT, step=1)),
        ("2", ("P1", "P2"), counted(2)),
        ("[mint, dill]", ("mint", "dill"), counted(2)),
    ],
)
def test_plants_may_be_rough(
    text: str, ids: tuple[str, ...], number: Quantity | None, tmp_path: Path
) -> None:
    """Plants that are not told apart have no ids, and their number is as far as it is known."""
    setup = setup_of(tmp_path, f"system: crate\nstart: 2024\nplants: {text}\n")

    assert setup.plant_ids == ids
    assert setup.from_memory == Memory(plants=number)


@pytest.mark.parametrize(
    ("text", "weight"),
    [
        ("some", None),
        ("a few small heads", None),
        ("3 heads", None),
        ("about 200 g", ABOUT_200_G),
    ],
)
def test_a_harvest_is_words_or_a_weight(text: str, weight: Quantity | None, tmp_path: Path) -> None:
    """What came of it is kept as written, and as a weight where it is one."""
    setup = setup_of(tmp_path, f"start: unknown\nplants: unknown\nharvest: {text}\n")

    assert setup.from_memory == Memory(text, weight)


def test_several_systems_and_varieties_need_no_plants(tmp_path: Path) -> None:
    """A list of systems is a tub for each, a list of varieties names what was grown; which plants is not told."""
    setup = setup_of(tmp_path, "start: unknown\nplants: 4\nsystem: [crate, bowl]\nvariety: [broad, red]\n")

    assert [tub.system.id for tub in setup.tubs] == ["crate", "bowl"]
    assert setup.variety_ids == ("broad", "red")
    assert setup.plants == ()
    assert setup.from_memory == Memory(plants=counted(4), varieties=("broad", "red"))


def test_no_system_is_no_tub(tmp_path: Path) -> None:
    """What it grew in may be left out."""
    setup = setup_of(tmp_path, "start: unknown\nplants: 4\n")

    assert setup.tubs == ()
