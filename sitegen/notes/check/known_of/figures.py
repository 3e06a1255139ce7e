"""Every other figure of the facts: a number that means something else is found here, and named.

In: a log. Out: `Known`s with the words of the figure's name as topics.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.facts.figure import Figure, Money, Rate, Share, figures
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.notes.check.claims import Kind
from sitegen.notes.check.known import Known
from sitegen.notes.check.known_of.log import Log

_COSTS = {"electricity": {"energy", "power"}, "feed": {"feed"}, "water": {"water"}, "total": set[str]()}
_BARE = frozenset({Dimension.COUNT, Dimension.DAYS})


def known_figures(log: Log) -> tuple[Known, ...]:
    """All figures that no other module takes as well, and those as well."""
    return tuple(each for figure in figures(log.facts) for each in _of(figure))


def _of(figure: Figure) -> Iterator[Known]:
    value, words = figure.value, figure.name.replace(".", ", ").replace("_", " ")
    about = frozenset({f"figure:{figure.name.split('.')[0]}"})
    if isinstance(value, Money) and figure.name.startswith("harvest.costs"):
        last = figure.name.rsplit(".", 1)[-1]
        ranks = frozenset({"total"}) if last == "total" else frozenset()
        topics = frozenset({"cost"} | _COSTS.get(last, {last}))
        least = "something of it has no price or was not recorded" if value.high is None else ""
        yield Known(
            Kind.MONEY,
            value.low,
            value.high,
            words,
            topics,
            value=value,
            ranks=ranks,
            sources=figure.rows,
            least=least,
        )
    elif isinstance(value, Rate):
        yield from _quantity(value.amount, f"{words} (per {value.per})", about, figure)
    elif isinstance(value, Quantity):
        yield from _quantity(value, words, about, figure)
    elif isinstance(value, Share):
        yield Known(
            Kind.PART, value.part, value.part, words, about, wholes=(value.whole,), sources=figure.rows
        )
    elif isinstance(value, Day):
        yield Known(Kind.DAY, value.first, value.last, words, about, None, value, value, sources=figure.rows)


def _quantity(value: Quantity, words: str, about: frozenset[str], figure: Figure) -> Iterator[Known]:
    if not value.known or (value.low == 0 and value.high is None):
        return
    kind = Kind.DAYS if value.dimension is Dimension.DAYS else Kind.AMOUNT
    if value.dimension is Dimension.COUNT:
        kind = Kind.COUNT
    yield Known(kind, value.low, value.high, words, about, value.dimension, value, sources=figure.rows)
