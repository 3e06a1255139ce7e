"""Days, plants and quantities as parts of a message.

In: values of a row. Out: short texts. A number has the unit that it was written in where that is a US unit, else the
canonical unit of its dimension. A range has the unit of the value that is compared with it.
"""

from __future__ import annotations

from collections.abc import Iterable

from sitegen.core.language.display_units import display_value, measured_in
from sitegen.core.language.text import listed
from sitegen.core.records.rows import Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import CANONICAL


def the_day(day: Day) -> str:
    """`day 44`, `days 33-38`, `about day 36`."""
    span_of_days = f"day {day.first}" if day.single else f"days {day.first}-{day.last}"
    return f"about {span_of_days}" if day.about else span_of_days


def on_day(day: Day) -> str:
    """`on day 44`, `on days 33-38`, `about day 36`."""
    return the_day(day) if day.about else f"on {the_day(day)}"


def quoted(names: Iterable[str]) -> str:
    """Names in backquotes, as a list: `P1`, `P2` and `P3`."""
    return listed([f"`{name}`" for name in names])


def whose(which: Which | None, plants: Iterable[str] = (), tub: str = "") -> str:
    """The subject of a record: plants, a group or a tub; empty where it names none."""
    if which is not None and which.word:
        return "all plants" if which.word == "all" else f"`{which.word}`"
    names = tuple(which.ids if which is not None and which.ids else plants)
    if names:
        return quoted(names)
    if which is not None:
        return f"`{which}`"
    return f"`{tub}`" if tub else ""


def number(value: float) -> str:
    """A number with three significant digits, whole from a thousand on."""
    return f"{value:.0f}" if abs(value) >= 1000 else f"{value:.3g}"


def span(low: float, high: float, like: Quantity, between: str = "-") -> str:
    """A range in the unit of a value: `1.2-1.8 mS/cm`."""
    unit = CANONICAL[like.dimension]
    if _in_us_units(like):
        unit = display_value(Quantity(low, high, like.dimension), "us").unit
    least, most = number(unit.from_canonical(low)), number(unit.from_canonical(high))
    return f"{least}{between}{most} {unit.symbol}".rstrip()


def amount(quantity: Quantity) -> str:
    """A quantity with its flags: `about 9 cm`, `8-9 cm`, `at least 9 cm`, `not measured`."""
    if not quantity.known:
        return "not measured"
    low, high, unit = _numbers(quantity)
    text = low if high in {None, low} else f"{low}-{high}"
    flags = ("about " if quantity.about else "") + ("at least " if high is None else "")
    return f"{flags}{text} {unit}".rstrip()


def _numbers(quantity: Quantity) -> tuple[str, str | None, str]:
    """The bounds of a quantity and its unit, as written; ounces beside whole pounds belong to the unit."""
    if _in_us_units(quantity):
        shown = display_value(quantity, "us")
        ounces = "" if shown.ounces is None else f" {shown.ounces:f} oz"
        high = None if shown.high is None else f"{shown.high:f}"
        return f"{shown.low:f}", high, shown.unit.symbol + ounces
    high = None if quantity.high is None else number(quantity.high)
    return number(quantity.low), high, quantity.unit


def _in_us_units(quantity: Quantity) -> bool:
    """Whether a value can only have been written in US units."""
    return not measured_in(quantity, "metric") and measured_in(quantity, "us")
