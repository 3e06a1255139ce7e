"""What differed between a run and the run of the same crop before it.

In: two outlines. Out: sentences that state both sides. Nothing is inferred from a difference.
"""

from __future__ import annotations

from sitegen.core.tongue import noted, tr
from sitegen.core.wording import Wording
from sitegen.render.outlines import Outline

__all__ = ["differences"]

_SETTINGS = {
    "variety": noted("Variety: {here} here, {there} there."),
    "system": noted("System: {here} here, {there} there."),
    "lamp": noted("Lamp at the start: {here} here, {there} there."),
    "hours": noted("Light a day at the start: {here} here, {there} there."),
    "plants": noted("Plants: {here} here, {there} there."),
}


def differences(here: Outline, there: Outline, wording: Wording) -> tuple[str, ...]:
    """What the heads of both logs say and say otherwise, the months of sowing first."""
    own, other = dict(here.setting), dict(there.setting)
    named = [name for name in _SETTINGS if name in own and name in other and own[name] != other[name]]
    said = [tr(_SETTINGS[name], here=own[name], there=other[name]) for name in named]
    if here.started.year > 1 and there.started.year > 1:
        months = wording.month(here.started), wording.month(there.started)
        said.insert(0, tr("Sown: {here} here, {there} there.", here=months[0], there=months[1]))
    return tuple(said)
