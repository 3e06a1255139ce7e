"""How strongly the air draws water from leaves.

In: temperatures and humidities. Out: pressures, as plain numbers. Outside -20 to 60 °C the equation is not meant to
be used.
"""

from __future__ import annotations

import math

__all__ = ["leaf_vapour_pressure_deficit", "saturation_vapour_pressure", "vapour_pressure_deficit"]

# FAO-56, eq. 11: Tetens' equation over water.
E0_KPA, SLOPE, OFFSET_C = 0.6108, 17.27, 237.3


def saturation_vapour_pressure(temperature_c: float) -> float:
    """Saturation vapour pressure.

    Parameters
    ----------
    temperature_c
        Of the air [°C].

    Returns
    -------
    float
        Pressure of water vapour in saturated air [kPa].

    Notes
    -----
    With T in °C::

        e₀(T) = 0.6108 · exp(17.27 T / (T + 237.3))

    Other equations differ from it by less than half a per cent between 0 and 40 °C.

    References
    ----------
    Allen, R. G., Pereira, L. S., Raes, D. and Smith, M. (1998). Crop Evapotranspiration. FAO Irrigation and Drainage
    Paper 56, equation 11.

    """
    return E0_KPA * math.exp(SLOPE * temperature_c / (temperature_c + OFFSET_C))


def vapour_pressure_deficit(temperature_c: float, humidity_percent: float) -> float:
    """Vapour pressure deficit of the air.

    Parameters
    ----------
    temperature_c
        Of the air [°C].
    humidity_percent
        Relative humidity, 0 to 100 [%].

    Returns
    -------
    float
        Deficit [kPa]; 0 in saturated air.

    Notes
    -----
    ::

        VPD = e₀(T) · (1 - RH/100)

    Taken of each pair of temperature and humidity read at one time, then averaged over the day: the deficit of a day's
    mean temperature would be lower.

    References
    ----------
    Allen, R. G., Pereira, L. S., Raes, D. and Smith, M. (1998). Crop Evapotranspiration. FAO Irrigation and Drainage
    Paper 56, equations 10 and 11.

    """
    return saturation_vapour_pressure(temperature_c) * (1 - humidity_percent / 100) + 0.0


def leaf_vapour_pressure_deficit(leaf_c: float, air_c: float, humidity_percent: float) -> float:
    """Vapour pressure deficit at the leaf.

    Only where the temperature of a leaf was logged: it is never guessed from that of the air.

    Parameters
    ----------
    leaf_c, air_c
        Of the leaf and of the air [°C].
    humidity_percent
        Relative humidity of the air, 0 to 100 [%].

    Returns
    -------
    float
        Deficit [kPa]; below 0 where water condenses on the leaf.

    Notes
    -----
    ::

        VPD leaf = e₀(T leaf) - e₀(T air) · RH/100

    References
    ----------
    Allen, R. G., Pereira, L. S., Raes, D. and Smith, M. (1998). Crop Evapotranspiration. FAO Irrigation and Drainage
    Paper 56, equation 11, at both temperatures.

    """
    return saturation_vapour_pressure(leaf_c) - saturation_vapour_pressure(air_c) * humidity_percent / 100
