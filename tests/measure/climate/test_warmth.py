"""Degree days."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.indices import DailyRange
from sitegen.core.records.rows import Deed
from sitegen.core.records.setup import Crop
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.climate import degree_days, degree_days_of
from tests.measure.builders import FRUITING, event, remarks_of, run_of, setup_of
from tests.measure.published import published

BASED = replace(
    FRUITING, base_temperature=exactly(10, Dimension.TEMPERATURE, 1), base_temperature_source="a handbook"
)


@pytest.mark.parametrize("row", published("degree_days"), ids=lambda row: row["case"])
def test_published_days(row: dict[str, str]) -> None:
    """The mean of the day's extremes above the base, never below 0."""
    assert degree_days(float(row["lowest"]), float(row["highest"]), float(row["base"])) == float(
        row["degree_days"]
    )


def summed(crop: Crop, *days: int, **more: Any) -> Figure:
    """Days of 18 to 26 °C in a run that ended on day 3."""
    run = run_of(setup_of(crop=crop), events=[event(Deed.END, 3, kept=False)])
    return degree_days_of(
        run, "climate.tubs.tub.degree_days", [DailyRange(day, 18, 22, 26, 9) for day in days]
    )


def test_a_whole_run() -> None:
    """Every day of the run counts, the base and its source are said."""
    figure = summed(BASED, 0, 1, 2, 3)
    assert figure.value == exactly(48, Dimension.HEAT_SUM, 1)
    assert remarks_of(figure) == "above 10.0 °C (a handbook)"


def test_days_without_samples_are_not_filled_in() -> None:
    """A sum with days missing is a lower bound; days outside the run do not count."""
    figure = summed(BASED, -1, 0, 2, 7)
    assert figure.value == Quantity(24, None, Dimension.HEAT_SUM, step=1)
    assert remarks_of(figure) == "above 10.0 °C (a handbook); no readings on 2 days of 4"


def test_days_with_few_samples_are_left_out() -> None:
    """A day with few samples is no whole day: the sum is a lower bound, and their number is said."""
    days = [DailyRange(day, 18, 22, 26, 9, whole=day != 2) for day in range(4)]
    run = run_of(setup_of(crop=BASED), events=[event(Deed.END, 3, kept=False)])
    figure = degree_days_of(run, "climate.tubs.tub.degree_days", days)
    assert figure.value == Quantity(36, None, Dimension.HEAT_SUM, step=1)
    assert remarks_of(figure) == "above 10.0 °C (a handbook); not counting 1 day with few readings"
    none = degree_days_of(run, "climate.tubs.tub.degree_days", days[2:3])
    assert (none.value, remarks_of(none)) == (None, "not counting 1 day with few readings")


def test_an_end_on_a_span_of_days() -> None:
    """With an end on day 1-3, 12 degree days a day are 24 to 48."""
    end = event(Deed.END, 1, kept=False)._replace(day=Day(1, 3))
    days = [DailyRange(day, 18, 22, 26, 9) for day in range(4)]
    run = run_of(setup_of(crop=BASED), events=[end])
    found = degree_days_of(run, "climate.tubs.tub.degree_days", days)
    assert found.value == Quantity(24, 48, Dimension.HEAT_SUM, step=1)


def test_a_published_base() -> None:
    """Without a base in the journal a published one is taken, and its source named."""
    figure = summed(Crop("dwarf-bean", "Dwarf bean", "legume", "Phaseolus vulgaris"), 0, 1, 2, 3)
    assert figure.value == exactly(48, Dimension.HEAT_SUM, 1)
    assert remarks_of(figure).startswith("above 10.0 °C (Peet")


def test_no_base_and_no_sensor() -> None:
    """Without a base or without samples there are no degree days."""
    assert remarks_of(summed(FRUITING, 0)) == "the crop's base temperature is not known"
    assert remarks_of(summed(BASED)) == "no sensor for air temperature"
