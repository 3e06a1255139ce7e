"""A few of the many findings that one wrong column gives.

In: findings of one file. Out: the first of each code.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from sitegen.core.finding import Finding, Findings

__all__ = ["MAX_BAD", "some_of_each"]

MAX_BAD = 5  # findings of one code in one file


def some_of_each(trouble: Findings) -> Iterator[Finding]:
    """A few findings of each code: a wrong column would fill the screen."""
    seen: Counter[str] = Counter()
    for finding in trouble:
        seen[finding.code] += 1
        if seen[finding.code] <= MAX_BAD:
            yield finding
