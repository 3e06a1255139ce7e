"""What is to come in a run, as its own page and the home page say it.

In: the context, which has the earlier runs of its crop. Out: sentences, for a run that still grows.
"""

from __future__ import annotations

from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.evidence.outlook_words import outlook_sentences
from sitegen.render.templates.context import Context


def outlook_of(context: Context, summary: RunSummary, *, brief: bool = False) -> tuple[str, ...]:
    """What is expected and when, by the last look at the run; nothing of one that has ended."""
    if not summary.running or summary.arms is None or not summary.arms.log:
        return ()
    earlier = context.others.for_outlook(summary.id, summary.arms.log)
    outlook = context.across.outlook(summary.arms, earlier)
    return outlook_sentences(outlook, summary.setup.crop.name, context.wording, brief=brief)
