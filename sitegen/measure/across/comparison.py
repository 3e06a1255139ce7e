"""Several runs compared: the functions that pages call.

In: `RunArms`. Out: `Comparison`, what differed, the outlook of a run.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sitegen.core.facts.across import Across, Comparison, Differed, Outlook, RunArms
from sitegen.measure.across.differences import differed
from sitegen.measure.across.outlook import outlook_of


class _Functions:
    """The functions over several runs; `sitegen.core.facts.across.Across`."""

    def compare(self, runs: Sequence[RunArms]) -> Comparison:
        """Compare the runs of one crop."""
        return compare(runs)

    def differed(self, run: RunArms, earlier: RunArms) -> tuple[Differed, ...]:
        """Everything besides the variety in which a run differed from an earlier one of its crop."""
        return differed(run, earlier)

    def outlook(self, run: RunArms, earlier: Sequence[RunArms]) -> Outlook:
        """What is to come in a run that still grows, from earlier runs of its crop."""
        return outlook_of(run, earlier)


ACROSS: Across = _Functions()


def compare(runs: Sequence[RunArms]) -> Comparison:
    """Compare the runs of one crop, oldest first; those without a date stand first."""
    return Comparison(tuple(sorted(runs, key=lambda run: (run.began or date.min, run.run))))
