"""Keys that are none of their mapping's, and truth values in other words."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.core.format import TABLES
from sitegen.core.format.other_words import _WORDS
from tests.ingest.builders import HEAD, found, read

KEYS = [
    (
        "geerntet: {P1: 3 g}",
        "9:5: unknown-key: `geerntet` is not a key of a log entry (write `harvest`)",
    ),
    (
        "Top-up: 2 L",
        "9:5: unknown-key: `Top-up` is not a key of a log entry (write `water`)",
    ),
    (
        "light: {light: {hours: 14 h}}",
        "9:13: unknown-key: `light` is not a key of `light` (remove `{light: ` and one `}`)",
    ),
    (
        "sow 3 a spot:",
        "9:5: unknown-key: `sow 3 a spot` is not a key of a log entry (write `sow: 3 a spot`)",
    ),
    (
        "clip: {file: a.mp4, what: cut, at: 1:00, alt: the cut}",
        "9:46: unknown-key: `alt` is not a key of `clip` (write one of `length`, `plants`)",
    ),
]


@pytest.mark.parametrize(("entry", "finding"), KEYS, ids=[entry for entry, _ in KEYS])
def test_key(entry: str, finding: str, tmp_path: Path) -> None:
    """The key that another word stands for is offered; a word that is a key elsewhere is no slip of the pen."""
    assert finding in found(tmp_path, f"  - day: 3\n    {entry}\n")


def test_plural_of_a_key_with_a_list(tmp_path: Path) -> None:
    """A list under a key in the wrong number is not moved."""
    head = f"{HEAD}episode: [{{title: One, link: 'https://a.example/1', published: 2025-06-01}}]\n"

    assert read(tmp_path, "  - {day: 0, sow: 2 a spot}\n", head)[1] == [
        "7:1: unknown-key: `episode` is not a key of experiment.yaml (write `episodes`)"
    ]


@pytest.mark.parametrize("word", ["yes", "On", "true", "NO", "off", "false"])
def test_truth(word: str, tmp_path: Path) -> None:
    """What other readers of YAML take for a truth value is one."""
    assert read(tmp_path, "  - {day: 0, sow: 2 a spot}\n", f"{HEAD}draft: {word}\n")[1] == []


def test_other_words_are_no_keys() -> None:
    """Each word stands for one key, which a table has, and is no key of that table itself."""
    words = [word for each in _WORDS.values() for word in each.split()]
    keys = {key for table in TABLES.values() for key in table.by_key}

    assert len(words) == len(set(words))
    assert set(_WORDS) <= keys
    assert [w for key, each in _WORDS.items() for w in each.split() if w == key] == []
