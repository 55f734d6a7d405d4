"""ASHRAE Handbook, Fundamentals (2017), chapter 1: moist air. Formulas from memory, checked against published test values."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.arrays import Numbers, same_kind
from crownwright.quantity.units import ZERO_CELSIUS

MOLAR_RATIO = 0.621945
"""Molar mass of water over that of dry air (eq. 20)."""
_ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)


def _log_pressure(kelvin: NDArray[np.float64], c: tuple[float, ...]) -> NDArray[np.float64]:
    tail = kelvin * (c[2] + kelvin * (c[3] + kelvin * (c[4] + kelvin * c[5])))
    result: NDArray[np.float64] = c[0] / kelvin + c[1] + tail + c[6] * np.log(kelvin)
    return result


def saturation_pressure(temperature: Numbers) -> Numbers:
    """Saturation pressure of water vapour, Pa: eq. 5 over ice below the triple point, eq. 6 over water above.

    ``temperature`` degC, -100 to 200.

    >>> round(saturation_pressure(25.0), 1)
    3169.2
    """
    kelvin = np.asarray(temperature, float) + ZERO_CELSIUS
    icy = np.asarray(temperature) <= 0.01
    if not icy.any():
        logs = _log_pressure(kelvin, _WATER)
    else:
        logs = np.where(icy, _log_pressure(kelvin, _ICE), _log_pressure(kelvin, _WATER))
    pressure = np.exp(logs)
    return same_kind(temperature, pressure)


def humidity_ratio(vapour_pressure: Numbers, pressure: float = 101_325.0) -> Numbers:
    """Humidity ratio, kg/kg: W = 0.621945 pw / (p - pw) (eq. 20); pressures in Pa.

    >>> round(humidity_ratio(saturation_pressure(20.0)), 5)
    0.0147
    """
    return MOLAR_RATIO * vapour_pressure / (pressure - vapour_pressure)


def pressure_at_elevation(elevation: Numbers) -> Numbers:
    """Standard air pressure, Pa: 101325 (1 - 2.25577e-5 Z)^5.2559 (eq. 3); ``elevation`` m, -5000 to 11000.

    >>> round(pressure_at_elevation(1000.0))
    89875
    """
    ratio = np.power(1.0 - 2.25577e-5 * np.asarray(elevation, float), 5.2559) * 101_325.0
    return same_kind(elevation, ratio)


def humidity_from_dew_point(air: Numbers, dew_point: Numbers) -> Numbers:
    """Relative humidity, 0 to 1: saturation pressure at the dew point over that at air temperature; degC. May read over 1.

    >>> round(humidity_from_dew_point(20.0, 10.0), 3)
    0.525
    """
    return saturation_pressure(dew_point) / saturation_pressure(air)


def dew_point(vapour_pressure: Numbers) -> Numbers:
    """Dew point (frost point under 0), degC: the saturation pressure turned round by Newton steps on its logarithm.

    ``vapour_pressure`` Pa, 1 to 100 000. Solved to 1e-6 K, so it agrees with `saturation_pressure`.

    >>> round(dew_point(saturation_pressure(7.0)), 4)
    7.0
    """
    target = np.log(np.asarray(vapour_pressure, float))
    a = np.log(np.asarray(vapour_pressure, float) / 611.2)  # Magnus form as a start, within 0.5 K
    t = 243.12 * a / (17.62 - a)
    for _ in range(6):
        here = np.log(saturation_pressure(t))
        slope = (np.log(saturation_pressure(t + 1e-3)) - here) / 1e-3
        t = t + (target - here) / slope
    return same_kind(vapour_pressure, t)


def ratio_from_wet_bulb(air: Numbers, wet_bulb: Numbers, pressure: float = 101_325.0) -> Numbers:
    """Humidity ratio, kg/kg, from dry and wet bulb, degC (eq. 33 above freezing, 35 below).

    >>> round(ratio_from_wet_bulb(40.0, 20.0), 4)
    0.0064
    """
    ws = humidity_ratio(saturation_pressure(wet_bulb), pressure)
    wet = ((2501 - 2.326 * wet_bulb) * ws - 1.006 * (air - wet_bulb)) / (2501 + 1.86 * air - 4.186 * wet_bulb)
    icy = ((2830 - 0.24 * wet_bulb) * ws - 1.006 * (air - wet_bulb)) / (2830 + 1.86 * air - 2.1 * wet_bulb)
    ratio = np.where(np.asarray(wet_bulb) >= 0, wet, icy)
    return same_kind(air, ratio)


def wet_bulb(air: float, humidity: float, pressure: float = 101_325.0) -> float:
    """Thermodynamic wet-bulb temperature, degC, by halving between the frost point side and the air temperature.

    ``air`` degC, ``humidity`` 0 to 1, ``pressure`` Pa. Solved to 1e-6 K.

    >>> round(wet_bulb(7.0, 0.61, 100_000.0), 2)
    3.93
    """
    w = humidity_ratio(humidity * saturation_pressure(air), pressure)
    low, high = air - 60.0, air
    while high - low > 1e-6:
        middle = (low + high) / 2
        if ratio_from_wet_bulb(air, middle, pressure) < w:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def enthalpy(air: Numbers, ratio: Numbers) -> Numbers:
    """Enthalpy of moist air, J per kg of dry air: 1.006 t + W (2501 + 1.86 t) kJ/kg (eq. 30); degC, kg/kg.

    >>> round(enthalpy(40.0, 0.0065) / 1000, 1)
    57.0
    """
    return 1000.0 * (1.006 * air + ratio * (2501 + 1.86 * air))


def specific_volume(air: Numbers, ratio: Numbers, pressure: float = 101_325.0) -> Numbers:
    """Volume of moist air, m3 per kg of dry air: 0.287042 (t + 273.15)(1 + 1.607858 W)/p, p in kPa (eq. 26).

    >>> round(specific_volume(40.0, 0.0065), 3)
    0.896
    """
    return 287.042 * (air + ZERO_CELSIUS) * (1 + 1.607858 * ratio) / pressure


def vapour_pressure(air: Numbers, humidity: Numbers) -> Numbers:
    """Vapour pressure of the air, Pa; ``air`` degC, ``humidity`` 0 to 1.

    >>> round(vapour_pressure(25.0, 0.4))
    1268
    """
    return humidity * saturation_pressure(air)
