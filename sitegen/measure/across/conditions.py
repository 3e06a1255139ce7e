"""The circumstances of a run: what else could explain a gap between two runs.

In: the facts of a run. Out: `Condition`s, one for each circumstance that its records tell.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.facts.across import Condition
from sitegen.core.facts.tree import Facts
from sitegen.core.values.quantity import counted


def conditions_of(facts: Facts) -> tuple[Condition, ...]:
    """Every circumstance that is known of a run."""
    return tuple(each for each in _conditions(facts) if each.value is not None or each.names)


def _conditions(facts: Facts) -> Iterator[Condition]:
    setup = facts.run.setup
    uses = [tub.light for tub in setup.tubs if tub.light]
    yield Condition("variety", names=tuple(setup.variety_name(variety) for variety in setup.variety_ids))
    yield Condition("system", names=tuple(dict.fromkeys(tub.system.name for tub in setup.tubs)))
    yield Condition("lamp", names=tuple(dict.fromkeys(use.lamp.name for use in uses if use.lamp)))
    yield Condition("plants", counted(len(setup.plants)))
