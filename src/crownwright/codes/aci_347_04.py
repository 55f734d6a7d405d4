"""ACI 347-04 (and -14), Guide to Formwork for Concrete: lateral pressure of fresh concrete and construction loads.

The expressions carry lb, ft, F; arguments and results are SI.
"""

from __future__ import annotations

from crownwright.quantity.units import FOOT, G0, PCF, PSF, fahrenheit

CONSTRUCTION_LIVE = 50 * PSF
"""Least vertical live load on horizontal projection (75 psf with motorized carts)."""
LEAST_VERTICAL = 100 * PSF
"""Least dead and live load together (125 psf with motorized carts)."""
CEMENT_PLAIN = 1.0
"""Cc for types I, II, III without retarders; 1.2 with a retarder, 1.2 to 1.4 for blends (from memory)."""


def liquid_pressure(density: float, head: float) -> float:
    """Full liquid head, Pa: p = w h (2.2.2). It governs wherever an empirical formula gives more, and for every cap edge.

    ``density`` of fresh concrete, kg/m3; ``head`` h, m.

    >>> round(liquid_pressure(150 * PCF, 3.5 / 12 * FOOT) / PSF, 2)
    43.75
    """
    return density * G0 * head


def unit_weight_coefficient(density: float) -> float:
    """Cw: 0.5 (1 + w/145) but at least 0.80 under 140 lb/ft3; 1.0 from 140 to 150; w/145 above (Table 2.1, from memory).

    >>> round(unit_weight_coefficient(115 * PCF), 3), round(unit_weight_coefficient(160 * PCF), 3)
    (0.897, 1.103)
    """
    w = density / PCF
    if w < 140:
        return max(0.80, 0.5 * (1 + w / 145))
    return 1.0 if w <= 150 else w / 145


def wall_pressure(density: float, head: float, rate: float, celsius: float, cement: float = CEMENT_PLAIN) -> float:
    """Greatest lateral pressure on wall forms, Pa, internal vibration no deeper than 4 ft, slump 7 in. or less.

    R < 7 ft/h and h <= 14 ft: CwCc (150 + 9000 R/T); R < 7 and h > 14 ft, or R 7 to 15: CwCc (150 + 43,400/T + 2800 R/T) psf;
    at least 600 Cw, at most w h. ``rate`` of rise R, m/s; ``celsius`` of the concrete. First expression and bounds read,
    second from memory. Above 15 ft/h, and for any head too small for the floor of 600 Cw, the full liquid head.

    >>> hour = 3600.0
    >>> round(wall_pressure(150 * PCF, 10 * FOOT, 5 * FOOT / hour, 21.11) / PSF, 1)
    792.9
    """
    w, h, r, t = density / PCF, head / FOOT, rate / FOOT * 3600, fahrenheit(celsius)
    cw = unit_weight_coefficient(density)
    liquid = w * h
    if r > 15 or liquid <= 600 * cw:
        return liquid * PSF
    steep = 150 + 43400 / t + 2800 * r / t if r >= 7 or h > 14 else 150 + 9000 * r / t
    return min(liquid, max(600 * cw, cw * cement * steep)) * PSF


def liquid_thrust(density: float, height: float) -> float:
    """Thrust of liquid concrete on a board, N per m of length, acting at a third of the height: w h2/2.

    >>> round(liquid_thrust(150 * PCF, 5.5 / 12 * FOOT) / (PSF * FOOT), 3)
    15.755
    """
    return density * G0 * height**2 / 2
