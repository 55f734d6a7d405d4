"""Powers (1958), Structure and physical properties of hardened portland cement paste: strength by the gel/space ratio."""

from __future__ import annotations

from crownwright.quantity.arrays import Numbers, power

INTRINSIC = 234.0e6
"""Strength of the gel itself, Pa (from memory)."""


def gel_space(degree: Numbers, water_cement: float) -> Numbers:
    """Gel/space ratio: 0.68 a / (0.32 a + w/c), ``degree`` a of hydration 0 to 1 (from memory).

    >>> round(gel_space(0.7, 0.5), 3)
    0.657
    """
    return 0.68 * degree / (0.32 * degree + water_cement)


def strength(degree: Numbers, water_cement: float) -> Numbers:
    """Compressive strength, Pa: 234 MPa times the cube of the gel/space ratio; paste or mortar without air (from memory).

    >>> round(strength(0.7, 0.5) / 1e6, 1)
    66.5
    """
    return INTRINSIC * power(gel_space(degree, water_cement), 3.0)
