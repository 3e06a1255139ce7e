"""Light and current from how the lamps were set.

In: settings of a tub's lamp over time, with the light that was read at the plants. Out: figures. The light at another
distance than the stated one is not known: it is never reckoned from it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from sitegen.core.facts.figure import Figure, Per, Rate, Remark, RemarkCode, counted_remark, remark
from sitegen.core.findings.source import Source
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Lamp, LampUse
from sitegen.core.values.day import Day, in_turn
from sitegen.core.values.quantity import Quantity, exactly, propagate, total, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import LAMPS, LIGHT, Conditions, coarse, day_key, figure, formula
from sitegen.measure.ranges import reading_range
from sitegen.measure.run.axis import end_of
from sitegen.measure.solution.shared import alone, nothing_known, shared_remark, shares_of

SECONDS_AN_HOUR, MICROMOL_A_MOL, WATTS_A_KILOWATT = 3600, 1e6, 1000
ALIKE: Conditions = {"days around it have as much light": ("lights.day", "lights.hours")}
READ: Conditions = {
    "days around it have as much light": ("lights.day", "lights.hours", "readings.day", "readings.value"),
    "light was read instead": ("lamp.ppfd",),
}


@dataclass(frozen=True, slots=True)
class Setting:
    """How a lamp was set, from its day until the next setting or the end; no source where nothing was recorded."""

    use: LampUse
    since: Day
    until: Day
    source: Source | None
    entry: int | None = None  # the visit at which it was set; None: from the start
    flux: Quantity | None = None  # read at the plants; None: as stated for the lamp
    read_at: Source | None = None
    lux_of: Lamp | None = None  # the lamp whose factor made PPFD of lux
    uncertain: bool = False  # a reading may be of this setting or of another one

    @property
    def least(self) -> int:
        """Days that it lasted at least."""
        return max(0, self.until.first - self.since.last)

    @property
    def most(self) -> int:
        """Days that it lasted at most."""
        return self.until.last - self.since.first


Reason = Callable[[Setting], RemarkCode | None]


@formula(reads=LIGHT, exact_if=READ)
def daily_light_integral(ppfd: float, hours: float) -> float:
    """Daily light integral.

    Light that plants could use: the light read at the plants, else the lamp's stated strength, in the hours that it was
    set to.

    Parameters
    ----------
    ppfd
        Photosynthetic photon flux density at the plants [µmol/m²/s].
    hours
        Lamp on [h a day].

    Returns
    -------
    float
        Daily light integral [mol/m² a day].

    Notes
    -----
    ::

        DLI = PPFD · 3600 · hours / 1 000 000

    A reading counts until the next one of that tub, or until the lamp's setting is changed. A reading at the visit of a
    change is of the new setting, unless it is the first of two. A reading whose day may lie before or after a change is
    of neither, and readings whose order is not known are one range. Without a reading the stated strength counts,
    and only where the lamp hung as far away as it is stated for: light does not fall off with the square of the distance
    under a lamp as wide as the tub. Daylight is in it only as far as it was in a reading. The sum over a run is
    Σ DLI · days; where days of changes, readings or the end are spans, from the smallest to the largest such sum that
    they allow.

    References
    ----------
    By definition of the quantities.

    """
    return ppfd * SECONDS_AN_HOUR * hours / MICROMOL_A_MOL


@formula(reads=LIGHT, exact_if=READ)
def mean_light(light_sum: float, days: float) -> float:
    """Mean daily light integral.

    Parameters
    ----------
    light_sum
        Light over the run [mol/m²].
    days
        From sowing to the end of the run or of the log, more than 0 [days].

    Returns
    -------
    float
        Mean daily light integral [mol/m² a day].

    Notes
    -----
    ::

        mean = Σ (DLI · days) / Σ days

    Where the light of some days is not known the mean is given as "at least".

    References
    ----------
    By definition of the quantities.

    """
    return light_sum / days


@formula(reads=LAMPS, exact_if=ALIKE)
def lamp_energy(power_w: float, hours: float, days: float) -> float:
    """Electricity of a lamp.

    From its stated power; pumps and air stones are not in it.

    Parameters
    ----------
    power_w
        Of the lamp [W].
    hours
        Lamp on [h a day].
    days
        With this setting [days].

    Returns
    -------
    float
        Energy [kWh].

    Notes
    -----
    ::

        energy = power · hours · days / 1000

    Where days of changes or of the end are spans, from the smallest to the largest sum that they allow.

    Of a tub that was shared with another run, from the days on which it was not shared to all days of this run: the lamp
    burnt once for two crops.

    References
    ----------
    By definition of the quantities.

    """
    return power_w * hours * days / WATTS_A_KILOWATT


def settings_of(run: Run, tub: str) -> tuple[Setting, ...]:
    """The settings of a tub's lamp, each until the next, the last until the end of the run or of the log.

    Together they last as long as the run: from day 0 to the first of them nothing was recorded.
    """
    alone = len(run.setup.tubs) == 1
    rows = [light for light in run.rows.lights if light.tub == tub or (alone and not light.tub)]
    lights: list[Light] = sorted(rows, key=lambda light: (*day_key(light.day), _visit(light), light.source))
    end = end_of(run) or Day.on(run.last_day)
    found: list[tuple[Day, LampUse, Source | None, int | None]] = [
        (light.day, light.use, light.source, light.entry) for light in lights if light.day.first <= end.last
    ]
    if not found:
        return ()
    if found[0][0] != Day.on(0):
        found.insert(0, (Day.on(min(0, end.last)), LampUse(), None, None))
    days = in_turn([*(day for day, *_ in found), end])
    return tuple(
        Setting(use, since, until, source, entry)
        for (_, use, source, entry), (since, until) in zip(found, pairwise(days), strict=True)
    )


def _visit(light: Light) -> int:
    return -1 if light.entry is None else light.entry


def extreme(settings: Sequence[Setting], weights: Sequence[float], *, most: bool) -> float:
    """The smallest or largest sum of weight times days, over all placements of the changes inside their spans.

    Day by day: the best sum up to a change on day t follows from the best before it.
    """
    pick = max if most else min
    best = dict.fromkeys(_days(settings[0].since), 0.0)
    for setting, weight in zip(settings, weights, strict=True):
        reached: dict[int, float] = {}
        so_far: float | None = None
        for day in range(min(best), setting.until.last + 1):
            if day in best:
                offset = best[day] - weight * day
                so_far = offset if so_far is None else pick(so_far, offset)
            if day >= setting.until.first and so_far is not None:
                reached[day] = so_far + weight * day
        best = reached
    return pick(best.values())


def _days(span: Day) -> range:
    return range(span.first, span.last + 1)


def _hours(use: LampUse) -> Quantity | None:
    return exactly(0, Dimension.DURATION) if use.off else use.hours


def _stands_at(use: LampUse) -> bool:
    """Whether the lamp hung where its strength is stated."""
    lamp, there = use.lamp, use.distance
    stated = lamp.ppfd_at if lamp else None
    if stated is None or there is None or not (stated.single and there.single):
        return False
    return math.isclose(stated.low, there.low, abs_tol=1e-9)


def _light_unknown(setting: Setting) -> RemarkCode | None:
    """The reason why the light of a setting is not known; None where it is."""
    use = setting.use
    if setting.uncertain:
        return "light_read_beside_change"
    if use.off:
        return None
    if use.hours is None or (use.lamp is None and setting.flux is None):
        return _use_unknown(use)
    if setting.flux is not None:
        return None
    if use.lamp is None or use.lamp.ppfd is None:
        return "lamp_strength_not_recorded"
    return None if _stands_at(use) else "lamp_strength_at_distance"


def _energy_unknown(setting: Setting) -> RemarkCode | None:
    """The reason why the electricity of a setting is not known; None where it is."""
    use = setting.use
    if use.off or use.lamp is None or use.hours is None:
        return _use_unknown(use)
    return None if use.lamp.power else "lamp_power_not_recorded"


def _use_unknown(use: LampUse) -> RemarkCode | None:
    if use.off:
        return None
    return "lamp_not_recorded" if use.lamp is None else "lamp_hours_not_recorded"


def _dli(setting: Setting) -> Quantity:
    use = setting.use
    hours, ppfd = _hours(use), setting.flux or (use.lamp.ppfd if use.lamp else None)
    if use.off or hours is None or ppfd is None:
        return exactly(0, Dimension.LIGHT_SUM)
    return propagate(
        daily_light_integral,
        increasing=[ppfd, hours],
        dimension=Dimension.LIGHT_SUM,
        step=coarse(daily_light_integral(ppfd.step, hours.low), daily_light_integral(ppfd.low, hours.low)),
    )


def _light(setting: Setting, days: int) -> Quantity:
    return _dli(setting).times(days)


def _energy(setting: Setting, days: int) -> Quantity:
    use = setting.use
    hours, power = _hours(use), use.lamp.power if use.lamp else None
    if use.off or hours is None or power is None:
        return exactly(0, Dimension.ENERGY)
    return propagate(
        lambda watts, h: lamp_energy(watts, h, days),
        increasing=[power, hours],
        dimension=Dimension.ENERGY,
        step=coarse(lamp_energy(power.step, hours.low, days), lamp_energy(power.low, hours.low, days)),
    )


def _not_known(settings: Sequence[Setting], reason: Reason) -> tuple[Remark, ...]:
    """The reasons why settings are not known, and for how many days."""
    if not settings:
        return (remark("lamp_not_recorded"),)
    reasons = [reason(setting) if setting.most else None for setting in settings]
    codes = tuple(dict.fromkeys(code for code in reasons if code))
    lasting = [code for code, setting in zip(reasons, settings, strict=True) if setting.most]
    if not codes or all(lasting):
        return tuple(map(remark, codes))
    weights = [1 if code else 0 for code in reasons]
    least, most = (round(extreme(settings, weights, most=more)) for more in (False, True))
    if least == most:
        return (remark("for_days", n=most, remark=codes),)
    return (remark("for_span_of_days", days=Quantity(least, most, Dimension.DAYS, step=1), remark=codes),)


def dli_of(settings: Sequence[Setting], name: str) -> Figure:
    """From the lowest to the highest daily integral of the settings."""
    known = [setting for setting in settings if not _light_unknown(setting) and setting.most]
    value = reading_range([_dli(setting) for setting in known])
    certain = any(each.until.reach[0] > each.since.reach[1] for each in known)  # one of them lasted a day
    beside_change = any(
        each.uncertain and each.most for each in settings
    )  # its days may have had other light
    if value is not None and (beside_change or not certain):
        value = replace(value, about=True)
    rate = None if value is None else Rate(value, Per.DAY)
    said = (*_read_remarks(known), *_not_known(settings, _light_unknown))
    return figure(name, rate, daily_light_integral, _sources(known), *said)


def _read_remarks(settings: Sequence[Setting]) -> tuple[Remark, ...]:
    """How many readings of light stand behind settings, and the factors of those that are estimated from lux."""
    lasting = [setting for setting in settings if setting.most and setting.read_at is not None]
    number = counted_remark("light_readings", len({setting.read_at for setting in lasting}))
    lamps = dict.fromkeys(setting.lux_of for setting in lasting if setting.lux_of is not None)
    factors = [
        remark("light_from_lux", factor=lamp.lux_factor or 0.0, source=lamp.lux_source) for lamp in lamps
    ]
    return (number, *factors) if number else ()


def _sources(settings: Sequence[Setting]) -> tuple[Source, ...]:
    places = (place for setting in settings for place in (setting.source, setting.read_at))
    return tuple(place for place in places if place)


def _summed(
    settings: Sequence[Setting],
    reason: Reason,
    amount: Callable[[Setting, int], Quantity],
    of: Dimension,
) -> Quantity | None:
    """The sum over known settings; at least that where others are not known."""
    known = [None if reason(setting) else setting for setting in settings]
    if not any(known):
        return None
    missing = [unknown(of) for setting in settings if reason(setting) and setting.most]
    lasting = [setting for setting in known if setting and (setting.most or setting.flux is None)]
    whole = total([*(amount(setting, setting.most) for setting in lasting), *missing], of)
    a_day = [amount(setting, 1) if setting else unknown(of) for setting in known]
    whole = replace(whole, about=whole.about or _about(settings, a_day))
    if all(setting.least == setting.most for setting in settings):
        return whole
    low = extreme(settings, [each.low for each in a_day], most=False)
    high = None if whole.high is None else extreme(settings, [each.high or 0.0 for each in a_day], most=True)
    return replace(whole, low=low, high=high)


def _about(settings: Sequence[Setting], a_day: Sequence[Quantity]) -> bool:
    """Whether a change on about some day, or such an end, has different amounts a day on its two sides."""
    amounts = [(0.0, 0.0), *((each.low, each.high) for each in a_day), (0.0, 0.0)]
    days = [*(setting.since for setting in settings), settings[-1].until]
    return any(day.about and old != new for day, (old, new) in zip(days, pairwise(amounts), strict=True))


def light_sum_of(settings: Sequence[Setting], name: str) -> Figure:
    """Light over the whole run."""
    value = _summed(settings, _light_unknown, _light, Dimension.LIGHT_SUM)
    rows = _sources(settings) if value else ()
    return figure(name, value, daily_light_integral, rows, *_light_remarks(settings))


def _light_remarks(settings: Sequence[Setting]) -> tuple[Remark, ...]:
    known = [setting for setting in settings if not _light_unknown(setting)]
    return (*_read_remarks(known), *_not_known(settings, _light_unknown))


def mean_dli_of(settings: Sequence[Setting], name: str) -> Figure:
    """The mean daily integral over the whole run."""
    whole = _summed(settings, _light_unknown, _light, Dimension.LIGHT_SUM)
    length = settings[-1].until.span_since(settings[0].since) if settings else Day.on(0)
    if whole is None or length.last <= 0:
        return figure(name, None, mean_light, (), *_light_remarks(settings))
    low = mean_light(whole.low, length.last)
    high = mean_light(whole.high, max(1, length.first)) if whole.high is not None else None
    if not length.single:
        daily = [_dli(setting) for setting in settings if setting.most]
        most = [each.high for each in daily if each.high is not None]
        high = None if high is None else min(high, max(most))
        low = low if whole.unweighed else max(low, min(each.low for each in daily))
    value = replace(whole, low=low, high=high, step=whole.step / length.last)
    return figure(name, Rate(value, Per.DAY), mean_light, _sources(settings), *_light_remarks(settings))


def energy_of(run: Run, tub: str, settings: Sequence[Setting], name: str) -> Figure:
    """Electricity of the lamp over the whole run; of a tub that is shared, at least that of the days without others."""
    value = _summed(settings, _energy_unknown, _energy, Dimension.ENERGY)
    rows, shares = _sources(settings) if value else (), shares_of(run, tub)
    if value and shares:
        rows = (*rows, *(share.source for share in shares))
        value = replace(value, low=math.fsum(_alone(run, tub, setting) for setting in settings))
        value = None if nothing_known(value) else value
    unknown_parts = _not_known(settings, _energy_unknown)
    return figure(name, value, lamp_energy, rows, shared_remark(run, tub), *unknown_parts)


def _alone(run: Run, tub: str, setting: Setting) -> float:
    """The electricity of the days of a setting on which certainly no other run stood in the tub."""
    if _energy_unknown(setting):
        return 0.0
    days = sum(alone(run, tub, Day.on(day)) for day in range(setting.since.last, setting.until.first))
    return _energy(setting, days).low
