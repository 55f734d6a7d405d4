"""BS 8110-1:1997, strength before forms go and the most cement in a mix. All from memory."""

from __future__ import annotations

FACES = 2.0e6
"""Strength, Pa, at which the form of a vertical face may go without knocks or frost hurting it (6.2.6.3)."""
SOFFIT = 10.0e6
"""Least strength, Pa, before a soffit form that carries bending goes (6.2.6.3.2)."""
MOST_CEMENT = 550.0
"""kg/m3 above which the shrinkage of a thin section wants special thought (3.3.5.4)."""


def soffit_strength(stress: float) -> float:
    """Strength before a soffit form goes, Pa: 10 MPa, or twice the stress it will bear then if that is more.

    >>> soffit_strength(1.0e6) / 1e6, soffit_strength(7.0e6) / 1e6
    (10.0, 14.0)
    """
    return max(SOFFIT, 2.0 * stress)
