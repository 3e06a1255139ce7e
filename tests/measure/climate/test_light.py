"""Light and current from lamp settings."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.facts.figure import Per, Rate
from sitegen.core.facts.tree import Climate
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed
from sitegen.core.records.setup import Lamp, LampUse
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.climate import climate_of
from sitegen.measure.climate.light import daily_light_integral, lamp_energy
from tests.measure.builders import event, place, remarks_of, run_of, setup_of
from tests.measure.published import published

LAMP = Lamp(
    "bar",
    "Bar",
    exactly(24, Dimension.POWER, 1),
    exactly(200, Dimension.PHOTON_FLUX, 10),
    exactly(30, Dimension.LENGTH, 1),
)
USE = LampUse(LAMP, exactly(16, Dimension.DURATION, 1), exactly(30, Dimension.LENGTH, 1))


def lit(*settings: tuple[int, LampUse], until: int = 30, tubs: tuple[str, ...] = ("tub",)) -> Climate:
    """A run that ends on a day, its lamp set so from each day on."""
    run = run_of(setup_of(tubs=tubs), events=[event(Deed.END, until, kept=False)])
    rows = tuple(Light(Day.on(day), None, place(day + 1), tubs[0], use) for day, use in settings)
    return climate_of(replace(run, rows=replace(run.rows, lights=rows)))


@pytest.mark.parametrize("row", published("daily_light_integral"), ids=lambda row: row["case"])
def test_published_integrals(row: dict[str, str]) -> None:
    """The daily light integral of the worked examples."""
    assert daily_light_integral(float(row["ppfd"]), float(row["hours"])) == pytest.approx(float(row["dli"]))


def test_energy() -> None:
    """24 W for 16 hours on 30 days are 11.52 kWh, by definition."""
    assert lamp_energy(24, 16, 30) == pytest.approx(11.52)


def test_light_where_the_lamp_hangs_as_stated() -> None:
    """The integral a day, its sum over the run, and the electricity."""
    (tub,) = lit((0, USE)).tubs
    assert tub.dli.value == Rate(exactly(11.52, Dimension.LIGHT_SUM, 1), Per.DAY)
    assert tub.light_sum.value == exactly(11.52 * 30, Dimension.LIGHT_SUM, 30)
    assert tub.energy.value == exactly(11.52, Dimension.ENERGY, 1)


def test_another_distance_is_not_known() -> None:
    """The strength at another distance is never reckoned from the stated one; the current is known all the same."""
    (tub,) = lit((0, replace(USE, distance=exactly(25, Dimension.LENGTH, 1)))).tubs
    assert (tub.dli.value, tub.light_sum.value) == (None, None)
    assert remarks_of(tub.dli) == "the lamp's strength at this distance is not known"
    assert tub.energy.value == exactly(11.52, Dimension.ENERGY, 1)


def test_a_changed_setting() -> None:
    """Each setting holds until the next; what is not known of one makes the sum a lower bound."""
    lower = replace(USE, distance=exactly(20, Dimension.LENGTH, 1))
    (tub,) = lit((0, USE), (10, replace(USE, off=True)), (20, lower)).tubs
    assert tub.light_sum.value == Quantity(11.52 * 10, None, Dimension.LIGHT_SUM, unweighed=1, step=10)
    assert remarks_of(tub.light_sum) == "the lamp's strength at this distance is not known for 10 days"
    assert isinstance(tub.dli.value, Rate)
    assert (tub.dli.value.amount.low, tub.dli.value.amount.high) == (0, 11.52)
    assert isinstance(tub.energy.value, Quantity)
    assert tub.energy.value.low == pytest.approx(7.68)


@pytest.mark.parametrize(
    ("use", "note"),
    [
        (replace(USE, hours=None), "lamp hours were not recorded"),
        (replace(USE, lamp=None), "the lamp was not recorded"),
        (replace(USE, lamp=replace(LAMP, ppfd=None)), "the lamp's strength was not recorded"),
        (replace(USE, distance=None), "the lamp's strength at this distance is not known"),
    ],
)
def test_what_is_missing_is_said(use: LampUse, note: str) -> None:
    """A light that cannot be known says what was not recorded."""
    (tub,) = lit((0, use)).tubs
    assert (tub.dli.value, remarks_of(tub.dli)) == (None, note)


def test_a_tub_without_a_lamp() -> None:
    """One tub's lamp that nobody recorded leaves the current of both a lower bound."""
    climate = lit((0, USE), tubs=("left", "right"))
    known = exactly(11.52, Dimension.ENERGY, 1)
    assert climate.energy.value == replace(known, high=None, unweighed=unknown(Dimension.ENERGY).unweighed)
    assert remarks_of(climate.energy) == "the lamp was not recorded; counting one lamp for each tub"
