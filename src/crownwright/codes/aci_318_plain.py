"""ACI 318, structural plain concrete (chapter 14 in -14 and -19, 22 before): cracking and nominal strength without steel.

The chapter covers walls, footings, pedestals and arches: for the overhang of a cap it is an analogy. Arguments and results
are SI; the expressions carry psi.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt
from types import MappingProxyType

from crownwright.quantity.units import PSI
from crownwright.sources.tables import pick

PHI: Mapping[str, float] = MappingProxyType(
    {"1999": 0.65, "2002": 0.55, "2005": 0.55, "2008": 0.60, "2011": 0.60, "2014": 0.60, "2019": 0.60}
)
"""Strength reduction factor for plain concrete by edition (from memory). One handbook prints 0.90, which is not from the code."""


def reduction(edition: str = "2019") -> float:
    """Strength reduction factor phi of an edition; KeyError lists the editions there are.

    >>> reduction("2005")
    0.55
    """
    return pick(PHI, edition, "edition of ACI 318")


def rupture(strength: float, light: float = 1.0) -> float:
    """Modulus of rupture, Pa: fr = 7.5 lambda sqrt(f'c) psi (19.2.3.1). ``strength`` f'c, Pa.

    >>> round(rupture(3000 * PSI) / PSI)
    411
    """
    return 7.5 * light * _root(strength)


def elasticity(strength: float) -> float:
    """Modulus of elasticity of normal concrete, Pa: Ec = 57,000 sqrt(f'c) psi (19.2.2.1b).

    >>> round(elasticity(4000 * PSI) / PSI, -3)
    3605000.0
    """
    return 57000 * _root(strength)


def bending_stress(strength: float, light: float = 1.0) -> float:
    """Nominal flexural stress of plain concrete, Pa: Mn/Sm = min(5 lambda sqrt(f'c), 0.85 f'c) (14.5.2.1).

    >>> round(0.60 * bending_stress(500 * PSI) / PSI, 1)
    67.1
    """
    return min(5 * light * _root(strength), 0.85 * strength)


def shear_stress(strength: float, light: float = 1.0) -> float:
    """Nominal one-way shear stress of plain concrete, Pa: Vn/(b h) = 4/3 lambda sqrt(f'c) (14.5.5.1).

    >>> round(0.60 * shear_stress(3000 * PSI) / PSI, 1)
    43.8
    """
    return 4 / 3 * light * _root(strength)


def punching_stress(strength: float, aspect: float, light: float = 1.0) -> float:
    """Nominal two-way shear stress of plain concrete, Pa: (1 + 2/b) 4/3 lambda sqrt(f'c), at most 2.66 lambda sqrt(f'c).

    ``aspect`` b, long over short side of the loaded area (14.5.5.1).

    >>> round(punching_stress(2500 * PSI, 1.0) / PSI, 1)
    133.0
    """
    return min((1 + 2 / aspect) * 4 / 3, 2.66) * light * _root(strength)


def _root(strength: float) -> float:
    return sqrt(strength / PSI) * PSI
