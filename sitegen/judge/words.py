"""How a finding words days, plants and quantities.

In: values of a row. Out: short texts for a message. Numbers are said as they were written: in inches, ounces and degrees
Fahrenheit, else in the units that data files have. What a value is held against is said as the value is.
"""

from __future__ import annotations

from collections.abc import Iterable

from sitegen.core.language.display_units import DisplayValue, display_value, measured_in
from sitegen.core.language.text import listed
from sitegen.core.records.rows import Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import CANONICAL


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


def span(low: float, high: float, like: Quantity) -> str:
    """Bounds said as a value is that is held against them: `1.2-1.8 mS/cm`."""
    band = Quantity(low, high, like.dimension)
    unit = display_value(band, "us").unit if _in_us_units(like) else CANONICAL[like.dimension]
    least, most = (number(unit.from_canonical(bound)) for bound in (low, high))
    return f"{least}-{most} {unit.symbol}".rstrip()


def amount(quantity: Quantity) -> str:
    """A quantity with its flags: `about 9 cm`, `8-9 cm`, `at least 9 cm`, `not measured`."""
    if not quantity.known:
        return "not measured"
    return f"about {_said(quantity)}" if quantity.about else _said(quantity)


def _said(quantity: Quantity) -> str:
    """The numbers of a quantity that is known."""
    if _in_us_units(quantity):
        return _said_in_us_units(display_value(quantity, "us"))
    numbers = number(quantity.low)
    if quantity.high is not None and not quantity.single:
        numbers += f"-{number(quantity.high)}"
    least = "at least " if quantity.high is None else ""
    return f"{least}{numbers} {quantity.unit}".rstrip()


def _in_us_units(quantity: Quantity) -> bool:
    """Whether a value can only have been written in US units."""
    return not measured_in(quantity, "metric") and measured_in(quantity, "us")


def _said_in_us_units(found: DisplayValue) -> str:
    numbers = f"{found.low:f}"
    if found.high is not None and found.high != found.low:
        numbers += f"-{found.high:f}"
    least = "at least " if found.high is None else ""
    ounces = f" {found.ounces:f} oz" if found.ounces is not None else ""
    return f"{least}{numbers} {found.unit.symbol}{ounces}"
