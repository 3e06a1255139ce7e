"""Light read at the plants: how long a reading holds, lux with a factor, and days and hours that are not certain."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.core.facts.figure import Rate
from sitegen.core.facts.indices import TubClimate
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed, Event, Reading
from sitegen.core.records.setup import Lamp, LampUse
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.measure.climate.climate import climate_of
from sitegen.measure.climate.light import daily_light_integral
from sitegen.measure.climate.light_readings import flux_from_lux
from tests.measure.builders import event, place, reading, remarks_of, run_of, setup_of
from tests.measure.exactness import faults
from tests.measure.values import amount, bounds, lines, rate

PANEL = Lamp("panel", "Panel", exactly(40, Dimension.POWER, 1))
HOURS = exactly(16, Dimension.DURATION, 1)
USE = LampUse(PANEL, HOURS)
WHITE = replace(PANEL, lux_factor=66.0, lux_source="its maker")
ENDED = event(Deed.END, 30, kept=False)


def setting(day: int | Day, use: LampUse, entry: int | None = None, tub: str = "tub") -> Light:
    """A lamp set so from a day on."""
    when = day if isinstance(day, Day) else Day.on(day)
    return Light(when, entry, place(100 + when.first), tub, use)


def flux(day: int | Day, value: float | Quantity, entry: int | None = None, **more: Any) -> Reading:
    """A reading of light at the plants."""
    size = value if isinstance(value, Quantity) else exactly(value, Dimension.PHOTON_FLUX, 1)
    when = day if isinstance(day, Day) else Day.on(day)
    name = "lux" if size.dimension is Dimension.ILLUMINANCE else "ppfd"
    more.setdefault("tub", "tub")
    found = reading(name, when.first, size, line=200 + when.first, **more)
    return found._replace(day=when, entry=when.first if entry is None else entry)


def lux(day: int, value: float, **more: Any) -> Reading:
    """A reading of a lux meter."""
    return flux(day, exactly(value, Dimension.ILLUMINANCE, 100), **more)


def lit(*rows: Light | Reading, end: Event = ENDED, tubs: tuple[str, ...] = ("tub",)) -> TubClimate:
    """The first tub of a run with these settings and readings."""
    lights = [row for row in rows if isinstance(row, Light)]
    readings = [row for row in rows if isinstance(row, Reading)]
    run = run_of(setup_of(tubs=tubs), events=[end], lights=lights, readings=readings)
    return climate_of(run).tubs[0]


def test_a_reading_from_day_0() -> None:
    """250 µmol/m²/s for 16 h are 14.4 mol/m² a day (worked from the definition) and 432 on 30 days."""
    found = lit(setting(0, USE), flux(0, 250))
    assert bounds(found.light_sum) == (pytest.approx(432), pytest.approx(432))
    assert (rate(found.dli).low, rate(found.mean_dli).low) == (pytest.approx(14.4), pytest.approx(14.4))
    assert remarks_of(found.dli) == "1 reading of light at the plants"
    assert [lines(each) for each in (found.dli, found.light_sum, found.mean_dli)] == [[100, 200]] * 3
    assert found.mean_dli.formula == "mean_light"


def test_a_reading_holds_until_the_next() -> None:
    """200 for 10 days, then 300 for 20, 16 h a day: 11.52 and 17.28 mol/m², by definition of the quantities."""
    found = lit(setting(0, USE), flux(0, 200), flux(10, 300))
    assert (rate(found.dli).low, rate(found.dli).high) == (pytest.approx(11.52), pytest.approx(17.28))
    assert bounds(found.light_sum) == (pytest.approx(460.8), pytest.approx(460.8))
    assert rate(found.mean_dli).low == pytest.approx(15.36)
    assert remarks_of(found.light_sum) == "2 readings of light at the plants"


def test_before_the_first_reading_the_light_is_not_known() -> None:
    """Ten days without a reading or a stated strength leave the sum a lower bound."""
    found = lit(setting(0, USE), flux(10, 300))
    assert bounds(found.light_sum) == (pytest.approx(17.28 * 20), None)
    assert bounds(found.mean_dli) == (pytest.approx(11.52), None)
    assert remarks_of(found.light_sum) == (
        "1 reading of light at the plants; the lamp's strength was not recorded for 10 days"
    )


def test_the_stated_strength_counts_until_a_reading() -> None:
    """A lamp that hangs where its strength is stated gives that light until somebody reads it."""
    stated = replace(
        PANEL, ppfd=exactly(100, Dimension.PHOTON_FLUX, 1), ppfd_at=exactly(30, Dimension.LENGTH, 1)
    )
    hung = LampUse(stated, HOURS, exactly(30, Dimension.LENGTH, 1))
    found = lit(setting(0, hung), flux(10, 300))
    assert bounds(found.light_sum) == (pytest.approx(5.76 * 10 + 17.28 * 20),) * 2


@pytest.mark.parametrize(
    "change",
    [
        replace(USE, hours=exactly(12, Dimension.DURATION, 1)),
        replace(USE, lamp=replace(PANEL, id="other")),
        replace(USE, distance=exactly(20, Dimension.LENGTH, 1)),
    ],
    ids=["hours", "lamp", "distance"],
)
def test_a_change_ends_a_reading(change: LampUse) -> None:
    """After another lamp, other hours or another distance the light was not read."""
    found = lit(setting(0, USE), flux(0, 200), setting(20, change, entry=20))
    assert bounds(found.light_sum) == (pytest.approx(11.52 * 20), None)
    assert remarks_of(found.light_sum).endswith("the lamp's strength was not recorded for 10 days")


def test_what_ends_no_reading() -> None:
    """The same setting written again, and another time of going on, leave the light as it was."""
    again = (setting(10, USE, entry=10), setting(20, replace(USE, on=420), entry=20))
    assert bounds(lit(setting(0, USE), flux(0, 200), *again).light_sum) == (pytest.approx(345.6),) * 2


def test_a_lamp_turned_off_gives_no_light() -> None:
    """Off for the last ten days, the sum is that of the first twenty."""
    found = lit(setting(0, USE), flux(0, 200), setting(20, replace(USE, off=True), entry=20))
    assert bounds(found.light_sum) == (pytest.approx(230.4), pytest.approx(230.4))


def test_a_reading_at_the_visit_of_a_change_is_of_the_new_setting() -> None:
    """Of `210, then 300` at a change the second holds; a single one is of the new setting too."""
    near = replace(USE, distance=exactly(20, Dimension.LENGTH, 1))
    change = setting(20, near, entry=20)
    pair = (flux(20, 210, moment="before"), flux(20, 300, moment="after"))
    for read in (pair, (flux(20, 300),)):
        found = lit(setting(0, USE), flux(0, 200), change, *read)
        assert bounds(found.light_sum) == (pytest.approx(11.52 * 20 + 17.28 * 10),) * 2
    before = lit(setting(0, USE), flux(0, 200), change, pair[0])
    assert bounds(before.light_sum) == (pytest.approx(11.52 * 20), None)


def test_a_reading_beside_a_change() -> None:
    """A reading on day 10-20 with the lamp raised on day 15 is of neither setting."""
    raised = setting(15, replace(USE, distance=exactly(50, Dimension.LENGTH, 1)), entry=15)
    found = lit(setting(0, USE), flux(0, 200), flux(Day(10, 20), 300), raised)
    assert bounds(found.light_sum) == (pytest.approx(11.52 * 10), None)
    assert remarks_of(found.dli) == (
        "1 reading of light at the plants; light was measured on a day that may be before or after a change "
        "of the lamp for 15–20 days"
    )


def test_what_is_known_of_other_days_is_about_where_a_reading_is_beside_a_change() -> None:
    """Light read on day 0, the lamp set to 0 h on day 0-1: a day of light may be left out, so 0 a day is not exact."""
    off = setting(Day(0, 1), replace(USE, hours=exactly(0, Dimension.DURATION)), entry=1)
    found = lit(setting(0, USE), flux(0, 100), off, flux(2, 100))
    assert (rate(found.dli).low, rate(found.dli).high, rate(found.dli).about) == (0, 0, True)
    certain = lit(setting(0, USE), flux(0, 100), replace(off, day=Day.on(0)), flux(2, 100))
    assert not rate(certain.dli).about


def test_a_reading_on_a_span_of_days() -> None:
    """200, and 300 from some day of 10-20 on: 30 days of 16 h make 403.2 to 460.8 mol/m², by definition."""
    found = lit(setting(0, USE), flux(0, 200), flux(Day(10, 20), 300))
    assert bounds(found.light_sum) == (pytest.approx(403.2), pytest.approx(460.8))


def test_readings_in_an_unknown_order_are_one_range() -> None:
    """300 on day 10-20 and 250 on day 15: from then on the light is 250 to 300."""
    found = lit(setting(0, USE), flux(0, 250), flux(Day(10, 20), 300), flux(15, 250))
    assert (rate(found.dli).low, rate(found.dli).high) == (pytest.approx(14.4), pytest.approx(17.28))
    assert bounds(found.light_sum) == (pytest.approx(432), pytest.approx(14.4 * 10 + 17.28 * 20))


def test_vague_sizes_are_carried() -> None:
    """14-16 h of at least 200 are at least 10.08 mol/m² a day; `about` and `by eye` stay flags."""
    vague = Quantity(200, None, Dimension.PHOTON_FLUX, open=1)
    found = lit(setting(0, replace(USE, hours=Quantity(14, 16, Dimension.DURATION))), flux(0, vague))
    assert bounds(found.light_sum) == (pytest.approx(302.4), None)
    about = exactly(200, Dimension.PHOTON_FLUX)
    assert amount(lit(setting(0, USE), flux(0, replace(about, about=True))).light_sum).about
    assert amount(lit(setting(0, USE), flux(0, replace(about, by_eye=True))).light_sum).by_eye


def test_what_is_no_reading_of_the_tub() -> None:
    """A reading without a size, after the end, or of another tub gives no light."""
    for rows in (
        [flux(5, unknown(Dimension.PHOTON_FLUX))],
        [flux(31, 200)],
        [flux(5, 200, tub="right")],
    ):
        found = lit(setting(0, USE, tub="left"), *rows, tubs=("left", "right"))
        assert (found.dli.value, remarks_of(found.dli)) == (None, "the lamp's strength was not recorded")
    assert lit(flux(5, 200)).dli.value is None


def test_published_lux_factors() -> None:
    """Sunlight of 108,000 lux is 2,000 µmol/m²/s, 10,000 lux of a fluorescent tube are 135.1 (Thimijan and Heins)."""
    assert flux_from_lux(108_000, 54) == pytest.approx(2000)
    assert flux_from_lux(10_000, 74) == pytest.approx(135.1, abs=0.05)


def test_lux_counts_with_the_factor_of_the_lamp() -> None:
    """13,200 lux under a lamp of 66 lux for each µmol/m²/s count as 200, and the page names the source."""
    found = lit(setting(0, replace(USE, lamp=WHITE)), lux(0, 13_200))
    assert bounds(found.light_sum) == (pytest.approx(345.6),) * 2
    assert remarks_of(found.dli) == (
        "1 reading of light at the plants; estimated from lux with a factor of 66 (its maker)"
    )


def test_lux_without_a_factor_is_no_light_for_plants() -> None:
    """Lux under a lamp without a factor, or under no known lamp, leave the light as it was known before."""
    for use in (USE, replace(USE, lamp=None)):
        assert lit(setting(0, use), lux(0, 13_200)).light_sum.value is None
    kept = lit(setting(0, USE), flux(0, 200), lux(10, 66_000))
    assert bounds(kept.light_sum) == (pytest.approx(345.6),) * 2


def test_lux_under_one_of_two_lamps() -> None:
    """Lux read on day 10-20 while the lamp was replaced on day 15 are under neither lamp's factor."""
    other = replace(USE, lamp=replace(WHITE, id="other", lux_factor=54.0))
    row = lux(10, 13_200)._replace(day=Day(10, 20))
    found = lit(setting(0, replace(USE, lamp=WHITE)), setting(15, other, entry=15), row)
    assert (found.light_sum.value, remarks_of(found.dli)) == (None, "the lamp's strength was not recorded")


def test_light_and_lux_of_one_visit() -> None:
    """The quantum sensor's reading counts where both were taken."""
    rows = (lux(0, 6_600), flux(0, 200))
    assert bounds(lit(setting(0, replace(USE, lamp=WHITE)), *rows).light_sum) == (pytest.approx(345.6),) * 2


@dataclass(frozen=True, slots=True)
class Truth:
    """What happened on one day, and how the log has it."""

    day: int
    hours: float | None  # a change of the lamp; None: none
    light: float | None  # a reading; None: none
    earlier: int
    later: int
    wide: int  # how much wider than the truth sizes are


TRUTHS = st.builds(
    Truth,
    st.integers(0, 40),
    st.none() | st.sampled_from((0.0, 10.0, 12.0, 16.0)),
    st.none() | st.sampled_from((100.0, 200.0, 350.0)),
    st.sampled_from((0, 0, 0, 3, 9)),
    st.sampled_from((0, 0, 0, 4, 9)),
    st.sampled_from((0, 0, 2)),
)
LAMPS = 900.0  # µmol/m²/s: what nobody read


def logged(
    happened: list[Truth], changes_wide: int, end_wide: int, *, in_lux: bool
) -> tuple[list[Light | Reading], Event]:
    """The rows of a log of what happened, and its end."""
    lamp, last = (WHITE if in_lux else PANEL), 40
    rows: list[Light | Reading] = [setting(0, LampUse(lamp, HOURS))]
    for number, truth in enumerate(happened):
        early, late = truth.earlier, truth.later
        if truth.hours is not None:  # changes keep their order in the log
            early = late = changes_wide
        day = Day(max(0, truth.day - early), min(last + end_wide, truth.day + late))
        if truth.hours is not None:
            hours = Quantity(truth.hours, truth.hours + truth.wide, Dimension.DURATION)
            use = LampUse(lamp, hours, exactly(10 + number, Dimension.LENGTH))
            rows.append(replace(setting(day, use, entry=number), source=place(300 + number)))
        if truth.light is not None:
            factor, kind = (66, Dimension.ILLUMINANCE) if in_lux else (1, Dimension.PHOTON_FLUX)
            size = Quantity(truth.light * factor, (truth.light + 5 * truth.wide) * factor, kind)
            rows.append(flux(day, size, entry=number)._replace(source=place(400 + number)))
    return rows, event(Deed.END, last, kept=False)._replace(day=Day(last, last + end_wide))


@given(st.lists(TRUTHS, max_size=5), st.integers(0, 6), st.sampled_from((0, 5)), st.booleans())
def test_the_truth_lies_in_the_figures(
    truths: list[Truth], changes_wide: int, end_wide: int, in_lux: bool
) -> None:
    """However vague the log is, sum and mean hold what its lamp gave, and the daily integrals those of each day."""
    happened = sorted(truths, key=lambda truth: truth.day)
    rows, end = logged(happened, changes_wide, end_wide, in_lux=in_lux)
    found, last = lit(*rows, end=end), 40
    for true_end in {last, last + end_wide}:
        daily = _daily(happened, true_end)
        if found.light_sum.value is None:
            continue
        low, high = bounds(found.light_sum)
        whole = sum(integral for integral, _ in daily)
        assert low <= whole + 1e-6
        assert high is None or whole <= high + 1e-6
        mean = found.mean_dli.value
        assert isinstance(mean, Rate)
        assert mean.amount.low <= whole / true_end + 1e-6
        assert mean.amount.high is None or whole / true_end <= mean.amount.high + 1e-6
        if high is not None:
            assert isinstance(found.dli.value, Rate)
            least, most = found.dli.value.amount.low, found.dli.value.amount.high
            assert most is not None
            assert all(least - 1e-6 <= integral <= most + 1e-6 for integral, _ in daily)


def _daily(happened: list[Truth], end: int) -> list[tuple[float, bool]]:
    """The integral of each day up to the end, and whether its light was read."""
    hours, light, found = 16.0, None, []
    for day in range(end):
        for truth in (each for each in happened if each.day == day):
            if truth.hours is not None:
                hours, light = truth.hours, None
            light = truth.light if truth.light is not None else light
        found.append((daily_light_integral(LAMPS if light is None else light, hours), light is not None))
    return found


@settings(max_examples=25)
@given(st.lists(TRUTHS, max_size=4), st.integers(0, 6), st.sampled_from((0, 5)))
def test_no_exact_light_rests_on_a_vague_record(
    truths: list[Truth], changes_wide: int, end_wide: int
) -> None:
    """A sum, a mean or an integral without an interval is the same wherever inside its bounds a record lies."""
    happened = sorted(truths, key=lambda truth: truth.day)
    rows, end = logged(happened, changes_wide, end_wide, in_lux=False)
    lights = [row for row in rows if isinstance(row, Light)]
    readings = [row for row in rows if isinstance(row, Reading)]
    run = run_of(setup_of(), events=[end], lights=lights, readings=readings)
    assert [fault for fault in faults(run, measure) if "climate." in fault] == []
