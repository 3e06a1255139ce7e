"""Runs beside the nearest earlier ones of their crop: what differed besides the variety.

In: the context. Out: `Beside`s.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from sitegen.render.pages.summary import EarlierRun, RunSummary, earlier_run
from sitegen.render.story.arms.differences import differences
from sitegen.render.templates.context import Context


@dataclass(frozen=True, slots=True)
class Beside:
    """A run beside an earlier one; no difference where both are alike in all that is recorded."""

    run: RunSummary
    earlier: EarlierRun
    differences: tuple[str, ...]


def beside_earlier(context: Context, summary: RunSummary) -> tuple[Beside, ...]:
    """A run beside the nearest earlier ones of its crop, the latest first."""
    earlier: Sequence[EarlierRun] = context.others.nearest(summary.id)
    return tuple(_beside(context, summary, each) for each in reversed(earlier) if summary.arms)


def one_after_another(context: Context, summaries: Sequence[RunSummary]) -> tuple[Beside, ...]:
    """Each run of a crop, latest first, beside the one before it."""
    pairs = ((run, before) for run, before in pairwise(summaries) if run.arms and before.arms)
    return tuple(_beside(context, run, earlier_run(before)) for run, before in pairs)


def _beside(context: Context, run: RunSummary, earlier: EarlierRun) -> Beside:
    assert run.arms is not None  # asked for by both callers
    found = context.across.differed(run.arms.conditions, earlier.conditions)
    return Beside(run, earlier, differences(found, context.wording))
