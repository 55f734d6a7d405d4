"""ACI 209R-92: strength against age at ordinary temperature, and drying shrinkage with its correction factors."""

from __future__ import annotations

from collections.abc import Mapping
from math import exp, log
from typing import Literal

import numpy as np

from crownwright.quantity.arrays import Numbers
from crownwright.quantity.units import DAY, INCH, LB, YD3
from crownwright.sources.grids import Grid, read_grids

Cement = Literal["type I, moist", "type III, moist", "type I, steam", "type III, steam"]

ULTIMATE_SHRINKAGE = 780e-6
"""Ultimate shrinkage with every factor 1 (2.5.5), a strain; the source allows 415e-6 to 1070e-6."""


def tables() -> Mapping[str, Grid]:
    """Return the tables of the document."""
    return read_grids(__package__, "aci_209r_1992.toml")


def strength_ratio(age: Numbers, cement: Cement = "type I, moist") -> Numbers:
    """Strength at an age over the strength at 28 days: t / (a + b t) (eq. 2-1, Table 2.2.1).

    ``age`` in s, cured moist near 21 degC. Type I gives 1.007 at 28 days by construction; no dormant period, so not for the
    first day. Raises KeyError for an unknown cement.

    >>> round(strength_ratio(3 * DAY), 3), round(strength_ratio(7 * DAY, "type III, moist"), 3)
    (0.458, 0.801)
    """
    grid = tables()["strength"]
    days = age / DAY
    return days / (grid.number(cement, "a") + grid.number(cement, "b") * days)


def shrinkage(
    drying: Numbers, factors: float = 1.0, ultimate: float = ULTIMATE_SHRINKAGE, half_time: float = 35 * DAY
) -> Numbers:
    """Shrinkage strain after drying for a time: ultimate x factors x t / (35 d + t) (eq. 2-9).

    ``drying`` is the time since moist curing ended, s; ``half_time`` 35 d after 7 d moist, 55 d after steam. ``factors`` is
    the product of the gammas below.

    >>> round(shrinkage(35 * DAY) * 1e6)
    390
    """
    return ultimate * factors * drying / (half_time + drying)


def humidity_factor(humidity: float) -> float:
    """Gamma for relative humidity (a fraction): 1.40 - 0.0102 h to 80 %, 3.00 - 0.030 h above (eq. 2-15, 2-16); 0.40 to 1.

    >>> round(humidity_factor(0.70), 3)
    0.686
    """
    h = 100 * humidity
    return 1.40 - 0.0102 * h if h <= 80 else 3.00 - 0.030 * h


def thickness_factor(volume_surface: float) -> float:
    """Gamma for volume over drying surface (m): 1.2 exp(-0.12 V/S), V/S in inches (eq. 2-19).

    >>> round(thickness_factor(0.100), 4)
    0.7482
    """
    return 1.2 * exp(-0.12 * volume_surface / INCH)


def moist_days_factor(moist: float) -> float:
    """Gamma for the length of moist curing (s), Table 2.5.3; between its rows by the logarithm of time, held level outside.

    >>> moist_days_factor(7 * DAY)
    1.0
    """
    rows = {float(k): v for k, v in tables()["moist_days"].column("gamma").items() if isinstance(v, (int, float))}
    return float(np.interp(log(max(moist / DAY, 1e-9)), np.log(list(rows)), list(rows.values())))


def slump_factor(slump: float) -> float:
    """Gamma for slump (m): 0.89 + 0.041 s, s in inches (eq. 2-20).

    >>> round(slump_factor(0.1016), 3)
    1.054
    """
    return 0.89 + 0.041 * slump / INCH


def cement_factor(cement: float) -> float:
    """Gamma for cement content (kg/m3): 0.75 + 0.00036 c, c in lb/yd3 (eq. 2-23).

    >>> round(cement_factor(335.0), 3)
    0.953
    """
    return 0.75 + 0.00036 * cement / (LB / YD3)


def air_factor(air: float) -> float:
    """Gamma for air content (fraction): 0.95 + 0.008 a, a in per cent (eq. 2-24).

    >>> round(air_factor(0.06), 3)
    0.998
    """
    return 0.95 + 0.008 * 100 * air
