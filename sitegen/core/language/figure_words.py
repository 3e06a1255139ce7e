"""Labels and remarks of figures in words.

In: `Label`s and `Remark`s of the facts, which are data. Out: text in the language of the journal, numbers with its
decimal sign. A name that the author gave stands as it was written.
"""

from __future__ import annotations

from collections.abc import Iterable

from sitegen.core.facts.figure import Figure, Label, LabelKind, Remark, RemarkValue
from sitegen.core.format.entry import LOG_KEYS
from sitegen.core.language.catalogue import tr, tr_c, tr_c_noop, tr_n, tr_noop
from sitegen.core.language.remark_messages import COUNTED, MESSAGES
from sitegen.core.language.text import day_words, in_tub_words, in_words, listed, tub_words
from sitegen.core.language.wording import localized_number
from sitegen.core.reference.milestones import MILESTONES
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity

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
    "not said": tr_noop("the rest"),
    "together": tr_noop("not split between these"),
    "own base temperature": tr_noop("from the journal, without a source"),
    "first_pick": tr_noop("first pick"),
    "end": tr_noop("end of the run"),
    "total": tr_noop("whole harvest"),
    "per_spot": tr_noop("harvest per spot"),
}
_STAGES = {stage.name: stage for stage in MILESTONES}
# Stages whose phrase differs where it is of several plants.
_OF_SEVERAL = {
    "had opened its seed leaves": tr_noop("had opened their seed leaves"),
    "had its first true leaf": tr_noop("had their first true leaf"),
}


# The same of several plants that are counted: in some languages the verb differs.
_OF_COUNTED = {
    "had opened its seed leaves": tr_c_noop("several plants", "had opened their seed leaves"),
    "had its first true leaf": tr_c_noop("several plants", "had their first true leaf"),
    "had formed a rosette": tr_c_noop("several plants", "had formed a rosette"),
    "had a full rosette": tr_c_noop("several plants", "had a full rosette"),
    "had made side shoots": tr_c_noop("several plants", "had made side shoots"),
    "had begun a head": tr_c_noop("several plants", "had begun a head"),
    "had a full head": tr_c_noop("several plants", "had a full head"),
    "had a head coming loose": tr_c_noop("several plants", "had a head coming loose"),
    "had a root filling out": tr_c_noop("several plants", "had a root filling out"),
    "had a full root": tr_c_noop("several plants", "had a full root"),
    "had bolted": tr_c_noop("several plants", "had bolted"),
    "had a flower bud": tr_c_noop("several plants", "had a flower bud"),
    "had flowered": tr_c_noop("several plants", "had flowered"),
    "had set a fruit": tr_c_noop("several plants", "had set a fruit"),
    "had set a pod": tr_c_noop("several plants", "had set a pod"),
    "had full pods": tr_c_noop("several plants", "had full pods"),
    "had a fruit turning colour": tr_c_noop("several plants", "had a fruit turning colour"),
    "had ripe fruit": tr_c_noop("several plants", "had ripe fruit"),
}


def label_words(label: Label) -> str:
    """A label in words."""
    words = _words(label)
    return f"{words}, {tub_words(label.tub)}" if label.tub else words


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


def stage_reached_by(name: str) -> str:
    """A stage as something that a number of plants had done: `two of the six had flowered`."""
    if name not in _STAGES:
        return stage_reached(name, several=True)
    return tr_c("several plants", _OF_COUNTED[_STAGES[name].words])


# Of a number that stands in the place of this name.
_FORMATS = {"temperature": ".1f", "hours": ".1f", "percent": ".1f"}


def remarks_words(remarks: Iterable[Remark]) -> str:
    """Remarks in one line."""
    return "; ".join(map(_remark_words, remarks))


def beside_words(figure: Figure) -> str:
    """The remarks of a figure that stand beside its value: one that says "not weighed" already has only the number."""
    value = figure.value
    known = not isinstance(value, Quantity) or value.known
    return "; ".join(_remark_words(each) if known else _counted_words(each) for each in figure.remarks)


def _counted_words(remark: Remark) -> str:
    if remark.code not in COUNTED:
        return _remark_words(remark)
    n = dict(remark.values)["n"]
    assert isinstance(n, int)
    return tr_n(*COUNTED[remark.code], n, number=in_words(n))


def _remark_words(remark: Remark) -> str:
    message = MESSAGES[remark.code]
    places = {name: _value_words(name, value) for name, value in remark.values}
    if isinstance(message, str):
        return tr(message, **places)
    n = dict(remark.values)["n"]
    assert isinstance(n, int)
    return tr_n(*message, n, **places, number=in_words(n))


def _value_words(place: str, value: RemarkValue | Label) -> str:
    if isinstance(value, float):
        return localized_number(f"{value:{_FORMATS.get(place, 'g')}}")
    if isinstance(value, Day):
        return day_words(value)
    if isinstance(value, Label):
        return label_words(value)
    if isinstance(value, Quantity):
        return _days_words(value)
    if isinstance(value, tuple):
        words = [_value_words(place, each) for each in value]
        return "; ".join(words) if place == "remark" else listed(words)
    said = tr(str(MESSAGES[str(value)])) if place == "remark" else str(value)
    return in_tub_words(said) if place == "tub" else said


def _days_words(days: Quantity) -> str:
    """`60 days`, `55–60 days`."""
    span = f"{days.low:g}" if days.single else f"{days.low:g}–{days.high:g}"
    return tr("about {span} days", span=span) if days.about else tr("{span} days", span=span)
