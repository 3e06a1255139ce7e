"""Light and current from how the lamps were set.

In: settings of a tub's lamp over time. Out: figures. The light at another distance than the stated one is not
known: it is never reckoned from it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from sitegen.core.facts.figure import Figure, Per, Rate, Remark, RemarkCode, remark
from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Light, Run
from sitegen.core.records.setup import LampUse
from sitegen.core.values.quantity import Quantity, exactly, propagate, total, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import coarse, day_key, figure, formula
from sitegen.measure.ranges import reading_range

Reason = Callable[[LampUse], RemarkCode | None]
SECONDS_AN_HOUR, MICROMOL_A_MOL, WATTS_A_KILOWATT = 3600, 1e6, 1000


@dataclass(frozen=True, slots=True)
class Setting:
    """How a lamp was set for so many days."""

    use: LampUse
    days: int
    source: Source


@formula
def daily_light_integral(ppfd: float, hours: float) -> float:
    """Daily light integral.

    Light that plants could use, from the lamp's stated strength and the hours that it was set to.

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

    Only where the lamp hung as far away as its strength is stated for: light does not fall off with the square of the
    distance under a lamp as wide as the tub. Daylight is not in it. The sum over a run is Σ DLI · days.

    References
    ----------
    By definition of the quantities.

    """
    return ppfd * SECONDS_AN_HOUR * hours / MICROMOL_A_MOL


@formula
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

    References
    ----------
    By definition of the quantities.

    """
    return power_w * hours * days / WATTS_A_KILOWATT


def settings_of(run: Run, tub: str) -> tuple[Setting, ...]:
    """The settings of a tub's lamp, each until the next, the last until the end of the run or log."""
    alone = len(run.setup.tubs) == 1
    rows = [light for light in run.rows.lights if light.tub == tub or (alone and not light.tub)]
    lights: list[Light] = sorted(
        rows, key=lambda light: (*day_key(light.day), light.entry or -1, light.source)
    )
    end = run.ended.day.first if run.ended else run.last_day
    ends = [*(light.day.first for light in lights[1:]), end]
    return tuple(
        Setting(light.use, max(0, until - light.day.first), light.source)
        for light, until in zip(lights, ends, strict=bool(lights))
    )


def _hours(use: LampUse) -> Quantity | None:
    return exactly(0, Dimension.DURATION) if use.off else use.hours


def _stands_at(use: LampUse) -> bool:
    """Whether the lamp hung where its strength is stated."""
    lamp, there = use.lamp, use.distance
    stated = lamp.ppfd_at if lamp else None
    if stated is None or there is None or not (stated.single and there.single):
        return False
    return math.isclose(stated.low, there.low, abs_tol=1e-9)


def _light_unknown(use: LampUse) -> RemarkCode | None:
    """The reason why the light of a setting is not known; None where it is."""
    if use.off or use.lamp is None or use.hours is None:
        return _use_unknown(use)
    if use.lamp.ppfd is None:
        return "lamp_strength_not_recorded"
    return None if _stands_at(use) else "lamp_strength_at_distance"


def _energy_unknown(use: LampUse) -> RemarkCode | None:
    """The reason why the electricity of a setting is not known; None where it is."""
    if use.off or use.lamp is None or use.hours is None:
        return _use_unknown(use)
    return None if use.lamp.power else "lamp_power_not_recorded"


def _use_unknown(use: LampUse) -> RemarkCode | None:
    if use.off:
        return None
    return "lamp_not_recorded" if use.lamp is None else "lamp_hours_not_recorded"


def _dli(use: LampUse) -> Quantity:
    hours, ppfd = _hours(use), use.lamp.ppfd if use.lamp else None
    if use.off or hours is None or ppfd is None:
        return exactly(0, Dimension.LIGHT_SUM)
    return propagate(
        daily_light_integral,
        increasing=[ppfd, hours],
        dimension=Dimension.LIGHT_SUM,
        step=coarse(daily_light_integral(ppfd.step, hours.low), daily_light_integral(ppfd.low, hours.low)),
    )


def _energy(setting: Setting) -> Quantity:
    hours, power = _hours(setting.use), setting.use.lamp.power if setting.use.lamp else None
    if setting.use.off or hours is None or power is None:
        return exactly(0, Dimension.ENERGY)
    days = setting.days
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
    dark = [(code, setting.days) for setting in settings if (code := reason(setting.use))]
    codes = tuple(dict.fromkeys(code for code, _ in dark))
    if not dark or len(dark) == len(settings):
        return tuple(map(remark, codes))
    return (remark("for_days", n=sum(days for _, days in dark), remark=codes),)


def dli_of(settings: Sequence[Setting], name: str) -> Figure:
    """From the lowest to the highest daily integral of the settings."""
    known = [setting for setting in settings if not _light_unknown(setting.use) and setting.days]
    value = reading_range([_dli(setting.use) for setting in known])
    rate = None if value is None else Rate(value, Per.DAY)
    rows = [setting.source for setting in known]
    return figure(name, rate, daily_light_integral, rows, *_not_known(settings, _light_unknown))


def _summed(
    settings: Sequence[Setting],
    reason: Reason,
    amount: Callable[[Setting], Quantity],
    of: Dimension,
) -> Quantity | None:
    """The sum over known settings; at least that where others are not known."""
    known = [setting for setting in settings if not reason(setting.use)]
    if not known:
        return None
    missing = [unknown(of) for setting in settings if reason(setting.use) and setting.days]
    return total([*(amount(setting) for setting in known), *missing], of)


def light_sum_of(settings: Sequence[Setting], name: str) -> Figure:
    """Light over the whole run."""
    value = _summed(settings, _light_unknown, lambda s: _dli(s.use).times(s.days), Dimension.LIGHT_SUM)
    rows = [setting.source for setting in settings] if value else ()
    return figure(name, value, daily_light_integral, rows, *_not_known(settings, _light_unknown))


def energy_of(settings: Sequence[Setting], name: str) -> Figure:
    """Electricity of the lamp over the whole run."""
    value = _summed(settings, _energy_unknown, _energy, Dimension.ENERGY)
    rows = [setting.source for setting in settings] if value else ()
    return figure(name, value, lamp_energy, rows, *_not_known(settings, _energy_unknown))
