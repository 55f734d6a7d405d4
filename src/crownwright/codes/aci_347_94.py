"""ACI 347-63 to -94, superseded in 2001: lateral pressure without the unit-weight and cement coefficients."""

from __future__ import annotations

from crownwright.quantity.units import FOOT, PCF, PSF, fahrenheit

FLOOR = 600 * PSF
WALL_CEILING = 2000 * PSF


def wall_pressure(density: float, head: float, rate: float, celsius: float) -> float:
    """Greatest lateral pressure on wall forms, Pa: 150 + 9000 R/T psf for R up to 7 ft/h; 600 to 2000 psf, and at most w h.

    ``density`` kg/m3, ``head`` m, ``rate`` of rise m/s, ``celsius`` of the concrete. Kept to compare old handbooks with.

    >>> round(wall_pressure(150 * PCF, 10 * FOOT, 5 * FOOT / 3600, 21.11) / PSF, 1)
    792.9
    """
    pressure = (150 + 9000 * (rate / FOOT * 3600) / fahrenheit(celsius)) * PSF
    liquid = density / PCF * (head / FOOT) * PSF
    return min(max(pressure, FLOOR), WALL_CEILING, liquid)
