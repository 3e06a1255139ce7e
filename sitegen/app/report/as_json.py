"""Findings as data for other programs.

In: findings. Out: a JSON text with the number of its format; fields are only ever added to a format.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from sitegen.core.finding import Finding

__all__ = ["FORMAT", "findings_json"]

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
