"""What each unit says of two varieties or two systems, by one measure.

In: `RunArms`, units, a measure. Out: `Pair`s. A unit of several runs gives the range of what they gave: which of them is
right is not known. Runs that still grow have no yield yet. A first pick or stage that a run did not have by its last look
came later, if ever: it is bounded below and never dropped.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sitegen.core.facts.across import ArmSummary, Factor, Measure, Pair, RunArms, Unit
from sitegen.core.facts.figure import Rate
from sitegen.core.reference.milestones import stage_that_matters
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.across.evidence import hull

YIELDS: tuple[Measure, ...] = ("per_spot", "square_metre", "total")

# What the plants of an arm had in common besides the factor, and its value.
_Known = tuple[frozenset[str], Quantity]
ByUnit = Mapping[str, Mapping[str, Sequence[_Known]]]


def value_of(run: RunArms, arm: ArmSummary, measure: Measure) -> Quantity | None:
    """The value of an arm by a measure; None where it has none, or not yet."""
    if run.running and measure in YIELDS:
        return None
    value = getattr(arm.figures, measure).value
    if isinstance(value, Rate):
        return value.amount
    if isinstance(value, Quantity):
        return value
    if isinstance(value, Day):
        return Quantity(value.first, value.last, Dimension.DAYS, about=value.about, step=1)
    return _not_yet(run, arm, measure)


def _not_yet(run: RunArms, arm: ArmSummary, measure: Measure) -> Quantity | None:
    """A lower bound [days] of what had not come when last looked for; None where nobody looked."""
    if arm.kind != "run":
        return None
    if measure == "first_pick" and not run.running:
        return _later_than(run.last_day)
    stage = next((stage for stage in arm.stages if stage.name == stage_that_matters(run.kind)), None)
    if measure == "stage" and stage and stage.first is None and stage.not_yet:
        return _later_than(stage.not_yet.first)
    return None


def _later_than(day: int) -> Quantity:
    return Quantity(day + 1, None, Dimension.DAYS, open=1, step=1)


@dataclass(frozen=True, slots=True)
class UnitArm:
    """An arm that stands for one variety, or one system, and what its plants had in common besides."""

    unit: str
    level: str
    around: frozenset[str]
    run: RunArms
    arm: ArmSummary


def arms_of_units(units: Iterable[Unit], runs: Mapping[str, RunArms], factor: Factor) -> tuple[UnitArm, ...]:
    """The arms of independent units that stand for one variety, or one system; unit by unit."""
    return tuple(
        UnitArm(unit.key, level, frozenset(arm.systems if factor == "variety" else arm.varieties), run, arm)
        for unit in units
        for run in (runs[name] for name in unit.runs)
        for level, arm in _arms(run, factor)
    )


def levels_of(runs: Iterable[RunArms], factor: Factor) -> tuple[str, ...]:
    """The varieties, or systems, that stood for themselves in any run, in the order in which runs had them."""
    return tuple(dict.fromkeys(level for run in runs for level, _ in _arms(run, factor)))


def _arms(run: RunArms, factor: Factor) -> Iterator[tuple[str, ArmSummary]]:
    for arm in run.arms:
        named = arm.varieties if factor == "variety" else arm.systems
        if len(named) == 1 and arm.has(factor):
            yield named[0], arm


def known_by_unit(arms: Iterable[UnitArm], measure: Measure) -> ByUnit:
    """By unit and level, what each arm gave, with what its plants had in common besides."""
    found: dict[str, dict[str, list[_Known]]] = {}
    for each in arms:
        value = value_of(each.run, each.arm, measure)
        if value is not None:
            found.setdefault(each.unit, {}).setdefault(each.level, []).append((each.around, value))
    return found


def pairs_of(known: ByUnit, levels: tuple[str, str]) -> tuple[Pair, ...]:
    """What each unit says of two levels. Two varieties that it had in different systems are no pair: it is two halves."""
    first, second = levels
    return tuple(
        pair
        for unit, values in known.items()
        if first in values or second in values
        for pair in _of_unit(unit, values.get(first, ()), values.get(second, ()))
    )


def _of_unit(unit: str, first: Sequence[_Known], second: Sequence[_Known]) -> Iterator[Pair]:
    alike = _alike(first, second) if first and second else None
    if alike:
        yield Pair(unit, _hull(first, alike), _hull(second, alike))
        return
    if first:
        yield Pair(unit, _hull(first), None)
    if second:
        yield Pair(unit, None, _hull(second))


def _alike(first: Sequence[_Known], second: Sequence[_Known]) -> set[frozenset[str]]:
    """What plants of both had in common besides."""
    return {around for around, _ in first} & {around for around, _ in second}


def _hull(known: Sequence[_Known], among: set[frozenset[str]] | None = None) -> Quantity:
    """The narrowest quantity that holds all of them."""
    if len(known) == 1:
        return known[0][1]
    return hull(value for around, value in known if among is None or around in among)
