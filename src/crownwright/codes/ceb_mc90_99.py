"""CEB MC90-99 shrinkage, as ACI 209.2R-08 Appendix C works it (strains are negative: the concrete shortens)."""

from __future__ import annotations

from math import exp, sqrt
from types import MappingProxyType
from typing import Literal

from crownwright.quantity.units import DAY
from crownwright.sources.tables import pick

CementClass = Literal["SL", "N", "R", "RS"]
"""Slow, normal, rapid, rapid and high strength."""
DRYING = MappingProxyType({"SL": (3.0, 0.13), "N": (4.0, 0.12), "R": (4.0, 0.12), "RS": (6.0, 0.12)})
"""alpha_ds1, alpha_ds2: N confirmed by the worked example, the others from memory."""
MPA = 1e6


def basic_drying(mean_strength: float, cement: CementClass = "N") -> float:
    """Notional drying shrinkage: (220 + 110 a1) exp(-a2 f_cm28 / 10 MPa) 1e-6 (ACI 209.2R-08 eq. A-76); strength Pa.

    >>> round(basic_drying(33.0e6) * 1e6)
    444
    """
    a1, a2 = pick(DRYING, cement, "cement class")
    return (220.0 + 110.0 * a1) * exp(-a2 * mean_strength / (10 * MPA)) * 1e-6


def humidity_factor(humidity: float, mean_strength: float = 33.0e6) -> float:
    """beta_RH: -1.55 (1 - RH^3) below 99 % x beta_s1, else 0.25 (eq. A-77); ``humidity`` a fraction, strength Pa.

    >>> round(humidity_factor(0.70), 3)
    -1.018
    """
    dry_limit = 0.99 * min((35.0 * MPA / mean_strength) ** 0.1, 1.0)
    return -1.55 * (1.0 - humidity**3) if humidity < dry_limit else 0.25


def drying_progress(drying: float, volume_surface: float) -> float:
    """beta_ds: sqrt(t / (350 (V/S / 50 mm)^2 + t)), t the days of drying (eq. A-79); ``drying`` s, V/S m.

    >>> round(drying_progress(7 * DAY, 0.100), 3)
    0.071
    """
    days = drying / DAY
    return sqrt(days / (350.0 * (volume_surface / 0.050) ** 2 + days))


def drying(mean_strength: float, humidity: float, drying_time: float, volume_surface: float, cement: CementClass = "N") -> float:
    """Drying shrinkage strain (negative): notional x beta_RH x beta_ds. Units as above.

    >>> round(drying(33.0e6, 0.70, 358 * DAY, 0.100) * 1e6)
    -204
    """
    humid = humidity_factor(humidity, mean_strength)
    return basic_drying(mean_strength, cement) * humid * drying_progress(drying_time, volume_surface)
