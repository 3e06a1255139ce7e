"""What happens beside a build: files that are saved, a preview, another command, a cache that is removed."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from sitegen import write
from sitegen.app.main import status_of
from sitegen.memo import Memo
from sitegen.pipeline.engine import build, steps
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.preview import Previewer
from sitegen.pipeline.publishing import publication
from sitegen.pipeline.publishing.standalone import copy
from sitegen.pipeline.results import Copied
from sitegen.render import IndexPage
from tests.kills.bench import dead_links
from tests.photos.pictures import jpeg, picture
from tests.pipeline.bench import TODAY, Site, leaf, tree

NAMES = ("one", "two", "three")


def start(folder: Path) -> Site:
    """Three experiments, one with a photo, written once and then given another title."""
    site = Site.of(folder, {name: leaf(name.title()) for name in NAMES})
    photos = site.experiment("one") / "photos"
    photos.mkdir()
    (photos / "day-20.jpg").write_bytes(jpeg(picture()))
    site.write()
    site.edit("journal.yaml", "Test bench", "Other bench")
    return site


def at_an_index_page(monkeypatch: pytest.MonkeyPatch, meanwhile: Callable[[int], object]) -> None:
    """Do something while index pages are made: all pages of experiments are made by then. It is told how often."""
    rendered, calls = steps.rendered_index, list[IndexPage]()

    def slow(page: IndexPage, *arguments: object) -> object:
        calls.append(page)
        meanwhile(len(calls))
        return rendered(page, *arguments)  # type: ignore[arg-type]

    monkeypatch.setattr("sitegen.pipeline.engine.steps.rendered_index", slow)


@pytest.mark.parametrize(
    "pages_alone", [pytest.param(6, id="one process"), pytest.param(2, id="workers", marks=pytest.mark.full)]
)
def test_a_file_saved_while_pages_are_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, pages_alone: int
) -> None:
    """The site is that of the journal as it is at the end: no page is of an earlier moment than another."""
    site = start(tmp_path)
    monkeypatch.setattr(build, "PAGES_ALONE", pages_alone)

    def save(call: int) -> None:
        if call == 1:
            site.edit("seasons/one/one/experiment.yaml", "title: One", "title: First")
            site.edit("seasons/one/two/experiment.yaml", "9 cm", "12 cm")

    at_an_index_page(monkeypatch, save)
    done = site.write(jobs=2)

    assert done.outcome is not None
    assert tree(site.output) == site.anew()[0]


def test_a_page_of_the_authors_saved_and_taken_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was made of a text that stood for a moment is not kept for the text before and after it."""
    site = start(tmp_path)
    page = site.root / "about.md"
    page.write_text("# About\n\nAs it was.\n", "utf-8")

    def save(call: int) -> None:
        if call < 3:
            page.write_text(f"# About\n\n{'For a moment.' if call == 1 else 'As it was.'}\n", "utf-8")

    at_an_index_page(monkeypatch, save)
    site.write()

    assert tree(site.output) == site.anew()[0]
    assert b"For a moment" not in b"".join(tree(site.output).values())


def test_files_that_are_saved_again_and_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """After a few tries one message says so; the site is as it was."""
    site = start(tmp_path)
    before = tree(site.output)
    path = site.root / "journal.yaml"
    at_an_index_page(
        monkeypatch, lambda call: path.write_text(f"{path.read_text('utf-8')}# {call}\n", "utf-8")
    )
    monkeypatch.setattr(publication, "TRIES", 2)

    assert status_of(["write", str(site.root), "-o", str(site.output), "--today", str(TODAY)]) == 5
    assert capsys.readouterr().err == (
        f"not now: `{site.root}`: its files change while they are read\n"
        "run the command again when the other one has ended\n"
    )
    assert tree(site.output) == before


def test_a_cache_that_is_removed_while_pages_are_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Photos that pages name are gone with it: they are made again."""
    site = start(tmp_path)
    (site.experiment("one") / "photos" / "day-21.jpg").write_bytes(jpeg(picture((80, 60))))
    stage, removed = write.stage, list[str]()

    def staged(*arguments: object) -> object:
        if not removed:
            removed.append("store")
            shutil.rmtree(site.store)
        return stage(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(write, "stage", staged)
    done = site.write()

    assert (done.outcome is not None, removed) == (True, ["store"])
    assert tree(site.output) == site.anew()[0]


def copy_of(site: Site, place: Path) -> Copied:
    """A copy of the page of the first experiment."""
    with site.own_cache():
        return copy(site.root, TODAY, "one", output=place)


def copy_anew(site: Site, folder: Path) -> dict[str, bytes]:
    """The copy of a journal as it is now, without a store."""
    other = Site(folder)
    shutil.copytree(site.root, other.root)
    copy_of(other, other.output)
    return tree(other.output)


@pytest.mark.parametrize("kept", [True, False], ids=["kept", "nothing kept"])
def test_a_copy_of_a_page_while_files_are_saved(
    kept: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is that of the journal as it is at the end: no title is of an earlier moment than a photo."""
    site = start(tmp_path / "first")
    if not kept:
        shutil.rmtree(site.store)
    publish, saved = Build.publish, list[str]()

    def save(*arguments: object) -> None:
        if not saved:  # what is in files of YAML was read by now, photos were not
            site.edit("seasons/one/one/experiment.yaml", "title: One", "title: First")
            (site.experiment("one") / "photos" / "day-20.jpg").write_bytes(jpeg(picture((90, 70))))
            saved.append("all")
        publish(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(Build, "publish", save)
    done = copy_of(site, tmp_path / "copy")

    assert (done.outcome is not None, saved) == (True, ["all"])
    assert tree(tmp_path / "copy") == copy_anew(site, tmp_path / "anew")


def test_a_copy_of_a_page_that_breaks_meanwhile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is wrong is said, and no copy is written of what was there before."""
    site = start(tmp_path / "first")
    path, publish = site.experiment("one") / "experiment.yaml", Build.publish

    def save(*arguments: object) -> None:
        path.write_text(path.read_text("utf-8").replace("title: One", "title: [One"), "utf-8")
        publish(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(Build, "publish", save)
    done = copy_of(site, tmp_path / "copy")

    assert (done.outcome, [finding.code for finding in done.findings]) == (None, ["yaml-twist"])
    assert tree(tmp_path / "copy") == {}


def test_a_file_that_breaks_meanwhile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is wrong with it is said, and the site is as it was."""
    site = start(tmp_path)
    before, publish = tree(site.output), Build.publish
    path = site.experiment("one") / "experiment.yaml"

    def save(*arguments: object) -> None:
        path.write_text(path.read_text("utf-8").replace("title: One", "title: [One"), "utf-8")
        publish(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(Build, "publish", save)
    done = site.write()

    assert (done.outcome, [finding.code for finding in done.findings]) == (None, ["yaml-twist"])
    assert tree(site.output) == before


def test_a_copy_while_files_are_saved_again_and_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """After a few tries the same message as of the whole site says so; the copy is as it was."""
    site = start(tmp_path)
    place, path, publish = tmp_path / "copy", site.root / "journal.yaml", Build.publish
    copy_of(site, place)
    before = tree(place)

    def save(*arguments: object) -> None:
        path.write_text(f"{path.read_text('utf-8')}# again\n", "utf-8")
        publish(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(Build, "publish", save)
    words = ["write", str(site.root), "--only", "one", "-o", str(place), "--today", str(TODAY)]

    assert status_of(words) == 5
    assert capsys.readouterr().err == (
        f"not now: `{site.root}`: its files change while they are read\n"
        "run the command again when the other one has ended\n"
    )
    assert tree(place) == before


DRAFT = {
    "title": "zqjtitle",
    "note": "zqjnote",
    "recap": "zqjrecap",
    "photo": "zqjphoto",
    "id": "zqjid",
}


@pytest.mark.parametrize("jobs", [1, pytest.param(2, marks=pytest.mark.full)])
def test_drafts_that_a_preview_shows(tmp_path: Path, jobs: int) -> None:
    """Whatever a preview has made of a draft, before a write, during it and after it, is in no file of the site."""
    draft = leaf(DRAFT["title"], more="draft: true\n", note=DRAFT["note"])
    recap = {f"seasons/one/{DRAFT['id']}/recap.md": f"## Recap\n\n{DRAFT['recap']}\n"}
    site = Site.of(tmp_path, {"one": leaf("One"), DRAFT["id"]: draft}, **recap)
    photos = site.experiment(DRAFT["id"]) / "photos"
    photos.mkdir()
    (photos / f"2026-03-20-{DRAFT['photo']}.jpg").write_bytes(jpeg(picture()))
    stop, begun, shown = threading.Event(), threading.Event(), list[bytes]()

    def preview() -> None:
        with Memo(site.store) as memo:
            previewer = Previewer(site.root, TODAY, memo)
            while not stop.is_set():
                pages = previewer.refresh()
                for address in (
                    f"experiments/{DRAFT['id']}.html",
                    "index.html",
                    "experiments/one.html",
                    "find.js",
                ):
                    found = pages.find(address)
                    shown.extend([found.page.content] if found is not None and found.page is not None else [])
                begun.set()

    def leaked() -> list[str]:
        return [
            f"{place}: {word}"
            for place, body in tree(site.output).items()
            for word in DRAFT.values()
            if word in place or word.encode() in body
        ]

    thread = threading.Thread(target=preview)
    thread.start()
    try:
        assert begun.wait(60)
        leaks = []
        for title in ("Other bench", "Third bench", "Fourth bench"):
            path = site.root / "journal.yaml"
            path.write_text(path.read_text("utf-8").replace("Test bench", title), "utf-8")
            site.edit(
                "seasons/one/one/experiment.yaml", "height: ", "height: 1" if title[0] == "T" else "height: "
            )
            assert site.write(jobs=jobs).outcome is not None
            leaks += leaked()
    finally:
        stop.set()
        thread.join(60)

    wanted, _ = site.anew()
    site.write(jobs=jobs)
    assert [*leaks, *leaked()] == []
    assert tree(site.output) == wanted
    assert {word for word in DRAFT.values() if word.encode() in b"".join(shown)} == {*DRAFT.values()} - {
        "zqjphoto"
    }


def test_a_preview_beside_a_write(tmp_path: Path) -> None:
    """Both share the cache; the site is that of a build alone, whatever the preview makes meanwhile."""
    site = start(tmp_path)
    wanted, _ = site.anew()
    stop, shown = threading.Event(), list[bytes]()

    def preview() -> None:
        with Memo(site.store) as memo:
            while not stop.is_set():
                found = Previewer(site.root, TODAY, memo).refresh().find("index.html")
                assert found is not None
                assert found.page is not None
                shown.append(found.page.content)

    thread = threading.Thread(target=preview)
    thread.start()
    try:
        done = site.write(fresh=True)
    finally:
        stop.set()
        thread.join(60)

    assert (tree(site.output), done.outcome is not None) == (wanted, True)
    assert shown
    assert all(b"Other bench" in page for page in shown)


@pytest.mark.full
def test_two_journals_into_one_folder(tmp_path: Path) -> None:
    """They write one after the other: the site is one of the two, and no page of it leads nowhere."""
    one = start(tmp_path / "one")
    other = Site.of(tmp_path / "other", {"four": leaf("Four")})
    place = tmp_path / "shared"
    both = [threading.Thread(target=publication_of, args=(site.root, place)) for site in (one, other)]
    for thread in both:
        thread.start()
    for thread in both:
        thread.join(120)

    assert tree(place) in (one.anew()[0], other.anew()[0])
    assert list(dead_links(place, tree(place))) == []


def publication_of(root: Path, place: Path) -> None:
    """Write a journal to a folder."""
    assert status_of(["write", str(root), "-o", str(place), "--today", str(TODAY), "--jobs", "1"]) == 0
