"""England, Approved Document J, diagram 17 and 2.8: where a flue outlet may stand above a pitched roof."""

from __future__ import annotations

from math import inf, tan

NEAR_RIDGE = 0.600
"""Outlet within this of the ridge, horizontally, counts as at the ridge, m."""
ABOVE_RIDGE = 0.600
CLEAR_OF_SURFACE = 2.300
ABOVE_SURFACE = 1.000
LEAST_FLUE = 4.5
"""Least length of a flue, m."""


def outlet_height(pitch: float, ridge_away: float) -> float:
    """Least height of the outlet above the roof beside it, m.

    ``pitch`` rad, ``ridge_away`` horizontal distance to the ridge, m. At or near the ridge: 0.6 m above
    the ridge. Elsewhere: at least 1.0 m high and 2.3 m clear of the weather surface measured horizontally, or as high as
    the ridge, whichever is lower.

    >>> from math import radians
    >>> [round(outlet_height(radians(pitch), away), 3) for pitch, away in ((45, 5.0), (20, 5.0), (45, 0.0))]
    [2.3, 1.0, 0.6]
    """
    rise = tan(pitch) * ridge_away
    if ridge_away <= NEAR_RIDGE:
        return rise + ABOVE_RIDGE
    return min(max(ABOVE_SURFACE, CLEAR_OF_SURFACE * tan(pitch)), rise if rise > 0 else inf)
