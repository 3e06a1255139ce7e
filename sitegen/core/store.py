"""The interface of the store of earlier results, as stages see it.

In: nothing. Out: `Store` (the protocol), `StoredResult` and `file_stamp` (changes when a file was touched).
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol


@dataclass(frozen=True, slots=True)
class StoredResult:
    """A result made before: JSON values, and large parts as files, which are only read and never changed."""

    value: Mapping[str, Any]
    files: tuple[Path, ...] = ()


class Store(Protocol):
    """Results by key."""

    def key(self, stage: str, *parts: object) -> str:
        """The key of a result: its stage's code and libraries, and `parts`: whatever else it is made from, as JSON."""

    def get(self, key: str) -> StoredResult | None:
        """What was put, whole; None where there is nothing, or not all of it."""

    def get_all(self, keys: Sequence[str]) -> Mapping[str, StoredResult]:
        """What was put under some keys, by key."""

    def put(self, key: str, value: Mapping[str, Any], files: Sequence[bytes] = ()) -> StoredResult:
        """Keep a result, and give it back as `get` would."""


def file_stamp(path: Path, found: os.stat_result) -> tuple[str, int, int, int, int]:
    """What changes when a file does, without reading it: place, size, times, inode."""
    return (str(path), found.st_size, found.st_mtime_ns, found.st_ctime_ns, found.st_ino)
