"""What a preview shows beyond what is published."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from sitegen.memo import Memo
from sitegen.pipeline import preview, publish
from sitegen.pipeline.previewing import Preview
from tests.journal_maker import make_journal

TODAY = date(2026, 5, 1)
LEAF = """\
format: 1
title: {title}
crop: {crop}
system: tray
start: 2026-03-01
plants: 2
{more}log:
  - day: 0
    sow: 2 a spot
  - day: 20
    height: 9 cm
"""


def leaf(title: str, crop: str = "leaf", more: str = "") -> str:
    """An experiment that has no findings."""
    return LEAF.format(title=title, crop=crop, more=more)


def look(root: Path, last: Preview | None = None) -> Preview:
    """A preview on the day of these tests."""
    with Memo.open() as memo:
        return preview(root, TODAY, memo, last)


def body(shown: Preview, address: str) -> str:
    """The text of a page."""
    return shown.pages[address].content.decode()


def test_what_is_held_back_is_shown_and_marked(tmp_path: Path) -> None:
    """Drafts and what is published later have pages, and so have a crop and old addresses that only they have."""
    held = {
        "draft": leaf("Drafted", more="draft: true\nwas: [older]\n"),
        "later": leaf("Later", "tomato", "publish: 2026-06-01\n"),
        "open": leaf("Open"),
    }
    root = make_journal(tmp_path / "bench", held)
    shown = look(root)
    published = {page.relative_to(root / "output").as_posix() for page in _written(root)}

    assert shown.unpublished == {
        "experiments/draft.html",
        "experiments/older.html",
        "experiments/later.html",
        "crops/tomato.html",
    }
    assert {
        a for a, page in shown.pages.items() if page.media == "text/html"
    } - shown.unpublished == published


def _written(root: Path) -> list[Path]:
    assert publish(root, TODAY).outcome is not None
    return sorted((root / "output").rglob("*.html"))


def test_what_is_written_holds_nothing_of_the_preview(tmp_path: Path) -> None:
    """No byte of the ribbon, of the live script or of a draft is in the site's files."""
    root = make_journal(
        tmp_path / "bench", {"draft": leaf("Drafted", more="draft: true\n"), "open": leaf("Open")}
    )
    _written(root)
    files = [path.read_bytes() for path in (root / "output").rglob("*") if path.is_file()]

    assert len(files) > 5
    assert not [
        words
        for words in (b"not published", b"/-/", b"sitegen-live", b"Drafted")
        for f in files
        if words in f
    ]


def test_an_experiment_with_errors_is_shown_as_it_last_was(tmp_path: Path) -> None:
    """The others are new, the broken one stays on its page and in the lists; its error is told."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First title"), "two": leaf("Second title")})
    before = look(root)
    (root / "seasons/one/one/experiment.yaml").write_text(leaf("Broken title", more="plnats: 2\n"), "utf-8")
    (root / "seasons/one/two/experiment.yaml").write_text(leaf("Mended title"), "utf-8")
    after = look(root, before)

    assert [f.source.file for f in after.findings if f.is_error] == ["seasons/one/one/experiment.yaml"]
    assert body(after, "experiments/one.html") != ""
    assert ("First title" in body(after, "index.html"), "Mended title" in body(after, "index.html")) == (
        True,
        True,
    )
    assert "Broken title" not in body(after, "index.html") + body(after, "experiments/one.html")


def test_an_experiment_that_never_was_sound_is_left_out(tmp_path: Path) -> None:
    """The sound ones are shown even so."""
    root = make_journal(tmp_path / "bench", {"one": "format: 1\n", "two": leaf("Second")})
    shown = look(root)

    assert ("experiments/one.html" in shown.pages, "experiments/two.html" in shown.pages) == (False, True)


def test_a_journal_that_cannot_be_read_has_findings_only(tmp_path: Path) -> None:
    """What pages are left is for the caller to know."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First")})
    (root / "journal.yaml").write_text("title: [", "utf-8")
    shown = look(root)

    assert (dict(shown.pages), any(f.is_error for f in shown.findings)) == ({}, True)


def test_files_lead_to_their_pages(tmp_path: Path) -> None:
    """Folders of experiments and seasons, and texts."""
    root = make_journal(
        tmp_path / "bench", {"one": leaf("First")}, more={"about.md": "# About\n\nA bench.\n"}
    )

    assert look(root).page_of == {
        "seasons/one/one": "experiments/one.html",
        "seasons/one": "seasons/one.html",
        "about.md": "about.html",
    }
