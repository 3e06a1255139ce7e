"""Findings as data for other programs.

In: findings. Out: a JSON text with the number of its format; fields are only ever added to a format.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from sitegen.app.report.text import printable
from sitegen.core.findings.finding import Finding

FORMAT = 1


def _as_data(finding: Finding) -> dict[str, Any]:
    return {
        "code": finding.code,
        "severity": str(finding.severity),
        "message": finding.message,
        "mend": finding.mend,
        "found": finding.found,
        "expected": finding.expected,
        "source": finding.source._asdict(),
    }


def findings_json(findings: Iterable[Finding]) -> str:
    """All findings in the order given, with every field, and a line end."""
    data = {"format": FORMAT, "findings": [_as_data(finding) for finding in findings]}
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def finding_line(finding: Finding) -> str:
    """One finding on one line, without a line end."""
    source = finding.source
    mend = f" ({finding.mend})" if finding.mend else ""
    text = f"{finding.severity}[{finding.code}]: {finding.message}{mend}"
    return printable(f"{source.file}:{source.line}:{source.column}: {text}")


def findings_lines(findings: Iterable[Finding]) -> str:
    """All findings in the order given, each with its line end."""
    return "".join(f"{finding_line(finding)}\n" for finding in findings)
