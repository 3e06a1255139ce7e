"""Files that wait beside their final paths."""

from __future__ import annotations

from pathlib import Path

from sitegen.write import StagedFile, stage
from sitegen.write.manifest import fingerprint_of, staged_path
from tests.write.sites import everything, page

ABC = ("cf4ab791c62b8d2b2109c90275287816", 3)  # `printf abc | b2sum -l 128`, of the GNU core utilities


def test_fingerprint() -> None:
    """A digest of 128 bits and the size."""
    assert fingerprint_of(b"abc") == ABC


def test_a_new_page(tmp_path: Path) -> None:
    """A page waits in its folder, which is made."""
    staged = stage(page("a/b/c.html", "abc"), tmp_path)

    assert staged == StagedFile("a/b/c.html", ABC, changed=True)
    assert everything(tmp_path) == ["a", "a/b", "a/b/.c.html.new"]
    assert staged_path(tmp_path / "a/b/c.html").read_text("utf-8") == "abc"


def test_a_page_as_it_was(tmp_path: Path) -> None:
    """A file with the same content is left alone, with its time, and nothing waits."""
    path = tmp_path / "a.html"
    path.write_text("abc", "utf-8")
    before = path.stat()
    staged = stage(page("a.html", "abc"), tmp_path)

    assert staged == StagedFile("a.html", ABC, changed=False)
    assert (everything(tmp_path), path.stat().st_mtime_ns) == (["a.html"], before.st_mtime_ns)


def test_pages_that_differ(tmp_path: Path) -> None:
    """A text of another length and one of the same length both wait; the file is as it was."""
    for body in ("abd", "ab", "abcd"):
        (tmp_path / "a.html").write_text("abc", "utf-8")

        assert stage(page("a.html", body), tmp_path).changed
        assert staged_path(tmp_path / "a.html").read_text("utf-8") == body
        assert (tmp_path / "a.html").read_text("utf-8") == "abc"


def test_a_page_that_was_to_be_another(tmp_path: Path) -> None:
    """A page that is staged as it was takes back what was staged before; the last one staged counts."""
    (tmp_path / "a.html").write_text("abc", "utf-8")
    stage(page("a.html", "1"), tmp_path)
    stage(page("a.html", "2"), tmp_path)
    assert staged_path(tmp_path / "a.html").read_text("utf-8") == "2"
    stage(page("a.html", "abc"), tmp_path)

    assert everything(tmp_path) == ["a.html"]


def test_a_folder_in_place_of_a_page(tmp_path: Path) -> None:
    """What cannot be read is not the same."""
    (tmp_path / "a.html").mkdir()

    assert stage(page("a.html", "abc"), tmp_path).changed
