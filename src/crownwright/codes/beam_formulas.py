"""Beams of constant section, small deflections, exact: bending moment, shear and deflection for the cases a form needs.

Elementary theory of bending (any handbook of mechanics); shear deformation is left out. SI: N, m, Pa; loads in N/m.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt


@dataclass(frozen=True, slots=True)
class Bent:
    """Greatest bending moment (N m), shear (N) and deflection (m) of a beam."""

    moment: float
    shear: float
    deflection: float


def simple_uniform(load: float, span: float, stiffness: float) -> Bent:
    """Simple span under a uniform ``load`` w: M = w L2/8, V = w L/2, d = 5 w L4/(384 EI). ``stiffness`` EI in N m2.

    >>> simple_uniform(8.0, 2.0, 1.0).moment
    4.0
    """
    return Bent(load * span**2 / 8, load * span / 2, 5 * load * span**4 / (384 * stiffness))


def simple_centre(force: float, span: float, stiffness: float) -> Bent:
    """Simple span with a ``force`` P at mid-span: M = P L/4, V = P/2, d = P L3/(48 EI).

    >>> simple_centre(4.0, 2.0, 1.0).moment
    2.0
    """
    return Bent(force * span / 4, force / 2, force * span**3 / (48 * stiffness))


def cantilever_uniform(load: float, span: float, stiffness: float) -> Bent:
    """Cantilever under a uniform ``load``: M = w L2/2, V = w L, d = w L4/(8 EI).

    >>> cantilever_uniform(2.0, 3.0, 1.0).moment
    9.0
    """
    return Bent(load * span**2 / 2, load * span, load * span**4 / (8 * stiffness))


def cantilever_end(force: float, span: float, stiffness: float) -> Bent:
    """Cantilever with a ``force`` at its free end: M = P L, V = P, d = P L3/(3 EI).

    >>> cantilever_end(2.0, 3.0, 1.0).deflection
    18.0
    """
    return Bent(force * span, force, force * span**3 / (3 * stiffness))


def two_span_uniform(load: float, span: float, stiffness: float) -> Bent:
    """Two equal spans under a uniform ``load``: M = w L2/8 over the middle support, V = 5 w L/8, d = w L4/(184.6 EI).

    The greatest deflection lies at x = (1 + sqrt 33)/16 of the span; handbooks round its divisor to 185.

    >>> round(1 / two_span_uniform(1.0, 1.0, 1.0).deflection, 1)
    184.6
    """
    x = (1 + sqrt(33)) / 16
    return Bent(load * span**2 / 8, 5 * load * span / 8, load * span**4 * (x - 3 * x**3 + 2 * x**4) / 48 / stiffness)


def shear_stress(shear: float, area: float) -> float:
    """Greatest shear stress in a rectangular section, Pa: f = 1.5 V / A.

    >>> shear_stress(10.0, 1.5)
    10.0
    """
    return 1.5 * shear / area


def span_for_moment(moment: float, load: float) -> float:
    """Longest simple span, m, that a moment of resistance carries under a uniform load: L = sqrt(8 M / w).

    >>> span_for_moment(4.0, 8.0)
    2.0
    """
    return sqrt(8 * moment / load)


def span_for_shear(shear: float, load: float) -> float:
    """Longest simple span, m, that an end reaction or shear resistance carries under a uniform load: L = 2 V / w.

    >>> span_for_shear(8.0, 8.0)
    2.0
    """
    return 2 * shear / load


def span_for_ratio(stiffness: float, load: float, ratio: float) -> float:
    """Longest simple span, m, that keeps deflection under span/``ratio`` under a uniform load: L = (384 EI / (5 w ratio))^(1/3).

    >>> round(span_for_ratio(1.0, 1.0, 76.8), 9)
    1.0
    """
    return float((384 * stiffness / (5 * load * ratio)) ** (1 / 3))


def span_for_deflection(stiffness: float, load: float, deflection: float) -> float:
    """Longest simple span, m, that keeps deflection under an absolute limit, m: L = (384 EI d / (5 w))^(1/4).

    >>> round(span_for_deflection(1.0, 76.8, 1.0), 9)
    1.0
    """
    return float((384 * stiffness * deflection / (5 * load)) ** 0.25)


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A rectangular section: ``breadth`` across, ``depth`` in the direction of the load, m."""

    breadth: float
    depth: float

    @property
    def area(self) -> float:
        """A, m2."""
        return self.breadth * self.depth

    @property
    def modulus(self) -> float:
        """S = b d2/6, m3."""
        return self.breadth * self.depth**2 / 6

    @property
    def inertia(self) -> float:
        """I = b d3/12, m4."""
        return self.breadth * self.depth**3 / 12
