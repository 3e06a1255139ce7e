"""An output folder that is brought up to date."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path
from types import SimpleNamespace

import pytest

from sitegen.core.files.file_names import MANIFEST
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.site.page import Page, WriteResult
from sitegen.write import Output, open_output
from sitegen.write.manifest import STAGING, UNKNOWN_CONTENT, Manifest, read_manifest
from sitegen.write.staging import fingerprint_of
from tests.write.sites import (
    LOCKS,
    everything,
    held,
    let_the_clock_tick,
    output_of,
    page,
    pages,
    staged_in,
    write,
)

ONE, TWO = fingerprint_of(b"1"), fingerprint_of(b"2")
LATER = 10**18  # nanoseconds; some thirty years


def test_a_folder_holds_exactly_the_pages(tmp_path: Path) -> None:
    """What differs is written, what is no longer made is removed with its folder, the rest is left alone."""
    site = tmp_path / "public" / "site"
    write([*pages(a="1", b="1"), page("old/deep/c.txt")], site)
    outcome, findings = write(pages(a="1", b="2", d="1"), site)

    assert (outcome, findings) == (WriteResult(("b.html", "d.html"), 1, ("old/deep/c.txt",)), ())
    assert held(site) == {"a.html": "1", "b.html": "2", "d.html": "1"}
    assert everything(site) == [MANIFEST, "a.html", "b.html", "d.html"]


def test_a_folder_that_holds_other_files_still_is_left(tmp_path: Path) -> None:
    """Removing a page leaves its folder to the pages beside it, and takes the empty ones only."""
    write([page("a/b/one.html"), page("a/b/two.html"), page("a/c/d/three.html")], tmp_path)
    outcome, _ = write([page("a/b/one.html")], tmp_path)

    assert outcome == WriteResult((), 1, ("a/b/two.html", "a/c/d/three.html"))
    assert everything(tmp_path) == [MANIFEST, "a", "a/b", "a/b/one.html"]


def test_removing_needs_no_new_page(tmp_path: Path) -> None:
    """Pages that are no longer made go where all others are kept; what is put in their place later is not ours."""
    write(pages(a="1", b="1"), tmp_path)
    outcome = output_of(tmp_path).commit([], {"a.html": ONE})

    assert (outcome, held(tmp_path)) == (WriteResult((), 1, ("b.html",)), {"a.html": "1"})
    (tmp_path / "b.html").write_text("mine", "utf-8")
    assert write(pages(a="1"), tmp_path)[0] == WriteResult((), 1, ())
    assert held(tmp_path) == {"a.html": "1", "b.html": "mine"}


def test_a_file_in_place_of_a_folder_of_ours(tmp_path: Path) -> None:
    """What somebody put where the folder of a page was stays, and the page is gone already."""
    write([page("a/b.html"), page("c.html")], tmp_path)
    shutil.rmtree(tmp_path / "a")
    (tmp_path / "a").write_text("mine", "utf-8")

    assert write(pages(c="1"), tmp_path) == (WriteResult((), 1, ("a/b.html",)), ())
    assert held(tmp_path) == {"a": "mine", "c.html": "1"}


def test_pages_and_folders_that_someone_removed(tmp_path: Path) -> None:
    """A page that is gone already is no error, nor is its folder."""
    write([page("a/b/one.html"), page("two.html"), page("three.html")], tmp_path)
    (tmp_path / "a/b/one.html").unlink()
    (tmp_path / "a/b").rmdir()
    (tmp_path / "two.html").unlink()
    outcome, _ = write(pages(three="1"), tmp_path)

    assert outcome == WriteResult((), 1, ("a/b/one.html", "two.html"))
    assert held(tmp_path) == {"three.html": "1"}


def test_kept_files_are_left_as_they_are(tmp_path: Path) -> None:
    """Files that were not staged again are kept, counted as unchanged, and named by the manifest."""
    write(pages(a="1", b="1", c="1"), tmp_path)
    output = output_of(tmp_path)
    outcome = output.commit(staged_in(output, pages(b="2")), {"a.html": ONE})

    assert outcome == WriteResult(("b.html",), 1, ("c.html",))
    assert held(tmp_path) == {"a.html": "1", "b.html": "2"}
    assert output_of(tmp_path).manifest.files == {"a.html": ONE, "b.html": TWO}


def test_a_page_staged_twice_is_one_file(tmp_path: Path) -> None:
    """The page staged last counts, also where it is as it was."""
    write(pages(a="1", b="1"), tmp_path)
    output = output_of(tmp_path)
    staged = staged_in(output, [*pages(a="2", b="2"), *pages(a="1", b="3")])
    outcome = output.commit(staged, {})

    assert (outcome, held(tmp_path)) == (WriteResult(("b.html",), 1), {"a.html": "1", "b.html": "3"})
    assert everything(tmp_path) == [MANIFEST, "a.html", "b.html"]


def test_a_write_without_changes_leaves_the_manifest_alone(tmp_path: Path) -> None:
    """Its time stays too: files that were changed since are told by it; nothing is made in the folder."""
    write(pages(a="1"), tmp_path)
    os.utime(tmp_path / MANIFEST, ns=(5, 5))
    output = output_of(tmp_path)
    os.utime(tmp_path, ns=(7, 7))
    outcome = output.commit([], {"a.html": ONE})

    assert (outcome, (tmp_path / MANIFEST).stat().st_mtime_ns) == (WriteResult((), 1), 5)
    assert tmp_path.stat().st_mtime_ns == 7  # not even a hidden folder was made
    assert write(pages(a="1"), tmp_path)[0] == WriteResult(
        (), 1
    )  # where pages were made to see that they are the same
    assert (tmp_path / MANIFEST).stat().st_mtime_ns == 5


def test_a_mended_file_renews_the_manifest(tmp_path: Path) -> None:
    """A file that someone changed is written again, and the manifest is newer than it, with the same content."""
    write(pages(a="1"), tmp_path)
    before = (tmp_path / MANIFEST).read_bytes()
    let_the_clock_tick(tmp_path)
    (tmp_path / "a.html").write_text("2", "utf-8")
    outcome, _ = write(pages(a="1"), tmp_path)

    assert outcome == WriteResult(("a.html",), 0)
    assert (tmp_path / MANIFEST).read_bytes() == before
    assert (tmp_path / MANIFEST).stat().st_mtime_ns >= (tmp_path / "a.html").stat().st_mtime_ns


def test_nothing_is_seen_before_all_is_made(tmp_path: Path) -> None:
    """Pages wait in a hidden folder; discarding them leaves the folder as it was."""
    site = tmp_path / "site"
    write(pages(a="1"), site)
    manifest = (site / MANIFEST).read_bytes()
    output = output_of(site)
    staged = staged_in(output, [*pages(a="2"), page("new/b.html", "2")])

    assert ([file.changed for file in staged], held(site)) == ([True, True], {"a.html": "1"})
    output.discard()
    assert (everything(site), (site / MANIFEST).read_bytes()) == ([MANIFEST, "a.html"], manifest)


# a folder that is new


def test_a_new_site_appears_by_one_rename(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before it nothing is there, after it everything, with the manifest."""
    site = tmp_path / "deep" / "site"
    seen: list[list[str]] = []
    rename = Path.rename

    def renamed(path: Path, target: Path) -> Path:
        seen.append(everything(site))
        moved = rename(path, target)
        seen.append(everything(site))
        return moved

    monkeypatch.setattr(Path, "rename", renamed)
    outcome, _ = write([page("a/b.html"), *pages(c="1")], site)

    assert (outcome, seen) == (
        WriteResult(("a/b.html", "c.html")),
        [[], [MANIFEST, "a", "a/b.html", "c.html"]],
    )
    assert everything(tmp_path / "deep")[0] == "site"


def test_an_empty_folder_is_replaced_by_a_new_site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It may have been made by hand; who serves it finds it there until the site takes its place."""
    (tmp_path / "site").mkdir()
    there: list[bool] = []
    rename = Path.rename

    def renamed(path: Path, target: Path) -> Path:
        there.append(target.is_dir())
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", renamed)
    write(pages(a="1"), tmp_path / "site")

    assert there == [True]
    assert everything(tmp_path) == ["site", f"site/{MANIFEST}", "site/a.html"]


def test_a_new_site_where_no_folder_can_be_renamed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A mount point cannot be replaced: its files are moved one by one, after a manifest that names them."""

    def busy(_path: Path, _target: Path) -> Path:
        raise OSError(16, "Device or resource busy")

    monkeypatch.setattr(Path, "rename", busy)
    (tmp_path / "site").mkdir()
    write([page("a/b.html"), *pages(c="1")], tmp_path / "site")

    assert everything(tmp_path) == ["site", f"site/{MANIFEST}", "site/a", "site/a/b.html", "site/c.html"]
    assert output_of(tmp_path / "site").holds([("c.html", ONE)])


def test_an_empty_folder_makes_way_where_no_rename_replaces_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On Windows a new site appears by one rename too (its manual of `MoveFileEx`: no folder is replaced)."""
    site = tmp_path / "site"
    site.mkdir()
    renamed: list[tuple[Path, Path]] = []
    rename = Path.rename

    def without_replacing(path: Path, target: Path) -> Path:
        if target.exists():
            raise FileExistsError(str(target))
        renamed.append((path, target))
        return rename(path, target)

    names = SimpleNamespace(name="nt", stat=os.stat, fsencode=os.fsencode)
    monkeypatch.setattr("sitegen.write.os", names)
    monkeypatch.setattr(Path, "rename", without_replacing)
    write(pages(a="1"), site)

    assert renamed == [(tmp_path / f".site{STAGING}", site)]
    assert everything(tmp_path) == ["site", f"site/{MANIFEST}", "site/a.html"]


def test_begin_leaves_the_manifest_of_an_older_write(tmp_path: Path) -> None:
    """The manifest names the files of the last write until the next one is committed."""
    write(pages(a="1"), tmp_path)
    output_of(tmp_path).begin()

    assert output_of(tmp_path).manifest.files == {"a.html": ONE}


def test_a_folder_begun_for_nothing_is_gone(tmp_path: Path) -> None:
    """Errors leave no trace where nothing was before."""
    with open_output(tmp_path / "site", LOCKS) as output:
        assert isinstance(output, Output)
        staged_in(output, [page("deep/a.html")])
        output.discard()

    assert everything(tmp_path) == []


def test_a_folder_begun_inside_for_nothing_is_gone(tmp_path: Path) -> None:
    """The same where the name beside it was taken, so that pages waited in the folder itself."""
    (tmp_path / f".site{STAGING}").write_text("mine", "utf-8")
    output = output_of(tmp_path / "site")
    staged_in(output, [page("deep/a.html")])
    assert everything(tmp_path / "site")[0] == MANIFEST
    output.discard()

    assert everything(tmp_path) == [f".site{STAGING}"]


def test_discarding_what_was_never_begun(tmp_path: Path) -> None:
    """Nothing to remove is no error: the folder may be missing, empty, or as the last write left it."""
    output_of(tmp_path / "site").discard()
    (tmp_path / "empty").mkdir()
    output_of(tmp_path / "empty").discard()
    write(pages(a="1"), tmp_path / "old")
    output_of(tmp_path / "old").discard()

    assert everything(tmp_path) == ["empty", "old", f"old/{MANIFEST}", "old/a.html"]


def test_discarding_leaves_files_that_came_meanwhile(tmp_path: Path) -> None:
    """A file that someone puts into a folder that was begun is not removed with it."""
    output = output_of(tmp_path / "site")
    output.begin()
    output.folder.mkdir()
    (output.folder / "beach.jpg").write_bytes(b"sand")
    output.discard()

    assert everything(tmp_path) == ["site", "site/beach.jpg"]


# folders of another origin


def _foreign(folder: Path) -> Finding:
    return Finding(
        "output-not-ours",
        Source(folder.name),
        f"`{folder}` holds files that were not written from a journal",
        mend="choose an empty folder with `-o`, or empty this one yourself",
        found=str(folder),
    )


@pytest.mark.parametrize("place", ["bench", "."])
def test_nobody_is_told_to_empty_a_journal(tmp_path: Path, place: str) -> None:
    """A journal, and a folder that holds one, is no place for a site, and the advice does not ask to empty it."""
    (tmp_path / "bench").mkdir()
    (tmp_path / "bench" / "journal.yaml").write_text("title: Bench\n", "utf-8")
    with open_output(tmp_path / place, tmp_path.parent) as found:
        assert isinstance(found, Finding)
        assert found.mend == "choose an empty folder with `-o`"


def test_a_foreign_folder_is_never_touched(tmp_path: Path) -> None:
    """A finding instead, and every file is as it was."""
    (tmp_path / "beach.jpg").write_bytes(b"sand")

    assert write(pages(a="1"), tmp_path) == (WriteResult(), (_foreign(tmp_path),))
    assert everything(tmp_path) == ["beach.jpg"]


OF_FORMAT_3 = {
    "format": 3,
    "files": {"a.html": ["", 1], "beach.jpg": ["", 1]},
    "made": {"by": "a later version"},
}


@pytest.mark.parametrize(
    ("manifest", "said", "mend"),
    [
        (
            json.dumps(OF_FORMAT_3),
            "is of format 3; formats 1 and 2 are read",
            "use the sitegen that wrote it, or choose an empty folder with `-o`",
        ),
        ("[", "is damaged", "choose an empty folder with `-o`"),
        ('{"format": "2", "files": {"a.html": ["", 1]}}', "is damaged", "choose an empty folder with `-o`"),
        ('{"format": 2, "files": 3}', "is damaged", "choose an empty folder with `-o`"),
        ('{"format": 0, "files": ["a.html"]}', "is damaged", "choose an empty folder with `-o`"),
        ('{"format": true, "files": ["a.html"]}', "is damaged", "choose an empty folder with `-o`"),
    ],
    ids=["later", "no JSON", "a text", "no files", "none", "a truth value"],
)
def test_a_folder_whose_manifest_is_not_known_is_never_touched(
    manifest: str, said: str, mend: str, tmp_path: Path
) -> None:
    """What may not be ours is not removed: the message says what is wrong with the manifest."""
    (tmp_path / MANIFEST).write_text(manifest, "utf-8")
    for name in ("a.html", "beach.jpg"):
        (tmp_path / name).write_text("1", "utf-8")
    wanted = Finding(
        "output-not-ours",
        Source(tmp_path.name),
        f"`{tmp_path}` may be a site, but its `{MANIFEST}` {said}: which files are its own is not known",
        mend=mend,
        found=str(tmp_path),
    )

    assert write(pages(b="1"), tmp_path) == (WriteResult(), (wanted,))
    assert held(tmp_path) == {"a.html": "1", "beach.jpg": "1"}
    assert (tmp_path / MANIFEST).read_text("utf-8") == manifest


@pytest.mark.parametrize(
    "manifest",
    [
        {"format": 1, "files": ["a.html", "sub/c.html"]},
        {"files": ["a.html", "sub/c.html"]},
        {"format": 1, "files": ["a.html", "sub/c.html", "../beach.jpg", "/etc/passwd", ""], "title": "Bench"},
        {
            "format": 2,
            "files": {"a.html": ["", 1], "sub/c.html": "what is that"},
            "theme": {"name": "ledger"},
        },
    ],
    ids=["first", "without a format", "addresses elsewhere", "unknown keys"],
)
def test_an_earlier_manifest_is_read(manifest: object, tmp_path: Path) -> None:
    """Files that it names and that are not made any more are removed, and nothing beside them, in or above the folder."""
    site = tmp_path / "site"
    (site / "sub").mkdir(parents=True)
    for name in ("a.html", "sub/c.html", "beach.jpg", "../beach.jpg", "sub/d.html"):
        (site / name).write_text("old", "utf-8")
    (site / MANIFEST).write_text(json.dumps(manifest), "utf-8")
    result, found = write(pages(a="new", b="new"), site)

    assert (found, result.removed) == ((), ("sub/c.html",))
    assert held(tmp_path) == {
        "beach.jpg": "old",
        "site/a.html": "new",
        "site/b.html": "new",
        "site/beach.jpg": "old",
        "site/sub/d.html": "old",
        f"site/{MANIFEST}": (site / MANIFEST).read_text("utf-8"),
    }
    assert json.loads((site / MANIFEST).read_text("utf-8"))["format"] == 2


def test_an_empty_folder_is_left_where_nothing_is_written(tmp_path: Path) -> None:
    """Opening a folder changes nothing."""
    (tmp_path / "site").mkdir()
    for name in ("site", "missing"):
        with open_output(tmp_path / name, LOCKS) as output:
            assert isinstance(output, Output)
            assert (output.folder, output.manifest) == (tmp_path / name, Manifest())

    assert everything(tmp_path) == ["site"]


def test_a_manifest_leads_to_no_other_folder(tmp_path: Path) -> None:
    """A file elsewhere that a manifest names is not removed."""
    outside = tmp_path / "precious.txt"
    outside.write_text("keep", "utf-8")
    site = tmp_path / "site"
    write(pages(a="1"), site)
    (site / MANIFEST).write_text(
        f'{{"format": 2, "files": {{"../precious.txt": ["", 4], "{outside}": ["", 4], "a.html": ["", 1]}}}}',
        "utf-8",
    )
    write(pages(b="1"), site)

    assert (outside.read_text("utf-8"), held(site)) == ("keep", {"b.html": "1"})


def test_an_older_manifest_is_understood(tmp_path: Path) -> None:
    """One that only names files says what is ours."""
    (tmp_path / MANIFEST).write_text('{"format": 1, "files": ["a.html", "b.html"]}', "utf-8")
    for name in ("a", "b"):
        (tmp_path / f"{name}.html").write_text("1", "utf-8")
    outcome, _ = write(pages(a="1"), tmp_path)

    assert outcome == WriteResult((), 1, ("b.html",))


def test_the_manifest_holds_nothing_of_the_machine(tmp_path: Path) -> None:
    """Two folders with the same pages have the same manifest, in whatever order they were made."""
    write(pages(b="2", a="1"), tmp_path / "one")
    write(pages(a="1", b="2"), tmp_path / "two")

    assert (tmp_path / "one" / MANIFEST).read_bytes() == (tmp_path / "two" / MANIFEST).read_bytes()


# whether a folder holds files


def _known(folder: Path, written: int) -> Output:
    """A folder with `a.html`, whose manifest says `1` and was written then; the file has another text, as long."""
    (folder / "a.html").write_text("2", "utf-8")
    return Output(folder, Manifest({"a.html": ONE}, written))


def test_a_file_older_than_the_manifest_is_believed(tmp_path: Path) -> None:
    """It is not read: what the manifest says of it is true. One with the same time as the manifest is read."""
    _known(tmp_path, 0)
    changed = (tmp_path / "a.html").stat().st_ctime_ns
    os.utime(tmp_path / "a.html", ns=(changed, changed))
    later = max((tmp_path / "a.html").stat().st_ctime_ns, changed)

    assert Output(tmp_path, Manifest({"a.html": ONE}, later + 1)).holds([("a.html", ONE)])
    assert not Output(tmp_path, Manifest({"a.html": ONE}, later)).holds([("a.html", ONE)])


def test_a_later_change_of_content_is_seen(tmp_path: Path) -> None:
    """A modification time that is not before the manifest's is enough for a file to be read."""
    _known(tmp_path, 0)
    os.utime(tmp_path / "a.html", ns=(2 * LATER, 2 * LATER))

    def holds(written: int) -> bool:
        return Output(tmp_path, Manifest({"a.html": ONE}, written)).holds([("a.html", ONE)])

    assert (holds(2 * LATER + 1), holds(2 * LATER), holds(2 * LATER - 1)) == (True, False, False)


def test_a_later_change_of_the_file_is_seen(tmp_path: Path) -> None:
    """A change time that is not before the manifest's is enough: copies keep the modification time of another file."""
    _known(tmp_path, 0)
    os.utime(tmp_path / "a.html", ns=(5, 5))
    changed = (tmp_path / "a.html").stat().st_ctime_ns

    def holds(written: int) -> bool:
        return Output(tmp_path, Manifest({"a.html": ONE}, written)).holds([("a.html", ONE)])

    assert (holds(changed + 1), holds(changed), holds(changed - 1)) == (True, False, False)


def test_another_size_is_seen_without_reading(tmp_path: Path) -> None:
    """A file of another size is another file, however old it is."""
    output = _known(tmp_path, 2 * LATER)
    (tmp_path / "a.html").write_text("12", "utf-8")

    assert not output.holds([("a.html", ONE)])


def test_a_touched_file_with_the_same_content_is_held(tmp_path: Path) -> None:
    """A file is read to be sure, and its content counts."""
    output = _known(tmp_path, 1)
    (tmp_path / "a.html").write_text("1", "utf-8")

    assert output.holds([("a.html", ONE)])


def test_files_that_are_not_held(tmp_path: Path) -> None:
    """One that the manifest does not name, one with another fingerprint, one that is gone; each fails the whole."""
    write(pages(a="1", b="1", gone="1"), tmp_path)
    (tmp_path / "gone.html").unlink()
    (tmp_path / "c.html").write_text("1", "utf-8")
    output = output_of(tmp_path)
    cases = [
        [("c.html", ONE)],
        [("a.html", TWO)],
        [("gone.html", ONE)],
        [("a.html", ONE), ("c.html", ONE)],
        [("c.html", ONE), ("a.html", ONE)],
    ]

    assert [output.holds(case) for case in cases] == [False] * 5
    assert output.holds([("a.html", ONE), ("b.html", ONE)])
    assert output.holds([])


def test_a_file_of_unknown_content_is_not_held(tmp_path: Path) -> None:
    """Where a killed process may have left either of two files, no fingerprint fits."""
    write(pages(a="1"), tmp_path)
    output = Output(tmp_path, Manifest({"a.html": UNKNOWN_CONTENT}, LATER * 2))

    assert not output.holds([("a.html", ONE)])


# the order of a commit


def test_order_of_a_commit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The manifest names new files; they, new pages, pages, listings are moved; pages and files are removed."""
    style = Page("z.css", "text/css", "p{}")
    write(
        [*pages(gone="1", b="1"), page("a.js"), Page("feed.xml", "", "1"), Page("find.js", "", "1")], tmp_path
    )
    output = output_of(tmp_path)
    new = [*pages(b="2", c="1"), style, Page("feed.xml", "", "2"), Page("sitemap.xml", "", "1")]
    staged = staged_in(output, [*new, Page("find.js", "", "2")])
    done: list[object] = []
    replace, unlink = Path.replace, Path.unlink

    def replaced(path: Path, target: Path) -> Path:
        moved = replace(path, target)
        name = Path(target).name
        manifest = read_manifest(tmp_path)
        done.append((name, dict(manifest.files)) if name == MANIFEST and manifest is not None else name)
        return moved

    def unlinked(path: Path, missing_ok: bool = False) -> None:
        unlink(path, missing_ok)
        done.append(f"- {path.name}")

    monkeypatch.setattr(Path, "replace", replaced)
    monkeypatch.setattr(Path, "unlink", unlinked)
    output.commit(staged, {})

    names = ["b.html", "c.html", "feed.xml", "find.js", "sitemap.xml", "z.css"]
    unknown = dict.fromkeys([*names, "a.js", "gone.html"], ("", -1))
    known = {"b.html": TWO, "c.html": ONE, "feed.xml": TWO, "find.js": TWO, "sitemap.xml": ONE}
    assert done == [
        (MANIFEST, unknown),
        *["z.css", "sitemap.xml", "c.html", "b.html", "feed.xml", "find.js", "- gone.html", "- a.js"],
        (MANIFEST, known | {"z.css": fingerprint_of(b"p{}")}),
    ]
    assert not (tmp_path / STAGING).exists()


@pytest.mark.parametrize(("later", "writes"), [(-1, 2), (0, 2), (1, 1)])
def test_known_files_are_announced_where_the_clock_was_set_back(
    later: int, writes: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A changed file is told by its later time; where the clock is not past the manifest's time, it is named first."""
    write(pages(a="1"), tmp_path)
    output = output_of(tmp_path)
    staged = staged_in(output, pages(a="2"))
    manifests: list[bytes] = []
    replace = Path.replace

    def replaced(path: Path, target: Path) -> Path:
        moved = replace(path, target)
        manifests.extend([moved.read_bytes()] if moved.name == MANIFEST else [])
        return moved

    monkeypatch.setattr(Path, "replace", replaced)
    monkeypatch.setattr("sitegen.write.time.time_ns", lambda: output.manifest.written + later)
    output.commit(staged, {})

    assert len(manifests) == writes
    assert manifests[0].startswith(
        b'{"files": {"a.html": ["", -1]}' if writes == 2 else b'{"files": {"a.html": ["'
    )


# what is not ours


def _in_the_way(site: Path, place: str, what: str) -> Finding:
    return Finding(
        "output-in-the-way",
        Source(site.name),
        f"`{site / place}` {what}",
        mend="move it out of the output folder, or choose another folder with `-o`",
        found=place,
    )


def test_a_file_that_somebody_put_there_is_not_replaced(tmp_path: Path) -> None:
    """A page with its address is a finding, and nothing has changed; any other file is left alone for ever."""
    site = tmp_path / "site"
    write(pages(a="1"), site)
    for name in ("CNAME", "b.html"):
        (site / name).write_text("mine", "utf-8")
    before = held(site)

    assert write(pages(a="2"), site)[0].written == ("a.html",)
    assert write(pages(a="3", b="1"), site) == (
        WriteResult(),
        (_in_the_way(site, "b.html", "was not written from the journal"),),
    )
    assert held(site) == before | {"a.html": "2"}
    assert write([], site)[0].removed == ("a.html",)
    assert held(site) == {"CNAME": "mine", "b.html": "mine"}


def test_a_page_that_somebody_copied_there_is_taken_over(tmp_path: Path) -> None:
    """With the content that it would get it is in nobody's way: it is left as it is, and is ours from then on."""
    site = tmp_path / "site"
    write(pages(a="1"), site)
    (site / "b.html").write_text("1", "utf-8")

    assert write(pages(a="1", b="1"), site) == (WriteResult((), 2, ()), ())
    assert write(pages(a="1"), site) == (WriteResult((), 1, ("b.html",)), ())


def test_a_linked_folder_is_not_written_through(tmp_path: Path) -> None:
    """What a link in the output leads to is neither written nor removed."""
    site, outside = tmp_path / "site", tmp_path / "outside"
    write([page("a/b.html"), page("c.html")], site)
    (site / "a").rename(outside)
    (site / "a").symlink_to(outside)
    linked = _in_the_way(site, "a", "is a link: what is written there would land elsewhere")

    assert write([page("a/b.html", "2"), page("c.html")], site) == (WriteResult(), (linked,))
    assert write([page("c.html")], site) == (WriteResult((), 1, ("a/b.html",)), ())
    assert held(outside) == {"b.html": "1"}


def test_an_output_folder_that_is_a_link(tmp_path: Path) -> None:
    """The author chose it: pages are written and removed where it leads to."""
    (tmp_path / "disk").mkdir()
    (tmp_path / "site").symlink_to(tmp_path / "disk")
    write([page("a.html"), page("b/c.html")], tmp_path / "site")

    assert write(pages(a="2"), tmp_path / "site") == (WriteResult(("a.html",), 0, ("b/c.html",)), ())
    assert everything(tmp_path) == ["disk", f"disk/{MANIFEST}", "disk/a.html", "site"]


def test_a_folder_where_a_file_goes_and_the_reverse(tmp_path: Path) -> None:
    """Somebody else's is a finding; a file of ours makes way for a folder."""
    site = tmp_path / "site"
    write([page("a"), page("b.html")], site)
    (site / "c.html").mkdir()
    (site / "d").touch()
    folder = _in_the_way(site, "c.html", "is a folder, where a file goes")
    file = _in_the_way(site, "d", "is a file, where a folder goes")

    assert write([page("c.html"), page("d/e.html")], site)[1] == (file, folder)
    assert write([page("a/b.html"), page("b.html")], site) == (WriteResult(("a/b.html",), 1, ("a",)), ())
    assert (held(site / "a"), held(site)["b.html"]) == ({"b.html": "1"}, "1")


def test_a_name_that_differs_in_case_only(tmp_path: Path) -> None:
    """Where a system takes both for one file, the new one is not removed under its old name."""
    write([page("A.html")], tmp_path)
    output = output_of(tmp_path)
    staged = staged_in(output, [page("a.html", "2")])
    # Two names for one file, as such a system has them.
    replace = Path.replace

    def replaced(path: Path, target: Path) -> Path:
        moved = replace(path, target)
        if moved.name == "a.html":
            (tmp_path / "A.html").unlink()
            os.link(moved, tmp_path / "A.html")
        return moved

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Path, "replace", replaced)
        output.commit(staged, {})

    assert held(tmp_path) == {"A.html": "2", "a.html": "2"}


def test_a_folder_whose_name_differs_in_case_only(tmp_path: Path) -> None:
    """A folder of ours that is empty by now goes, though a new page has the same address in small letters."""
    write([page("A/b.html"), page("c.html")], tmp_path)
    (tmp_path / "A" / "b.html").unlink()
    write([page("a/b.html"), page("c.html")], tmp_path)

    assert everything(tmp_path) == [MANIFEST, "a", "a/b.html", "c.html"]


def test_a_folder_that_is_gone_meanwhile_is_not_written_to(tmp_path: Path) -> None:
    """As where a disk is taken away: the error names the folder's manifest, and no page lies in its place."""
    site = tmp_path / "site"
    write(pages(a="1"), site)
    output = output_of(site)
    staged = staged_in(output, pages(a="2"))
    shutil.rmtree(site)
    staged += staged_in(output, pages(b="2"))  # the folder is there again, without its manifest
    with pytest.raises(FileNotFoundError) as refused:
        output.commit(staged, {})
    output.discard()

    assert refused.value.filename == str(site / MANIFEST)
    assert everything(site) == []


def test_a_name_that_leaves_no_room_for_a_hidden_one(tmp_path: Path) -> None:
    """A first site waits inside of its folder where a longer name beside it is not allowed."""
    site = tmp_path / ("n" * 250)
    write(pages(a="1"), site)

    assert everything(tmp_path) == [site.name, f"{site.name}/{MANIFEST}", f"{site.name}/a.html"]
