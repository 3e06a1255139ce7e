"""The folders of a journal that may hold an experiment."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.pipeline.filing.experiments import experiments, meant_by


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A journal with two seasons, and with what is no experiment in them."""
    for place in ("2/basil", "2/basil-two", "1/Cress", "1/.hidden", "1/_template", ".trash/old"):
        (tmp_path / "seasons" / place).mkdir(parents=True)
    (tmp_path / "seasons" / "1" / "season.yaml").touch()
    (tmp_path / "seasons" / "notes.txt").touch()
    return tmp_path


def test_folders_alone_and_none_that_is_set_aside(root: Path) -> None:
    """By season and id; no file, and nothing that begins with a dot or an underscore."""
    assert [(each.season, each.id) for each in experiments(root)] == [
        ("1", "Cress"),
        ("2", "basil"),
        ("2", "basil-two"),
    ]


def test_an_id_is_meant_before_all_that_begin_with_it(root: Path) -> None:
    """A whole id is one experiment; a beginning is all that have it, in either case of letters."""
    found = {word: [each.id for each in meant_by(word, root)] for word in ("basil", "BAS", "cr", "leek")}

    assert found == {"basil": ["basil"], "BAS": ["basil", "basil-two"], "cr": ["Cress"], "leek": []}


def test_a_journal_without_seasons_has_none(tmp_path: Path) -> None:
    """Before the first season there is no folder to look into."""
    assert experiments(tmp_path) == ()
