"""Uno (1998), Plastic shrinkage cracking and evaporation formulas, ACI Materials Journal 95-M34: drying of a fresh surface.

Two forms are in print. The metric one is rounded and reads about 4 % under the inch-pound one; both are here.
"""

from __future__ import annotations

from crownwright.quantity.arrays import Numbers, at_least, power
from crownwright.quantity.units import FT2, HOUR, LB, MPH

SCATTER = 0.40
"""Actual evaporation lies within 40 % of the estimate (Hover 2020): a guide to risk, not a measurement."""
COLD_BIAS = (1.11, 1.24)
"""How much the formula over-reads the vapour-pressure form of Menzel where the air is cold and the concrete warm."""


def rate(concrete: Numbers, air: Numbers, humidity: float, wind: float) -> Numbers:
    """Evaporation from bleed water, kg/(m2 s): (Tc^2.5 - r Ta^2.5)(1 + 0.4 V) 1e-6 lb/ft2/h, T in F and V in mph.

    ``concrete`` surface and ``air`` degC (0 F = -17.8 degC and up), ``humidity`` a fraction, ``wind`` m/s half a metre
    above the surface, air read in the shade and upwind. Condensation counts as nothing.

    >>> round(rate(80 / 1.8 - 32 / 1.8, 80 / 1.8 - 32 / 1.8, 0.50, 10 * MPH) * HOUR * FT2 / LB, 4)
    0.1431
    """
    hot, cool = 1.8 * concrete + 32.0, 1.8 * air + 32.0
    drive = at_least(power(at_least(hot, 0.0), 2.5) - humidity * power(at_least(cool, 0.0), 2.5), 0.0)
    return drive * (1.0 + 0.4 * wind / MPH) * 1e-6 * LB / FT2 / HOUR


def rate_metric(concrete: Numbers, air: Numbers, humidity: float, wind: float) -> Numbers:
    """Evaporation by the rounded metric form: 5 ((Tc + 18)^2.5 - r (Ta + 18)^2.5)(V + 4) 1e-6 kg/m2/h, V in km/h.

    Arguments and result as `rate`.

    >>> round(rate_metric(30.0, 25.0, 0.40, 20 / 3.6) * HOUR, 4)
    1.3335
    """
    hot = power(at_least(concrete + 18.0, 0.0), 2.5)
    drive = at_least(hot - humidity * power(at_least(air + 18.0, 0.0), 2.5), 0.0)
    return drive * 5e-6 * (3.6 * wind + 4.0) / HOUR
