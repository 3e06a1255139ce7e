"""What differed between two runs, in words.

In: what `measure.across` found. Out: one short sentence for each circumstance, the one that both runs recorded first;
what only one of them recorded is named at the end, since nothing can be said of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sitegen.core.facts.across import Condition, Differed
from sitegen.core.facts.figure import Per, Rate
from sitegen.core.language.catalogue import tr, tr_c, tr_c_noop, tr_n
from sitegen.core.language.text import listed
from sitegen.core.language.wording import Wording, opening

_NAMES = {
    "variety": tr_c_noop("a circumstance", "variety"),
    "system": tr_c_noop("a circumstance", "system"),
    "month": tr_c_noop("a circumstance", "month of sowing"),
    "lamp": tr_c_noop("a circumstance", "lamp at the start"),
    "hours": tr_c_noop("a circumstance", "lamp hours a day"),
    "ppfd": tr_c_noop("a circumstance", "light at the plants"),
    "temperature": tr_c_noop("a circumstance", "air temperature"),
    "feed": tr_c_noop("a circumstance", "feed"),
    "ec": tr_c_noop("a circumstance", "EC"),
    "density": tr_c_noop("a circumstance", "plants per area"),
    "plants": tr_c_noop("a circumstance", "plants"),
    "seed_age": tr_c_noop("a circumstance", "age of the seed"),
}


def differences(found: Sequence[Differed], wording: Wording) -> tuple[str, ...]:
    """`System: Slate tub, not Moss tub.`: the first run's circumstance, not the other's."""
    said = [_sentence(each, wording) for each in found if each.here and each.there]
    known = tuple(each for each in said if each)
    open_ = [_name(each.code) for each in found if not (each.here and each.there)]
    if not open_:
        return known
    return (*known, tr("Not recorded for both runs: {things}.", things=listed(open_)))


def _sentence(each: Differed, wording: Wording) -> str:
    """One circumstance; nothing where the two are said alike."""
    here, there = _value(each.here, wording), _value(each.there, wording)
    if here == there:
        return ""
    return tr(
        "{what}: {here} this time, {there} in the other run.",
        what=opening(_name(each.code)),
        here=here,
        there=there,
    )


def _name(code: str) -> str:
    return tr_c("a circumstance", _NAMES[code])


def _value(condition: Condition | None, wording: Wording) -> str:
    if condition is None:
        return ""
    value = condition.value
    if value is None:
        return listed(condition.names)
    if condition.code == "month":
        return wording.month_alone(date(2000, int(value.low), 1))
    if condition.code == "density":
        return wording.say(Rate(value, Per.SQUARE_METRE))
    if condition.code == "seed_age":
        years = int(value.low)
        return tr_n("{n} year", "{n} years", years) if years else tr("less than a year")
    return wording.say(value)
