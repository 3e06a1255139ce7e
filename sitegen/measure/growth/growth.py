"""Heights, spreads and leaf counts.

In: readings of plants. Out: `Growth`. A height to the stem tip is never mixed with one to the topmost leaf.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.facts.claimant import claimant
from sitegen.core.facts.figure import NOT_RECORDED, Figure, Remark, RemarkCode, remark
from sitegen.core.facts.indices import GrowthRates
from sitegen.core.facts.tree import Growth, PlotPoint
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Reading, Run
from sitegen.core.records.setup import Tub
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, propagate
from sitegen.core.values.units import Dimension
from sitegen.measure.growth.rates import rates_of
from sitegen.measure.growth.stretches import cuts_of
from sitegen.measure.methods import day_key, figure, formula
from sitegen.measure.ranges import points


@formula(reads=("readings.value",))
def largest_reading(readings: Sequence[PlotPoint]) -> PlotPoint | None:
    """Largest reading.

    The plant that was largest when it was measured; of equals the latest. A range counts with its middle.

    Parameters
    ----------
    readings
        Readings of single plants [cm, or count].

    Returns
    -------
    PlotPoint or None
        The largest; None without a reading.

    Notes
    -----
    ::

        largest = max(readings)

    """
    return max(readings, key=lambda p: (p.value.middle, p.day.last, p.source), default=None)


@formula(
    reads=("readings.value", "system.headroom"),
    exact_if={"the plant has no room left at any height": ("readings.value", "system.headroom")},
)
def headroom_left(headroom: Quantity, tallest: Quantity) -> Quantity:
    """Room left above the tallest plant.

    The height that a system gives with the lamp at its highest, less the tallest plant measured in it. It is the
    room on the day of that reading; it says nothing about later days.

    Parameters
    ----------
    headroom
        Of the system [cm].
    tallest
        Height of its tallest plant [cm].

    Returns
    -------
    Quantity
        Room left [cm]; 0 where the plant was taller.

    Notes
    -----
    ::

        room = max(0, headroom - tallest)

    """
    return propagate(
        lambda room, plant: max(0.0, room - plant),
        increasing=[headroom],
        decreasing=[tallest],
        dimension=Dimension.LENGTH,
        step=max(headroom.step, tallest.step),
    )


def _subjects(reading: Reading) -> tuple[str, ...]:
    """Each plant that a value is true of; one subject in words where it is not each plant's."""
    if reading.plants and not reading.together:
        return reading.plants
    return (str(reading.which) if reading.which else "",)


def _points(run: Run, name: str) -> tuple[PlotPoint, ...]:
    readings = sorted(run.rows.read(name), key=lambda r: (*day_key(r.day), r.source))
    return points((reading, subject) for reading in readings for subject in _subjects(reading))


def _comparable(found: Sequence[PlotPoint], run: Run) -> tuple[PlotPoint, ...]:
    """Readings taken alike: to the topmost leaf, where there are any."""
    together = {r.source for r in run.rows.readings if r.together}
    single = [point for point in found if point.source not in together]
    return tuple([point for point in single if not point.at] or single)


def _largest(name: str, found: Sequence[PlotPoint], run: Run) -> Figure:
    largest = largest_reading(_comparable(found, run))
    if largest is None:
        return figure(name, None, largest_reading, (), NOT_RECORDED)
    plants = [
        p.subject for p in found if p.subject and (p.source, p.value) == (largest.source, largest.value)
    ]
    to = remark("measured_to", place=largest.at) if largest.at else None
    where = _where(plants, largest.day)
    return figure(name, largest.value, largest_reading, (largest.source,), where, to)


def _where(plants: Sequence[str], day: Day) -> Remark:
    if len(plants) > 3:
        return remark("many_plants_on_day", n=len(plants), day=day)
    return remark("plants_on_day", plants=tuple(plants), day=day) if plants else remark("on_day", day=day)


def _tub_of(point: PlotPoint, run: Run, roster: Roster) -> str:
    if point.subject in run.setup.plant_ids:
        return roster.tub_of(point.subject, point.day.first)
    return run.setup.tubs[0].id if len(run.setup.tubs) == 1 else ""


@dataclass(frozen=True, slots=True)
class _Room:
    """The room left in a tub on the day of a reading; `last` where its heights were not measured after that day."""

    left: Quantity
    tallest: PlotPoint
    tub: Tub
    last: bool


def _rooms(run: Run, heights: Sequence[PlotPoint]) -> list[_Room]:
    """The room left in each tub whose headroom and tallest plant are known."""
    roster, found = Roster.of(run.setup, run.rows), []
    for tub in run.setup.tubs:
        inside = [point for point in heights if _tub_of(point, run, roster) == tub.id]
        tallest = largest_reading(_comparable(inside, run))
        if tub.system.headroom is not None and tallest is not None:
            last = all(point.day.last <= tallest.day.last for point in inside)
            found.append(_Room(headroom_left(tub.system.headroom, tallest.value), tallest, tub, last))
    return found


def _headroom(run: Run, heights: Sequence[PlotPoint]) -> Figure:
    least = min(_rooms(run, heights), key=lambda room: room.left.low, default=None)
    if least is None:
        return figure("growth.headroom", None, headroom_left, (), NOT_RECORDED)
    where = remark("in_tub", tub=least.tub.id) if len(run.setup.tubs) > 1 else None
    day = least.tallest.day
    code = "when_measured_before" if day.before else "when_last_measured" if least.last else "when_measured"
    when = remark(code, day=day)
    rows = (least.tallest.source, run.setup.at("system"))
    return figure("growth.headroom", least.left, headroom_left, rows, where, when)


_AGAINST: dict[str, RemarkCode] = {
    "taller than": "taller_than_claim",
    "lower than": "lower_than_claim",
    "within": "within_claim",
}


@formula(reads=("claims.height",))
def height_against(height: Quantity, claimed: Quantity) -> str:
    """Height compared with a claim.

    Parameters
    ----------
    height
        Of the tallest plant [cm].
    claimed
        What is claimed for the seed [cm].

    Returns
    -------
    str
        `taller than`, `lower than` or `within`.

    Notes
    -----
    With the height from h₁ to h₂ and the claim from c₁ to c₂::

        taller: h₁ > c₂
        lower: h₂ < c₁
        within: else

    """
    if claimed.high is not None and height.low > claimed.high:
        return "taller than"
    return "lower than" if height.high is not None and height.high < claimed.low else "within"


def claimed_height(run: Run, tallest: Figure) -> Figure:
    """The height claimed for the seed; remarks say by whom, and how the tallest plant stands to it."""
    seed, name = run.setup.seed, "growth.rate.claim"
    claimed = seed.claims.height if seed else None
    if claimed is None:
        return figure(name, None, height_against, (), remark("no_height_claimed"))
    rows = (*tallest.rows, run.setup.at("seed"))
    said_by = claimant(seed)
    height = tallest.value
    if not isinstance(height, Quantity):
        return figure(name, claimed, height_against, rows, remark("heights_not_recorded"), said_by)
    stands = remark(_AGAINST[height_against(height, claimed)])
    return figure(name, claimed, height_against, rows, stands, said_by)


def growth_of(run: Run) -> Growth:
    """How large the plants became."""
    heights, spreads, leaves = (_points(run, name) for name in ("height", "spread", "leaves"))
    tallest = _largest("growth.tallest", heights, run)
    kinds = {"height": heights, "spread": spreads, "leaves": leaves}
    cuts = cuts_of(run) if any(kinds.values()) else {}
    rates = {
        name: rates_of(_comparable(found, run), run, cuts, f"growth.rate.{name}")
        for name, found in kinds.items()
    }
    return Growth(
        tallest=tallest,
        widest=_largest("growth.widest", spreads, run),
        most_leaves=_largest("growth.most_leaves", leaves, run),
        headroom=_headroom(run, heights),
        heights=heights,
        spreads=spreads,
        leaves=leaves,
        rate=GrowthRates(**rates, claim=claimed_height(run, tallest)),
    )
