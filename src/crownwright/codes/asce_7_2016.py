"""ASCE 7-16, Minimum Design Loads: wind on a chimney and snow. Editions -02 to -16 share these expressions; -22 does not."""

from __future__ import annotations

from math import exp
from typing import Literal

from crownwright.quantity.units import FOOT, LBF, MPH, PSF
from crownwright.sources.grids import read_grids

Exposure = Literal["B", "C", "D"]
AIR = 0.00256 * PSF / MPH**2
"""Half the density of air as the code rounds it in psf and mph, kg/m3; in N/m2 and m/s it rounds to 0.613, 0.06 % less."""
GUST = 0.85
"""G for a rigid structure (26.11.1)."""
KD_SQUARE, KD_ROUND = 0.90, 0.95
"""Kd of chimneys by shape (Table 26.6-1)."""
MAINTENANCE = 300 * LBF
"""Concentrated load of one person on a roof or awning subject to maintenance (Table 4.3-1; from memory), N."""
SNOW_FLAT = 0.7
_ROUND_LIMIT = 5.3


def velocity_factor(height: float, exposure: Exposure) -> float:
    """Velocity pressure exposure coefficient Kz = 2.01 (max(z, 15 ft)/zg)^(2/alpha) (Table 26.10-1 note). ``height`` z, m.

    >>> round(velocity_factor(5.0, "C"), 5)
    0.86503
    """
    row = read_grids("crownwright.codes", "asce_7_2016.toml")["exposure"]
    ratio = max(height, 15 * FOOT) / (row.number(exposure, "zg_ft") * FOOT)
    return float(2.01 * ratio ** (2 / row.number(exposure, "alpha")))


def elevation_factor(elevation: float) -> float:
    """Ground elevation factor Ke = exp(-0.0000362 z) with z in ft above sea level (Table 26.9-1). ``elevation`` in m.

    The SI form, exp(-0.000119 z), gives 0.98700 for the same.

    >>> round(elevation_factor(110.0), 5)
    0.98702
    """
    return exp(-0.0000362 * elevation / FOOT)


def velocity_pressure(speed: float, kz: float, *, kzt: float = 1.0, kd: float = 1.0, ke: float = 1.0, air: float = AIR) -> float:
    """Velocity pressure, Pa: qz = 0.00256 Kz Kzt Kd Ke V2 psf, mph (26.10-1). ``speed`` V, 3 s gust, m/s.

    ``air`` is the coefficient in kg/m3: `AIR`, or 0.613 for the SI form.

    >>> round(velocity_pressure(90 * MPH, 0.81, kd=0.95) / PSF, 2)
    15.96
    """
    return air * kz * kzt * kd * ke * speed**2


def force_coefficient(shape: str, slenderness: float, size: float = 0.0, pressure: float = 0.0) -> float:
    """Force coefficient Cf of a chimney by h/D, linear between the columns 1, 7 and 25 (Fig. 29.4-1); held at its ends.

    ``shape`` is a row of the table ("square, wind on a face", "round, rough" ...). For round shapes give ``size`` D (m) and
    ``pressure`` qz (Pa): at D sqrt(qz) up to 5.3 one row serves all surfaces. h/D outside 1 to 25 is held at the end value.

    >>> round(force_coefficient("square, wind on a face", 1.875), 4)
    1.3146
    """
    grid = read_grids("crownwright.codes", "asce_7_2016.toml")["chimney_force"]
    small = shape.startswith("round") and size > 0 and size * pressure**0.5 <= _ROUND_LIMIT
    one, seven, most = (grid.number("round, small" if small else shape, column) for column in grid.columns)
    at = min(max(slenderness, 1.0), 25.0)
    return one + (seven - one) * (at - 1) / 6 if at <= 7 else seven + (most - seven) * (at - 7) / 18


def wind_force(pressure: float, coefficient: float, area: float, gust: float = GUST) -> float:
    """Wind force on a chimney, N: F = qz G Cf Af (29.4-1). ``area`` Af projected normal to the wind, m2.

    >>> wind_force(100.0, 1.0, 2.0)
    170.0
    """
    return pressure * gust * coefficient * area


def flat_roof_snow(ground: float, *, exposure: float = 1.0, thermal: float = 1.0, importance: float = 1.0) -> float:
    """Flat roof snow, Pa: pf = 0.7 Ce Ct Is pg (7.3-1). ``ground`` pg, Pa. For a cap above the roof take the full pg.

    >>> round(flat_roof_snow(30 * PSF) / PSF, 6)
    21.0
    """
    return SNOW_FLAT * exposure * thermal * importance * ground
