"""Every figure of the harvest contains what there was, however vaguely the log was written."""

from __future__ import annotations

from statistics import fmean, stdev

from hypothesis import given, settings

from sitegen.core.facts.figure import Figure, Rate, Several
from sitegen.core.facts.tree import Facts
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.measure import measure
from tests.measure.harvest.known_harvest import GROUPS, PLANTS, KnownHarvest, known_harvests
from tests.measure.test_random_runs import breakdowns, weighed

FEWER = settings(max_examples=settings().max_examples * 2 // 5)


def holds(figure: Figure, truth: float) -> bool:
    """Whether a figure may have a value; one that is not given says nothing."""
    value = figure.value.amount if isinstance(figure.value, Rate) else figure.value
    if value is None:
        return True
    assert isinstance(value, Quantity), figure
    return value.low <= truth + 1e-6 and (value.high is None or truth <= value.high + 1e-6)


@FEWER
@given(known_harvests())
def test_totals(known: KnownHarvest) -> None:
    """The total, the yield of a spot and of a plant and day."""
    harvest, truth = measure(known.run).harvest, known.weight(lambda _: True)
    assert holds(harvest.total, truth), (harvest.total, truth)
    assert holds(harvest.per_spot, truth / len(PLANTS))
    assert holds(harvest.per.plant_day, truth / known.plant_days())


@FEWER
@given(known_harvests())
def test_plants_and_their_sets(known: KnownHarvest) -> None:
    """What each plant, group, variety and tub gave, a moved plant until its move; what was not kept by plant."""
    harvest = measure(known.run).harvest
    rows = [(row.key, row.figure, known.of((row.key,))) for row in harvest.by_plant]
    sets = {"amber": PLANTS[:3], "rust": PLANTS[3:]}
    rows += [(r.key, r.figure, known.of(sets[r.key])) for r in harvest.by_variety if r.key in sets]
    sets = {**dict(GROUPS), "left": PLANTS[:3], "right": PLANTS[3:]}
    both = (*harvest.by_group, *harvest.by_tub)
    rows += [(r.key, r.figure, known.of(sets[r.key], until_move=True)) for r in both if r.key in sets]
    for key, figure, truth in rows:
        assert holds(figure, truth), (key, figure, truth)


@FEWER
@given(known_harvests())
def test_parts(known: KnownHarvest) -> None:
    """What was said to be of each part of the plant."""
    for row in measure(known.run).harvest.by_part:
        if row.key in ("leaf", "root"):
            truth = known.weight(lambda one, word=row.key: known.words.get(one.record) == word)  # type: ignore[misc]
            assert holds(row.figure, truth), (row, truth)


@FEWER
@given(known_harvests())
def test_days(known: KnownHarvest) -> None:
    """The first and the last day of a pick."""
    harvest = measure(known.run).harvest
    for figure, truth in ((harvest.first_pick, min), (harvest.last_pick, max)):
        if figure.recorded:
            assert isinstance(figure.value, Day)
            assert figure.value.first <= truth(known.days) <= figure.value.last, figure


def _sets(facts: Facts) -> list[tuple[str, tuple[str, ...], bool]]:
    """The path of each set, its plants, and whether they count until a move."""
    found = facts.sets
    return [
        *((f"by_group.{s.key}", s.plants, True) for s in found.by_group),
        *((f"by_variety.{s.key}", s.plants, False) for s in found.by_variety),
        *((f"by_tub.{s.key}", s.plants, True) for s in found.by_tub),
    ]


@FEWER
@given(known_harvests())
def test_statistics(known: KnownHarvest) -> None:
    """Mean, range and deviation over the plants of a set that were not moved, and the yield of a plant and day."""
    facts = measure(known.run)
    everything = [*facts.sets.by_group, *facts.sets.by_variety, *facts.sets.by_tub]
    for (path, plants, until_move), each in zip(_sets(facts), everything, strict=True):
        stayed = [p for p in plants if not (until_move and p in known.moved)]
        weights = [known.of((plant,)) for plant in stayed]
        number = each.harvest.number.value
        whole = isinstance(number, Quantity) and number.low == len(stayed)
        if each.harvest.mean.recorded and whole:
            assert holds(each.harvest.mean, fmean(weights)), (path, each.harvest.mean, weights)
            if each.harvest.deviation.recorded and not each.harvest.deviation.remarks:
                assert holds(each.harvest.deviation, stdev(weights)), (path, weights)
        spread = each.harvest.range.value
        if isinstance(spread, Quantity) and whole and not each.harvest.range.remarks and weights:
            assert spread.low <= min(weights), (path, spread, weights)
            assert spread.high is None or max(weights) <= spread.high, (path, spread, weights)
        if isinstance(spread, Several):
            assert len(spread.values) == 2
        days = sum(
            min(known.lost.get(p, 121), known.moved.get(p, 121) if until_move else 121) for p in plants
        )
        truth = known.of(plants, until_move=until_move) / days
        assert holds(each.plant_day, truth), (path, each.plant_day, truth)


@FEWER
@given(known_harvests())
def test_rows_and_their_remainder(known: KnownHarvest) -> None:
    """For each total in its interval the rows of every breakdown can add up to it, whatever the days."""
    harvest = measure(known.run).harvest
    if not harvest.total.recorded:
        return
    assert isinstance(harvest.total.value, Quantity)
    whole = harvest.total.value
    for name, rows in breakdowns(harvest):
        found = [weighed(figure) for figure in rows]
        highs = [q.high for q in found if q.high is not None]
        assert sum(q.low for q in found) <= whole.low + 1e-6, name
        assert len(highs) < len(found) or (whole.high is not None and sum(highs) >= whole.high - 1e-6), name
