"""Single values of a set-up or a log from which several findings follow.

In: the context of a run, its findings so far. Out: a finding at each such value, which holds the others back when they
are told (`core.findings.causes`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date

from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.core.records.rows import Run
from sitegen.judge.causes import crop, days, plants, start
from sitegen.judge.context import Context

Detector = Callable[[Context, Sequence[Finding]], Iterator[Finding]]

DETECTORS: tuple[Detector, ...] = (
    start.undated,
    start.both_disagree,
    start.too_late,
    start.a_year_early,
    days.sheet_unlike_run,
    days.end_before_records,
    plants.plants_too_few,
    plants.name_unlike_log,
    plants.sown_after_records,
    plants.lost_before_records,
    plants.seeds_unlike_counts,
    crop.crop_unlike_log,
)


def judge_causes(run: Run, findings: Sequence[Finding], today: date) -> tuple[Finding, ...]:
    """The values of a run that explain several of its findings."""
    if not findings and not start.a_year_before_sowing(run):
        return ()
    context = Context.of(run, today)
    return sorted_findings(cause for detect in DETECTORS for cause in detect(context, findings))
