"""Remarks on a figure as data: a code and the values that its message has places for.

In: nothing. Out: `Remark` and `Label`, made of plain data. The messages stand in `core.language.remarks`, the words of
labels in `core.language.labels`; a fact holds none.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sitegen.core.values.day import Day
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

RemarkCode = str  # a key of the messages in `core.language.remarks`; a test holds the two together


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
