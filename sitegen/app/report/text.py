"""Findings as a person reads them: headline, place, excerpt, one thing to do.

In: findings and the journal's folder. Out: text. Colour only where it is asked for.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from sitegen.app.report.excerpt import Excerpt, Lines, printable
from sitegen.core.finding import Finding, Severity
from sitegen.core.text import listed, plural

__all__ = ["closing_line", "finding_text", "findings_text"]

# ANSI Select Graphic Rendition (ECMA-48): bold is 1, colours are 30 and up.
_COLOURS = {"error": "1;31", "warning": "1;33", "place": "34", "help": "36", "headline": "1"}


def _painted(text: str, colour: str, on: bool) -> str:
    return f"\x1b[{_COLOURS[colour]}m{text}\x1b[0m" if on and text else text


def finding_text(finding: Finding, lines: Lines, *, colour: bool = False) -> str:
    """One finding over several lines, without a line end."""
    source = finding.source
    head = _painted(f"{finding.severity}[{finding.code}]", finding.severity, colour)
    parts = [f"{head}: {_painted(printable(finding.message), 'headline', colour)}"]
    place = f"{printable(source.file)}:{source.line}:{source.column}"
    parts.append(f" {_painted('-->', 'place', colour)} {place}")
    excerpt = lines.excerpt(source)
    if excerpt is not None:
        parts += _excerpt(excerpt, finding, colour)
    if finding.mend:
        parts.append(f"{_painted('help', 'help', colour)}: {printable(finding.mend)}")
    return "\n".join(parts)


def _excerpt(excerpt: Excerpt, finding: Finding, colour: bool) -> list[str]:
    """The marked line between its gutter, with the line above where that opens its block."""
    number = str(finding.source.line)
    blank = " " * len(number)
    bar = _painted("|", "place", colour)
    carets = _painted("^" * excerpt.width, finding.severity, colour)
    above = f"{int(number) - 1:>{len(number)}}"
    context = [f"{_painted(above, 'place', colour)} {bar} {excerpt.above}"] if excerpt.above else []
    return [
        f"{blank} {bar}",
        *context,
        f"{_painted(number, 'place', colour)} {bar} {excerpt.text}",
        f"{blank} {bar} {' ' * excerpt.before}{carets}",
    ]


def findings_text(findings: Iterable[Finding], root: Path, *, colour: bool = False) -> str:
    """All findings in the order given, a blank line after each, and the closing line; nothing for none."""
    lines = Lines(root)
    items = tuple(findings)
    if not items:
        return ""
    blocks = [finding_text(finding, lines, colour=colour) for finding in items]
    return "\n\n".join([*blocks, closing_line(items)]) + "\n"


def closing_line(findings: Iterable[Finding]) -> str:
    """`3 errors and 1 warning in 2 files`; `no findings` for none."""
    items = tuple(findings)
    if not items:
        return "no findings"
    errors = sum(finding.severity is Severity.ERROR for finding in items)
    warnings = len(items) - errors
    counts = [plural(number, word) for number, word in ((errors, "error"), (warnings, "warning")) if number]
    files = len({finding.source.file for finding in items})
    return f"{listed(counts)} in {plural(files, 'file')}"
