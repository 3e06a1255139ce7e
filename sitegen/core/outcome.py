"""What became of the files of an output.

In: nothing. Out: `Outcome`.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Outcome"]


@dataclass(frozen=True, slots=True)
class Outcome:
    """Addresses written and removed, and how many files were left as they are."""

    written: tuple[str, ...] = ()
    unchanged: int = 0
    removed: tuple[str, ...] = ()
