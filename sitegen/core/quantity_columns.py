"""How quantities stand in a table of text: bounds and flags in columns of their own.

In: nothing. Out: `Part`s for quantities and for the setting of a lamp. Never an infinity: what nothing bounds has an
empty cell.
"""

from __future__ import annotations

from sitegen.core.cells import flag_cell, flag_of, number_cell, number_of, whole_of
from sitegen.core.columns import Cells, Column, Part
from sitegen.core.day import Start
from sitegen.core.quantity import Quantity
from sitegen.core.setup import Lamp, LampUse
from sitegen.core.units import CANONICAL, Dimension

__all__ = ["lamp_use", "quantity"]

_BOUNDS = (
    ("low", "number", "lower bound"),
    ("high", "number", "upper bound; empty where nothing bounds it"),
    ("about", "boolean", "written with `about`"),
    ("by_eye", "boolean", "judged by eye"),
    ("open", "integer", "how many records said `at least`"),
    ("unweighed", "integer", "how many records were not measured"),
    ("step", "number", "resolution that was written; 0: exact"),
)


def quantity(
    field: str, about: str, dimension: Dimension | None = None, *, term: str = "", required: bool = False
) -> Part:
    """An interval with its flags; without a dimension of its own, two more columns say which, and its unit."""
    unit = CANONICAL[dimension].symbol if dimension else ""
    columns = [
        Column(f"{field}_{name}", kind, f"{about}: {said}", unit if kind == "number" else "")
        for name, kind, said in _BOUNDS
    ]
    columns[0] = Column(columns[0].name, "number", columns[0].about, unit, term, required)
    if dimension is None:
        kinds = tuple(each.value for each in Dimension)
        columns += [
            Column(f"{field}_measure", "string", f"{about}: what kind of quantity", choices=kinds),
            Column(f"{field}_unit", "string", f"{about}: unit of all its bounds", term="Scale"),
        ]

    def write(value: Quantity | None, _: Start) -> Cells:
        if value is None:
            return ("",) * len(columns)
        cells = (
            number_cell(value.low),
            number_cell(value.high),
            flag_cell(value.about),
            flag_cell(value.by_eye),
            str(value.open),
            str(value.unweighed),
            number_cell(value.step),
        )
        return cells if dimension else (*cells, value.dimension.value, value.unit)

    def read(cells: Cells) -> Quantity | None:
        if not any(cells) and not required:
            return None
        found = Quantity(
            number_of(cells[0]),
            number_of(cells[1]) if cells[1] else None,
            dimension or _dimension(cells[7]),
            about=flag_of(cells[2]) or False,
            by_eye=flag_of(cells[3]) or False,
            open=whole_of(cells[4]) or 0,
            unweighed=whole_of(cells[5]) or 0,
            step=number_of(cells[6]) if cells[6] else 0.0,
        )
        _check(found, field, cells[8] if dimension is None else found.unit)
        return found

    return Part(field, tuple(columns), write, read)


def _dimension(cell: str) -> Dimension:
    known = {each.value: each for each in Dimension}
    if cell not in known:
        raise ValueError(f"`{cell}` is none of {', '.join(known)}")
    return known[cell]


_BELOW_ZERO = (Dimension.TEMPERATURE, Dimension.TEMPERATURE_DIFFERENCE)


def _check(found: Quantity, field: str, unit: str) -> None:
    if found.high is not None and found.high < found.low:
        raise ValueError(f"`{field}_high` is below `{field}_low`")
    if found.low < 0 and found.dimension not in _BELOW_ZERO:
        raise ValueError(f"`{field}_low` is below 0")
    if min(found.step, found.open, found.unweighed) < 0:
        raise ValueError(f"`{field}` has a step or a count below 0")
    if unit != found.unit:
        raise ValueError(f"`{field}_unit` is `{unit}`; a {found.dimension.value} stands in `{found.unit}`")


def lamp_use(field: str) -> Part:
    """How a lamp is set. What is read back knows the lamp's id alone; the set-up has the lamp."""
    hours = quantity("hours", "hours of light a day", Dimension.DURATION)
    distance = quantity("distance", "from lamp to plants", Dimension.LENGTH)
    lamp = Column("lamp", "string", "id of the lamp", term="Environment parameter value")
    off = Column("off", "boolean", "the lamp was turned off for good")
    columns = (lamp, *hours.columns, *distance.columns, off)
    split = 1 + len(hours.columns)

    def write(value: LampUse, start: Start) -> Cells:
        return (
            value.lamp.id if value.lamp else "",
            *hours.write(value.hours, start),
            *distance.write(value.distance, start),
            flag_cell(value.off),
        )

    def read(cells: Cells) -> LampUse:
        return LampUse(
            Lamp(cells[0], "") if cells[0] else None,
            hours.read(cells[1:split]),
            distance.read(cells[split:-1]),
            flag_of(cells[-1]) or False,
        )

    return Part(field, columns, write, read)
