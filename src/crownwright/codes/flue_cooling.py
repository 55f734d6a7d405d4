"""Flue gas along one chimney by EN 13384-1: the inner film depends on the mean temperature, so it is solved by substitution."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from crownwright.codes import en_13384_1 as en

PRESSURE = 97000.0
CAPACITY = 1080.0
SETTLED = 1e-6
"""Mean temperature taken as settled, K; each round brings it about a hundred times nearer."""


@dataclass(frozen=True, slots=True)
class FlueRun:
    """A flue: inside size (side or diameter, m), outer size of the chimney round it (m), length (m), resistance of its wall
    (m2K/W on the inner surface), roughness (m), and whether it is round.
    """

    inside: float
    outside: float
    length: float
    resistance: float
    roughness: float = en.ROUGH_CLAY
    round: bool = False

    @property
    def area(self) -> float:
        """Flow area, m2."""
        return self.inside**2 * (pi / 4 if self.round else 1.0)

    @property
    def perimeter(self) -> float:
        """Inner perimeter, m."""
        return self.inside * (pi if self.round else 4.0)


@dataclass(frozen=True, slots=True)
class Cooled:
    """Gas along the flue: velocity (m/s), Reynolds number, inner film (W/m2K), transmittance, cooling number, mean and outlet
    temperatures while warming up, and the steady outlet and inner wall temperatures at the top (degC).
    """

    velocity: float
    reynolds: float
    film: float
    transmittance: float
    number: float
    mean: float
    outlet: float
    steady_outlet: float
    wall_top: float


def cool(run: FlueRun, entry: float, flow: float, ambient: float = 0.0, outer: float = en.OUTDOORS) -> Cooled:
    """Cool ``flow`` kg/s of gas entering at ``entry`` degC along the flue; ``outer`` film W/m2K.

    Air capacity 1,080 J/kgK and 97 kPa throughout.

    >>> run = FlueRun(0.2858, 0.534, 7.0, 0.1066)
    >>> hot = cool(run, 400.0, 0.12)
    >>> round(hot.outlet), round(hot.mean)
    (290, 342)
    """
    mean, last = entry, float("inf")
    while abs(mean - last) > SETTLED:
        last = mean
        film, velocity, reynolds = _film(run, mean, flow)
        k = en.transmittance(film, run.resistance, run.inside, run.outside, outer)
        number = en.cooling_number(run.perimeter, k, run.length, flow, CAPACITY)
        mean = en.mean_temperature(entry, ambient, number)
    steady_k = en.transmittance(film, run.resistance, run.inside, run.outside, outer, en.STEADY)
    steady_number = en.cooling_number(run.perimeter, steady_k, run.length, flow, CAPACITY)
    steady = en.outlet_temperature(entry, ambient, steady_number)
    outlet = en.outlet_temperature(entry, ambient, number)
    wall = en.inner_wall_temperature(steady, ambient, steady_k, film)
    return Cooled(velocity, reynolds, film, k, number, mean, outlet, steady, wall)


def _film(run: FlueRun, mean: float, flow: float) -> tuple[float, float, float]:
    """Inner heat transfer coefficient, velocity and Reynolds number at a mean gas temperature."""
    density = PRESSURE / (en.GAS_CONSTANT * (mean + 273.15))
    velocity = flow / (density * run.area)
    viscosity, conductivity = en.gas_viscosity(mean), en.gas_conductivity(mean)
    reynolds = velocity * run.inside * density / viscosity
    number = en.nusselt(reynolds, viscosity * CAPACITY / conductivity, run.length, run.inside, run.roughness)
    return max(en.LEAST_ALPHA, conductivity * number / run.inside), velocity, reynolds
