"""Kasten & Czeplak (1980), Solar and terrestrial radiation dependent on the amount and type of cloud, Solar Energy 24."""

from __future__ import annotations

from crownwright.quantity.arrays import Numbers, power


def cloud_factor(cloud: Numbers) -> Numbers:
    """Share of clear-sky sunshine that a clouded sky lets through: 1 - 0.75 (N/8)^3.4; ``cloud`` 0 to 1 (N in eighths).

    Fitted at Hamburg; coefficients from memory.

    >>> round(cloud_factor(0.5), 3), round(cloud_factor(1.0), 3)
    (0.929, 0.25)
    """
    return 1.0 - 0.75 * power(cloud, 3.4)
