"""What figures are called."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import is_dataclass
from typing import Any, get_args, get_origin, get_type_hints

import pytest

from sitegen.core.facts.figure import Figure, Named
from sitegen.core.facts.tree import Facts
from sitegen.render.numbers.labels import WORDS, Labels, subject_of
from tests.render.builders import facts

CALLED = [
    ("length", "Length"),
    ("harvest.total", "Harvest"),
    ("harvest.by_group.early", "Harvest, “early”"),
    ("harvest.by_plant.P1", "Harvest, P1"),
    ("milestones.first_flower.first", "First flower, first seen"),
    ("solution.tubs.tub.ph", "pH"),
    ("solution.tubs.tub.refills", "Refills"),
    ("plants.P1.harvest", "Harvest, P1"),
    ("harvest.unheard_of", "Unheard of"),
]


@pytest.mark.parametrize(("name", "words"), CALLED)
def test_labels(name: str, words: str) -> None:
    """A figure is called in the trade's words, with the plant, group or stage it is about; a lone tub is not named."""
    assert Labels.of(facts()).say(Figure(name, None, "")) == words


def _figure_paths(kind: Any, path: str) -> Iterator[str]:
    """The path of every figure that a type of the facts has a place for; `*` stands for the key of a row."""
    if kind is Figure or kind is Named:
        yield path
    elif get_origin(kind) is tuple:
        for each in set(get_args(kind)) - {Ellipsis}:
            yield from _figure_paths(each, f"{path}.*")
    elif is_dataclass(kind) and kind.__module__.startswith("sitegen.core.facts."):
        for name, inner in get_type_hints(kind).items():
            yield from _figure_paths(inner, f"{path}.{name}" if path else name)


def test_every_figure_has_a_label() -> None:
    """Each figure that the facts have a place for has its row in the table of words, and no row is of another."""
    assert sorted(WORDS) == sorted(_figure_paths(Facts, ""))


def test_subjects() -> None:
    """Figures without a subject of their own belong to the run."""
    assert [subject_of(name) for name in ("harvest.total", "length", "strange.thing")] == ["harvest", "", ""]
