"""Schindler & Folliard (2005), Heat of hydration models for cementitious materials, ACI Materials Journal 102: how far the cement
has hydrated at an equivalent age, and the heat of it. Coefficients from memory; they fall in the published ranges.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.arrays import Numbers, same_kind
from crownwright.quantity.units import HOUR

Floats = NDArray[np.float64]

REFERENCE = 21.1
"""Reference temperature of the equivalent age, degC (70 F)."""


@dataclass(frozen=True, slots=True)
class Cement:
    """Composition as mass fractions and fineness (Blaine, m2/kg)."""

    c3s: float
    c2s: float
    c3a: float
    c4af: float
    so3: float
    free_lime: float = 0.010
    magnesia: float = 0.014
    blaine: float = 380.0


TYPE_I = Cement(0.57, 0.16, 0.10, 0.07, 0.030)
TYPE_III = Cement(0.57, 0.16, 0.09, 0.08, 0.036, blaine=540.0)
CEMENTS = {"type I": TYPE_I, "type III": TYPE_III}
"""Typical compositions of the two portland cements that bags hold; no label tells the real one."""


@dataclass(frozen=True, slots=True)
class Hydration:
    """The curve alpha = ultimate exp(-(tau / te)^beta): ``tau`` s, ``energy`` J/mol, ``reference`` degC, ``heat`` J/kg."""

    ultimate: float
    tau: float
    beta: float
    energy: float
    heat: float
    reference: float = REFERENCE


def ultimate_heat(cement: Cement) -> float:
    """Heat of complete hydration, J/kg of cement.

    500 C3S + 260 C2S + 866 C3A + 420 C4AF + 624 SO3 + 1186 free CaO + 850 MgO, J/g.

    >>> round(ultimate_heat(TYPE_I) / 1000, 1)
    485.1
    """
    minerals = 500 * cement.c3s + 260 * cement.c2s + 866 * cement.c3a + 420 * cement.c4af
    return 1000 * (minerals + 624 * cement.so3 + 1186 * cement.free_lime + 850 * cement.magnesia)


def ultimate_degree(water_cement: Numbers) -> Numbers:
    """Degree of hydration in the end: 1.031 w / (0.194 + w), at most 1 (after Mills).

    >>> round(ultimate_degree(0.45), 3), round(ultimate_degree(0.50), 3)
    (0.72, 0.743)
    """
    value = np.minimum(1.031 * np.asarray(water_cement) / (0.194 + np.asarray(water_cement)), 1.0)
    return same_kind(water_cement, value)


def hydration(cement: Cement, water_cement: float) -> Hydration:
    """Return the curve of a portland cement without slag, ash or admixture.

    tau = 66.78 C3A^-0.154 C3S^-0.401 Blaine^-0.804 SO3^-0.758 h; beta = 181.4 C3A^0.146 C3S^0.227 Blaine^-0.535 SO3^0.558;
    E = 22100 C3A^0.30 C4AF^0.25 Blaine^0.35 J/mol (Schindler 2004).

    >>> curve = hydration(TYPE_I, 0.45)
    >>> round(curve.tau / HOUR, 2), round(curve.beta, 3), round(curve.energy)
    (14.35, 0.672, 45561)
    """
    a, s, f, so3 = cement.c3a, cement.c3s, cement.blaine, cement.so3
    tau = 66.78 * a**-0.154 * s**-0.401 * f**-0.804 * so3**-0.758
    beta = 181.4 * a**0.146 * s**0.227 * f**-0.535 * so3**0.558
    energy = 22_100 * a**0.30 * cement.c4af**0.25 * f**0.35
    return Hydration(ultimate_degree(water_cement), tau * HOUR, beta, energy, ultimate_heat(cement))


def degree(curve: Hydration, age: Numbers) -> Numbers:
    """Degree of hydration at an equivalent age (s): ultimate exp(-(tau/te)^beta); 0 at age 0.

    >>> round(degree(hydration(TYPE_I, 0.45), 24 * HOUR), 3)
    0.355
    """
    te = np.asarray(age, float)
    power = np.power(curve.tau / np.where(te > 0, te, 1.0), curve.beta)
    value = np.where(te > 0, curve.ultimate * np.exp(-power), 0.0)
    return same_kind(age, value)


def age_at(curve: Hydration, degree_: Numbers) -> Numbers:
    """Equivalent age, s, at which a degree of hydration is reached: tau (ln(ultimate/alpha))^(-1/beta).

    ``degree_`` between 0 and the ultimate degree, both excluded.

    >>> round(age_at(hydration(TYPE_I, 0.45), 0.355) / HOUR, 1)
    24.0
    """
    value = curve.tau * np.power(np.log(curve.ultimate / np.asarray(degree_, float)), -1.0 / curve.beta)
    return same_kind(degree_, value)


INITIAL_SET_DEGREE = 0.15
FINAL_SET_DEGREE = 0.26
"""Degree of hydration at set over the water-cement ratio (Schindler 2004, after Byfors, Pinto and Hover; from memory)."""


def set_ages(curve: Hydration, water_cement: float) -> tuple[float, float]:
    """Equivalent ages, s, of initial and final set by ASTM C403: where alpha reaches 0.15 and 0.26 times the water-cement ratio.

    >>> initial, final = set_ages(hydration(TYPE_I, 0.45), 0.45)
    >>> round(initial / HOUR, 2), round(final / HOUR, 2)
    (3.98, 5.89)
    """
    return age_at(curve, INITIAL_SET_DEGREE * water_cement), age_at(curve, FINAL_SET_DEGREE * water_cement)
