"""Temperature and dryness of the air by day and by night, as the lamp divides them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from statistics import fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.indices import TubClimate
from sitegen.core.records.files import Export
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed
from sitegen.core.records.setup import LampUse
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.climate import climate_of
from sitegen.measure.climate.vapour import vapour_pressure_deficit
from tests.measure.builders import event, place, remarks_of, run_of, setup_of
from tests.measure.values import amount, bounds, lines

START = dt.date(2025, 3, 1)  # the day of sowing of the builders
USE = LampUse(hours=exactly(14, Dimension.DURATION, 1), on=6 * 60)
HOUR = dt.timedelta(hours=1)


def setting(day: int | Day, use: LampUse, entry: int | None = None, tub: str = "tub") -> Light:
    """A lamp set so from a day on."""
    when = day if isinstance(day, Day) else Day.on(day)
    return Light(when, entry, place(100 + when.first), tub, use)


def export(
    name: str, value: Callable[[dt.datetime], float], days: int, tub: str = "tub", step: dt.timedelta = HOUR
) -> Export:
    """A sensor's samples from the day of sowing on."""
    begin = dt.datetime.combine(START, dt.time())
    times = tuple(begin + number * step for number in range(int(days * 24 * HOUR / step)))
    unit = "%" if name == "humidity" else "°C"
    return Export(name, tub, place(2 if unit == "%" else 1), times, tuple(map(value, times)), unit)


def warm_by_day(moment: dt.datetime) -> float:
    """25 °C from 6 to 20 o'clock, else 18 °C."""
    return 25.0 if 6 <= moment.hour < 20 else 18.0


def damp_by_night(moment: dt.datetime) -> float:
    """54 % from 6 to 20 o'clock, else 82 %."""
    return 54.0 if 6 <= moment.hour < 20 else 82.0


def by_light(*rows: Light | Export, days: int = 6, tubs: tuple[str, ...] = ("tub",)) -> TubClimate:
    """The first tub of a run of some days."""
    lights = [row for row in rows if isinstance(row, Light)]
    exports = [row for row in rows if isinstance(row, Export)]
    ended = event(Deed.END, days, kept=False)
    return climate_of(run_of(setup_of(tubs=tubs), events=[ended], lights=lights, exports=exports)).tubs[0]


BOTH = (export("air_temperature", warm_by_day, 6), export("humidity", damp_by_night, 6))


def means(found: TubClimate) -> list[float | None]:
    """Temperature by day and by night, then the deficit by day and by night."""
    figures = (found.day_temperature, found.night_temperature, found.day_vpd, found.night_vpd)
    return [figure.value.low if isinstance(figure.value, Quantity) else None for figure in figures]


def test_the_published_day() -> None:
    """25 °C at 54 % and 18 °C at 82 %: e0 3.168 and 2.064 kPa, a deficit of 0.91 kPa of both together.

    FAO Irrigation and Drainage Paper 56, examples 5 (pressures, seen in a copy) and 6 (the deficit, from memory).
    """
    found = by_light(setting(0, USE), *BOTH)
    assert means(found) == [
        25,
        18,
        pytest.approx(3.168 * 0.46, abs=5e-4),
        pytest.approx(2.064 * 0.18, abs=5e-4),
    ]
    day, night = amount(found.day_vpd).low, amount(found.night_vpd).low
    assert (day + night) / 2 == pytest.approx(0.91, abs=5e-3)


def test_figures_carry_rows_and_periods() -> None:
    """Six days hold six periods of light and five nights; rows are those of the sensors and the setting."""
    found = by_light(setting(0, USE), *BOTH)
    assert [remarks_of(each) for each in (found.day_vpd, found.night_vpd)] == ["6 periods", "5 periods"]
    assert [lines(each) for each in (found.day_temperature, found.night_vpd)] == [[1, 100], [1, 2, 100]]
    assert (found.day_vpd.name, found.night_temperature.name, found.day_vpd.formula) == (
        "climate.tubs.tub.day_vpd",
        "climate.tubs.tub.night_temperature",
        "mean_of_periods",
    )
    assert (amount(found.day_temperature).step, amount(found.day_vpd).step) == (0.1, 0.01)


def test_the_deficit_is_taken_of_samples_not_of_means() -> None:
    """Half a day at 18 and half at 30 °C, both at 50 %: the mean of the deficits is above that of 24 °C."""
    swings = export("air_temperature", lambda moment: 18.0 if moment.hour % 2 else 30.0, 6)
    found = amount(by_light(setting(0, USE), swings, export("humidity", lambda _: 50.0, 6)).day_vpd).low
    pairs = [vapour_pressure_deficit(warm, 50) for warm in (18, 30)]
    assert found == pytest.approx(fmean(pairs))
    assert found > vapour_pressure_deficit(24, 50)


def test_a_day_that_goes_on_over_midnight() -> None:
    """A lamp that goes on at 20:00 for 14 h lights the plants until 10:00 of the next day."""
    late = replace(USE, on=20 * 60)
    lit = export("air_temperature", lambda m: 25.0 if m.hour >= 20 or m.hour < 10 else 18.0, 6)
    found = by_light(setting(0, late), lit)
    assert means(found)[:2] == [25, 18]
    assert remarks_of(found.day_temperature) == "5 periods"


def test_hours_that_are_a_range() -> None:
    """With 12-16 h the hours from 18 to 22 o'clock may be of either: the mean is a range, worked by hand."""
    warmer = export("air_temperature", lambda m: 31.0 if 18 <= m.hour < 22 else warm_by_day(m), 6)
    vague = by_light(setting(0, replace(USE, hours=Quantity(12, 16, Dimension.DURATION))), warmer)
    assert bounds(vague.day_temperature) == (25, pytest.approx((12 * 25 + 4 * 31) / 16))
    assert bounds(vague.night_temperature) == (18, pytest.approx((8 * 18 + 4 * 31) / 12))
    at_least = replace(USE, hours=Quantity(12, None, Dimension.DURATION, open=1))
    assert means(by_light(setting(0, at_least), warmer))[:2] == [
        pytest.approx((12 * 25 + 8 * 18 + 4 * 31) / 24),
        None,
    ]
    about = replace(USE, hours=exactly(14, Dimension.DURATION, 1), on=360)
    unsure = replace(about, hours=Quantity(14, 14, Dimension.DURATION, about=True))
    flags = [amount(by_light(setting(0, use), *BOTH).day_vpd).about for use in (about, unsure)]
    assert flags == [False, True]


def test_a_lamp_that_never_goes_off() -> None:
    """24 h a day have no night, 0 h no day."""
    always, never = (replace(USE, hours=exactly(hours, Dimension.DURATION, 1)) for hours in (24, 0))
    assert [value is None for value in means(by_light(setting(0, always), *BOTH))] == [False, True] * 2
    assert [value is None for value in means(by_light(setting(0, never), *BOTH))] == [True, False] * 2


def test_days_of_a_change_are_left_out() -> None:
    """From 14 to 6 h on day 2-3: only days 0, 1 and from day 4 on are surely of one schedule."""
    shorter = replace(USE, hours=exactly(6, Dimension.DURATION, 1))
    found = by_light(setting(0, USE), setting(Day(2, 3), shorter, entry=2), *BOTH)
    assert remarks_of(found.day_temperature) == "4 periods"
    assert amount(found.day_temperature).about
    assert remarks_of(found.night_temperature) == "2 periods"
    same = by_light(
        setting(0, USE), setting(3, replace(USE, distance=exactly(20, Dimension.LENGTH)), 3), *BOTH
    )
    assert remarks_of(same.day_temperature) == "6 periods"


def test_a_period_with_few_samples_is_left_out() -> None:
    """A day of which most samples are missing does not count, and the figure says so."""
    whole = BOTH[0]
    kept = [
        (moment, value)
        for moment, value in zip(whole.times, whole.values, strict=True)
        if moment.date() != START + dt.timedelta(days=2) or not 7 <= moment.hour < 18
    ]
    holes = replace(whole, times=tuple(m for m, _ in kept), values=tuple(v for _, v in kept))
    found = by_light(setting(0, USE), holes)
    assert remarks_of(found.day_temperature) == "5 periods; not counting 1 period with few readings"
    assert remarks_of(found.night_temperature) == "5 periods"


def test_what_is_missing() -> None:
    """Without the time of going on there is no figure; without samples, or an undated start, none has a value."""
    silent = by_light(setting(0, replace(USE, on=None)), *BOTH)
    assert [figure.name for figure in (silent.day_vpd, silent.night_temperature)] == ["", ""]
    found = by_light(setting(0, USE), BOTH[0])
    assert remarks_of(found.day_vpd) == "no readings while the lamp was surely on that setting"
    undated = setup_of(start=Start(START, "month"))
    rows = {"lights": [setting(0, USE)], "exports": BOTH, "events": [event(Deed.END, 6, kept=False)]}
    assert climate_of(run_of(undated, **rows)).tubs[0].day_vpd.value is None


def test_each_tub_has_its_own_lamp() -> None:
    """The samples of one tub are divided by its lamp alone."""
    left = export("air_temperature", warm_by_day, 6, tub="left")
    rows = (setting(0, USE, tub="left"), setting(0, replace(USE, on=0), tub="right"))
    assert means(by_light(*rows, left, tubs=("left", "right")))[:2] == [25, 18]


@given(
    st.integers(0, 23 * 60 + 59),
    st.integers(0, 24),
    st.integers(0, 3),
    st.lists(
        st.tuples(st.integers(2, 9), st.integers(0, 3), st.integers(0, 23 * 60), st.integers(0, 24)),
        max_size=3,
    ),
    st.data(),
)
def test_only_what_is_certain_counts(
    on: int, hours: int, more: int, changes: list[tuple[int, int, int, int]], data: st.DataObject
) -> None:
    """Wherever in its span a change fell and however long the lamp was on, the mean of each holds the true one."""
    use = LampUse(hours=Quantity(hours, hours + more, Dimension.DURATION), on=on)
    rows, truth = [setting(0, use)], [(dt.datetime.combine(START, dt.time()), on, float(hours))]
    days = sorted(changes)
    for number, (day, wide, then, long) in enumerate(days):
        new = LampUse(hours=Quantity(long, long + more, Dimension.DURATION), on=then)
        rows.append(setting(Day(day, day + wide), new, entry=number))
    # One change after the other, each on a day of its own span: at the latest when the next one still can follow.
    ends = [(day + wide + 1) * 1440 - 1 for day, wide, _, _ in days]
    latest = [min(ends[number:]) for number in range(len(ends))]
    minute = 0
    for (day, _, then, long), last in zip(days, latest, strict=True):
        minute = data.draw(st.integers(max(minute, day * 1440), last))
        moment = dt.datetime.combine(START, dt.time()) + dt.timedelta(minutes=minute)
        truth.append((moment, then, long + data.draw(st.integers(0, more))))

    def lit(moment: dt.datetime) -> float:
        _, goes_on, lasts = next(each for each in reversed(truth) if each[0] <= moment)
        minute = (moment.hour * 60 + moment.minute - goes_on) % 1440
        return 30.0 if minute < lasts * 60 else 10.0

    found = by_light(*rows, export("air_temperature", lit, 12, step=dt.timedelta(minutes=20)), days=12)
    for figure, wanted in ((found.day_temperature, 30.0), (found.night_temperature, 10.0)):
        if figure.value is not None:
            low, high = bounds(figure)
            assert low - 1e-9 <= wanted <= high + 1e-9
            assert high - low < 1e-9 or more
