"""Which Markdown files of a journal are pages for readers."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.core.records.setup import FreePage
from sitegen.ingest import read_journal
from tests.journal_maker import make_journal


def pages(root: Path, **files: str) -> tuple[FreePage, ...]:
    """The free pages of a journal with these files."""
    make_journal(root, {}, more=files)
    found, _ = read_journal(root)
    assert found is not None
    return found.pages


def test_pages(tmp_path: Path) -> None:
    """Each Markdown file beside journal.yaml is a page."""
    found = pages(tmp_path, **{"about.md": "# About\n", "bench.md": "Words <!-- of mine -->\n"})

    assert [page.name for page in found] == ["about", "bench"]


@pytest.mark.parametrize(
    "name", [".about.md", "~$about.md", "#about.md", "about.md~", "about.md.bak", ".#about.md"]
)
def test_files_that_are_no_pages(name: str, tmp_path: Path) -> None:
    """Hidden files and those that editors and office programs leave behind are none."""
    assert pages(tmp_path, **{name: "# Mine\n"}) == ()


def test_drafts_of_notes(tmp_path: Path) -> None:
    """A draft of notes that was written beside journal.yaml is none: it is for its author to speak."""
    assert pages(tmp_path, **{"script.md": "# Script\n\nNine leaves. <!-- experiment.yaml:9 -->\n"}) == ()
