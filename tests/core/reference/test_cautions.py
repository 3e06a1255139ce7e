"""Cautions stand where the work can hurt someone."""

from __future__ import annotations

from typing import Any

import pytest

from sitegen.core.records.rows import Deed, Event
from sitegen.core.records.setup import Crop, Variety
from sitegen.core.reference.cautions import CAUTIONS, fitting_cautions
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from tests.measure.builders import event, grams, joint, ml, pick, reading, run_of, setup_of
from tests.render.builders import facts


def named(**tables: Any) -> set[str]:
    """The names of the cautions that fit a run."""
    return {caution.name for caution in fitting_cautions(facts(run_of(**tables)))}


DEEDS: list[tuple[Event, set[str]]] = [
    (event(Deed.NOTE, 1, what="quiet"), set()),
    (event(Deed.ADJUST, 1, product="sour", amount=ml(2)), {"acids", "children"}),
    (event(Deed.FEED, 1, product="syrup", amount=ml(2)), {"concentrates"}),
    (event(Deed.TROUBLE, 1, what="grey Mould"), {"mould"}),
    (event(Deed.TROUBLE, 1, what="tip burn"), set()),
    (event(Deed.TREAT, 1, product="soap"), {"treatments"}),
]


@pytest.mark.parametrize(("deed", "wanted"), DEEDS, ids=[d.what or d.deed.value for d, _ in DEEDS])
def test_what_was_done_decides(deed: Event, wanted: set[str]) -> None:
    """A caution stands on a page only where something like it was done."""
    assert named(events=(deed,)) == wanted | {"physalis-parts"}


def test_picked_fruit() -> None:
    """Picks of fruit bring the caution for produce, picks of leaves the one for leaves eaten raw."""
    fruit = named(picks=(pick(1, joint("P1"), grams(1), part="fruit"),))
    leaf = named(picks=(pick(1, joint("P1"), grams(1), part="leaf"),))

    assert (fruit, leaf) == ({"physalis-parts", "produce"}, {"physalis-parts", "leaves"})


def test_warm_water() -> None:
    """Water of 20 °C and more brings the caution for standing water."""
    warm, cool = (
        named(
            readings=(reading("water_temperature", 1, exactly(value, Dimension.TEMPERATURE, 1), tub="tub"),)
        )
        for value in (20.0, 19.0)
    )

    assert (warm - cool, cool) == ({"standing-water"}, {"physalis-parts"})


def test_each_defers() -> None:
    """Every caution says whose word goes before it, and none stands twice."""
    assert all(caution.text and caution.defers for caution in CAUTIONS)
    assert len({caution.name for caution in CAUTIONS}) == len(CAUTIONS)


@pytest.mark.parametrize(
    ("crop", "wanted"),
    [
        (Crop("c", "Chilli", "fruiting", "Capsicum annuum"), {"hot-fruit"}),
        (
            Crop("c", "Dwarf pepper", "fruiting", varieties=(Variety("amber", "Amber", "a hot pepper"),)),
            {"hot-fruit"},
        ),
        (Crop("c", "Dwarf pepper", "fruiting", "Capsicum annuum"), set()),
        (Crop("c", "Cucumber", "fruiting"), set()),
        # Each species with the caution of its own, and relatives that do not get it.
        (Crop("c", "Dwarf tomato", "fruiting"), {"parts"}),
        (Crop("c", "Cherry", "fruiting", "Solanum lycopersicum var. cerasiforme"), {"parts"}),
        (Crop("c", "Ground cherry", "fruiting", "Physalis pruinosa"), {"physalis-parts"}),
        (Crop("c", "Tomatillo", "fruiting"), {"physalis-parts"}),
        (Crop("c", "Husk tomato", "fruiting"), {"physalis-parts"}),
        (Crop("c", "Aubergine", "fruiting", "Solanum melongena L."), {"aubergine-parts"}),
        (Crop("c", "Eggplant", "fruiting"), {"aubergine-parts"}),
        (Crop("c", "Potato", "root"), {"potato-parts"}),
        (Crop("c", "Tuber trial", "root", "Solanum tuberosum"), {"potato-parts"}),
        (Crop("c", "Sweet potato", "root", "Ipomoea batatas"), set()),
        (Crop("c", "Sweet potato", "root"), set()),
        (Crop("c", "Pepino", "fruiting", "Solanum muricatum"), set()),
        (Crop("c", "Dwarf bean", "legume"), {"beans"}),
        (Crop("c", "Green beans", "legume"), {"beans"}),
        (Crop("c", "Buschbohne", "legume"), {"beans"}),
        (Crop("c", "Runner", "legume", "Phaseolus coccineus"), {"beans"}),
        (Crop("c", "Pea", "legume", "Pisum sativum"), set()),
        (Crop("c", "Sugar snap pea", "legume"), set()),
        (Crop("c", "Fenugreek", "legume", "Trigonella foenum-graecum"), set()),
    ],
    ids=lambda value: f"{value.name} {value.latin}".strip() if isinstance(value, Crop) else "",
)
def test_what_was_grown_decides(crop: Crop, wanted: set[str]) -> None:
    """Cautions about a species stand on the pages of that species, and not on those of its relatives."""
    assert {c.name for c in fitting_cautions(facts(run_of(setup_of(1, crop=crop))))} == wanted
