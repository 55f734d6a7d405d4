"""EN 13384-1, cooling of flue gas along a chimney. Form and coefficients from memory; the standard's text was not at hand.

Part 2 excludes open fires: for them this is an estimate. Real fires are transient and thick masonry takes hours to warm, so the
steady figures are upper bounds for the wall. SI; temperatures in degC.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log, log10

ROUGH_CLAY, ROUGH_BRICK = 0.0015, 0.005
"""Mean roughness, m."""
OUTDOORS, INDOORS = 23.0, 8.0
"""Outer heat transfer coefficient, W/m2K."""
UNSTEADY, STEADY = 0.5, 1.0
"""Correction SH for a chimney not yet in thermal equilibrium."""
GAS_CONSTANT = 288.0
"""Of wood flue gas, J/kgK, near."""
LEAST_REYNOLDS = 2300.0
LEAST_ALPHA = 5.0
"""Inner heat transfer coefficient is not taken under this, W/m2K."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of the wall: inner and outer hydraulic size (m; side of a square, diameter of a round) and conductivity, W/mK."""

    inside: float
    outside: float
    conductivity: float


def cooling_number(perimeter: float, transmittance: float, length: float, flow: float, capacity: float) -> float:
    """K = U k L/(m cp).

    ``perimeter`` U inner (m), ``transmittance`` k (W/m2K), ``length`` L (m), ``flow`` m (kg/s), ``capacity`` cp (J/kgK).

    >>> round(cooling_number(0.8, 4.0, 7.0, 0.02, 1080.0), 4)
    1.037
    """
    return perimeter * transmittance * length / (flow * capacity)


def outlet_temperature(entry: float, ambient: float, number: float) -> float:
    """To = Tu + (Te - Tu) exp(-K), degC.

    >>> round(outlet_temperature(200.0, 0.0, 1.0), 2)
    73.58
    """
    return ambient + (entry - ambient) * exp(-number)


def mean_temperature(entry: float, ambient: float, number: float) -> float:
    """Tm = Tu + (Te - Tu)(1 - exp(-K))/K, degC.

    >>> round(mean_temperature(200.0, 0.0, 1.0), 2)
    126.42
    """
    return ambient + (entry - ambient) * (1 - exp(-number)) / number


def transmittance(
    inner: float, resistance: float, inside: float, outside: float, outer: float, steady: float = UNSTEADY
) -> float:
    """k = 1/(1/ai + SH (1/L + Dh/(Dha aa))), W/m2K, on the inner surface.

    ``inner`` ai and ``outer`` aa heat transfer coefficients; ``resistance`` 1/L of the wall, m2K/W; ``inside`` Dh and
    ``outside`` Dha, m.

    >>> round(transmittance(7.5, 0.1066, 0.2858, 0.534, 23.0), 2)
    5.04
    """
    return 1 / (1 / inner + steady * (resistance + inside / (outside * outer)))


def wall_resistance(layers: tuple[Layer, ...], square: bool = True) -> float:
    """1/L = sum of y Dh/(2 k) ln(Do/Di), m2K/W, on the innermost surface; y = 1.10 for square and near square, 1.0 for round.

    >>> clay, brick = Layer(0.2858, 0.3298, 1.0), Layer(0.3298, 0.5338, 0.9)
    >>> round(wall_resistance((clay, brick)), 4)
    0.1066
    """
    shape = 1.10 if square else 1.0
    inside = layers[0].inside
    return sum(shape * inside / (2 * one.conductivity) * log(one.outside / one.inside) for one in layers)


def inner_wall_temperature(gas: float, ambient: float, steady_transmittance: float, inner: float) -> float:
    """Inner wall at the outlet, degC: Tiob = Tob - kb/ai (Tob - Tuo), with kb taken steady.

    >>> round(inner_wall_temperature(158.0, 0.0, 3.795, 7.5), 1)
    78.1
    """
    return gas - steady_transmittance / inner * (gas - ambient)


def gas_conductivity(mean: float) -> float:
    """Thermal conductivity of flue gas, W/mK: 0.0223 + 0.000065 t.

    >>> round(gas_conductivity(200.0), 4)
    0.0353
    """
    return 0.0223 + 0.000065 * mean


def gas_viscosity(mean: float) -> float:
    """Dynamic viscosity of flue gas, N s/m2: 15e-6 + 47e-9 t - 20e-12 t2.

    >>> round(gas_viscosity(200.0) * 1e6, 1)
    23.6
    """
    return 15e-6 + 47e-9 * mean - 20e-12 * mean**2


def friction_factor(reynolds: float, roughness_ratio: float) -> float:
    """Flow friction psi of a pipe by Colebrook: 1/sqrt(psi) = -2 log10(2.51/(Re sqrt psi) + r/3.71), by repeated substitution.

    ``roughness_ratio`` r is mean roughness over hydraulic diameter (0 for smooth).

    >>> round(friction_factor(10000.0, 0.0), 4)
    0.0309
    """
    x, last = 6.0, 0.0  # 1/sqrt(psi)
    while abs(x - last) > 1e-10:
        x, last = -2 * log10(2.51 * x / reynolds + roughness_ratio / 3.71), x
    return 1 / x**2


def nusselt(reynolds: float, prandtl: float, length: float, diameter: float, roughness: float) -> float:
    """Nu = (psi/psi_smooth)^0.67 0.0214 (Re^0.8 - 100) Pr^0.4 (1 + (Dh/L)^0.67); Re under 2,300 is taken as 2,300.

    ``length`` L of the flue and ``diameter`` Dh, ``roughness``, m.

    >>> round(nusselt(18672.0, 0.72, 7.0, 0.2858, 0.0), 1)
    52.7
    """
    re = max(reynolds, LEAST_REYNOLDS)
    rough = friction_factor(re, roughness / diameter) / friction_factor(re, 0.0)
    return float(rough**0.67 * 0.0214 * (re**0.8 - 100) * prandtl**0.4 * (1 + (diameter / length) ** 0.67))
