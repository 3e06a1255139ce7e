"""Labels in words: names of stages, phases, kinds of work … in the language of the journal.

In: a `Label` of the facts. Out: text. Names by the author stand as they were written.
"""

from __future__ import annotations

from sitegen.core.facts.remark import Label, LabelKind
from sitegen.core.format.entry import LOG_KEYS
from sitegen.core.language.catalogue import tr, tr_c, tr_c_noop, tr_noop
from sitegen.core.reference.milestones import MILESTONES

# By kind, which is the context of its messages.
_MESSAGES: dict[LabelKind, dict[str, str]] = {
    "cost": {
        "electricity": tr_c_noop("cost", "electricity"),
        "feed": tr_c_noop("cost", "feed"),
        "water": tr_c_noop("cost", "water"),
    },
    "work": {key: row.work for key, row in LOG_KEYS.items() if row.work},
    "routine": {
        "feed": tr_c_noop("routine", "feed"),
        "light": tr_c_noop("routine", "light"),
        "water": tr_c_noop("routine", "water"),
        "pollinate": tr_c_noop("routine", "pollinate"),
        "prune": tr_c_noop("routine", "prune"),
        "treat": tr_c_noop("routine", "treat"),
        "clean": tr_c_noop("routine", "clean"),
    },
}
_SITE = {
    "not said": tr_noop("not said"),
    "own base temperature": tr_noop("of the journal, which names no source"),
}
_STAGES = {stage.name: stage for stage in MILESTONES}
# Stages whose phrase differs where it is of several plants.
_OF_SEVERAL = {
    "had opened its seed leaves": tr_noop("had opened their seed leaves"),
    "had its first true leaf": tr_noop("had their first true leaf"),
}


def label_words(label: Label) -> str:
    """A label in words."""
    words = _words(label)
    return f"{words}, {label.tub}" if label.tub else words


def _words(label: Label) -> str:
    name = label.name
    if label.kind in _MESSAGES:
        message = _MESSAGES[label.kind].get(name, name)
        return tr_c(label.kind, message)
    if label.kind == "reading":
        return tr(LOG_KEYS[name].word)
    if label.kind == "flush":
        return tr("flush {number}", number=name)
    if label.kind == "site":
        return tr(_SITE[name])
    if label.kind == "stage" and name in _STAGES:
        return tr(_STAGES[name].noun)
    # The words of phases and parts are messages of the tables that have them.
    return tr(name.replace("_", " ")) if label.kind else name


def stage_reached(name: str, *, several: bool = False) -> str:
    """A stage as something that a plant, or several, had done: `had flowered`."""
    if name not in _STAGES:
        return tr("had reached: {stage}", stage=name.replace("_", " "))
    words = _STAGES[name].words
    words = _OF_SEVERAL.get(words, words) if several else words
    return tr(words)
