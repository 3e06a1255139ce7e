"""What the commands are given back.

In: nothing. Out: `Checked` and `Published`. Imports nothing that takes time.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sitegen.core.finding import Finding
from sitegen.write import Outcome

__all__ = ["Checked", "Outcome", "Published"]


@dataclass(frozen=True, slots=True)
class Checked:
    """All findings of a journal, and how much was looked at."""

    findings: tuple[Finding, ...]
    experiments: int = 0
    entries: int = 0


@dataclass(frozen=True, slots=True)
class Published:
    """What came of publishing; no outcome where errors kept it back. `charts` and `photos` are those of new pages."""

    findings: tuple[Finding, ...]
    folder: Path
    outcome: Outcome | None = None
    left_out: tuple[str, ...] = ()
    charts: int = 0
    photos: int = 0
