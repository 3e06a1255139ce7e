"""How a finding words days, plants and quantities.

In: values of a row. Out: short texts for a message. Numbers are said in the canonical unit, as data files
have them.
"""

from __future__ import annotations

from collections.abc import Iterable

from sitegen.core.day import Day
from sitegen.core.quantity import Quantity
from sitegen.core.rows import Which
from sitegen.core.text import listed

__all__ = ["amount", "number", "on_day", "quoted", "span", "the_day", "whose"]


def the_day(day: Day) -> str:
    """`day 44`, `days 33-38`, `about day 36`."""
    if not day.single:
        return f"{'about ' if day.about else ''}days {day.first}-{day.last}"
    return f"{'about ' if day.about else ''}day {day.first}"


def on_day(day: Day) -> str:
    """`on day 44`, `on days 33-38`, `about day 36`."""
    return the_day(day) if day.about else f"on {the_day(day)}"


def quoted(names: Iterable[str]) -> str:
    """Names as written in the journal: `P1`, `P2` and `P3`."""
    return listed([f"`{name}`" for name in names])


def whose(which: Which | None, plants: Iterable[str] = (), tub: str = "") -> str:
    """Whose a record is, as a subject: plants, a group, a tub; empty where it says nothing."""
    if which is not None and which.word:
        return "all plants" if which.word == "all" else f"`{which.word}`"
    names = tuple(which.ids if which is not None and which.ids else plants)
    if names:
        return quoted(names)
    if which is not None:
        return f"`{which}`"
    return f"`{tub}`" if tub else ""


def number(value: float) -> str:
    """A number, short: three significant digits, whole from a thousand on."""
    return f"{value:.0f}" if abs(value) >= 1000 else f"{value:.3g}"


def span(low: float, high: float, unit: str) -> str:
    """`1.2-1.8 mS/cm`."""
    return f"{number(low)}-{number(high)} {unit}".rstrip()


def amount(quantity: Quantity) -> str:
    """A quantity with its flags: `about 9 cm`, `8-9 cm`, `at least 9 cm`, `not measured`."""
    unit = "" if quantity.unit == "" else f" {quantity.unit}"
    if not quantity.known:
        return "not measured"
    if quantity.high is None:
        text = f"at least {number(quantity.low)}{unit}"
    elif quantity.single:
        text = f"{number(quantity.low)}{unit}"
    else:
        text = span(quantity.low, quantity.high, quantity.unit)
    return f"about {text}" if quantity.about else text
