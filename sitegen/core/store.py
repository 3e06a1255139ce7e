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
    """An earlier result: JSON values, and large parts as files, which are read and never changed."""

    value: Mapping[str, Any]
    files: tuple[Path, ...] = ()


class Store(Protocol):
    """A store of results by key."""

    def key(self, stage: str, *parts: object) -> str:
        """The key of a result: a digest of the stage's code and libraries, and of `parts`, its other inputs as JSON."""

    def get(self, key: str) -> StoredResult | None:
        """The result under a key; None where there is none, or where a part of it is missing."""

    def get_all(self, keys: Sequence[str]) -> Mapping[str, StoredResult]:
        """The results under some keys, by key."""

    def put(self, key: str, value: Mapping[str, Any], files: Sequence[bytes] = ()) -> StoredResult:
        """Store a result, and return it as `get` would."""


def file_stamp(path: Path, found: os.stat_result) -> tuple[str, int, int, int, int]:
    """Path, size, times and inode: they change with a file, and are known without reading it."""
    return (str(path), found.st_size, found.st_mtime_ns, found.st_ctime_ns, found.st_ino)
