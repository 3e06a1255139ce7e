"""Builds a journal after a change, and states what browsers see of it.

In: a `Previewer`, change sets. Out: `Version`s, and a line to print about each. Builds run one after another in the
caller's thread. A terminal is told what is wrong in full.
"""

from __future__ import annotations

import traceback
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path

from sitegen.app.console.report import findings_text, printable
from sitegen.app.live.changes import page_edited
from sitegen.app.options import told_line
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.told import told
from sitegen.core.language.text import plural
from sitegen.pipeline.preview import Preview, Previewer

# What anyone but the author is told: messages, mends and excerpts may quote what is not meant for readers.
ELSEWHERE = "What is wrong is said where `sitegen live` runs.\n"
FAULT_ELSEWHERE = "This is a fault of sitegen, not of the journal. It is printed where `sitegen live` runs.\n"
FAULT = "This is a fault of sitegen, not of the journal. Please report these lines:\n\n"
MOST = 25  # errors told to a browser; `validate` prints them all


@dataclass(frozen=True)
class Version:
    """The site as browsers see it, and the page edited last.

    `serial` counts the versions; 0 stands for the time before the first build. `failure` is the traceback of a build
    that failed.
    """

    serial: int = 0
    site: Preview = field(default_factory=Preview)
    root: Path = Path()
    edited: str = ""
    failure: str = ""

    @property
    def problems(self) -> str:
        """Errors as `validate` prints them; there may be more once further pages are made."""
        fault = self.failure or self.site.fault()
        return FAULT + fault if fault else self._text(self.site.errors())

    @property
    def places(self) -> str:
        """The codes and places of the errors, without a word of a file."""
        if self.failure or self.site.fault():
            return FAULT_ELSEWHERE
        shown = told(self.site.errors())
        lines = [_place(each.first) for each in shown[:MOST]]
        more = [f"and {plural(len(shown) - MOST, 'error')} more"] if len(shown) > MOST else []
        return "\n".join([*lines, *more, ELSEWHERE]) if shown else ""

    def _text(self, errors: tuple[Finding, ...]) -> str:
        if errors not in self._texts:
            self._texts.clear()
            self._texts[errors] = f"{findings_part(errors, self.root)}\n" if errors else ""
        return self._texts[errors]

    @cached_property
    def _texts(self) -> dict[tuple[Finding, ...], str]:
        # Kept, since it quotes files, which would be read for each browser.
        return {}


class Rebuilder:
    """Keeps the latest version; `clock` gives seconds."""

    def __init__(self, previewer: Previewer, root: Path, clock: Callable[[], float]) -> None:
        self._previewer = previewer
        self._root = root
        self._clock = clock
        self.version = Version(root=root)

    def rebuild(self, files: Collection[str]) -> str:
        """Build again because of some files (none: all of them); the line to print.

        A fault of ours leaves the last good pages standing.
        """
        start, before = self._clock(), self.version
        try:
            site = self._previewer.refresh(files)
        except Exception as error:
            failure = "".join(traceback.format_exception(error))
            self.version = replace(before, serial=before.serial + 1, failure=failure)
            problems = f"a fault of sitegen: {error!r}"
        else:
            self.version = Version(before.serial + 1, site, self._root, page_edited(files, site.page_of))
            problems = ""
        line = _line(files, (self._clock() - start) * 1000, problems)
        return line if problems else "\n".join([line, *self._told()])

    def _told(self) -> Iterator[str]:
        """What is wrong, as `validate` prints it: errors whenever they stand, a warning once a change of its file."""
        found = self.version.site.findings()
        before = self._previewer.told_before(found)
        new = tuple(finding for finding in found if finding not in before)
        if new:
            yield findings_part(new, self._root)
        # Said once, at the beginning: an edit leaves most of them as they were.
        if before and self.version.serial == 1:
            yield told_line(len(before))


def _place(finding: Finding) -> str:
    source = finding.source
    return f"{finding.severity}[{finding.code}] in {printable(source.file)}:{source.line}:{source.column}"


def findings_part(findings: tuple[Finding, ...], root: Path) -> str:
    """The first findings as text; errors go before warnings."""
    ordered = sorted(findings, key=lambda finding: not finding.is_error)
    text = findings_text(ordered, root, most=MOST).rstrip("\n")
    more = sum(len(each.kind) for each in told(ordered)[MOST:])
    if more <= 0:
        return text
    return f"{text}\nand {plural(more, 'finding')} more: `sitegen validate` says them all"


def _line(files: Collection[str], milliseconds: float, problems: str) -> str:
    """`about.md: seen after 12 ms`; at the beginning, `everything: seen after 812 ms`."""
    first, *others = sorted(files) or ["everything"]
    more = f" and {len(others)} more" if others else ""
    end = f"; {problems}" if problems else ""
    return f"{first}{more}: seen after {milliseconds:.0f} ms{end}"
