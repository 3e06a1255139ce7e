"""The answer of a run in one sentence, as lists and links show it.

In: the set-up of a run, what it gave in a sentence, the run as others are compared with it. Out: a `Sentence`: the
author's own answer; without one what each arm gave, where arms are compared and each was weighed; else what the run gave.
"""

from __future__ import annotations

from sitegen.core.facts.across import ArmSummary, RunArms
from sitegen.core.facts.figure import Figure
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import tub_words
from sitegen.core.language.wording import opening
from sitegen.core.records.setup import Setup
from sitegen.core.values.quantity import Quantity
from sitegen.render.story.run_sentences import Sentence, filled_sentence

MOST_ARMS = 3  # more make a list, which the page of the run has


def short_answer(setup: Setup, given: Sentence, arms: RunArms | None) -> Sentence:
    """The answer of a run; `given` is what it gave as a whole."""
    said = setup.answer.result.strip() if setup.answer else ""
    if said:
        return Sentence((said if said.endswith((".", "!", "?", "…")) else f"{said}.",))
    return _by_arm(arms) or given


def _by_arm(arms: RunArms | None) -> Sentence | None:
    """What each arm gave, and since when while it still grows; nothing where the weight of one is not known."""
    rows = [arm for arm in arms.of_role("row") if arm.kind != "run"] if arms else []
    if not 1 < len(rows) <= MOST_ARMS or not all(map(_weighed, rows)):
        return None
    parts: list[str | Figure] = []
    for arm in rows:
        parts += [*([" "] if parts else []), *_told(arm, running=arms is not None and arms.running).parts]
    return Sentence(tuple(parts))


def _told(arm: ArmSummary, *, running: bool) -> Sentence:
    name, figures = opening(_name(arm)), arm.figures
    if running and figures.first_pick.recorded:
        message = tr("{arm}: picked since {day}, {harvest} so far.")
        return filled_sentence(message, arm=name, day=figures.first_pick, harvest=figures.total)
    return filled_sentence(tr("{arm}: {harvest}."), arm=name, harvest=figures.total)


def _weighed(arm: ArmSummary) -> bool:
    value = arm.figures.total.value
    return isinstance(value, Quantity) and value.known and value.low > 0


def _name(arm: ArmSummary) -> str:
    return tub_words(arm.key) if arm.kind == "tubs" else label_words(arm.label)
