"""EN 1992-1-1:2004, clauses 3.1 and Annex B: strength with age, shrinkage, and age adjusted for temperature."""

from __future__ import annotations

from math import exp, sqrt
from types import MappingProxyType
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.arrays import Numbers, power
from crownwright.quantity.arrays import exp as array_exp
from crownwright.quantity.units import DAY
from crownwright.sources.tables import pick

CementClass = Literal["R", "N", "S"]
"""Cement hardening rapidly, normally, slowly."""
MPA = 1e6
HARDENING = MappingProxyType({"R": 0.20, "N": 0.25, "S": 0.38})
"""Coefficient s of eq. 3.2."""
DRYING = MappingProxyType({"S": (3.0, 0.13), "N": (4.0, 0.12), "R": (6.0, 0.11)})
"""Coefficients alpha_ds1 and alpha_ds2 of eq. B.11."""
SIZES = (0.100, 0.200, 0.300, 0.500)
SIZE_FACTORS = (1.0, 0.85, 0.75, 0.70)


def strength_ratio(age: Numbers, cement: CementClass = "N") -> Numbers:
    """Mean strength at an age over that at 28 days: exp(s (1 - sqrt(28 d / t))) (eq. 3.2).

    ``age`` in s at 20 degC. The clause uses it for f_ck(t) from 3 days on; no dormant period, so not for the first day.

    >>> round(strength_ratio(3 * DAY), 3), round(strength_ratio(7 * DAY, "S"), 3)
    (0.598, 0.684)
    """
    s = pick(HARDENING, cement, "cement class")
    return array_exp(s * (1.0 - power(28 * DAY / age, 0.5)))


def adjusted_age(temperatures: NDArray[np.float64], intervals: NDArray[np.float64]) -> float:
    """Age adjusted for temperature, s: sum of dt x exp(-(4000 / (273 + T) - 13.65)) (eq. B.10).

    ``temperatures`` (degC, mean of each interval, 0 to 80) and ``intervals`` (s) of one length. At 20 degC exactly the factor
    is 0.998, not 1: the rounded constants of the clause.

    >>> round(adjusted_age(np.array([20.0]), np.array([1.0])), 4)
    0.9981
    """
    return float(np.sum(intervals * np.exp(-(4000.0 / (273.0 + temperatures) - 13.65))))


def notional_size(area: float, perimeter: float) -> float:
    """Notional size h0 = 2 A / u, m; ``area`` m2 and ``perimeter`` in contact with the air, m (3.1.4).

    >>> round(notional_size(0.250 * 0.350, 1.2) * 1000, 4)
    145.8333
    """
    return 2.0 * area / perimeter


def size_factor(size: float) -> float:
    """k_h by notional size (m): 1, 0.85, 0.75, 0.70 at 100, 200, 300, 500 mm, between them linearly (Table 3.3).

    >>> round(size_factor(0.150), 3)
    0.925
    """
    return float(np.interp(size, SIZES, SIZE_FACTORS))


def basic_drying(mean_strength: float, humidity: float, cement: CementClass = "N") -> float:
    """Nominal drying shrinkage strain: 0.85 (220 + 110 a1) exp(-a2 f_cm / 10 MPa) 1e-6 x 1.55 (1 - RH^3) (eq. B.11, B.12).

    ``mean_strength`` f_cm Pa, ``humidity`` a fraction.

    >>> round(basic_drying(38e6, 0.55) * 1e6, 1)
    459.4
    """
    a1, a2 = pick(DRYING, cement, "cement class")
    humid = 1.55 * (1.0 - humidity**3)
    return 0.85 * (220.0 + 110.0 * a1) * exp(-a2 * mean_strength / (10 * MPA)) * 1e-6 * humid


def drying_progress(drying: float, size: float) -> float:
    """beta_ds: share of the drying shrinkage reached after drying for a time (s); ``size`` h0 in m (eq. 3.10).

    >>> round(drying_progress(40 * DAY, 0.100), 3)
    0.5
    """
    days = drying / DAY
    return days / (days + 0.04 * sqrt((size * 1000) ** 3))


def autogenous(mean_strength: float, age: float) -> float:
    """Autogenous shrinkage strain: 2.5 (f_ck - 10) 1e-6 (1 - exp(-0.2 sqrt t)), f_ck = f_cm - 8 MPa (eq. 3.11 to 3.13).

    ``mean_strength`` Pa, ``age`` s.

    >>> round(autogenous(38e6, 28 * DAY) * 1e6, 1)
    32.6
    """
    characteristic = mean_strength / MPA - 8.0
    return 2.5 * (characteristic - 10.0) * 1e-6 * (1.0 - exp(-0.2 * sqrt(age / DAY)))


def shrinkage(size: float, mean_strength: float, humidity: float, cured: float, age: float, cement: CementClass = "N") -> float:
    """Total shrinkage strain, drying and autogenous (eq. 3.8); ``size`` h0 m, ``cured`` and ``age`` s, ``humidity`` a fraction.

    >>> round(shrinkage(0.1385, 43e6, 0.50, 28 * DAY, 18263 * DAY, "R") * 1e6, 3)
    656.021
    """
    drying = size_factor(size) * drying_progress(age - cured, size) * basic_drying(mean_strength, humidity, cement)
    return drying + autogenous(mean_strength, age)


def mean_tensile(characteristic: float) -> float:
    """Mean axial tensile strength f_ctm = 0.30 f_ck^(2/3), MPa in and out in the source, Pa here (Table 3.1, to C50/60).

    >>> round(mean_tensile(25e6) / 1e6, 2)
    2.56
    """
    return 0.30 * float((characteristic / MPA) ** (2.0 / 3.0)) * MPA
