"""Findings one a line, as editors and search tools read them.

In: findings. Out: `file:line:col: error[code]: message (help)`.
"""

from __future__ import annotations

from collections.abc import Iterable

from sitegen.app.report.excerpt import printable
from sitegen.core.finding import Finding

__all__ = ["finding_line", "findings_lines"]


def finding_line(finding: Finding) -> str:
    """One finding on one line, without a line end."""
    source = finding.source
    mend = f" ({finding.mend})" if finding.mend else ""
    text = f"{finding.severity}[{finding.code}]: {finding.message}{mend}"
    return printable(f"{source.file}:{source.line}:{source.column}: {text}")


def findings_lines(findings: Iterable[Finding]) -> str:
    """All findings in the order given, each with its line end."""
    return "".join(f"{finding_line(finding)}\n" for finding in findings)
