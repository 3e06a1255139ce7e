"""Whole drafts of five different runs, read aloud when kept: rich, running, failed, two arms, nothing weighed."""

from __future__ import annotations

import pytest

from tests.notes.golden import FOLDER, KINDS, RUNS, material_of, text_of


@pytest.mark.parametrize("run", RUNS)
@pytest.mark.parametrize("kind", KINDS)
def test_drafts_are_as_they_were(run: str, kind: str) -> None:
    """A draft of a run that did not change does not change; `python -m tests.notes.golden` keeps another."""
    with material_of(run) as material:
        assert text_of(material, kind) == (FOLDER / f"{run}-{kind}.md").read_text("utf-8")


def test_there_is_no_other_file() -> None:
    """Each file is of a draft that is compared."""
    assert {file.name for file in FOLDER.glob("*.md")} == {
        f"{run}-{kind}.md" for run in RUNS for kind in KINDS
    }
