"""What the commands are given back.

In: nothing. Out: `Checked`, `Published`, `Copied`. Imports nothing that takes time.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sitegen.core.findings.finding import Finding
from sitegen.core.site.page import WriteResult


@dataclass(frozen=True, slots=True)
class Checked:
    """All findings of a journal, and how much was looked at."""

    findings: tuple[Finding, ...]
    experiments: int = 0
    entries: int = 0


@dataclass(frozen=True, slots=True)
class Published:
    """What came of publishing; no outcome where errors kept it back. `charts` and `photos` are those of new pages.

    `told` are the warnings that were told before about files that have not changed since.
    """

    findings: tuple[Finding, ...]
    folder: Path
    outcome: WriteResult | None = None
    left_out: tuple[str, ...] = ()
    told: tuple[Finding, ...] = ()
    charts: int = 0
    photos: int = 0


@dataclass(frozen=True, slots=True)
class Copied:
    """What came of copying one page; no outcome where errors kept it back.

    `known` are the experiments there are, where the one that was asked for is none of them.
    """

    findings: tuple[Finding, ...]
    folder: Path
    outcome: WriteResult | None = None
    held_back: bool = False
    known: tuple[str, ...] | None = None
