"""The names of a journal, for a schema and for what an author types."""

from __future__ import annotations

from pathlib import Path

from sitegen.core.format.own_names import OwnNames
from sitegen.pipeline.own_names import names_of
from tests.journal_maker import make_journal

GEAR = """\
systems:
  tray: {name: Seed tray, kind: standing water, spots: 40}
  pot: {name: Flood pot, kind: flood and drain, spots: 4}
lamps: {bar: {name: Plain bar, power: 40 W}}
meters: {pen: {name: EC pen}}
products: {mix: {name: Plain mix, kind: feed}}
"""
RUN = """\
format: 1
title: Leaves in two tubs
crop: leaf
start: 2026-03-01
plants: 3
tubs:
  wet: {system: tray, plants: P1-P2}
  dry: {system: pot, plants: P3}
groups: {early: P1-P2}
log:
  - day: 0
    sow: 2 a spot
"""


def test_names_of_a_journal_and_of_one_experiment(tmp_path: Path) -> None:
    """Gear and crops with what they are called; plants, groups, tubs and varieties of the one that is named."""
    root = make_journal(tmp_path, {"one": RUN, "two": "title: ["}, more={"gear.yaml": GEAR})
    whole, ids = names_of(root)
    one, same = names_of(root, "one")
    all_varieties = {"amber": "Amber", "first": "First", "second": "Second"}

    assert ids == same == ("one", "two")
    assert whole == OwnNames(
        crops={"orange": "Orange tree", "tomato": "Dwarf tomato", "leaf": "Leaf lettuce"},
        varieties=all_varieties,
        systems={"tray": "Seed tray", "pot": "Flood pot"},
        lamps={"bar": "Plain bar"},
        meters={"pen": "EC pen"},
        products={"mix": "Plain mix"},
        experiments={"one": "", "two": ""},
    )
    assert (one.crops, one.experiments) == (whole.crops, whole.experiments)
    assert (one.varieties, one.kind) == ({"first": "First", "second": "Second"}, "leafy")
    assert one.plants == {"P1": "", "P2": "", "P3": ""}
    assert one.groups == {"early": "P1, P2"}
    assert one.tubs == {"wet": "Seed tray", "dry": "Flood pot"}


def test_an_experiment_that_cannot_be_read_adds_nothing(tmp_path: Path) -> None:
    """Nor does one that is not there."""
    root = make_journal(tmp_path, {"one": RUN, "two": "title: ["}, more={"gear.yaml": GEAR})

    assert names_of(root, "two") == names_of(root, "none") == names_of(root)


def test_a_run_in_one_system_has_one_tub(tmp_path: Path) -> None:
    """Nobody named it: it is called `tub`."""
    run = RUN[: RUN.index("tubs:")] + "system: tray\n" + RUN[RUN.index("groups:") :]
    found, _ = names_of(make_journal(tmp_path, {"one": run}, more={"gear.yaml": GEAR}), "one")

    assert (found.tubs, list(found.plants)) == ({"tub": "Seed tray"}, ["P1", "P2", "P3"])


def test_a_folder_that_is_no_journal_has_none(tmp_path: Path) -> None:
    """Nothing is told of what cannot be read."""
    (tmp_path / "journal.yaml").write_text("[", "utf-8")

    assert names_of(tmp_path) == (OwnNames(), ())
