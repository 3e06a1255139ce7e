"""Several runs compared: the functions that pages call.

In: `RunArms`. Out: `Comparison`, what differed, the outlook of a run.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from sitegen.core.facts.across import (
    MORE_IS_BETTER,
    Across,
    Comparison,
    Condition,
    Contrast,
    Differed,
    Factor,
    Measure,
    Outlook,
    Pair,
    RunArms,
    Unit,
)
from sitegen.measure.across.arm_values import (
    UnitArm,
    arms_of_units,
    known_by_unit,
    levels_of,
    pairs_of,
    value_of,
)
from sitegen.measure.across.differences import differed
from sitegen.measure.across.evidence import allowed_for_others, evidence_of, order_of
from sitegen.measure.across.outlook import outlook_of
from sitegen.measure.across.units import oldest_first, units_of

LEADING: Measure = "per_spot"  # by which the best arm is named
_FACTORS: tuple[Factor, ...] = ("variety", "system")
_Levels = tuple[str, str]


class _Functions:
    """The functions over several runs; `sitegen.core.facts.across.Across`."""

    def compare(self, runs: Sequence[RunArms]) -> Comparison:
        """Compare the runs of one crop."""
        return compare(runs)

    def differed(self, here: Sequence[Condition], there: Sequence[Condition]) -> tuple[Differed, ...]:
        """Everything besides the variety in which a run differed from an earlier one of its crop."""
        return differed(here, there)

    def outlook(self, run: RunArms, earlier: Sequence[RunArms]) -> Outlook:
        """What is to come in a run that still grows, from earlier runs of its crop."""
        return outlook_of(run, earlier)


ACROSS: Across = _Functions()


def compare(runs: Sequence[RunArms]) -> Comparison:
    """Compare the runs of one crop, oldest first; those without a date stand first."""
    ordered = oldest_first(runs)
    units = units_of(ordered)
    counted = {name for unit in units for name in unit.runs}
    logged = [run for run in ordered if run.log and run.arms]
    return Comparison(
        ordered,
        units,
        tuple(contrast for factor in _FACTORS for contrast in _contrasts(logged, units, factor)),
        tuple(_best(logged)),
        tuple(run.run for run in logged if run.run not in counted),
    )


def _contrasts(runs: Sequence[RunArms], units: Sequence[Unit], factor: Factor) -> Iterator[Contrast]:
    """Each pair of varieties, or systems, by every measure that says anything of them; pair by pair."""
    by_id = {run.run: run for run in runs}
    levels = list(combinations(levels_of(runs, factor), 2))
    arms = arms_of_units(units, by_id, factor)
    found = {measure: dict(_of_measure(arms, factor, levels, measure)) for measure in MORE_IS_BETTER}
    for pair in levels:
        for measure in MORE_IS_BETTER:
            contrast = found[measure].get(pair)
            if contrast and not (measure == "total" and _in_other_yields(pair, found)):
                yield contrast


def _in_other_yields(levels: _Levels, found: Mapping[Measure, Mapping[_Levels, Contrast]]) -> bool:
    """Whether the yield of a spot or of the ground is known: a total says less, since numbers of plants differ."""
    return levels in found["per_spot"] or levels in found["square_metre"]


def _of_measure(
    arms: Sequence[UnitArm], factor: Factor, levels: Sequence[_Levels], measure: Measure
) -> Iterator[tuple[_Levels, Contrast]]:
    values = known_by_unit(arms, measure)
    pairs: dict[_Levels, tuple[Pair, ...]] = {pair: pairs_of(values, pair) for pair in levels}
    known = {pair: found for pair in levels if (found := evidence_of(pairs[pair])).row != "nothing"}
    for pair, evidence in allowed_for_others(known).items():
        yield pair, Contrast(factor, *pair, measure, pairs[pair], evidence)


def _best(runs: Sequence[RunArms]) -> Iterator[tuple[Measure, str, str]]:
    """The arm that certainly gave more than every other; none where values overlap."""
    values = [
        (run.run, arm.key, value)
        for run in runs
        for arm in run.of_role("row")
        if (value := value_of(run, arm, LEADING)) is not None
    ]
    if len(values) < 2:
        return
    best = max(values, key=lambda each: each[2].low)
    if all(order_of(other[2], best[2]) == 1 for other in values if other is not best):
        yield LEADING, best[0], best[1]
