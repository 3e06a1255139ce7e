"""Rows of a reference table that are about a journal's crop: by botanical name, or by common name.

In: the rows of a table and a crop. Out: the rows that match it.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol, TypeVar

from sitegen.core.records.setup import Crop
from sitegen.core.site.addresses import slug


class CropRow(Protocol):
    """A row about one crop: its common name, other common names, and its botanical name, if any."""

    @property
    def crop(self) -> str:
        """The common name, as a slug."""

    @property
    def latin(self) -> str:
        """The botanical name."""

    @property
    def also(self) -> tuple[str, ...]:
        """Other common names."""


_Row = TypeVar("_Row", bound=CropRow)


def rows_by_latin(rows: Iterable[_Row], crop: Crop) -> list[_Row]:
    """The rows whose botanical name is the crop's, or the beginning of it: a genus stands for its species."""
    latin = f"{crop.latin.lower()} "
    return [row for row in rows if row.latin and latin.startswith(f"{row.latin.lower()} ")]


def rows_by_name(rows: Iterable[_Row], crop: Crop) -> list[_Row]:
    """The rows whose common name ends the crop's id or name: `cherry-tomato` is a `tomato`."""
    names = [f"-{slug(name)}" for name in (crop.id, crop.name)]
    return [
        row
        for row in rows
        if any(name.endswith(f"-{word}") for word in (row.crop, *row.also) for name in names)
    ]
