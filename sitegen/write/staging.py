"""One page, written beside its place.

In: a page, the folder. Out: `Staged`. A file that holds the same already is left alone; nothing that can be seen changes
before every page is made.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path

from sitegen.core.site.page import Page
from sitegen.write.ledger import Content


@dataclass(frozen=True, slots=True)
class Staged:
    """What is to stand at an address; `fresh` where it lies beside its place still."""

    address: str
    content: Content
    fresh: bool


def stage(page: Page, folder: Path) -> Staged:
    """Write a page beside its place, where the place holds anything else."""
    body = page.content
    path = folder / page.address
    same = _same(path, body)
    if same:
        beside(path).unlink(missing_ok=True)  # it was to be another before
    else:
        path.parent.mkdir(parents=True, exist_ok=True)
        beside(path).write_bytes(body)
    return Staged(page.address, content_of(body), not same)


def beside(path: Path) -> Path:
    """Where a file waits for its place."""
    return path.with_name(f".{path.name}.new")


def content_of(body: bytes) -> Content:
    """What a ledger says of a file."""
    return blake2b(body, digest_size=16).hexdigest(), len(body)


def contents_of(pages: Iterable[Page]) -> tuple[tuple[str, Content], ...]:
    """What a ledger would say of some pages, by address."""
    return tuple((page.address, content_of(page.content)) for page in pages)


def _same(path: Path, body: bytes) -> bool:
    try:
        return path.stat().st_size == len(body) and path.read_bytes() == body
    except OSError:
        return False
