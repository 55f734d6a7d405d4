"""Plowman (1956): strength as a share of that at 28 days and 18 degC, straight against the logarithm of maturity."""

from __future__ import annotations

from math import log10

from crownwright.quantity.units import HOUR

DATUM = -11.0
"""Datum temperature, degC (-11.7 in the paper, rounded to -11 or -12 in texts)."""
FULL = 19_800.0
"""Maturity taken as full, degC h: 28 days at 18 degC."""
BANDS = ((17.5e6, 10.0, 68.0), (35.0e6, 21.0, 61.0), (52.5e6, 32.0, 54.0), (70.0e6, 42.0, 46.5))
"""Strength at full maturity up to (Pa), A, B; all from memory."""


def strength_share(maturity: float, full_strength: float) -> float:
    """Share of the strength at full maturity: (A + B log10(M / 1000)) / 100, M in degC h above `DATUM`.

    ``maturity`` degC s, ``full_strength`` Pa (picks A and B; ValueError above 70 MPa). Made for 3 days and more.

    >>> round(strength_share(4368 * HOUR, 40e6), 3)
    0.666
    """
    for limit, a, b in BANDS:
        if full_strength <= limit:
            return max(0.0, a + b * log10(max(maturity / HOUR, 1e-9) / 1000.0)) / 100.0
    raise ValueError(f"full strength {full_strength / 1e6:g} MPa lies above the 70 MPa of the table")
