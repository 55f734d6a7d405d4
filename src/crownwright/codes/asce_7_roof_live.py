"""ASCE 7-16, 4.8.2: live load of an ordinary roof, from its pitch and the area that carries it (from memory)."""

from __future__ import annotations

from math import tan

from crownwright.quantity.units import FT2, PSF

MOST, LEAST = 20 * PSF, 12 * PSF
"""Lr is 20 psf at the most and 12 at the least."""


def roof_live_load(pitch: float, area: float = 0.0) -> float:
    """Live load that an ordinary roof is made for, Pa: 20 psf R1 R2, not under 12 psf (eq. 4.8-1; from memory).

    ``pitch`` rad; ``area`` m2 carried by one member (R1 is 1 to 200 ft2, 0.6 from 600 ft2). R2 is 1 to 4:12, 0.6 from 12:12.

    >>> from math import atan
    >>> round(roof_live_load(atan(8 / 12)) / PSF, 6)
    16.0
    """
    feet, rise = area / FT2, 12 * tan(pitch)
    r1 = 1.0 if feet <= 200 else max(1.2 - 0.001 * feet, 0.6)
    r2 = 1.0 if rise <= 4 else max(1.2 - 0.05 * rise, 0.6)
    return max(MOST * r1 * r2, LEAST)
