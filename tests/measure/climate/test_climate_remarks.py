"""What is said with the figures of air, light and warmth."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.facts.figure import NOT_RECORDED, Label, Remark, RemarkCode, remark
from sitegen.core.facts.tree import Climate
from sitegen.core.records.files import Export
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed, Event, Reading
from sitegen.core.records.setup import Crop, Lamp, LampUse
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.climate import climate_of
from tests.measure.builders import FRUITING, event, place, reading, run_of, setup_of

START = dt.datetime(2025, 3, 1)
ENDED = event(Deed.END, 30, kept=False)


def export(name: str, *hours: float, tub: str = "tub", line: int = 1) -> Export:
    """A sensor's series of 20, so many hours after the start."""
    times = tuple(START + dt.timedelta(hours=hour) for hour in hours)
    return Export(name, tub, place(line), times, (20.0,) * len(times), "")


def climate(
    *rows: Reading | Export | Event | Light, tubs: tuple[str, ...] = ("tub",), **head: Any
) -> Climate:
    """The climate of a run."""
    return climate_of(
        run_of(
            setup_of(tubs=tubs, **head),
            readings=[row for row in rows if isinstance(row, Reading)],
            exports=[row for row in rows if isinstance(row, Export)],
            events=[row for row in rows if isinstance(row, Event)],
            lights=[row for row in rows if isinstance(row, Light)],
        )
    )


def said(*codes: RemarkCode) -> tuple[Remark, ...]:
    """Remarks without values."""
    return tuple(remark(code) for code in codes)


def counts(**codes: int) -> tuple[Remark, ...]:
    """Remarks on so many things each."""
    return tuple(remark(code, n=n) for code, n in codes.items())  # type: ignore[arg-type]


def read(name: str, day: int = 9, **more: Any) -> Reading:
    """A reading of 20."""
    dimension = Dimension.SHARE if name == "humidity" else Dimension.TEMPERATURE
    return reading(name, day, exactly(20, dimension, 1), tub="tub", line=len(name) + day, **more)


def test_ranges_of_air() -> None:
    """How many readings and days of a sensor; an export without a dated start; nothing recorded."""
    found = climate(read("air_temperature"), read("air_temperature", 12), export("air_temperature", 1, 30))
    assert found.air.remarks == counts(readings=2, sensor_days=2)
    assert found.humidity.remarks == (NOT_RECORDED,)
    undated = climate(read("air_temperature"), export("air_temperature", 1), start=Start())
    assert undated.air.remarks == (*counts(readings=1), remark("export_not_dated"))
    alone = climate(export("humidity", 1), start=Start())
    assert (alone.humidity.remarks, alone.air.remarks) == (said("export_not_dated"), (NOT_RECORDED,))


def test_deficits() -> None:
    """Days of sensors and pairs of readings; or that there is neither."""
    sensors = (export("air_temperature", 1, 30), export("humidity", 1, 30, line=2))
    pair = (read("air_temperature"), read("humidity"))
    assert climate(*sensors, *pair).vpd.remarks == counts(sensor_means=2, paired_readings=1)
    assert climate(*sensors).vpd.remarks == counts(sensor_means=2)
    assert climate(*pair).vpd.remarks == counts(paired_readings=1)
    assert climate(pair[0]).vpd.remarks == said("no_paired_readings")
    leaf = climate(*pair, read("leaf_temperature")).leaf_vpd
    assert (leaf.remarks, climate(*pair).leaf_vpd.remarks) == (
        counts(visits=1),
        said("leaf_temperature_not_recorded"),
    )


def gaps(*hours: float, **more: Any) -> tuple[Remark, ...]:
    """What is said of the gaps of a sensor."""
    (found,) = climate(export("air_temperature", *hours), **more).gaps
    return found.figure.remarks


def test_gaps() -> None:
    """The three longest gaps with their hours and the day that they began on, in the order of time; more are counted."""
    every = [float(n) for n in range(20)]
    assert gaps(*every) == ()
    assert gaps(*every, 29, 30, 31) == (remark("gap", hours=10.0, day=Day.on(0)),)
    long = (*every, 25, 26, 33, 34, 44, 45, 50, 51, 62)
    assert gaps(*long) == (
        remark("gap", hours=7.0, day=Day.on(1)),
        remark("gap", hours=10.0, day=Day.on(1)),
        remark("gap", hours=11.0, day=Day.on(2)),
        remark("shorter_gaps", n=2),
    )
    for start in (Start(), Start(START.date(), "month")):
        assert gaps(*every, 29, 30, start=start) == (remark("gap", hours=10.0, day="2025-03-01"),)


def test_what_sensors_are_called() -> None:
    """A sensor goes by what it reads, and by its tub where there are several."""
    one = climate(export("air_temperature", 1)).gaps
    two = climate(
        export("air_temperature", 1, tub="left"),
        export("humidity", 1, tub="", line=2),
        tubs=("left", "right"),
    )
    assert [gap.label for gap in one] == [Label("air_temperature", "reading")]
    assert [(gap.key, gap.label) for gap in two.gaps] == [
        ("air-temperature-left", Label("air_temperature", "reading", "left")),
        ("humidity", Label("humidity", "reading")),
    ]


LAMP = Lamp(
    "bar",
    "Bar",
    exactly(24, Dimension.POWER, 1),
    exactly(200, Dimension.PHOTON_FLUX, 10),
    exactly(30, Dimension.LENGTH, 1),
)
USE = LampUse(LAMP, exactly(16, Dimension.DURATION, 1), exactly(30, Dimension.LENGTH, 1))


def lit(*settings: tuple[int, LampUse]) -> list[tuple[Remark, ...]]:
    """What is said of daily integral, light and current of a run of 30 days."""
    lights = [Light(Day.on(day), None, place(day + 1), "tub", use) for day, use in settings]
    (tub,) = climate(*lights, ENDED).tubs
    return [figure.remarks for figure in (tub.dli, tub.light_sum, tub.energy)]


@pytest.mark.parametrize(
    ("use", "dark", "current"),
    [
        (USE, (), ()),
        (replace(USE, off=True, lamp=None), (), ()),
        (replace(USE, lamp=None, hours=None), said("lamp_not_recorded"), said("lamp_not_recorded")),
        (replace(USE, hours=None), said("lamp_hours_not_recorded"), said("lamp_hours_not_recorded")),
        (replace(USE, lamp=replace(LAMP, ppfd=None)), said("lamp_strength_not_recorded"), ()),
        (replace(USE, distance=None), said("lamp_strength_at_distance"), ()),
        (replace(USE, lamp=replace(LAMP, power=None)), (), said("lamp_power_not_recorded")),
    ],
)
def test_what_is_not_known_of_a_lamp(
    use: LampUse, dark: tuple[Remark, ...], current: tuple[Remark, ...]
) -> None:
    """The first thing that is missing is said, of light and of current."""
    assert lit((0, use)) == [dark, dark, current]


def test_what_is_not_known_of_some_days() -> None:
    """Where a lamp is known for a part of the time, the days of the other part are said."""
    bare, far = replace(USE, lamp=None), replace(USE, distance=None)
    some = (remark("for_days", n=20, remark=("lamp_not_recorded", "lamp_strength_at_distance")),)
    assert lit((0, USE), (10, bare), (15, far)) == [
        some,
        some,
        (remark("for_days", n=5, remark=("lamp_not_recorded",)),),
    ]
    assert lit((0, bare), (15, far))[0] == said("lamp_not_recorded", "lamp_strength_at_distance")
    assert lit((0, bare), (15, bare)) == [said("lamp_not_recorded")] * 3
    assert lit() == [said("lamp_not_recorded")] * 3


def test_all_lamps_together() -> None:
    """Each tub's remarks once, and that each has a lamp of its own where there are several."""
    right = Light(Day.on(0), None, place(1), "right", USE)
    assert climate(right, ENDED, tubs=("left", "right")).energy.remarks == said(
        "lamp_not_recorded", "lamp_a_tub"
    )
    assert climate(ENDED, tubs=("left", "right", "far")).energy.remarks == said(
        "lamp_not_recorded", "lamp_a_tub"
    )
    assert climate(ENDED).energy.remarks == said("lamp_not_recorded")
    tubs = climate(tubs=("left", "right")).tubs
    assert [tub.label for tub in tubs] == ["left", "right"]
    assert climate().tubs[0].label == "Bucket"


def hours(*uses: LampUse) -> tuple[Remark, ...]:
    """What is said of the hours of light."""
    lights = [Light(Day.on(day), None, place(day + 1), "tub", use) for day, use in enumerate(uses)]
    return climate(*lights).light_hours.remarks


def test_hours_of_light() -> None:
    """That a setting was changed, or that none was recorded."""
    assert hours() == hours(LampUse()) == (NOT_RECORDED,)
    assert hours(USE) == hours(USE, USE, LampUse()) == ()
    assert hours(USE, replace(USE, off=True)) == said("setting_changed")


def warmth(*days: int, **head: Any) -> tuple[Remark, ...]:
    """What is said of the degree days of a run of ten days, with a sensor on some days."""
    sensor = [export("air_temperature", *(24 * day + 1 for day in days))] if days else []
    (tub,) = climate(*sensor, event(Deed.END, 9), **head).tubs
    return tub.degree_days.remarks


def test_degree_days() -> None:
    """The base with its source, and how many days had no samples; or what is missing."""
    based = replace(FRUITING, base_temperature=exactly(10, Dimension.TEMPERATURE, 1))
    named = replace(based, base_temperature_source="a handbook")
    own = remark("above_base", temperature=10.0, source=Label("own base temperature", "site"))
    assert warmth(*range(10), crop=based) == (own,)
    assert warmth(*range(10), crop=named) == (remark("above_base", temperature=10.0, source="a handbook"),)
    assert warmth(*range(8), crop=based) == (own, remark("days_without_samples", n=2, all=10))
    lettuce = Crop("lettuce", "Lettuce", "leafy", "Lactuca sativa")
    (published,) = warmth(*range(10), crop=lettuce)
    assert dict(published.values) == {
        "temperature": pytest.approx(40 / 9),
        "source": "University of Delaware, Weekly Crop Update 2025",
    }
    assert warmth(crop=based) == said("no_air_sensor")
    assert warmth(*range(10)) == warmth() == said("base_unknown")
