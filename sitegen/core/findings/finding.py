"""Diagnostics about a journal, each with a place in a file.

In: nothing. Out: `Finding` (one diagnostic, as data) and `Findings` (a
collector). Reports are printed by `app.report`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sitegen.core.findings.codes import CODES, Severity
from sitegen.core.findings.mend import Edit, Mend
from sitegen.core.findings.source import Source

if TYPE_CHECKING:
    from sitegen.core.values.units import Units


@dataclass(frozen=True, slots=True)
class Finding:
    """One diagnostic.

    `message` is the headline and makes sense alone. `found` and `expected` are the same as data. `mend` is the
    remedy: one thing to do, in the imperative; its `edits` do the same to the file, and where that is `safe` no other
    reading is possible. Advice has none.
    """

    code: str
    source: Source
    message: str
    mend: str = ""
    found: str = ""
    expected: str = ""
    edits: tuple[Edit, ...] = ()
    safe: bool = False

    @property
    def severity(self) -> Severity:
        """The severity of its code."""
        return CODES[self.code]

    @property
    def is_error(self) -> bool:
        """Whether it stops `write`."""
        return self.severity is Severity.ERROR


@dataclass(slots=True)
class Findings:
    """A collector of findings; `units` is the system of units of their examples."""

    items: list[Finding] = field(default_factory=list)
    units: Units = "metric"

    def add(
        self,
        code: str,
        source: Source,
        message: str,
        *,
        mend: str | Mend = "",
        found: str = "",
        expected: str = "",
    ) -> None:
        """Add one finding; `code` must be in the table of codes."""
        if code not in CODES:
            raise KeyError(f"finding code {code!r} is not in the table of codes")
        edits, safe = (mend.edits, mend.safe) if isinstance(mend, Mend) else ((), False)
        self.items.append(Finding(code, source, message, str(mend), found, expected, edits, safe))

    def extend(self, more: Iterable[Finding]) -> None:
        """Add findings of another collector."""
        self.items.extend(more)

    def __iter__(self) -> Iterator[Finding]:
        return iter(self.items)

    def __len__(self) -> int:
        return len(self.items)


def sorted_findings(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings in the order of files, without duplicates."""
    unique = dict.fromkeys(findings)
    return tuple(sorted(unique, key=lambda f: (f.source, f.code, f.message)))
