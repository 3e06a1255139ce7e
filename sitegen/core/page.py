"""A file of the site, ready to be written.

In: nothing. Out: `Page`. Never written here.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["HTML", "Page"]

HTML = "text/html"


@dataclass(frozen=True, slots=True)
class Page:
    """One file: its address relative to the site's root, its media type and what stands in it."""

    address: str
    media: str
    body: str | bytes

    @property
    def content(self) -> bytes:
        """The bytes of the file; text is UTF-8."""
        return self.body.encode() if isinstance(self.body, str) else self.body
