"""Times in an episode, in minutes and seconds: `12:30`, with hours `1:02:30`.

In: a single value. Out: seconds, or None and a finding.
"""

from __future__ import annotations

import re

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.ingest.yaml.nodes import Scalar

_CLOCK = re.compile(r"(?:(?P<hours>\d{1,2}):(?=[0-5]\d:))?(?P<minutes>\d{1,3}):(?P<seconds>[0-5]\d)")


def parse_clock(scalar: Scalar, key: str, findings: Findings) -> int | None:
    """The seconds of `12:30` or `1:02:30`."""
    match = _CLOCK.fullmatch(scalar.text)
    if match is not None:
        return int(match["hours"] or 0) * 3600 + int(match["minutes"]) * 60 + int(match["seconds"])
    message = f"`{scalar.text}` is not a time; `{key}` wants minutes and seconds"
    mend: str | Mend = f"write minutes and seconds, such as `{key}: 12:30`, or with hours `{key}: 1:02:30`"
    near = re.fullmatch(r"(?:(\d{1,2})[.:;h ])?(\d{1,2})[.;m ](\d{2})s?", scalar.text)
    if near and (meant := ":".join(part for part in near.groups() if part)) and _CLOCK.fullmatch(meant):
        mend = scalar.written(meant, key=key, safe=False)  # 12.30 may also be twelve minutes and a third
    scalar.report(findings, "not-a-time", message, mend, "minutes and seconds such as 12:30")
    return None
