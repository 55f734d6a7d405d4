"""ACI 301, quoted in UFGS: how far above the specified strength a mix without records must aim."""

from __future__ import annotations

from crownwright.quantity.units import PSI


def required_average(specified: float) -> float:
    """Average strength to aim for, Pa: +1000 psi under 3000, +1200 from 3000 to 5000, +1400 above.

    ``specified`` Pa. Later editions say 1.10 f'c + 700 psi above 5000 (from memory).

    >>> round(required_average(4000 * PSI) / PSI)
    5200
    """
    psi = round(specified / PSI, 6)  # 5000 psi must stay 5000 on its way through Pa
    return specified + (1000 if psi < 3000 else 1200 if psi <= 5000 else 1400) * PSI
