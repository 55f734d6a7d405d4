"""Woven and welded wire screen, by geometry: what share of it is open."""

from __future__ import annotations

from crownwright.quantity.units import INCH

GALVANIZED_19 = 0.041 * INCH
"""Diameter of 19 gauge galvanized wire, m (from memory)."""
STOPS, PASSES = 0.5 * INCH, 0.375 * INCH
"""A chimney's screen stops a ball of 1/2 in. and passes one of 3/8 in. (2018 IRC R1003.9.2)."""


def open_share(pitch: float, wire: float) -> float:
    """Open area over whole area of square mesh: ((p - d) / p)^2. ``pitch`` p centre to centre, ``wire`` d diameter, m.

    >>> round(open_share(0.5 * INCH, GALVANIZED_19), 3)
    0.843
    """
    return ((pitch - wire) / pitch) ** 2


def opening(pitch: float, wire: float) -> float:
    """Clear width of one opening, m: the largest ball that passes."""
    return pitch - wire
