"""A file that its author may go on writing in is written anew only while it is as it was written."""

from __future__ import annotations

from pathlib import Path

from sitegen.memo import Memo
from sitegen.pipeline.notes.kept_file import write_kept


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
