"""The register of formulas, how a figure keeps its working, and the text of the methods page.

In: functions marked with `formula`; a value with the function that gave it and the rows that went in. Out: `Figure`;
one `Method` for each formula, in reading order, taken from its docstring; `Reads`, the columns that it rests on. Never
computes a value.
"""

from __future__ import annotations

import ast
import inspect
import math
import re
import textwrap
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeVar

from sitegen.core.facts.figure import Figure, Remark, Value
from sitegen.core.facts.method import Method, parted
from sitegen.core.findings.source import Source
from sitegen.core.values.day import Day

Formula = TypeVar("Formula", bound=Callable[..., object])

# Columns whose values can be open or fuzzy: of the tables of an experiment (`core.records.tables`), and of its set-up.
Column = Literal[
    "entries.day",
    "events.day",
    "events.amount",
    "events.plants",
    "readings.day",
    "readings.value",
    "picks.day",
    "picks.plants",
    "picks.weight",
    "picks.count",
    "picks.spoilt",
    "picks.spoilt_weight",
    "picks.earlier",
    "tallies.day",
    "tallies.amount",
    "milestones.day",
    "milestones.plants",
    "lights.day",
    "lights.hours",
    "routines.day",
    "routines.until",
    "routines.amount",
    "routines.often",
    "crop.base_temperature",
    "lamp.power",
    "lamp.ppfd",
    "product.dose",
    "system.footprint",
    "system.headroom",
    "system.reservoir",
    "claims.days",
    "claims.germination",
    "claims.height",
]
WEIGHTS: tuple[Column, ...] = ("picks.weight", "picks.earlier", "tallies.amount")
WATER: tuple[Column, ...] = ("events.amount", "routines.often", "system.reservoir")
DOSES: tuple[Column, ...] = (
    *WATER,
    "events.day",
    "routines.day",
    "routines.until",
    "routines.amount",
    "product.dose",
)
LAMPS: tuple[Column, ...] = ("lights.day", "lights.hours", "lamp.power")
LIGHT: tuple[Column, ...] = ("lights.day", "lights.hours", "lamp.ppfd", "readings.day", "readings.value")

Conditions = Mapping[str, tuple[Column, ...]]


@dataclass(frozen=True, slots=True)
class Reads:
    """The columns that the figures of a formula rest on.

    A figure is open or fuzzy where a value of them is. `exact_if` says on which condition it is exact all the same, and
    for which columns: then no value of them changes it.
    """

    columns: tuple[Column, ...]
    exact_if: Conditions = field(default_factory=dict)

    def condition(self, column: Column) -> str | None:
        """The condition on which a figure is exact though a value of a column is not; None where there is none."""
        return next((said for said, columns in self.exact_if.items() if column in columns), None)


_FORMULAS: dict[Callable[..., object], Reads] = {}
# Modules in the order in which a reader meets their formulas; inside a module it is the order of definition.
_READING_ORDER = (
    "run.axis",
    "germination.first_seedling",
    "germination.counts",
    "germination.germination",
    "germination.emergence",
    "ranges",
    "stages.survival",
    "stages.turnbull",
    "stages.set_stages",
    "growth.growth",
    "growth.rates",
    "harvest.totals",
    "harvest.parts",
    "harvest.harvest",
    "harvest.plant_yields",
    "harvest.plant_days",
    "harvest.yields",
    "harvest.timing",
    "harvest.picks",
    "harvest.pieces",
    "solution.uptake",
    "solution.water",
    "solution.feed",
    "solution.trend",
    "climate.sensors",
    "climate.vapour",
    "climate.day_night",
    "climate.climate",
    "climate.light_readings",
    "climate.light",
    "harvest.costs",
    "run.work",
    "plant_statistics",
    "run.plant_sets",
    "run.set_picks",
    "across.significance",
    "across.power",
    "across.prediction",
)
_YEAR = re.compile(r"\b(1[89]|20)\d\d\b")  # a reference with one is a publication's
_HEADING = re.compile(r"^(\w+)\n-{3,}\n", re.MULTILINE)


def formula(*, reads: Iterable[Column], exact_if: Conditions | None = None) -> Callable[[Formula], Formula]:
    """Registers a function as a formula: figures name it, and the methods page shows its docstring.

    `reads` and `exact_if` are those of `Reads`. A count of records reads no column.
    """
    columns = Reads(tuple(dict.fromkeys(reads)), exact_if or {})

    def registered(function: Formula) -> Formula:
        # A figure finds its formula by name: a second one of the name would be told as the working of the first.
        if any(each.__name__ == function.__name__ for each in _FORMULAS):
            raise ValueError(f"there is a formula `{function.__name__}` already")
        _FORMULAS[function] = columns
        return function

    return registered


def reads_of(name: str) -> Reads:
    """The columns that a formula reads, by the name that figures have for it."""
    return next(columns for function, columns in _FORMULAS.items() if function.__name__ == name)


def formulas() -> tuple[Callable[..., object], ...]:
    """All formulas of this stage, in reading order."""
    package = __name__.removesuffix("methods")
    if without_place := {each.__module__.removeprefix(package) for each in _FORMULAS} - set(_READING_ORDER):
        raise LookupError(f"no place in `_READING_ORDER` of measure/methods.py: {', '.join(without_place)}")
    return tuple(
        sorted(_FORMULAS, key=lambda each: _READING_ORDER.index(each.__module__.removeprefix(package)))
    )


def _sections(doc: str) -> dict[str, str]:
    """A NumPy-style docstring by section; the text before the first heading has the name ``""``."""
    before, *rest = _HEADING.split(doc)
    return {
        "": before.strip("\n"),
        **dict(zip(rest[::2], (text.strip("\n") for text in rest[1::2]), strict=True)),
    }


def _blocks(text: str) -> list[str]:
    return [block for block in re.split(r"\n\s*\n", text) if block.strip()]


def _joined(block: str) -> str:
    return " ".join(block.split())


def _equation(notes: str) -> tuple[list[str], str]:
    """Notes as paragraphs and the literal block among them."""
    paragraphs = [_joined(block) for block in _blocks(notes) if not block.startswith("    ")]
    literal = [textwrap.dedent(block) for block in _blocks(notes) if block.startswith("    ")]
    said = [re.sub(r"::$", ":", paragraph) for paragraph in paragraphs if paragraph != "::"]
    return said, "\n".join(literal)


def _doc_in_source(function: Callable[..., object]) -> str:
    """The docstring of a function where Python was told to leave docstrings out (`-OO`)."""
    definition = ast.parse(textwrap.dedent(inspect.getsource(function))).body[0]
    assert isinstance(definition, ast.FunctionDef)
    return ast.get_docstring(definition) or ""


def method_of(function: Callable[..., object]) -> Method:
    """The method that a formula's docstring describes."""
    sections = _sections(inspect.getdoc(function) or _doc_in_source(function))
    title, *text = _blocks(sections[""])
    said, equation = _equation(sections.get("Notes", ""))
    references = [_joined(block) for block in _blocks(sections.get("References", ""))]
    return Method(
        name=function.__name__,
        title=_joined(title).rstrip("."),
        text="\n\n".join((*map(_joined, text), *said)),
        equation=equation,
        references=tuple(references),
    )


def method_messages() -> tuple[str, ...]:
    """The texts of all methods as messages with the context `method`; of a publication only the note behind it."""
    found: list[str] = []
    for each in methods():
        found += [each.title, *each.text.split("\n\n"), each.equation]
        found += [parted(said)[1] if _YEAR.search(said) else said for said in each.references]
    return tuple(text for text in dict.fromkeys(found) if text)


def methods() -> tuple[Method, ...]:
    """The methods of all formulas, in reading order."""
    return tuple(map(method_of, formulas()))


STEP_SLACK = 1e-9  # an exact power of ten stays one


def figure(
    name: str,
    value: Value,
    formula: Callable[..., object],
    rows: Iterable[Source] = (),
    *remarks: Remark | None,
) -> Figure:
    """A figure whose formula is named by the function itself, with its rows in file order, each row and remark once."""
    said = tuple(dict.fromkeys(each for each in remarks if each is not None))
    return Figure(name, value, formula.__name__, tuple(sorted(set(rows))), said)


def coarse(step: float, value: float) -> float:
    """A step of a quotient as the power of ten that is not below it: 0.25 as 1, 0.003 as 0.01.

    Two digits of the value are always left: it went through a division, not through a coarser scale.
    """
    if step <= 0 or value == 0:
        return step
    two_digits = math.floor(math.log10(abs(value)) + STEP_SLACK) - 1
    return 10.0 ** min(math.ceil(math.log10(step) - STEP_SLACK), two_digits)


def day_key(day: Day) -> tuple[int, int]:
    """The sort key of days: the first possible day, then the last; "before 40" stands beside day 39."""
    return day.key
