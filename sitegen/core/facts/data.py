"""Facts as plain data: printed by `sitegen facts --json`, and compared with the pages by tests.

In: facts and a function that says a value in words. Out: dictionaries of JSON types, `FACTS_FORMAT` versioned. Floats
carry 12 significant digits, so that machines agree.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import Any

from sitegen.core.facts.figure import Figure, Label, Money, Rate, Remark, Several, Share, figures
from sitegen.core.facts.tree import Facts
from sitegen.core.findings.source import Source
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, rounded

FACTS_FORMAT = 2
Say = Callable[[Any], str]


def facts_data(facts: Facts, say: Say) -> dict[str, Any]:
    """One experiment: its figures by name, each with value, words, formula, remarks and rows."""
    setup = facts.run.setup
    return {
        "experiment": facts.id,
        "season": setup.season,
        "title": setup.title,
        "crop": setup.crop.id,
        "varieties": list(setup.variety_ids),
        "start": setup.start.date.isoformat() if setup.start.date else None,
        "start_known_to": setup.start.precision,
        "running": facts.running,
        "figures": {figure.name: _figure(figure, say) for figure in figures(facts)},
    }


def _figure(figure: Figure, say: Say) -> dict[str, Any]:
    return {
        "value": value_data(figure.value),
        "text": say(figure),
        "formula": figure.formula,
        "remarks": [remark_data(remark) for remark in figure.remarks],
        "rows": [str(source) for source in dict.fromkeys(figure.rows)],
    }


def remark_data(remark: Remark) -> dict[str, Any]:
    """A remark as JSON: its code and its values by name."""
    return {"code": remark.code, "values": {name: value_data(value) for name, value in remark.values}}


def value_data(value: object) -> Any:
    """A value as JSON: a quantity keeps its bounds and flags; a value that was not recorded is null."""
    write = next((write for kind, write in _WRITERS if isinstance(value, kind)), None)
    return value if write is None else write(value)


def _quantity(value: Quantity) -> dict[str, Any]:
    return {
        "low": rounded(value.low),
        "high": None if value.high is None else rounded(value.high),
        "unit": value.unit,
        "about": value.about,
        "by_eye": value.by_eye,
        "open": value.open,
        "unweighed": value.unweighed,
        "step": rounded(value.step),
    }


def _money(value: Money) -> dict[str, Any]:
    return {
        "low": rounded(value.low),
        "high": None if value.high is None else rounded(value.high),
        "currency": value.currency,
        "about": value.about,
        "per": value.per,
    }


def _day(value: Day) -> dict[str, Any]:
    flags = {"about": value.about, "before": value.before}
    return {"first_day": value.first, "last_day": value.last, **flags}


def _share(value: Share) -> dict[str, Any]:
    return {"part": value.part, "whole": value.whole, "low": rounded(value.low), "high": rounded(value.high)}


def _rate(value: Rate) -> dict[str, Any]:
    return {**_quantity(value.amount), "per": str(value.per)}


def _label(label: Label) -> dict[str, str]:
    data = {"name": label.name, "kind": label.kind, "tub": label.tub}
    return {name: text for name, text in data.items() if text}


_WRITERS: tuple[tuple[type, Callable[[Any], Any]], ...] = (
    (Quantity, _quantity),
    (Day, _day),
    (Share, _share),
    (Rate, _rate),
    (Several, lambda several: [value_data(each) for each in several.values]),
    (Money, _money),
    (dt.date, lambda when: when.isoformat()),
    (Source, str),
    (Label, _label),
    (tuple, lambda several: [value_data(each) for each in several]),
    (float, rounded),
)
