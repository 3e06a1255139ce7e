"""Runs that lines are about, and the table of lines.

In: lines.txt beside this file. Out: `RUNS` by name, `spoken_lines`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from sitegen.filing.words import Known

_TOMATO = Known(
    plants=("P1", "P2", "P3", "P4"),
    products=(
        ("leaf-mix", "Leaf mix", "feed"),
        ("part-a", "First of two parts", "feed"),
        ("part-b", "Second of two parts", "feed"),
        ("ph-down", "Tarn acid", "acid"),
        ("soap", "Soft soap", "treatment"),
    ),
    crop_kind="fruiting",
    crop="Dwarf tomato",
)
RUNS = {
    "tomato": _TOMATO,
    "lettuce": Known(
        plants=("P1", "P2", "P3", "P4", "P5", "P6"),
        groups=(("picked", ("P1", "P3", "P5")), ("whole", ("P2", "P4", "P6"))),
        tubs=("left", "right"),
        products=(("leaf-mix", "Leaf mix", "feed"),),
        crop_kind="leafy",
        crop="Loose-leaf lettuce",
    ),
    "tomato-de": replace(
        _TOMATO,
        language="de",
        crop="Zwergtomate",
        products=(("leaf-mix", "Blattdünger", "feed"), *_TOMATO.products[1:]),
    ),
}


class SpokenLine(NamedTuple):
    """A line, the name of the run that it is about, and all that it has to become."""

    run: str
    text: str
    fields: tuple[tuple[str, str], ...]
    note: str


def spoken_lines() -> Iterator[SpokenLine]:
    """The lines of the table, in order."""
    run, text, inside = "", "", dict[str, str]()
    for line in [*(Path(__file__).parent / "lines.txt").read_text("utf-8").splitlines(), ""]:
        if line.startswith("  "):
            key, _, value = line.strip().partition(": ")
            inside[key] = value
            continue
        if text:
            note = inside.pop("note", "")
            yield SpokenLine(run, text, tuple(inside.items()), note)
            text, inside = "", {}
        if line.startswith("== "):
            run = line[3:]
        elif line and not line.startswith("#"):
            text = line
