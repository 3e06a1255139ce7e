"""Runs whose logs are copies of one another.

In: the checks of all runs. Out: findings: such a run adds nothing to what others say, and counts as one with them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sitegen.core.findings.finding import Finding
from sitegen.pipeline.engine.steps import Check

FEWEST_ENTRIES = (
    5  # shorter logs are alike by chance: sown alike, up on the same day; common practice, no source
)


def copied_logs(checks: Mapping[str, Check]) -> Iterator[Finding]:
    """A finding for each run whose log is that of one before it."""
    first: dict[str, str] = {}
    for run, check in checks.items():
        if check.log_at is None or not check.log or check.entries < FEWEST_ENTRIES:
            continue
        other = first.setdefault(check.log, run)
        if other != run:
            message = f"the log of `{run}` is the same as that of `{other}`: the two count as one run"
            mend = "write what happened in this run, or remove it"
            yield Finding("copied-log", check.log_at, message, mend, run, "a log of its own")
