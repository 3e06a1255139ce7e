"""The names of a journal, for a schema and for what an author types."""

from __future__ import annotations

from pathlib import Path

from sitegen.core.format.own_names import OwnNames
from sitegen.pipeline.own_names import names_of
from tests.conftest import DEMO


def test_names_of_a_journal_and_of_one_experiment() -> None:
    """Systems and crops of all; plants and tubs of the one that is named."""
    whole, ids = names_of(DEMO)
    one, _ = names_of(DEMO, "pebble-two-lamps")

    assert "pebble-two-lamps" in ids
    assert "dwarf-tomato" in whole.crops
    assert (list(whole.plants), list(whole.tubs)) == ([], [])
    assert (list(one.plants), list(one.tubs), one.kind) == (
        ["P1", "P2", "P3", "P4", "P5", "P6"],
        ["left", "right"],
        "fruiting",
    )


def test_a_folder_that_is_no_journal_has_none(tmp_path: Path) -> None:
    """Nothing is told of what cannot be read."""
    (tmp_path / "journal.yaml").write_text("[", "utf-8")

    assert names_of(tmp_path) == (OwnNames(), ())
