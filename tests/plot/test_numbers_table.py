"""Numbers of a chart for a spreadsheet: days, units in the heads, flags in words."""

from __future__ import annotations

from datetime import date

import pytest

from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity, unknown
from sitegen.core.values.units import Dimension
from sitegen.plot.numbers_table import number_of, numbers_table, quantity_cells, quantity_heads

START = Start(date(2025, 12, 14), "day")


def test_rows_are_in_the_order_of_days() -> None:
    """A span has both ends, and the date of its first day; what was written as `before` a day has no date."""
    days = (Day(20, 24), Day(0, 9, before=True), Day.on(18, about=True))
    table = numbers_table(("n",), [(day, (str(n),)) for n, day in enumerate(days)], START)

    assert table.columns == ("day_first", "day_last", "day_flag", "date", "n")
    assert table.rows == (
        ("0", "9", "before", "", "1"),
        ("18", "18", "about", "2026-01-01", "2"),
        ("20", "24", "", "2026-01-03", "0"),
    )


@pytest.mark.parametrize(
    ("dimension", "unit"),
    [
        (Dimension.MASS, "g"),
        (Dimension.CONDUCTIVITY, "mS_per_cm"),
        (Dimension.TEMPERATURE, "degC"),
        (Dimension.SHARE, "percent"),
        (Dimension.PHOTON_FLUX, "umol_per_m2_per_s"),
    ],
)
def test_heads_have_the_unit_in_plain_letters(dimension: Dimension, unit: str) -> None:
    """So that no program has to quote them."""
    assert quantity_heads("x", dimension) == (f"x_{unit}_low", f"x_{unit}_high", "x_flag")


def test_a_number_without_a_unit_has_none_in_its_head() -> None:
    """A pH is a number."""
    assert quantity_heads("ph", Dimension.ACIDITY) == ("ph_low", "ph_high", "ph_flag")


def test_flags_are_words() -> None:
    """An open end is an empty cell; what nobody measured has no number at all."""
    mass = Dimension.MASS

    assert quantity_cells(Quantity(46, 46, mass)) == ("46", "46", "")
    assert quantity_cells(Quantity(46, 50.25, mass, about=True, by_eye=True)) == (
        "46",
        "50.25",
        "about, by eye",
    )
    assert quantity_cells(Quantity(46, None, mass, open=1)) == ("46", "", "at least")
    assert quantity_cells(unknown(mass)) == ("", "", "not measured")


def test_a_conversion_leaves_no_noise() -> None:
    """4.7 in is 11.938 cm: an inch is 2.54 cm exactly (NIST SP 811, appendix B.8)."""
    assert number_of(4.7 * 2.54) == "11.938"
    assert number_of(None) == ""
