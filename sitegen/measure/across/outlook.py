"""What is to come in a run that still grows, from earlier runs of its crop.

In: `RunArms` of the run and of those that began before it. Out: `Outlook`.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.facts.across import Outlook, RunArms


def outlook_of(run: RunArms, earlier: Sequence[RunArms]) -> Outlook:  # noqa: ARG001 - no window is computed yet
    """What is to come, by the last look at the run."""
    return Outlook(run.last_day)
