"""ASTM C403: setting by resistance to a needle, on mortar sieved from the concrete."""

from __future__ import annotations

from crownwright.quantity.units import PSI

INITIAL = 500 * PSI
"""Penetration resistance at initial set, Pa. Not the 500 psi of compressive strength that outlives a freezing."""
FINAL = 4000 * PSI
"""Penetration resistance at final set, Pa."""
INITIAL_SHARE = 0.15
FINAL_SHARE = 0.26
"""Degree of hydration at initial and final set over water/cement (Schindler 2004, after Byfors; from memory)."""


def hydration_at_set(water_cement: float) -> tuple[float, float]:
    """Degree of hydration at initial and at final set: 0.15 and 0.26 times the water/cement ratio (from memory).

    >>> hydration_at_set(0.5)
    (0.075, 0.13)
    """
    return INITIAL_SHARE * water_cement, FINAL_SHARE * water_cement
