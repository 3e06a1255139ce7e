"""What was picked for each one of what went in.

In: the harvest, water and light of a run. Out: `HarvestPer`. Never divides by what was not recorded; a ratio of
two intervals is one itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from sitegen.core.facts import Figure, Named, Rate, Value
from sitegen.core.figure import Per, Several
from sitegen.core.finding import Source
from sitegen.core.quantity import Quantity, carry, exactly, total
from sitegen.core.roster import Roster
from sitegen.core.rows import Deed, Event, Run
from sitegen.core.text import listed
from sitegen.core.tongue import tr, tr_n
from sitegen.core.units import Dimension
from sitegen.measure.between_stages import FEWEST_FOR_A_MEAN
from sitegen.measure.looks import sowing_day
from sitegen.measure.working import coarse, figure, remarks

__all__ = ["area_of", "mean_weight", "means_by_scope", "ratio", "stems_of", "weight_per"]

CM2_A_M2 = 10_000.0


def weight_per(picked: float, amount: float) -> float:
    """Yield for each unit of what went in.

    The total picked over plants, stems, ground, water, electricity, light or days.

    Parameters
    ----------
    picked
        Total picked [g].
    amount
        What it is held against, more than 0 [count, m², L, kWh, mol, days or weeks].

    Returns
    -------
    float
        Yield [g a unit].

    Notes
    -----
    ::

        yield = total / amount

    Ground is the footprint of the tubs. Water is all that was poured in, what evaporated included. Light is the sum
    over the run times the footprint. Weights are as picked: fresh, and trimmed as the log says. Weeks of picking run
    from the first pick to the last.

    """
    return picked / amount


def mean_weight(weights: Sequence[float]) -> float:
    """Mean yield of a plant.

    Over the plants of a group, variety or tub of which each was picked by itself, those that gave nothing included.

    Parameters
    ----------
    weights
        What each plant gave [g].

    Returns
    -------
    float
        Mean [g a plant]; fewer than three plants are shown one by one instead.

    Notes
    -----
    ::

        mean = Σ weight / number of plants

    A plant that changed its tub is left out of the mean of tubs.

    """
    return sum(weights) / len(weights)


def ratio(picked: Quantity, amount: Quantity, per: Per) -> Rate | None:
    """A yield carried through both intervals; None where nothing can be divided by."""
    if amount.low <= 0 and (amount.high is None or amount.high <= 0):
        return None
    step = coarse(picked.step / amount.middle, picked.low / amount.middle) if amount.middle else 0.0
    made = carry(weight_per, up=[picked], down=[amount], dimension=Dimension.MASS, step=step)
    return Rate(made, per) if made.known else None


def _number(number: float) -> Quantity:
    return exactly(number, Dimension.COUNT)


def _thinned(run: Run, plant: str) -> Event | None:
    """The last thinning of a spot since its own sowing."""
    events = [
        e
        for e in run.rows.of(Deed.THIN)
        if e.which and plant in e.which.ids and e.day.last >= sowing_day(run, plant)
    ]
    return max(events, key=lambda event: (event.day, event.source), default=None)


def stems_of(run: Run) -> tuple[Quantity, tuple[Source, ...]] | None:
    """Stems left at thinning; None unless a spot was left more than one.

    `thin_to: 2` leaves two at most: each spot counts from one stem to as many as it was thinned to.
    """
    thinned = [_thinned(run, plant) for plant in run.setup.plant_ids]
    left = [round(e.amount.low) if e and e.amount else 1 for e in thinned]
    if not any(number > 1 for number in left):
        return None
    rows = tuple(event.source for event in thinned if event)
    return Quantity(len(left), sum(left), Dimension.COUNT), rows


def area_of(run: Run) -> tuple[Quantity | None, str]:
    """The ground that the tubs cover [m²], and why it is not known."""
    areas = []
    for tub in run.setup.tubs:
        if tub.system.footprint is None:
            return None, tr("footprint: not recorded")
        areas.append(carry(lambda a, b: a * b / CM2_A_M2, up=tub.system.footprint, dimension=Dimension.AREA))
    return total(areas, Dimension.AREA), ""


def means_by_scope(
    run: Run,
    weights: Mapping[str, Figure],
    scopes: Iterable[tuple[str, str, Sequence[str]]],
    path: str,
    *,
    tubs: bool = False,
) -> tuple[Named, ...]:
    """The mean of each group of plants; `weights` are those of plants that were always picked by themselves."""
    return tuple(
        Named(key, label, _mean(run, f"{path}.{key}", plants, weights, tubs=tubs))
        for key, label, plants in scopes
    )


def _mean(run: Run, name: str, plants: Sequence[str], weights: Mapping[str, Figure], *, tubs: bool) -> Figure:
    roster = Roster.of(run.setup, run.rows)
    moved = [plant for plant in plants if tubs and roster.moved_on(plant)]
    stayed = [plant for plant in plants if plant not in moved]
    own = [weights[plant] for plant in stayed if plant in weights]
    left_out = tr("{plants} left out: moved to another tub", plants=listed(moved)) if moved else ""
    values = [f.value for f in own if isinstance(f.value, Quantity)]
    rows = [row for f in own for row in f.rows]
    if not stayed or len(values) < len(stayed):
        return figure(name, None, mean_weight, rows, remarks(tr("not kept by plant"), left_out))
    note = remarks(tr_n("{n} plant", "{n} plants", len(values)), left_out)
    return figure(name, _mean_of(values), mean_weight, rows, note)


def _mean_of(values: Sequence[Quantity]) -> Value:
    if len(values) < FEWEST_FOR_A_MEAN:
        return Several(tuple(values)) if len(values) > 1 else values[0]
    step = max(value.step for value in values)
    made = carry(lambda *w: mean_weight(w), up=values, dimension=Dimension.MASS, step=step)
    return Rate(made, Per.PLANT)
