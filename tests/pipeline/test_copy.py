"""A copy of one page: what comes back, and which folders it is written to."""

from __future__ import annotations

import time
from datetime import date
from pathlib import Path

import pytest

from sitegen.memo import Memo
from sitegen.pipeline.publishing import standalone
from sitegen.pipeline.publishing.standalone import copy
from tests.photos.pictures import exif, jpeg, picture
from tests.pipeline.bench import TODAY, Site, leaf, tree


@pytest.fixture
def site(tmp_path: Path) -> Site:
    """A published experiment, a draft, and one that is published in June."""
    runs = {
        "one": leaf("First"),
        "draft": leaf("Drafted", "tomato", more="draft: true\n"),
        "later": leaf("Later", "orange", more="publish: 2026-06-01\n"),
    }
    return Site.of(tmp_path, runs)


def test_what_came_of_it_is_told(site: Site) -> None:
    """The folder, the files, and whether the page is one that is not published on that day."""
    june = date(2026, 6, 1)
    done = {
        (name, day): copy(site.root, day, name, output=site.folder / name)
        for name, day in (("one", TODAY), ("draft", TODAY), ("later", TODAY), ("later", june))
    }

    assert {key: each.held_back for key, each in done.items()} == {
        ("one", TODAY): False,
        ("draft", TODAY): True,
        ("later", TODAY): True,
        ("later", june): False,
    }
    first = done["one", TODAY]
    assert (first.findings, first.folder, first.known) == ((), site.folder / "one", None)
    assert first.outcome is not None
    assert sorted(first.outcome.written) == sorted(set(tree(site.folder / "one")) - {".sitegen.json"})


def test_a_second_copy_touches_nothing(site: Site) -> None:
    """Every file counts as unchanged; after an edit, the page and its data are new."""
    copy(site.root, TODAY, "one", output=site.output)
    before = {path: path.stat().st_ctime_ns for path in site.output.rglob("[!.]*")}
    again = copy(site.root, TODAY, "one", output=site.output).outcome
    path = site.experiment("one") / "experiment.yaml"
    after = {path: path.stat().st_ctime_ns for path in site.output.rglob("[!.]*")}
    path.write_text(path.read_text("utf-8").replace("as it was", "as it is"), "utf-8")
    edited = copy(site.root, TODAY, "one", output=site.output).outcome

    assert again is not None
    assert edited is not None
    assert (again.written, again.unchanged) == ((), len(edited.written) + edited.unchanged)
    assert after == before
    assert "record.html" in edited.written
    assert "methods.html" not in edited.written


def test_without_a_folder_it_is_named_after_the_site(site: Site) -> None:
    """Beside the output, or beside the folder that journal.yaml names."""
    usual = copy(site.root, TODAY, "one").folder
    settings = site.root / "journal.yaml"
    settings.write_text(settings.read_text("utf-8") + "output: ../public\n", "utf-8")
    named = copy(site.root, TODAY, "one").folder

    assert (usual, named) == (site.root / "output-one", site.folder / "public-one")
    assert (named / "index.html").is_file()


@pytest.mark.parametrize("place", ["output", "output/one", "."])
def test_the_place_of_the_site_is_refused(site: Site, place: str) -> None:
    """A folder of the site, in it or round it; nothing is written."""
    before = tree(site.folder)
    done = copy(site.root, TODAY, "one", output=site.root / place)

    assert ([each.code for each in done.findings], done.outcome) == (["output-not-ours"], None)
    assert done.findings[0].message == (
        f"`{(site.root / place).resolve()}` is the place of the whole site; a copy of one page does not go there"
    )
    assert tree(site.folder) == before


def test_a_folder_that_holds_a_site_is_refused(site: Site) -> None:
    """Wherever it lies."""
    site.write()
    before = tree(site.output)
    done = copy(site.root, TODAY, "one", output=site.output)

    assert ([each.code for each in done.findings], done.outcome) == (["output-not-ours"], None)
    assert (done.folder, tree(site.output)) == (site.output, before)


def test_a_folder_of_someone_else_is_refused(site: Site) -> None:
    """A file that no build wrote stays, and nothing is put beside it."""
    (site.folder / "mine").mkdir()
    (site.folder / "mine" / "letter.txt").write_text("Dear", "utf-8")
    done = copy(site.root, TODAY, "one", output=site.folder / "mine")

    assert ([each.code for each in done.findings], done.outcome) == (["output-not-ours"], None)
    assert tree(site.folder / "mine") == {"letter.txt": b"Dear"}


def test_what_cannot_be_copied(site: Site) -> None:
    """No such experiment: the ids there are; an unreadable journal: its findings; a theme nobody has: that."""
    settings = site.root / "journal.yaml"
    text = settings.read_text("utf-8")
    unknown = copy(site.root, TODAY, "none", output=site.output)
    settings.write_text(text + "theme: none\n", "utf-8")
    unthemed = copy(site.root, TODAY, "one", output=site.output)
    settings.write_text("title: [", "utf-8")
    unread = copy(site.root, TODAY, "one", output=site.output)

    assert (set(unknown.known), unknown.findings) == ({"one", "draft", "later"}, ())
    assert [each.code for each in unthemed.findings] == ["unknown-theme"]
    assert [each.source.file for each in unread.findings] == ["journal.yaml"]
    assert [each.outcome for each in (unknown, unthemed, unread)] == [None] * 3
    assert not site.output.exists()


def test_errors_keep_a_copy_back(site: Site) -> None:
    """In the log, in the recap or in a template; a warning does not, and is told."""
    log, recap = (site.experiment("one") / name for name in ("experiment.yaml", "recap.md"))
    text = log.read_text("utf-8")
    log.write_text(text.replace("9 cm", "9 parsecs"), "utf-8")
    misread = copy(site.root, TODAY, "one", output=site.output)
    log.write_text(text.replace("day: 20", "day: 40"), "utf-8")
    recap.write_text("See [that](nowhere).\n", "utf-8")
    misled = copy(site.root, TODAY, "one", output=site.output)
    recap.write_text("All went well.\n", "utf-8")
    warned = copy(site.root, TODAY, "one", output=site.output)
    template = site.root / "look" / "templates" / "experiment.html"
    template.parent.mkdir(parents=True)
    template.write_text("{{ nothing.like.it }}", "utf-8")
    before = tree(site.output)
    unfilled = copy(site.root, TODAY, "one", output=site.output)

    assert [each.code for each in misread.findings if each.is_error] == ["unknown-unit"]
    assert [each.code for each in unfilled.findings if each.is_error] == ["bad-template"]
    assert [each.outcome is None for each in (misread, misled, warned, unfilled)] == [True, True, False, True]
    assert [each.is_error for each in warned.findings] == [False]
    assert tree(site.output) == before != {}


def test_a_copy_names_no_address_of_the_site(site: Site) -> None:
    """A page that stands alone is at no known address: neither a link nor its metadata says one."""
    copy(site.root, TODAY, "one", output=site.output)
    site_address = b"https://example.org/"

    assert [place for place, content in tree(site.output).items() if site_address in content] == []


def test_a_copy_shows_what_the_page_shows_of_earlier_runs(tmp_path: Path) -> None:
    """Of those that are published; one that is held back is told to nobody, but a link to it may stand in the text."""
    runs = {
        "a": leaf("Sown first", start="2026-02-20").replace("plants: 2", "plants: 3"),
        "b": leaf("Sown in between", start="2026-02-25", more="draft: true\n"),
        "c": leaf("Sown last", start="2026-03-01"),
        "d": leaf("Sown after", start="2026-03-02"),
    }
    site = Site.of(tmp_path, runs, **{"seasons/one/c/recap.md": "As in [the one before](b).\n"})
    done = copy(site.root, TODAY, "c", output=site.output)
    page = (site.output / "index.html").read_text("utf-8")

    assert [each for each in done.findings if each.is_error] == []
    assert "Plants: 2 this time, 3 in the other run." in page
    assert "Sown in between" not in page
    assert "the one before" in page


@pytest.mark.parametrize(
    ("name", "language", "note"),
    [
        ("one", "en", "A copy of one page, for review."),
        ("draft", "en", "Not published. A copy of one page, for review."),
        ("later", "en", "Not published. A copy of one page, for review."),
        ("one", "de", "Eine Kopie einer Seite, zum Durchsehen."),
    ],
)
def test_a_copy_says_what_it_is(site: Site, name: str, language: str, note: str) -> None:
    """In the language of the journal, and whether the page is published."""
    site.edit("journal.yaml", "title:", f"language: {language}\ntitle:")
    copy(site.root, TODAY, name, output=site.output)
    page = (site.output / "index.html").read_text("utf-8")

    assert note in page
    assert ("Not published" in page) is note.startswith("Not")


def test_findings_of_a_copy_are_its_own(site: Site) -> None:
    """Of the journal, the theme and the run; not of another run, nor of the place of a photo."""
    for name in ("one", "draft"):
        path = f"seasons/one/{name}/experiment.yaml"
        site.edit(path, "day: 20", "day: 40")
    site.edit("journal.yaml", "title:", "tilte: x\ntitle:")
    photos = site.experiment("one") / "photos"
    photos.mkdir()
    (photos / "day-3.jpg").write_bytes(jpeg(picture((640, 480)), metadata=exif("2026:03:04 10:00:00")))
    done = copy(site.root, TODAY, "one", output=site.output)

    assert [(each.code, each.source.file) for each in done.findings] == [
        ("unknown-key", "journal.yaml"),
        ("long-gap", "seasons/one/one/experiment.yaml"),
    ]
    assert done.outcome is not None


def test_a_copy_that_is_made_anew_takes_nothing_from_before(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With `fresh`; otherwise what was drawn is taken."""
    since: list[float] = []
    original = standalone.Memo

    def memo(**given: float) -> Memo:
        since.append(given["since"])
        return original(since=given["since"])

    monkeypatch.setattr(standalone, "Memo", memo)
    before = time.time()
    copy(site.root, TODAY, "one", output=site.output)
    copy(site.root, TODAY, "one", output=site.output, fresh=True)

    assert since[0] == 0.0
    assert since[1] >= before


def test_a_file_of_someone_elses_in_the_way_of_a_copy(site: Site) -> None:
    """It stays, and nothing else is written."""
    copy(site.root, TODAY, "one", output=site.output)
    site.edit("seasons/one/one/experiment.yaml", "as it was", "as it is")
    (site.output / "record.html").unlink()
    (site.output / "record.html").mkdir()
    (site.output / "record.html" / "mine.txt").write_text("mine", "utf-8")
    before = tree(site.output)
    done = copy(site.root, TODAY, "one", output=site.output)

    assert done.outcome is None
    assert [each.is_error for each in done.findings] == [True]
    assert tree(site.output) == before
