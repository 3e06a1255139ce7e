"""The arms of a run with their facts: name, harvest, plants that left, in what their tubs differ.

In: the facts of a run. Out: `ArmFacts`, one that gave more before one that gave less; none where nothing is compared.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.facts.figure import NO_FIGURE, Figure
from sitegen.core.facts.indices import PlantSetFacts
from sitegen.core.facts.tree import Facts
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import listed, tub_words
from sitegen.core.records.arms import Arm, arms_of
from sitegen.core.records.roster import Roster
from sitegen.core.records.setup import Compared, Tub
from sitegen.core.values.quantity import Quantity

_PATHS: dict[Compared, str] = {"groups": "by_group", "varieties": "by_variety", "tubs": "by_tub"}


@dataclass(frozen=True, slots=True)
class ArmFacts:
    """One arm: its plants as a group, variety or tub, what they gave, and those of them that were moved.

    `tubs` are those that its plants began in, `note` is in what they differ from those of the other arms.
    """

    arm: Arm
    of_set: PlantSetFacts
    total: Figure
    moved: tuple[str, ...]
    tubs: tuple[str, ...]
    note: str

    @property
    def name(self) -> str:
        """Its name inside a sentence: a tub is called one."""
        words = label_words(self.of_set.label)
        return tub_words(words) if self.arm.kind == "tubs" else words

    @property
    def givers(self) -> int:
        """The plants that its harvest is from: one that was moved counts where it gave something before."""
        stayed, each = len(self.arm.plants) - len(self.moved), self.of_set.picks.per_spot.value
        if not stayed or not isinstance(each, Quantity) or not isinstance(self.total.value, Quantity):
            return len(self.arm.plants)
        alike = math.isclose(each.low * stayed, self.total.value.low, abs_tol=1e-6)
        return stayed if alike else len(self.arm.plants)


def arm_facts_of(facts: Facts) -> tuple[ArmFacts, ...]:
    """The arms of a run."""
    return tuple(sorted(_arms(facts), key=_most_first))


def _arms(facts: Facts) -> Iterator[ArmFacts]:
    setup, found = facts.run.setup, arms_of(facts.run.setup)
    roster = Roster.of(setup, facts.run.rows)
    tubs = [_tubs(facts, arm) for arm in found]
    notes = _circumstances(facts, tubs)
    for arm, own, note in zip(found, tubs, notes, strict=True):
        path = _PATHS[arm.kind]
        of_set = next(each for each in getattr(facts.sets, path) if each.key == arm.key)
        rows = getattr(facts.harvest, path)
        total = next((row.figure for row in rows if row.key == arm.key), NO_FIGURE)
        leaves = arm.kind != "varieties"
        moved = tuple(plant for plant in arm.plants if leaves and roster.moved_on(plant))
        yield ArmFacts(arm, of_set, total, moved, tuple(tub.id for tub in own), note)


def _most_first(arm: ArmFacts) -> float:
    value = arm.total.value
    return -value.low if isinstance(value, Quantity) else 0.0


def _tubs(facts: Facts, arm: Arm) -> tuple[Tub, ...]:
    began = {plant.tub for plant in facts.run.setup.plants if plant.id in arm.plants}
    return tuple(tub for tub in facts.run.setup.tubs if tub.id in began)


def _circumstances(facts: Facts, arms: Sequence[Sequence[Tub]]) -> list[str]:
    """The system and the lamp of each arm, where the arms differ in it."""
    systems = [tuple(dict.fromkeys(tub.system.name for tub in tubs)) for tubs in arms]
    lamps = [_lamps(facts, tubs) for tubs in arms]
    kinds = [each for each in (systems, lamps) if len(set(each)) > 1]
    return [", ".join(listed(each[i]) for each in kinds if each[i]) for i in range(len(arms))]


def _lamps(facts: Facts, tubs: Sequence[Tub]) -> tuple[str, ...]:
    """The lamps over some tubs, by the set-up and by the log."""
    ids = {tub.id for tub in tubs}
    uses = [tub.light for tub in tubs if tub.light]
    uses += [row.use for row in facts.run.rows.lights if row.tub in ids]
    return tuple(dict.fromkeys(use.lamp.name for use in uses if use.lamp))
