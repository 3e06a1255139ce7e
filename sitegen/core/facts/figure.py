"""Computed values and how each is kept: `Figure` with its name, formula and rows, and its remarks as data.

In: nothing. Out: the kinds of value beside `Quantity` and `Day`; `Figure`; `Remark` (a code, and the values that its
message has places for) and `Label`. A value of None was not recorded or cannot be computed; the figure's remarks then
say why. A fact holds no words: they stand in `core.language.figure_words`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from datetime import date
from enum import StrEnum
from functools import cache
from typing import Any, Literal

from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Day, DayAxis
from sitegen.core.values.quantity import Quantity

LabelKind = Literal["", "cost", "flush", "part", "phase", "reading", "routine", "site", "stage", "work"]


@dataclass(frozen=True, slots=True)
class Label:
    """A name as its author wrote it, or with a `kind` a word of the site, by its key.

    `tub` is the id of the tub that it belongs to, where there are several.
    """

    name: str
    kind: LabelKind = ""
    tub: str = ""


NOT_SAID = Label("not said", "site")

RemarkValue = int | float | str | Day | Quantity | Label | tuple[str | Label, ...]

RemarkCode = str  # a key of the messages in `core.language.remark_messages`; a test holds the two together


@dataclass(frozen=True, slots=True)
class Remark:
    """One remark: its code, and values by the name of their place in the message."""

    code: RemarkCode
    values: tuple[tuple[str, RemarkValue], ...] = ()


def remark(code: RemarkCode, **values: RemarkValue) -> Remark:
    """A remark; a value named `n` is the number that its message counts."""
    return Remark(code, tuple(values.items()))


def counted_remark(code: RemarkCode, n: int, **values: RemarkValue) -> Remark | None:
    """A remark on so many things; None where there are none."""
    return remark(code, n=n, **values) if n else None


NOT_RECORDED = remark("not_recorded")
NOTHING_YET = remark("nothing_picked_yet")


class Per(StrEnum):
    """The unit that a rate is per."""

    DAY = "day"
    WEEK = "week"
    PLANT_AND_DAY = "plant and day"
    PLANT = "plant"
    STEM = "stem"
    SQUARE_METRE = "m²"
    LITRE = "litre of water"
    KILOWATT_HOUR = "kWh"
    KILOGRAM = "kg"
    MOL = "mol of light"


@dataclass(frozen=True, slots=True)
class Share:
    """A part of a whole, with the 95 % interval of the share."""

    part: int
    whole: int
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Rate:
    """An amount per unit of something else."""

    amount: Quantity
    per: Per


@dataclass(frozen=True, slots=True)
class Money:
    """A sum of money, an interval as a quantity is; `per` says for how much of what."""

    low: float
    high: float | None
    currency: str
    about: bool = False
    per: str = ""


@dataclass(frozen=True, slots=True)
class Several:
    """Values too few for a mean: each by itself."""

    values: tuple[Quantity | Rate, ...]


Value = Quantity | Day | Share | Rate | Money | Several | date | str | None


@dataclass(frozen=True, slots=True)
class Figure:
    """One computed value with its working.

    `formula` names a method of the methods page; `rows` are the places in the journal that went in; `remarks` belong to
    the value ("one pick was not weighed"). A value of None was not recorded.
    """

    name: str
    value: Value
    formula: str
    rows: tuple[Source, ...] = ()
    remarks: tuple[Remark, ...] = ()

    @property
    def recorded(self) -> bool:
        """Whether there is anything to show."""
        return self.value is not None


# Stands where a part of the facts was made without a figure; no walk over the figures meets it.
NO_FIGURE = Figure("", None, "")


@dataclass(frozen=True, slots=True)
class Named:
    """A figure for one plant, group, part …; `key` is a part of the figure's name."""

    key: str
    label: Label
    figure: Figure


def figures(node: object) -> Iterator[Figure]:
    """Every figure below a part of the facts, in the order of the fields."""
    found: list[Figure] = []
    _collect(node, found)
    return iter(found)


def _collect(node: object, found: list[Figure]) -> None:
    # No generator: a page walks the facts some thirty times, and each figure would pass through ten of them.
    if isinstance(node, Figure):
        if node.name:
            found.append(node)
    elif isinstance(node, tuple):
        for item in node:
            _collect(item, found)
    else:
        for name in inner_fields(node):
            _collect(getattr(node, name), found)


def inner_fields(node: object) -> tuple[str, ...]:
    """The fields of a part of the facts that figures may stand in; none of a value, a run or an axis."""
    kind: Any = type(node)
    return _inner_fields(kind)


@cache
def _inner_fields(kind: type[Any]) -> tuple[str, ...]:
    if not is_dataclass(kind) or issubclass(kind, (Quantity, Day, Run, DayAxis)):
        return ()
    return tuple(each.name for each in fields(kind))
