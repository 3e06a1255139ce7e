"""An entry is taken back with the bytes that it took the place of."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given

from sitegen.filing.entries.append import appending
from sitegen.filing.entries.undo import keep, take_back
from tests.filing.logs import ENTRY, files

LOG = b"title: A run\nlog:\n  - day: 0\n    water: filled\n"


def _added(cache: Path, path: Path, content: bytes, when: str) -> bytes:
    change = appending(content, when, [("water", "2 L")])
    keep(cache, path, content, change)
    return change.made(content)


@given(files(), ENTRY)
def test_any_log_is_what_it_was(content: bytes, fields: list[tuple[str, str]]) -> None:
    """Adding an entry and taking it back gives the same bytes, for any log that can be added to."""
    with TemporaryDirectory() as folder:
        cache, path = Path(folder), Path(folder) / "experiment.yaml"
        change = appending(content, "date: 2025-10-19", fields)
        keep(cache, path, content, change)
        back = take_back(cache, path, change.made(content))

    assert back is not None
    assert (back.content, back.entry) == (content, change.inserted.decode())


def test_entries_are_taken_back_one_after_the_other(tmp_path: Path) -> None:
    """The newest goes first, then the one before; then there is none."""
    path = tmp_path / "experiment.yaml"
    first = _added(tmp_path, path, LOG, "day: 1")
    second = _added(tmp_path, path, first, "day: 2")

    back = take_back(tmp_path, path, second)
    assert back is not None
    assert (back.content, back.entry) == (first, "  - day: 2\n    water: 2 L\n")
    again = take_back(tmp_path, path, back.content)
    assert again is not None
    assert again.content == LOG
    assert take_back(tmp_path, path, again.content) is None


def test_an_entry_that_was_changed_or_followed_stays(tmp_path: Path) -> None:
    """Once the author has touched the entry or written below it, it is theirs; an edit above it does not matter."""
    path = tmp_path / "experiment.yaml"
    after = _added(tmp_path, path, LOG, "day: 1")

    assert take_back(tmp_path, path, after.replace(b"2 L", b"3 L")) is None
    assert take_back(tmp_path, path, after + b"  - day: 2\n") is None
    back = take_back(tmp_path, path, after.replace(b"filled", b"1.5 L"))
    assert back is not None
    assert back.content == LOG.replace(b"filled", b"1.5 L")


def test_a_change_that_was_kept_and_never_made_is_passed_over(tmp_path: Path) -> None:
    """A kill before the file was replaced leaves the entry before it to be taken back."""
    path = tmp_path / "experiment.yaml"
    after = _added(tmp_path, path, LOG, "day: 1")
    _added(tmp_path, path, after, "day: 2")

    back = take_back(tmp_path, path, after)

    assert back is not None
    assert back.content == LOG


def test_damaged_records_are_as_none(tmp_path: Path) -> None:
    """What another program left in the cache folder takes nothing back and does no harm."""
    path = tmp_path / "experiment.yaml"
    after = _added(tmp_path, path, LOG, "day: 1")
    (record,) = (tmp_path / "entries").iterdir()

    for damage in (
        b"{",
        b"[]",
        b'{"format": 1, "changes": [1, {}, {"removed": 3}]}',
        b"\xff",
        b"[" * 100_000,
    ):
        record.write_bytes(damage)
        assert take_back(tmp_path, path, after) is None


@pytest.mark.parametrize("behind", ["1e999", "-1e999", "NaN", "-3", '"-3"', "1e300"])
def test_a_damaged_place_is_passed_over(behind: str, tmp_path: Path) -> None:
    """A change whose place is no place of a file is none."""
    path = tmp_path / "experiment.yaml"
    after = _added(tmp_path, path, LOG, "day: 1")
    (record,) = (tmp_path / "entries").iterdir()
    digest = sha256(b"").hexdigest()
    row = f'{{"removed": "eA==", "inserted": "", "behind": {behind}, "digest": "{digest}"}}'
    record.write_text(f'{{"format": 1, "changes": [{row}]}}')

    assert take_back(tmp_path, path, after) is None
