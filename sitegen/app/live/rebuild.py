"""Makes the pages anew after a change, and keeps the last good ones.

In: a function that makes a `Preview`, change sets. Out: `Shown`, what browsers see, and `Rebuilt`, what there is to say
about it. One after another in the caller's thread: there are never two at once.
"""

from __future__ import annotations

import traceback
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.app.live.changes import page_edited
from sitegen.app.report.text import closing_line, findings_text
from sitegen.core.page import Page
from sitegen.core.text import plural
from sitegen.pipeline.previewing import Preview

__all__ = ["Build", "Rebuilder", "Rebuilt", "Shown", "rebuilt_line"]

Build = Callable[[Preview], Preview]
FAULT = "This is a fault of sitegen, not of the journal. Please report these lines:\n\n"


@dataclass(frozen=True, slots=True)
class Shown:
    """What browsers see: pages by address, what is not published, what is wrong, the page worked on last.

    `serial` counts the rebuilds; at 0 nothing has been made yet.
    """

    serial: int = 0
    pages: Mapping[str, Page] = field(default_factory=dict)
    unpublished: frozenset[str] = frozenset()
    trouble: str = ""
    edited: str = ""


@dataclass(frozen=True, slots=True)
class Rebuilt:
    """What came of one rebuild."""

    shown: Shown
    changed: int
    milliseconds: float
    trouble: str = ""


class Rebuilder:
    """Holds the last good pages; `clock` gives seconds."""

    def __init__(self, build: Build, root: Path, clock: Callable[[], float]) -> None:
        self._build = build
        self._root = root
        self._clock = clock
        self.preview = Preview()
        self.shown = Shown()

    def rebuild(self, files: Collection[str]) -> Rebuilt:
        """Make everything anew because of some files; a fault of ours leaves the last good pages standing."""
        start = self._clock()
        before = self.shown
        try:
            preview = self._build(self.preview)
        except Exception as error:
            self.shown = _faulty(before, error)
            return self._rebuilt(before, start, f"a fault of sitegen: {error!r}")
        errors = tuple(finding for finding in preview.findings if finding.is_error)
        # A page that cannot be made, or a journal that cannot be read, leaves gaps: the last good pages fill them.
        pages = {**before.pages, **preview.pages} if errors else preview.pages
        self.preview = preview if preview.pages or not errors else self.preview
        self.shown = Shown(
            before.serial + 1,
            pages,
            self.preview.unpublished,
            findings_text(errors, self._root),
            page_edited(files, self.preview.page_of),
        )
        return self._rebuilt(before, start, closing_line(errors) if errors else "")

    def _rebuilt(self, before: Shown, start: float, trouble: str) -> Rebuilt:
        milliseconds = (self._clock() - start) * 1000
        return Rebuilt(self.shown, _changed(before.pages, self.shown.pages), milliseconds, trouble)


def _faulty(before: Shown, error: Exception) -> Shown:
    text = FAULT + "".join(traceback.format_exception(error))
    return Shown(before.serial + 1, before.pages, before.unpublished, text, before.edited)


def _changed(before: Mapping[str, Page], after: Mapping[str, Page]) -> int:
    """How many addresses hold something else than before."""
    return sum(before.get(address) != after.get(address) for address in before.keys() | after.keys())


def rebuilt_line(files: Collection[str], rebuilt: Rebuilt) -> str:
    """`about.md: 2 files of the site in 812 ms`."""
    first, *others = sorted(files) or ["everything"]
    more = f" and {len(others)} more" if others else ""
    trouble = f"; {rebuilt.trouble}" if rebuilt.trouble else ""
    made = plural(rebuilt.changed, "file")
    return f"{first}{more}: {made} of the site in {rebuilt.milliseconds:.0f} ms{trouble}"
