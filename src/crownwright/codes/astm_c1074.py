"""ASTM C1074: the maturity of concrete from its temperature history, as a temperature-time factor or as an equivalent age."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.arrays import Numbers, exp
from crownwright.quantity.units import ZERO_CELSIUS
from crownwright.sources.grids import Grid, read_grids

GAS = 8.314
"""Universal gas constant, J/(mol K), as the practice rounds it."""
ENERGY_BAND = (33_500.0, 45_000.0)
"""Activation energies (J/mol) that the sources read give ordinary portland cement, low and high: 33.5 (EN 1992, constant part of
Freiesleben Hansen and Pedersen) to 45 (top of C1074). Below 10 degC the ends differ by half again: show both."""
C1074_ENERGY = 41_500.0
"""Middle of the 40 to 45 kJ/mol that C1074 suggests for type I without admixture (from memory)."""


def tables() -> Mapping[str, Grid]:
    """Return datum temperatures by use and activation energies by cement."""
    return read_grids(__package__, "astm_c1074.toml")


def temperature_time_factor(temperatures: NDArray[np.float64], intervals: NDArray[np.float64], datum: float = 0.0) -> float:
    """Nurse-Saul factor, degC s: sum of (T - T0) dt, nothing where T lies under T0 (eq. 1).

    ``temperatures`` degC, the mean of each interval; ``intervals`` s, same length; ``datum`` T0 degC: 0 as the practice
    suggests for type I without admixture, -10 by tradition.

    >>> temperature_time_factor(np.array([15.0]), np.array([28.0]), datum=-11.0)
    728.0
    """
    return float(np.sum(np.maximum(temperatures - datum, 0.0) * intervals))


def rate_factor(temperature: Numbers, energy: float = C1074_ENERGY, reference: float = 23.0) -> Numbers:
    """How fast cement hydrates at a temperature, against the reference temperature: exp(-(E/R)(1/T - 1/Tr)) (eq. 2).

    ``temperature`` and ``reference`` degC, ``energy`` J/mol. C1074 takes 23 degC as reference; Europe 20.

    >>> round(rate_factor(15.0, 38_200.0, 25.0), 3), round(rate_factor(35.0, 38_200.0, 25.0), 2)
    (0.586, 1.65)
    """
    inverse = 1.0 / (temperature + ZERO_CELSIUS)
    return exp(-(energy / GAS) * (inverse - 1.0 / (reference + ZERO_CELSIUS)))


def equivalent_age(
    temperatures: NDArray[np.float64], intervals: NDArray[np.float64], energy: float = C1074_ENERGY, reference: float = 23.0
) -> float:
    """Age at the reference temperature that hydrates the cement as far, s: sum of rate x dt (eq. 2).

    ``temperatures`` degC, the mean of each interval; ``intervals`` s, same length.

    >>> equivalent_age(np.array([23.0]), np.array([3600.0]))
    3600.0
    """
    return float(np.sum(rate_factor(temperatures, energy, reference) * intervals))


def hyperbolic_strength(age: Numbers, ultimate: float, rate: float, start: float) -> Numbers:
    """Strength by the hyperbola of Annex A1: Su k (t - t0) / (1 + k (t - t0)), nothing before t0.

    ``age`` and ``start`` s (equivalent age), ``rate`` 1/s, ``ultimate`` Pa; returns Pa.

    >>> day = 86400.0
    >>> round(hyperbolic_strength(7 * day, 45.0, 0.35 / day, 0.3 * day), 2)
    31.55
    """
    grown = rate * (age - start) * (age > start)
    return ultimate * grown / (1.0 + grown)
