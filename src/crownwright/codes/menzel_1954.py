"""Menzel (1954): evaporation from a wet surface by vapour pressure, the formula under the nomograph of ACI 305R.

Two forms are in print; the metric one is rounded and reads 1 to 2 % over the inch-pound one. Both are here.
"""

from __future__ import annotations

from crownwright.quantity.arrays import Numbers, at_least
from crownwright.quantity.units import FT2, HOUR, LB, MPH, PSI

CAUTION = 0.5 / HOUR
"""kg/(m2 s): watch it, be ready to mist (FHWA-HRT-05-038 chapter 5; 0.1 lb/ft2/h)."""
ACTION = 1.0 / HOUR
"""kg/(m2 s): do something or do not place (FHWA-HRT-05-038 chapter 5; 0.2 lb/ft2/h)."""


def rate(surface_pressure: Numbers, air_pressure: Numbers, wind: float) -> Numbers:
    """Evaporation, kg/(m2 s): 0.44 (e0 - ea)(0.253 + 0.096 V) lb/ft2/h, e in psi and V in mph.

    ``surface_pressure`` is saturation vapour pressure at the temperature of the concrete surface, Pa; ``air_pressure`` the
    vapour pressure of the air (relative humidity x saturation at air temperature), Pa; ``wind`` m/s half a metre above the
    surface. Condensation counts as nothing.

    >>> round(rate(3500.0, 1750.0, 10 * MPH) * HOUR * FT2 / LB, 4)
    0.1355
    """
    drive = at_least((surface_pressure - air_pressure) / PSI, 0.0)
    return 0.44 * drive * (0.253 + 0.096 * wind / MPH) * LB / FT2 / HOUR


def rate_metric(surface_pressure: Numbers, air_pressure: Numbers, wind: float) -> Numbers:
    """Evaporation by the rounded metric form: 0.315 (e0 - ea)(0.253 + 0.060 V) kg/m2/h, e in kPa and V in km/h.

    Arguments and result as `rate`.

    >>> round(rate_metric(4246.0, 0.40 * 3169.0, 20 / 3.6) * HOUR, 3)
    1.363
    """
    drive = at_least((surface_pressure - air_pressure) / 1000.0, 0.0)
    return 0.315 * drive * (0.253 + 0.060 * 3.6 * wind) / HOUR
