"""The working of one figure, as `sitegen facts EXPERIMENT --why NAME` prints it.

In: a figure, the formulas, the journal's folder. Out: text. The log's own lines are read for the excerpts.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

from sitegen.app.console.report import Lines
from sitegen.core.facts.figure import Figure
from sitegen.core.facts.method import Method
from sitegen.core.findings.source import Source
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.values.quantity import Quantity

WIDTH = 88


def working_text(figure: Figure, methods: Iterable[Method], say: Callable[[Any], str], root: Path) -> str:
    """Value, rounding, formula and the log lines that went in."""
    method = next((m for m in methods if m.name == figure.formula), None)
    lines = [f"{figure.name}: {say(figure)}"]
    if figure.remarks:
        lines.append(f"  {remarks_words(figure.remarks)}")
    lines += [f"  {line}" for line in _bounds(figure)]
    if method is not None:
        lines += ["", *_method(method)]
    lines += ["", *_rows(figure.rows, root)]
    return "\n".join(lines)


def _bounds(figure: Figure) -> Iterator[str]:
    value = figure.value
    if not isinstance(value, Quantity):
        return
    unit = f" {value.unit}".rstrip()
    top = "no upper bound" if value.high is None else f"at most {value.high:.12g}{unit}"
    yield f"exactly: at least {value.low:.12g}{unit}, {top}"
    if value.step:
        yield f"recorded to {value.step:.4g}{unit}, the coarsest that went in"


def _method(method: Method) -> Iterator[str]:
    yield f"formula: {method.title} ({method.name})"
    if method.equation:
        yield textwrap.indent(method.equation, "    ")
    for paragraph in method.text.split("\n\n"):
        yield textwrap.fill(paragraph, WIDTH, initial_indent="  ", subsequent_indent="  ")
    for reference in method.references:
        yield textwrap.fill(reference, WIDTH, initial_indent="  ", subsequent_indent="    ")


def _rows(rows: Iterable[Source], root: Path) -> Iterator[str]:
    lines = Lines(root)
    places = {str(source): source for source in rows}  # one line of the log is shown once
    if not places:
        yield "from: no line of the journal"
        return
    yield "from:"
    for place, source in places.items():
        excerpt = lines.excerpt(source)
        yield f"  {place}  {excerpt.text.strip() if excerpt else ''}".rstrip()
