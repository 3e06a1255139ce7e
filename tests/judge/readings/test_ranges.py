"""Readings that cannot be, and readings that are unusual."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.records.setup import Crop
from sitegen.core.values.quantity import exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.judge.readings.ranges import impossible_value, unusual_for_crop, unusual_value
from tests.judge.builders import Row, by, ec, height, lit, named, ph, picked, read, run, setup, sown

LETTUCE = Crop("leaf", "Loose-leaf lettuce", "leafy", "Lactuca sativa")
MEND = "check the number and its unit"
UNSURE = "check the number; sources disagree, so it may well be right"


def degrees(name: str, value: float) -> Row:
    """A temperature on day 20."""
    return read(name, 20, exactly(value, Dimension.TEMPERATURE, 1))


@pytest.mark.parametrize(
    ("row", "message"),
    [
        (ph(20, 15), "pH 15 on day 20 cannot be: it lies between 0 and 14"),
        (ec(20, 90), "EC 90 mS/cm on day 20 cannot be: it lies between 0 and 20 mS/cm"),
        (
            degrees("air_temperature", -40),
            "air temperature -40 °C on day 20 cannot be: it lies between -20 and 60 °C",
        ),
        (
            degrees("water_temperature", -1),
            "water temperature -1 °C on day 20 cannot be: it lies between 0 and 50 °C",
        ),
        (
            read("humidity", 20, exactly(105, Dimension.SHARE, 1)),
            "humidity 105 % on day 20 cannot be: it lies between 0 and 100 %",
        ),
        (lit(20, 26), "daily light of 26 h on day 20 cannot be: it lies between 0 and 24 h"),
        (height(20, 1500, "P1"), "height 1500 cm of `P1` on day 20 cannot be: it lies between 0 and 1000 cm"),
        (
            picked(20, 60_000, named("P1")),
            "a pick of 60000 g from `P1` on day 20 cannot be: it lies between 0 and 50000 g",
        ),
    ],
)
def test_impossible(row: Row, message: str) -> None:
    """A value outside what can be is an error, and is not called unusual as well."""
    made = run(sown(), row)

    found = by(impossible_value, made) + by(unusual_value, made) + by(unusual_for_crop, made)
    assert found == [f"e.yaml:120:5: error[impossible-value]: {message} ({MEND})"]


@pytest.mark.parametrize(
    ("row", "message", "mend"),
    [
        (
            ec(20, 1400),
            "EC 1400 mS/cm on day 20 cannot be: it lies between 0 and 20 mS/cm",
            "write `1400 µS/cm`, or check the number",
        ),
        (
            degrees("air_temperature", 72),
            "air temperature 72 °C on day 20 cannot be: it lies between -20 and 60 °C",
            "write `72 °F`, or check the number",
        ),
    ],
)
def test_another_unit_meant(row: Row, message: str, mend: str) -> None:
    """Where the bare number is usual in another unit, that unit is offered."""
    assert by(impossible_value, run(sown(), row)) == [
        f"e.yaml:120:5: error[impossible-value]: {message} ({mend})"
    ]


def test_fahrenheit_already() -> None:
    """A reading that was written in Fahrenheit is not mended to Fahrenheit."""
    (found,) = by(impossible_value, run(sown(), degrees("air_temperature", (170 - 32) * 5 / 9)))

    assert found.endswith(f"({MEND})")


@pytest.mark.parametrize(
    "row",
    [ph(20, 14), ec(20, 0), lit(20, 24), height(20, 1000, "P1"), degrees("air_temperature", -20)],
)
def test_possible_at_the_bound(row: Row) -> None:
    """The bounds themselves can be."""
    assert by(impossible_value, run(sown(), row)) == []


def test_range_that_reaches_too_far() -> None:
    """A range that reaches beyond what can be is impossible as written."""
    wide = replace(exactly(95, Dimension.SHARE), high=105.0)

    assert by(impossible_value, run(sown(), read("humidity", 20, wide))) == [
        (
            "e.yaml:120:5: error[impossible-value]: humidity 95-105 % on day 20 cannot be: "
            f"it lies between 0 and 100 % ({MEND})"
        )
    ]


def test_unmeasured() -> None:
    """What nobody measured lies nowhere."""
    made = run(sown(), read("ec", 20, unknown(Dimension.CONDUCTIVITY)))

    assert by(impossible_value, made) + by(unusual_value, made) == []


@pytest.mark.parametrize(
    ("row", "message"),
    [
        (ph(20, 9), "pH 9 on day 20 is above what is usual, 4.5-8"),
        (ph(20, 4), "pH 4 on day 20 is below what is usual, 4.5-8"),
        (ec(20, 7), "EC 7 mS/cm on day 20 is above what is usual, 0.3-5 mS/cm"),
        (
            degrees("water_temperature", 34),
            "water temperature 34 °C on day 20 is above what is usual, 10-30 °C",
        ),
        (degrees("air_temperature", 2), "air temperature 2 °C on day 20 is below what is usual, 5-40 °C"),
        (lit(20, 20), "daily light of 20 h on day 20 is above what is usual, 12-18 h"),
    ],
)
def test_unusual(row: Row, message: str) -> None:
    """A value outside what is usual is a warning."""
    assert by(unusual_value, run(sown(), row)) == [
        f"e.yaml:120:5: warning[unusual-value]: {message} ({MEND})"
    ]


def test_usual() -> None:
    """Values inside the bands, their ends included, are not spoken of."""
    rows = ph(20, 8), ec(20, 5), degrees("water_temperature", 30), lit(20, 12)

    assert by(unusual_value, run(sown(), *rows)) == []


def test_plain_water_for_seedlings() -> None:
    """A low EC in the first four weeks is plain water or a weak feed."""
    assert by(unusual_value, run(sown(), ec(27, 0.1))) == []


def test_plain_water_later() -> None:
    """A low EC later is asked about."""
    assert by(unusual_value, run(sown(), ec(28, 0.1))) == [
        (
            "e.yaml:128:5: warning[unusual-value]: EC 0.1 mS/cm on day 28 is below what is usual, "
            f"0.3-5 mS/cm ({MEND})"
        )
    ]


def test_lamp_setting_repeated() -> None:
    """A lamp setting that holds is spoken of once."""
    assert len(by(unusual_value, run(sown(), lit(20, 20), lit(30, 20)))) == 1


def test_unusual_for_the_crop() -> None:
    """An EC above the crop's band is said at the first reading, with the number of later ones."""
    made = run(sown(), ec(30, 2.4), ec(40, 2.5), ec(50, 2.6), head=setup(crop=LETTUCE))

    assert by(unusual_for_crop, made) == [
        (
            "e.yaml:130:5: warning[unusual-value]: EC 2.4 mS/cm on day 30 is above what is usual for "
            f"loose-leaf lettuce, 0.8-1.8 mS/cm (so are 2 later readings) ({UNSURE})"
        )
    ]


def test_ph_adjusted() -> None:
    """A pH that was adjusted at once is not spoken of; one that was left is."""
    made = run(sown(), ph(20, 7.5, moment="before"), ph(21, 7.4), head=setup(crop=LETTUCE))

    assert by(unusual_for_crop, made) == [
        (
            "e.yaml:121:5: warning[unusual-value]: pH 7.4 on day 21 is above what is usual for "
            f"loose-leaf lettuce, 5.5-7 ({UNSURE})"
        )
    ]


def test_edge_of_the_crops_band() -> None:
    """An EC within a tenth of the band is at its edge."""
    assert by(unusual_for_crop, run(sown(), ec(30, 1.9), head=setup(crop=LETTUCE))) == []


def test_crop_without_a_band() -> None:
    """A crop that no table has is held to no band of its own."""
    assert by(unusual_for_crop, run(sown(), ec(30, 4.9))) == []
