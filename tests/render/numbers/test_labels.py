"""What figures are called."""

from __future__ import annotations

import pytest

from sitegen.core.facts.figure import Figure
from sitegen.render.numbers.labels import Labels, subject_of
from tests.render.builders import facts

CALLED = [
    ("length", "Length"),
    ("harvest.total", "Harvest"),
    ("harvest.by_group.early", "Harvest, early"),
    ("harvest.by_plant.P1", "Harvest, P1"),
    ("milestones.first_flower.first", "First flower, first seen"),
    ("solution.tubs.tub.ph", "pH"),
    ("solution.tubs.tub.refills", "Fillings"),
    ("plants.P1.harvest", "Harvest, P1"),
    ("harvest.unheard_of", "Unheard of"),
]


@pytest.mark.parametrize(("name", "words"), CALLED)
def test_labels(name: str, words: str) -> None:
    """A figure is called in the trade's words, with the plant, group or stage it is about; a lone tub is not named."""
    assert Labels.of(facts()).say(Figure(name, None, "")) == words


def test_subjects() -> None:
    """Figures without a subject of their own belong to the run."""
    assert [subject_of(name) for name in ("harvest.total", "length", "strange.thing")] == ["harvest", "", ""]
