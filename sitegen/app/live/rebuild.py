"""Looks at a journal after a change, and says what browsers see of it.

In: a `Previewer`, change sets. Out: `Shown`, what browsers see, and `Rebuilt`, what there is to say about it. One after
another in the caller's thread: there are never two at once.
"""

from __future__ import annotations

import traceback
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Protocol

from sitegen.app.live.changes import page_edited
from sitegen.app.report import closing_line, findings_text
from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import plural
from sitegen.core.site.page import Page
from sitegen.pipeline.preview import Preview

FAULT = "This is a fault of sitegen, not of the journal. Please report these lines:\n\n"
MOST = 25  # errors told to a browser; `validate` says them all


class Stands(Protocol):
    """What stands at an address."""

    @property
    def state(self) -> str:
        """Changes when the page has to be made again; asked for after the page, it is the state of that page."""

    @property
    def page(self) -> Page | None:
        """The page; None where it cannot be made, and never was."""


class Site(Protocol):
    """The site at one moment."""

    @property
    def page_of(self) -> Mapping[str, str]:
        """The pages of files and folders."""

    @property
    def beside(self) -> tuple[Path, ...]:
        """Folders beside the journal that pages are made from."""

    def find(self, address: str) -> Stands | None:
        """What stands at an address."""

    def unpublished(self, address: str) -> bool:
        """Whether a page is shown here only."""

    def errors(self) -> tuple[Finding, ...]:
        """What is wrong, as far as it is known."""

    def fault(self) -> str:
        """A fault of ours."""


class Looks(Protocol):
    """What looks at the journal."""

    def look(self, files: Collection[str], /) -> Site:
        """The site after some files were touched; after none, at the beginning."""

    def strays(self) -> frozenset[str]:
        """Files that have changed and were not told."""


def _nothing() -> Site:
    """The site before the first look."""
    return Preview()


@dataclass(frozen=True)
class Shown:
    """What browsers see: the site, and the page worked on last.

    `serial` counts what was shown; at 0 nothing has been looked at yet. `failure` is a fault of ours in looking.
    """

    serial: int = 0
    site: Site = field(default_factory=_nothing)
    root: Path = Path()
    edited: str = ""
    failure: str = ""

    @property
    def trouble(self) -> str:
        """What is wrong, as `validate` says it; it may grow while pages are made."""
        fault = self.failure or self.site.fault()
        return FAULT + fault if fault else self._told(self.site.errors())

    def _told(self, errors: tuple[Finding, ...]) -> str:
        if errors not in self._texts:
            self._texts.clear()
            self._texts[errors] = _text(errors, self.root)
        return self._texts[errors]

    @cached_property
    def _texts(self) -> dict[tuple[Finding, ...], str]:
        """The text of the errors last asked for: it quotes files, which would be read for each browser."""
        return {}


def _text(errors: tuple[Finding, ...], root: Path) -> str:
    text = findings_text(errors[:MOST], root)
    more = len(errors) - MOST
    return (
        f"{text}\nand {plural(more, 'error')} more: `sitegen validate` says them all\n" if more > 0 else text
    )


@dataclass(frozen=True, slots=True)
class Rebuilt:
    """What came of one look."""

    shown: Shown
    milliseconds: float
    trouble: str = ""


class Rebuilder:
    """Holds what is shown; `clock` gives seconds."""

    def __init__(self, looks: Looks, root: Path, clock: Callable[[], float]) -> None:
        self._looks = looks
        self._root = root
        self._clock = clock
        self.shown = Shown(root=root)

    def rebuild(self, files: Collection[str]) -> Rebuilt:
        """Look again because of some files; a fault of ours leaves the last good pages standing."""
        start, before = self._clock(), self.shown
        try:
            site = self._looks.look(files)
        except Exception as error:
            self.shown = self._failed(before, error)
            return self._rebuilt(start, f"a fault of sitegen: {error!r}")
        self.shown = Shown(before.serial + 1, site, self._root, page_edited(files, site.page_of))
        errors = site.errors()
        return self._rebuilt(start, closing_line(errors) if errors else "")

    def _failed(self, before: Shown, error: Exception) -> Shown:
        """The last good pages, with what went wrong."""
        failure = "".join(traceback.format_exception(error))
        return Shown(before.serial + 1, before.site, self._root, before.edited, failure)

    def strays(self) -> frozenset[str]:
        """Files that have changed and were not told."""
        return self._looks.strays()

    def _rebuilt(self, start: float, trouble: str) -> Rebuilt:
        return Rebuilt(self.shown, (self._clock() - start) * 1000, trouble)


def rebuilt_line(files: Collection[str], rebuilt: Rebuilt) -> str:
    """`about.md: seen after 12 ms`; at the beginning, `everything: seen after 812 ms`."""
    first, *others = sorted(files) or ["everything"]
    more = f" and {len(others)} more" if others else ""
    trouble = f"; {rebuilt.trouble}" if rebuilt.trouble else ""
    return f"{first}{more}: seen after {rebuilt.milliseconds:.0f} ms{trouble}"
