"""Readings that cannot be, and readings that are unusual."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Deed
from sitegen.core.records.setup import Crop, LampUse, Tub
from sitegen.core.values.quantity import Quantity, counted, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.judge.ranges import impossible_value, more_than_the_tub, unusual_for_crop, unusual_value
from tests.judge.builders import (
    TUB,
    Row,
    by,
    checked,
    day,
    done,
    ec,
    height,
    lit,
    named,
    ph,
    picked,
    place,
    read,
    run,
    setup,
    sown,
    watered,
)

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
    """A value outside the possible range is an error, and not a warning as well."""
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
    """A range that reaches beyond the possible one is an error."""
    wide = replace(exactly(95, Dimension.SHARE), high=105.0)

    assert by(impossible_value, run(sown(), read("humidity", 20, wide))) == [
        (
            "e.yaml:120:5: error[impossible-value]: humidity 95-105 % on day 20 cannot be: "
            f"it lies between 0 and 100 % ({MEND})"
        )
    ]


def test_unmeasured() -> None:
    """A value that was not measured gives no finding."""
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
    """A value outside the usual range is a warning."""
    assert by(unusual_value, run(sown(), row)) == [
        f"e.yaml:120:5: warning[unusual-value]: {message} ({MEND})"
    ]


def test_usual() -> None:
    """Values inside the ranges, their bounds included, give no finding."""
    rows = ph(20, 8), ec(20, 5), degrees("water_temperature", 30), lit(20, 12)

    assert by(unusual_value, run(sown(), *rows)) == []


def test_plain_water_for_seedlings() -> None:
    """A low EC in the first four weeks is plain water or a weak feed."""
    assert by(unusual_value, run(sown(), ec(27, 0.1))) == []


def test_plain_water_later() -> None:
    """A low EC later is a warning."""
    assert by(unusual_value, run(sown(), ec(28, 0.1))) == [
        (
            "e.yaml:128:5: warning[unusual-value]: EC 0.1 mS/cm on day 28 is below what is usual, "
            f"0.3-5 mS/cm ({MEND})"
        )
    ]


def test_unusual_for_the_crop() -> None:
    """An EC above the crop's range is a finding at the first reading, with the number of later ones."""
    made = run(sown(), ec(30, 2.4), ec(40, 2.5), ec(50, 2.6), head=setup(crop=LETTUCE))

    assert by(unusual_for_crop, made) == [
        (
            "e.yaml:130:5: warning[unusual-value]: EC 2.4 mS/cm on day 30 is above what is usual for "
            f"loose-leaf lettuce, 0.8-1.8 mS/cm (so are 2 later readings) ({UNSURE})"
        )
    ]


def test_ph_adjusted() -> None:
    """A pH that was adjusted at once gives no finding; one that was left does."""
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


def impossible(line: int, said: str, least: str, most: str, found: str, mend: str = MEND) -> Finding:
    """A value that cannot be."""
    message = f"{said} on day {line - 100} cannot be: it lies between {least} and {most}"
    return Finding("impossible-value", place(line), message, mend, found, f"{least}-{most}")


def unusual(line: int, said: str, side: str, expected: str, found: str) -> Finding:
    """A value that is unusual with any crop."""
    message = f"{said} on day {line - 100} is {side} what is usual, {expected}"
    return Finding("unusual-value", place(line), message, MEND, found, expected)


def share(least: float, most: float | None) -> Row:
    """A range of humidity on day 20."""
    return read("humidity", 20, Quantity(least, most, Dimension.SHARE, step=1))


def meant(value: str) -> str:
    """Another unit that was meant."""
    return f"write `{value}`, or check the number"


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        (ph(20, 14), []),
        (ph(20, 14.1), [impossible(120, "pH 14.1", "0", "14", "14.1")]),
        (ph(20, -0.1), [impossible(120, "pH -0.1", "0", "14", "-0.1")]),
        (share(90, 100), []),
        (share(90, 101), [impossible(120, "humidity 90-101 %", "0", "100 %", "90-101 %")]),
        (share(-1, 9), [impossible(120, "humidity -1-9 %", "0", "100 %", "-1-9 %")]),
        (share(100, None), []),
        (share(101, None), [impossible(120, "humidity at least 101 %", "0", "100 %", "at least 101 %")]),
        (share(-1, None), [impossible(120, "humidity at least -1 %", "0", "100 %", "at least -1 %")]),
        (degrees("leaf_temperature", 61), [impossible(120, "leaf temperature 61 °C", "-20", "60 °C", "61 °C")]),
        (watered(20, 1000), []),
        (watered(20, 1001), [impossible(120, "water added 1001000 ml", "0", "1000000 ml", "1001000 ml")]),
        (done(Deed.WATER, 20, tub="tub", filled=True), []),
        (picked(20, 50_001), [impossible(120, "a pick of 50001 g from all plants", "0", "50000 g", "50001 g")]),
        (read("leaves", 20, counted(10_001), named("P1")),
         [impossible(120, "leaves 10001 of `P1`", "0", "10000", "10001")]),
        (read("par", 20, exactly(1e9, Dimension.PHOTON_FLUX)), []),
        (read("ph", 20, exactly(60, Dimension.TEMPERATURE)), []),
        (ec(20, 21), [impossible(120, "EC 21 mS/cm", "0", "20 mS/cm", "21 mS/cm")]),
        (ec(20, 299), [impossible(120, "EC 299 mS/cm", "0", "20 mS/cm", "299 mS/cm")]),
        (ec(20, 300), [impossible(120, "EC 300 mS/cm", "0", "20 mS/cm", "300 mS/cm", meant("300 µS/cm"))]),
        (ec(20, 5000), [impossible(120, "EC 5000 mS/cm", "0", "20 mS/cm", "5000 mS/cm", meant("5000 µS/cm"))]),
        (ec(20, 5001), [impossible(120, "EC 5001 mS/cm", "0", "20 mS/cm", "5001 mS/cm")]),
        (ec(20, 1250.25), [impossible(120, "EC 1250 mS/cm", "0", "20 mS/cm", "1250 mS/cm", meant("1250 µS/cm"))]),
        (ec(20, 1250.255), [impossible(120, "EC 1250 mS/cm", "0", "20 mS/cm", "1250 mS/cm")]),
        (degrees("water_temperature", 51),
         [impossible(120, "water temperature 51 °C", "0", "50 °C", "51 °C", meant("51 °F"))]),
        (degrees("water_temperature", 86),
         [impossible(120, "water temperature 86 °C", "0", "50 °C", "86 °C", meant("86 °F"))]),
        (degrees("water_temperature", 87), [impossible(120, "water temperature 87 °C", "0", "50 °C", "87 °C")]),
        (degrees("leaf_temperature", 70), [impossible(120, "leaf temperature 70 °C", "-20", "60 °C", "70 °C")]),
    ],
)  # fmt: skip
def test_bounds_of_the_possible(row: Row, expected: list[Finding]) -> None:
    """A value is possible up to the bounds; beyond them another unit is offered where the bare number is usual in it."""
    assert checked(impossible_value, run(sown(), row)) == expected


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        (ph(20, 8), []),
        (ph(20, 8.1), [unusual(120, "pH 8.1", "above", "4.5-8", "8.1")]),
        (ph(20, 4.5), []),
        (ph(20, 4.4), [unusual(120, "pH 4.4", "below", "4.5-8", "4.4")]),
        (share(5, 9), [unusual(120, "humidity 5-9 %", "below", "10-100 %", "5-9 %")]),
        (share(5, 10), []),
        (share(5, None), []),
        (share(-1, 5), []),
        (ec(27, 0.2), []),
        (ec(28, 0.2), [unusual(128, "EC 0.2 mS/cm", "below", "0.3-5 mS/cm", "0.2 mS/cm")]),
        (ec(28, 0.3), []),
        (ec(20, 5.1), [unusual(120, "EC 5.1 mS/cm", "above", "0.3-5 mS/cm", "5.1 mS/cm")]),
        (ec(20, 20), [unusual(120, "EC 20 mS/cm", "above", "0.3-5 mS/cm", "20 mS/cm")]),
        (ec(20, 21), []),
        (ec(28, 0.1)._replace(day=day((27, 28))), []),
        (lit(20, 18), []),
        (lit(20, 11), [unusual(120, "daily light of 11 h", "below", "12-18 h", "11 h")]),
        (degrees("leaf_temperature", 59), []),
        (read("ph", 20, exactly(40, Dimension.TEMPERATURE)), []),
        (replace(lit(20, 20), use=LampUse(off=True, hours=exactly(20, Dimension.DURATION, 1))), []),
        (replace(lit(20, 20), use=LampUse(distance=exactly(1001, Dimension.LENGTH, 1))), []),
    ],
)  # fmt: skip
def test_bounds_of_the_usual(row: Row, expected: list[Finding]) -> None:
    """A value is usual up to the bounds, and a weak feed in the first four weeks; an impossible value is no warning."""
    assert checked(unusual_value, run(sown(), row)) == expected


TWO_TUBS = (Tub("left", TUB), Tub("right", TUB))


def for_crop(line: int, said: str, side: str, expected: str, found: str, more: str = "") -> Finding:
    """A value that is unusual for lettuce."""
    message = f"{said} on day {line - 100} is {side} what is usual for loose-leaf lettuce, {expected}{more}"
    return Finding("unusual-value", place(line), message, UNSURE, found, expected)


EC_RANGE, PH_RANGE = "0.8-1.8 mS/cm", "5.5-7"


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([ec(30, 1.98)], []),
        ([ec(30, 1.99)], [for_crop(130, "EC 1.99 mS/cm", "above", EC_RANGE, "1.99 mS/cm")]),
        ([ec(30, 0.72)], []),
        ([ec(30, 0.71)], [for_crop(130, "EC 0.71 mS/cm", "below", EC_RANGE, "0.71 mS/cm")]),
        ([ec(28, 0.71)], [for_crop(128, "EC 0.71 mS/cm", "below", EC_RANGE, "0.71 mS/cm")]),
        ([ec(27, 0.71)], []),
        ([ec(5, 2.4)], [for_crop(105, "EC 2.4 mS/cm", "above", EC_RANGE, "2.4 mS/cm")]),
        ([ec(30, 5)], [for_crop(130, "EC 5 mS/cm", "above", EC_RANGE, "5 mS/cm")]),
        ([ec(30, 5.1)], []),
        ([ec(30, 25)], []),
        ([ec(30, 3)._replace(value=Quantity(3, 25, Dimension.CONDUCTIVITY, step=0.1))], []),
        ([ec(30, 3)._replace(value=Quantity(1.5, 3, Dimension.CONDUCTIVITY, step=0.1))], []),
        ([ph(20, 7)], []),
        ([ph(20, 7.01)], [for_crop(120, "pH 7.01", "above", PH_RANGE, "7.01")]),
        ([ph(20, 5.5)], []),
        ([ph(20, 5.4)], [for_crop(120, "pH 5.4", "below", PH_RANGE, "5.4")]),
        ([ph(5, 5.4)], [for_crop(105, "pH 5.4", "below", PH_RANGE, "5.4")]),
        ([ph(20, 7.5, moment="before")], []),
        ([ph(20, 7.5, moment="after")], [for_crop(120, "pH 7.5", "above", PH_RANGE, "7.5")]),
        ([degrees("water_temperature", 29)], []),
        (
            [ph(20, 7.5), ph(21, 6), ph(22, 7.6)],
            [for_crop(120, "pH 7.5", "above", PH_RANGE, "7.5", " (so is 1 later reading)")],
        ),
        (
            [ph(20, 7.5), ph(21, 5), ph(22, 7.6), ph(23, 7.7), ec(24, 2.4), ph(25, 5)],
            [
                for_crop(120, "pH 7.5", "above", PH_RANGE, "7.5", " (so are 2 later readings)"),
                for_crop(121, "pH 5", "below", PH_RANGE, "5", " (so is 1 later reading)"),
                for_crop(124, "EC 2.4 mS/cm", "above", EC_RANGE, "2.4 mS/cm"),
            ],
        ),
    ],
)
def test_range_of_the_crop(rows: list[Row], expected: list[Finding]) -> None:
    """Readings outside the crop's range, an EC by more than a tenth, are one finding per side, with their number."""
    assert checked(unusual_for_crop, run(sown(), *rows, head=setup(crop=LETTUCE))) == expected


def test_crop_by_tub() -> None:
    """Each tub has a finding of its own."""
    rows = ph(20, 7.5, tub="left"), ph(21, 7.6, tub="right"), ph(22, 7.7, tub="left")
    made = run(sown(), *rows, head=setup(crop=LETTUCE, tubs=TWO_TUBS))

    assert checked(unusual_for_crop, made) == [
        for_crop(120, "pH 7.5 of `left`", "above", PH_RANGE, "7.5", " (so is 1 later reading)"),
        for_crop(121, "pH 7.6 of `right`", "above", PH_RANGE, "7.6"),
    ]


def test_values_in_us_units() -> None:
    """A finding about degrees Fahrenheit or inches has its bounds in them too."""
    hot = read("air_temperature", 20, exactly((150 - 32) * 5 / 9, Dimension.TEMPERATURE, 5 / 9))
    warm = read("water_temperature", 21, exactly((90 - 32) * 5 / 9, Dimension.TEMPERATURE, 5 / 9))
    tall = read("height", 22, exactly(500 * 2.54, Dimension.LENGTH, 2.54), named("P1"))
    made = run(sown(), hot, warm, tall)

    assert checked(impossible_value, made) == [
        impossible(120, "air temperature 150 °F", "-4", "140 °F", "150 °F"),
        impossible(122, "height 500 in of `P1`", "0", "32.8 ft", "500 in"),
    ]
    assert checked(unusual_value, made) == [
        unusual(121, "water temperature 90 °F", "above", "50-86 °F", "90 °F")
    ]


def _holding(litres: float | None) -> Tub:
    """The tub with a reservoir of so many litres."""
    volume = None if litres is None else exactly(1000 * litres, Dimension.VOLUME, 1)
    return Tub("tub", replace(TUB, reservoir=volume))


def test_more_than_the_tub_holds() -> None:
    """More water at once than the reservoir of the tub is a warning."""
    made = run(sown(), watered(12, 30), head=setup(tubs=(_holding(9),)))

    assert by(more_than_the_tub, made) == [
        (
            "e.yaml:112:5: warning[more-than-the-tub]: 30 L of water on day 12 is more than `crate` holds, 9 L "
            "(check the amount and its unit, or correct `reservoir` in gear.yaml)"
        )
    ]


@pytest.mark.parametrize(("added", "holds"), [(9.5, 9), (30, None)])
def test_up_to_the_brim(added: float, holds: float | None) -> None:
    """A reservoir is filled to a tenth more than it is said to hold; of one that is not known nothing is said."""
    made = run(sown(), watered(12, added), head=setup(tubs=(_holding(holds),)))

    assert by(more_than_the_tub, made) == []


def test_each_watering_is_looked_at() -> None:
    """One without an amount, or that fits, is no reason to stop."""
    filled = done(Deed.WATER, 11, tub="tub")
    made = run(sown(), filled, watered(12, 3), watered(13, 30), head=setup(tubs=(_holding(9),)))

    assert len(by(more_than_the_tub, made)) == 1
