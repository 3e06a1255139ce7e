"""Breakdowns of the harvest: by plant, group, variety, tub, part, grade and flush.

In: the picks and tallies of a run, made ready. Out: one `Named` figure for each row and one for the remainder, with
remarks on weights. From the day of its move a plant counts for no group and no tub. Zero is no yield of a plant that
still grows.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from sitegen.core.facts.figure import (
    NOT_SAID,
    NOTHING_YET,
    Figure,
    Label,
    Named,
    Remark,
    counted_remark,
    remark,
)
from sitegen.core.findings.source import Source
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.parts import Belongs, RowWeight, weight_of_row
from sitegen.measure.harvest.totals import HOLDING, HarvestRecords, Part, Weighing, parts_of
from sitegen.measure.methods import figure

NOTHING = total((), Dimension.MASS)


Remarks = tuple[Remark | None, ...]
REST = "not-said"  # the key of a remainder: the weights that are no row's own for certain


def weight_remarks(weights: Sequence[Quantity], bounded: int = 0) -> Remarks:
    """Remarks on a sum of weights: not weighed, by eye, at least; `bounded` of them by a later weight."""
    return (
        counted_remark("picks_not_weighed", sum(q.unweighed for q in weights)),
        counted_remark("picks_by_eye", sum(q.by_eye for q in weights)),
        counted_remark("weights_are_lower_bounds", sum(q.open for q in weights if not q.unweighed)),
        counted_remark("picks_between_tallies", bounded),
    )


@dataclass(frozen=True, slots=True)
class Cell:
    """A row of a breakdown: its key and label, the weights that are its own, and those that may be."""

    key: str
    label: Label
    certain: Belongs
    possible: Belongs
    plants: frozenset[str] = frozenset()
    moved: tuple[tuple[str, Day], ...] = ()  # plants that count until these days only
    of_one_row: bool = False  # a weight that may be its own is, if not its own, all of another row

    def claims(self, item: Weighing) -> bool:
        """Whether a weight is no part of the remainder."""
        return self.possible(item) if self.of_one_row else self.certain(item)


def moved_remark(moved: Sequence[tuple[str, Day]]) -> Remark | None:
    """The plants that count only until they moved."""
    if not moved:
        return None
    days = {day for _, day in moved}
    plants = tuple(plant for plant, _ in moved)
    if len(days) == 1:
        return remark("counts_until_move", plants=plants, day=days.pop())
    return remark("count_until_moves", plants=plants)


def rest_of(cells: Sequence[Cell], label: Label = NOT_SAID) -> Cell:
    """The remainder of rows: all that is no row's own for certain, and may be of several or of none."""

    def belongs(item: Weighing) -> bool:
        return not any(cell.claims(item) for cell in cells)

    return Cell(REST, label, belongs, belongs)


def breakdown(
    records: HarvestRecords, path: str, cells: Sequence[Cell], rest: Label | None = NOT_SAID
) -> tuple[Named, ...]:
    """A figure for each row, and one for the remainder where there is any; nothing without a harvest."""
    if not records.everything:
        return ()
    parts = parts_of(records.everything)
    found = [
        Named(cell.key, cell.label, _row_figure(records, f"harvest.{path}.{cell.key}", cell, parts))
        for cell in cells
    ]
    if rest is not None:
        cell = rest_of(cells, rest)
        row = weight_of_row(parts, cell.certain, cell.possible)
        if not row.untouched:
            found.append(Named(REST, rest, rest_figure(f"harvest.{path}.{REST}", row)))
    return tuple(found)


def rest_figure(name: str, row: RowWeight, *remarks: Remark | None) -> Figure:
    """The weight of a remainder."""
    said = (*weight_remarks(row.own, row.bounded), *remarks)
    return figure(name, row.amount, weight_of_row, row.rows, *said)


def _row_figure(records: HarvestRecords, name: str, cell: Cell, parts: Sequence[Part]) -> Figure:
    row = weight_of_row(parts, cell.certain, cell.possible)
    if row.untouched and cell.plants:
        return _of_nothing(records, name, cell)
    if cell.of_one_row:
        shared: Remarks = (counted_remark("picks_may_be_of_other_flush", len(row.shared)),)
    else:
        shared = shared_remarks(row.shared, cell.plants, records)
    said = (*weight_remarks(row.own, row.bounded), *shared, moved_remark(cell.moved))
    return figure(name, row.value, weight_of_row, row.rows, *said)


def _of_nothing(records: HarvestRecords, name: str, cell: Cell) -> Figure:
    """Nothing was picked: 0 of plants that are over, no yield yet where one still grows."""
    roster, run = Roster.of(records.run.setup, records.run.rows), records.run
    moved = moved_remark(cell.moved)
    plants = [p for p in run.setup.plant_ids if p in cell.plants and p not in dict(cell.moved)]
    lost = {plant: event for plant in plants if (event := roster.lost_on(plant))}
    if not all(plant in lost or _is_over(run, plant) for plant in plants):
        return figure(name, None, weight_of_row, (), NOTHING_YET, moved)
    rows = [event.source for event in lost.values()]
    said = remark("lost_before_pick", plants=tuple(lost)) if lost else None
    return figure(name, NOTHING if plants else None, weight_of_row, rows, said, moved)


def _is_over(run: Run, plant: str) -> bool:
    """Whether the end of a run was the end of a plant."""
    ended = run.ended
    if ended is None or ended.kept is True:
        return False
    return ended.which is None or not ended.which.ids or plant in ended.which.ids


def shared_remarks(shared: Sequence[Weighing], scope: frozenset[str], records: HarvestRecords) -> Remarks:
    """Remarks on weights of which some plants may only have a share."""
    picks = [item for item in shared if item.holds != "tally"]
    with_whom = {_others(item, scope, records) for item in picks}
    plants = with_whom.pop() if len(with_whom) == 1 else ()
    together = (
        counted_remark("picks_with_plants", len(picks), plants=plants)
        if plants
        else counted_remark("picks_with_other_plants", len(picks))
    )
    return together, counted_remark("tallies_cover_others", len(shared) - len(picks))


def _others(item: Weighing, scope: frozenset[str], records: HarvestRecords) -> tuple[str, ...]:
    """The plants that a weight was shared with; none where they are too many or not known."""
    rest = tuple(plant for plant in records.run.setup.plant_ids if plant in item.scope - scope)
    return rest if len(rest) <= 3 and item.scope != records.everyone else ()


@dataclass(frozen=True, slots=True)
class Membership:
    """The plants that each weight may have come from, and the day on which each plant left its tub and groups."""

    givers: Mapping[Source, frozenset[str]]
    moves: Mapping[str, Day]

    @classmethod
    def of(cls, records: HarvestRecords) -> Membership:
        """Of the plants of a run."""
        roster = Roster.of(records.run.setup, records.run.rows)
        givers = {item.source: _givers(item, records, roster) for item in records.everything}
        moves = {plant: move.day for plant in roster.setup.plant_ids if (move := roster.moved_on(plant))}
        return cls(givers, moves)

    def cell(self, key: str, label: str, plants: Iterable[str], *, until_move: bool = False) -> Cell:
        """The row of some plants; `until_move`: a plant that changes its tub counts until that day."""
        members = frozenset(plants)
        moves = {plant: day for plant, day in self.moves.items() if until_move and plant in members}

        def certain(item: Weighing) -> bool:
            givers = self.givers[item.source]
            return givers <= members and all(_before(item, moves.get(plant)) is True for plant in givers)

        def possible(item: Weighing) -> bool:
            givers = self.givers[item.source] & members
            return any(_before(item, moves.get(plant)) is not False for plant in givers)

        return Cell(key, Label(label), certain, possible, members, tuple(moves.items()))


def _givers(item: Weighing, records: HarvestRecords, roster: Roster) -> frozenset[str]:
    """The plants that a weight may have come from: a pick of any plants is of none that was lost before."""
    if item.holds in HOLDING or item.scope != records.everyone:
        return item.scope
    first = item.order[0]
    lost = {
        plant
        for plant in item.scope
        if (event := roster.lost_on(plant, by=first - 1)) is not None and event.day.last < first
    }
    return item.scope - lost or item.scope


def _before(item: Weighing, moved: Day | None) -> bool | None:
    """Whether a weight of a plant is from before its move; None where that cannot be told."""
    first, last, _ = item.order
    if moved is None or last < moved.first:
        return True
    return None if item.holds in HOLDING or first < moved.last else False


def plant_cells(records: HarvestRecords) -> list[Cell]:
    """A row for each plant."""
    members = Membership.of(records)
    return [members.cell(plant, plant, (plant,)) for plant in records.run.setup.plant_ids]


def group_cells(records: HarvestRecords) -> list[Cell]:
    """A row for each group."""
    members = Membership.of(records)
    return [members.cell(key, key, ids, until_move=True) for key, ids in records.run.setup.groups]


def variety_cells(records: HarvestRecords) -> list[Cell]:
    """A row for each variety."""
    setup, members = records.run.setup, Membership.of(records)
    return [
        members.cell(key, setup.variety_name(key), (p.id for p in setup.plants if p.variety == key))
        for key in setup.variety_ids
    ]


def tub_cells(records: HarvestRecords) -> list[Cell]:
    """A row for each tub."""
    setup, members = records.run.setup, Membership.of(records)
    labels = {tub.id: tub.system.name if len(setup.tubs) == 1 else tub.id for tub in setup.tubs}
    return [
        members.cell(key, label, (p.id for p in setup.plants if p.tub == key), until_move=True)
        for key, label in labels.items()
    ]


def word_cells(words: Mapping[Source, tuple[str, Label]]) -> list[Cell]:
    """A row for each word that picks were given, in the order in which the words first appear."""

    def having(key: str) -> Belongs:
        return lambda item: item.source in words and words[item.source][0] == key

    return [Cell(key, label, having(key), having(key)) for key, label in dict(words.values()).items()]


def flush_cells(numbers: Iterable[int], possible: Mapping[Source, range]) -> list[Cell]:
    """A row for each flush; a pick that can be of two of them widens both."""

    def cell(number: int) -> Cell:
        def possibly(item: Weighing) -> bool:
            return number in possible.get(item.source, ())

        def certainly(item: Weighing) -> bool:
            return possibly(item) and len(possible[item.source]) == 1

        return Cell(str(number), Label(str(number), "flush"), certainly, possibly, of_one_row=True)

    return [cell(number) for number in numbers]
