"""A file that its author may go on writing in is written anew only while it is as it was written."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.memo import Memo
from sitegen.pipeline.notes.kept_file import KeptFile, write_kept


def test_a_file_is_written_until_somebody_edits_it(tmp_path: Path) -> None:
    """New, the same, newer, edited: an edit is kept, and the difference is given."""
    path = tmp_path / "script.md"
    with Memo(tmp_path / "cache") as memo:
        assert write_kept(path, b"one\n", memo).outcome == "written"
        assert write_kept(path, b"one\n", memo).outcome == "same"
        assert write_kept(path, b"two\n", memo).outcome == "written"
        path.write_text("two, mine\n")
        kept = write_kept(path, b"three\n", memo)
        assert kept.outcome == "kept"
        assert kept.difference.splitlines()[2:] == ["@@ -1 +1 @@", "-two, mine", "+three"]
        assert path.read_text() == "two, mine\n"


def test_an_unknown_file_is_kept(tmp_path: Path) -> None:
    """A file that was there before, or of which the store knows nothing any more, is left as it is."""
    path = tmp_path / "script.md"
    path.write_text("my own words\n")
    with Memo(tmp_path / "cache") as memo:
        assert write_kept(path, b"one\n", memo).outcome == "kept"
    assert path.read_text() == "my own words\n"


def test_a_file_that_became_the_same_is_known_again(tmp_path: Path) -> None:
    """Somebody takes over the offered difference: from then on the file is written again."""
    path = tmp_path / "script.md"
    path.write_bytes(b"one\n")
    with Memo(tmp_path / "cache") as memo:
        assert write_kept(path, b"one\n", memo).outcome == "same"
        assert write_kept(path, b"two\n", memo).outcome == "written"
    assert path.read_bytes() == b"two\n"


def test_nothing_is_left_beside_it(tmp_path: Path) -> None:
    """The temporary file becomes the file; of a picture no difference is printed."""
    path = tmp_path / "card.png"
    path.write_bytes(b"\0picture")
    with Memo(tmp_path / "cache") as memo:
        assert write_kept(path, b"\0other", memo).difference == ""
        path.unlink()
        assert write_kept(path, b"\0other", memo).outcome == "written"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["cache", "card.png"]


def test_a_link_stays_one(tmp_path: Path) -> None:
    """The file that it leads to is written, and known by its own place."""
    path = tmp_path / "real.md"
    (tmp_path / "link.md").symlink_to(path)
    with Memo(tmp_path / "cache") as memo:
        assert write_kept(tmp_path / "link.md", b"one\n", memo) == KeptFile("written")
        assert write_kept(path, b"two\n", memo) == KeptFile("written")
    assert (tmp_path / "link.md").is_symlink()
    assert path.read_bytes() == b"two\n"


def test_the_difference_names_both_sides(tmp_path: Path) -> None:
    """Line by line; a line without an end and bytes that are no text are shown all the same."""
    path = tmp_path / "script.md"
    path.write_bytes(b"same\ncaf\xe9")
    with Memo(tmp_path / "cache") as memo:
        kept = write_kept(path, b"same\nnew", memo)

    assert kept.difference == (
        f"--- {path} (yours)\n+++ {path} (new)\n@@ -1,2 +1,2 @@\n same\n-caf\N{REPLACEMENT CHARACTER}\n+new\n"
    )


@pytest.mark.parametrize(("there", "new"), [(b"\0a", b"b"), (b"a", b"\0b")])
def test_a_picture_has_no_difference(tmp_path: Path, there: bytes, new: bytes) -> None:
    """Nor has a text that a picture would take the place of."""
    path = tmp_path / "card.png"
    path.write_bytes(there)
    with Memo(tmp_path / "cache") as memo:
        assert write_kept(path, new, memo) == KeptFile("kept")
    assert path.read_bytes() == there


def test_an_edit_that_is_taken_back_is_known(tmp_path: Path) -> None:
    """A file that is as it was written is written anew, whatever stood there in between."""
    path = tmp_path / "script.md"
    with Memo(tmp_path / "cache") as memo:
        write_kept(path, b"one\n", memo)
        path.write_bytes(b"mine\n")
        assert write_kept(path, b"two\n", memo).outcome == "kept"
        path.write_bytes(b"one\n")
        assert write_kept(path, b"two\n", memo) == KeptFile("written")
        memo.put(memo.key("files", "notes", str(path)), {})
        assert write_kept(path, b"three\n", memo).outcome == "kept"
