"""The split of a run that its question is about.

In: the context of a run. Out: findings about `compare`: sets that there are not, or that share plants, and plants that
are divided in ways that cross each other without a word of which is meant.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import listed
from sitegen.core.records.arms import crossed, sets_of, shared_plants, splits_of
from sitegen.judge.context import Context, quoted


def compare_without_split(context: Context) -> Iterator[Finding]:
    """The sets that are compared exist, and none of them shares a plant with another."""
    setup = context.run.setup
    if setup.compare is None or setup.compare in splits_of(setup):
        return
    kind, others = setup.compare, [f"`compare: {other}`" for other in splits_of(setup)]
    if (sets := sets_of(setup).get(kind)) is not None:
        message = f"the {kind} share {quoted(shared_plants(sets))}, so that they cannot be compared"
        mend = "give each plant one group"
    else:
        message = f"the run does not have several {kind} to compare"
        mend = f"divide the plants by {kind}"
    mend += f", or write {listed(others, last='or')}" if others else ", or leave `compare` out"
    yield Finding(
        "compare-without-split", setup.at("compare"), message, mend, kind, "sets without a plant in common"
    )


def compare_crossed(context: Context) -> Iterator[Finding]:
    """A run with splits that cross each other says which of them it compares."""
    setup = context.run.setup
    kinds = () if setup.compare else crossed(setup)
    if not kinds:
        return
    message = f"{listed(list(kinds))} divide the plants in ways that cross each other; nothing says which is compared"
    mend = f"write {listed([f'`compare: {kind}`' for kind in kinds], last='or')}"
    yield Finding("compare-crossed", setup.at(_KEYS[kinds[0]]), message, mend, expected="compare")


_KEYS = {"groups": "groups", "tubs": "tubs", "varieties": "variety"}
