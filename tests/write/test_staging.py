"""Files that wait in a hidden folder until all are made."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.core.files.file_names import MANIFEST
from sitegen.write import StagedFile, Staging, stage
from sitegen.write.manifest import STAGING
from sitegen.write.staging import begin_staging, fingerprint_of, remove_staging, taken_inside
from tests.write.sites import everything, page

ABC = ("cf4ab791c62b8d2b2109c90275287816", 3)  # `printf abc | b2sum -l 128`, of the GNU core utilities


@pytest.fixture
def site(tmp_path: Path) -> Staging:
    """An output that is there, and where its new files wait."""
    return Staging(tmp_path / "site", tmp_path / "site" / STAGING, whole=False)


def test_fingerprint() -> None:
    """A digest of 128 bits and the size."""
    assert fingerprint_of(b"abc") == ABC


def test_a_new_page(site: Staging) -> None:
    """A page waits under its address, in folders that are made."""
    staged = stage(page("a/b/c.html", "abc"), site)

    assert staged == StagedFile("a/b/c.html", ABC, changed=True)
    assert everything(site.place) == ["a", "a/b", "a/b/c.html"]
    assert site.path("a/b/c.html").read_text("utf-8") == "abc"


def test_a_page_as_it_was(site: Staging) -> None:
    """A file with the same content is left alone, with its time, and nothing waits."""
    site.folder.mkdir()
    path = site.folder / "a.html"
    path.write_text("abc", "utf-8")
    before = path.stat()
    staged = stage(page("a.html", "abc"), site)

    assert staged == StagedFile("a.html", ABC, changed=False)
    assert (everything(site.folder), path.stat().st_mtime_ns) == (["a.html"], before.st_mtime_ns)


def test_pages_that_differ(site: Staging) -> None:
    """A text of another length and one of the same length both wait; the file is as it was."""
    site.folder.mkdir()
    for body in ("abd", "ab", "abcd"):
        (site.folder / "a.html").write_text("abc", "utf-8")

        assert stage(page("a.html", body), site).changed
        assert site.path("a.html").read_text("utf-8") == body
        assert (site.folder / "a.html").read_text("utf-8") == "abc"


def test_a_page_that_was_to_be_another(site: Staging) -> None:
    """A page that is staged as it was takes back what was staged before; the last one staged counts."""
    site.folder.mkdir()
    (site.folder / "a.html").write_text("abc", "utf-8")
    stage(page("a.html", "1"), site)
    stage(page("a.html", "2"), site)
    assert site.path("a.html").read_text("utf-8") == "2"
    stage(page("a.html", "abc"), site)

    assert everything(site.place) == []


def test_a_folder_in_place_of_a_page(site: Staging) -> None:
    """What cannot be read is not the same."""
    (site.folder / "a.html").mkdir(parents=True)

    assert stage(page("a.html", "abc"), site).changed


# where the hidden folder lies


def test_a_first_site_waits_beside_its_place(tmp_path: Path) -> None:
    """The folder that will be renamed is known as ours from its beginning."""
    staging = begin_staging(tmp_path / "site", first=True)

    assert staging == Staging(tmp_path / "site", tmp_path / f".site{STAGING}", whole=True)
    assert everything(tmp_path) == [f".site{STAGING}", f".site{STAGING}/{MANIFEST}"]


def test_a_later_site_waits_inside_its_place(tmp_path: Path) -> None:
    """Nothing is made beside an output that is there."""
    staging = begin_staging(tmp_path / "site", first=False)

    assert staging == Staging(tmp_path / "site", tmp_path / "site" / STAGING, whole=False)
    assert everything(tmp_path) == ["site", f"site/{STAGING}"]


def test_a_first_site_waits_inside_where_the_name_beside_it_is_taken(tmp_path: Path) -> None:
    """A folder of somebody else's is not used; the output has a manifest before the first file."""
    other = tmp_path / f".site{STAGING}"
    other.mkdir()
    (other / "beach.jpg").touch()
    staging = begin_staging(tmp_path / "site", first=True)
    remove_staging(tmp_path / "site")

    assert not staging.whole
    assert everything(tmp_path) == [other.name, f"{other.name}/beach.jpg", "site", f"site/{MANIFEST}"]


def test_a_first_site_waits_inside_where_nothing_can_be_written_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As with a quota on the folder above: what was begun there is gone."""
    write_text = Path.write_text

    def refused_beside(path: Path, text: str, encoding: str) -> int:
        if path.is_relative_to(tmp_path / f".site{STAGING}"):
            raise OSError(122, "Disk quota exceeded")
        return write_text(path, text, encoding)

    monkeypatch.setattr(Path, "write_text", refused_beside)
    staging = begin_staging(tmp_path / "site", first=True)

    assert staging == Staging(tmp_path / "site", tmp_path / "site" / STAGING, whole=False)
    assert everything(tmp_path) == ["site", f"site/{MANIFEST}", f"site/{STAGING}"]


def test_a_first_site_that_could_not_appear_is_taken_inside(tmp_path: Path) -> None:
    """Every file that waited waits inside the output, and nothing beside it."""
    staging = begin_staging(tmp_path / "site", first=True)
    stage(page("a/b.html", "abc"), staging)
    inside = taken_inside(staging)

    assert inside == Staging(tmp_path / "site", tmp_path / "site" / STAGING, whole=False)
    assert everything(tmp_path / "site") == [
        MANIFEST,
        STAGING,
        *(f"{STAGING}/{name}" for name in ("a", "a/b.html")),
    ]
    assert everything(tmp_path)[0] == "site"


def test_only_what_is_ours_is_removed(tmp_path: Path) -> None:
    """A link in place of the hidden folder is not followed, and an older version's marker goes."""
    outside, site = tmp_path / "outside", tmp_path / "site"
    outside.mkdir()
    (outside / "beach.jpg").touch()
    site.mkdir()
    (site / STAGING).symlink_to(outside)
    remove_staging(site)
    assert everything(tmp_path) == ["outside", "outside/beach.jpg", "site"]
    (site / STAGING).touch()
    (site / ".mine.new").touch()
    remove_staging(site)

    assert everything(site) == [".mine.new"]
