"""Canaries: each a word that occurs nowhere else, with the place that it was planted at.

In: a kind and a place. Out: `Canary` and `Planted`. A mark is made of lower-case letters, so that it survives addresses,
capitals and file systems; a canary that is a number or a time has forms of its own.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Canary:
    """A secret: its kind, the place that it was planted at, and each form in which it could come out."""

    kind: str
    place: str
    forms: tuple[str, ...]

    @property
    def mark(self) -> str:
        """The form that is planted."""
        return self.forms[0]


def mark_of(place: str) -> str:
    """A word of twelve letters for a place; it begins with letters that no language has in a row."""
    digest = hashlib.sha256(place.encode()).digest()
    return "zqj" + "".join(chr(ord("a") + byte % 26) for byte in digest[:9])


@dataclass(slots=True)
class Planted:
    """All canaries of a journal, and the controls: words meant for readers, so that finding no canary says something."""

    canaries: list[Canary] = field(default_factory=list)
    controls: list[Canary] = field(default_factory=list)

    def hide(self, kind: str, place: str) -> str:
        """Plant a canary; the word to write at its place."""
        return self._add(self.canaries, kind, place)

    def hide_forms(self, kind: str, place: str, *forms: str) -> None:
        """Plant a canary that is no word."""
        self.canaries.append(Canary(kind, place, forms))

    def show(self, kind: str, place: str) -> str:
        """A word that has to be published."""
        return self._add(self.controls, kind, place)

    @staticmethod
    def _add(to: list[Canary], kind: str, place: str) -> str:
        made = Canary(kind, place, (mark_of(f"{kind}: {place}"),))
        assert all(each.mark != made.mark for each in to), place
        to.append(made)
        return made.mark

    def kinds(self) -> Iterator[str]:
        """The kinds in the order of planting."""
        return iter(dict.fromkeys(canary.kind for canary in self.canaries))
