"""A crop that neither its variety nor its milestones fit.

In: the context of a run, its findings. Out: one finding at `crop`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import listed
from sitegen.judge.causes.start import of_code
from sitegen.judge.context import Context, quoted


def crop_unlike_log(context: Context, findings: Sequence[Finding]) -> Iterator[Finding]:
    """A crop of another kind than the milestones recorded, or whose varieties the one named is none of."""
    crop = context.run.setup.crop
    varieties = list(dict.fromkeys(each.found for each in of_code(findings, "unknown-variety")))
    # Milestones of another kind of crop, not words that are none at all.
    stages = [
        each.found for each in of_code(findings, "unknown-milestone") if f" of {crop.kind} " in each.message
    ]
    stages = list(dict.fromkeys(stages))
    if len(varieties) + len(stages) < 2 or not stages:
        return
    parts = [f"the variety {quoted(varieties)}"] if varieties else []
    parts.append(f"{'the milestone' if len(stages) == 1 else 'the milestones'} {quoted(stages)}")
    message = f"`{crop.id}` is a {crop.kind} crop, and has not {listed(parts, 'or')}"
    mend = "check `crop`, or its `kind` in crops.yaml"
    yield Finding("crop-unlike-log", context.run.setup.at("crop"), message, mend, crop.id)
