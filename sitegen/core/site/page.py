"""A file of the site, ready to be written.

In: nothing. Out: `Page`, `WriteResult`. Never writes. The body of a large file is its path on the disk. The body of a
page that is made on demand is a function.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

HTML = "text/html"


@dataclass(frozen=True, slots=True)
class Page:
    """One file: its address relative to the site's root, its media type and its content."""

    address: str
    media: str
    body: str | bytes | Path | Callable[[], bytes]

    @property
    def content(self) -> bytes:
        """The bytes of the file; text is UTF-8, a path is read, a function called."""
        if callable(self.body):
            return self.body()
        if isinstance(self.body, Path):
            return self.body.read_bytes()
        return self.body.encode() if isinstance(self.body, str) else self.body


@dataclass(frozen=True, slots=True)
class WriteResult:
    """The result of a write: addresses written and removed, and the number of unchanged files."""

    written: tuple[str, ...] = ()
    unchanged: int = 0
    removed: tuple[str, ...] = ()
