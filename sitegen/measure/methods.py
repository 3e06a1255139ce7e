"""The register of formulas, and the text of the methods page that is taken from their docstrings.

In: functions marked with `formula`. Out: one `Method` each, in reading order. Never says anything that the code does not.
"""

from __future__ import annotations

import inspect
import re
import textwrap
from collections.abc import Callable
from typing import TypeVar

from sitegen.core.facts.method import Method

Formula = TypeVar("Formula", bound=Callable[..., object])

_FORMULAS: list[Callable[..., object]] = []
# Modules in the order in which a reader meets their formulas; inside a module it is the order of definition.
_READING_ORDER = (
    "run.axis",
    "germination.counts",
    "shares",
    "germination.emergence",
    "germination.germination",
    "stages.survival",
    "growth.growth",
    "growth.rates",
    "harvest.totals",
    "harvest.harvest",
    "harvest.yields",
    "harvest.timing",
    "harvest.picks",
    "solution.water",
    "solution.feed",
    "solution.uptake",
    "solution.trend",
    "ranges",
    "climate.sensors",
    "climate.vapour",
    "climate.warmth",
    "climate.light",
    "harvest.costs",
    "run.work",
)
_YEAR = re.compile(r"\b(1[89]|20)\d\d\b")  # a reference with one is a publication's
_HEADING = re.compile(r"^(\w+)\n-{3,}\n", re.MULTILINE)


def formula(function: Formula) -> Formula:
    """Registers a function as a formula: figures name it, and the methods page shows its docstring."""
    _FORMULAS.append(function)
    return function


def formulas() -> tuple[Callable[..., object], ...]:
    """All formulas of this stage, in reading order."""
    package = __name__.removesuffix("methods")
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


def method_of(function: Callable[..., object]) -> Method:
    """The method that a formula's docstring describes."""
    sections = _sections(inspect.getdoc(function) or "")
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
    """The texts of all methods as messages with the context `method`, except references to a publication."""
    found: list[str] = []
    for each in methods():
        found += [each.title, *each.text.split("\n\n"), each.equation]
        found += [reference for reference in each.references if not _YEAR.search(reference)]
    return tuple(text for text in dict.fromkeys(found) if text)


def methods() -> tuple[Method, ...]:
    """The methods of all formulas, in reading order."""
    return tuple(map(method_of, formulas()))
