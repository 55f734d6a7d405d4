"""Freiesleben Hansen and Pedersen (1977): an activation energy that rises in the cold, and an S-shaped strength curve."""

from __future__ import annotations

from crownwright.quantity.arrays import Numbers, at_least, exp, power
from crownwright.quantity.units import ZERO_CELSIUS

GAS = 8.314
REFERENCE = 20.0
"""Reference temperature, degC."""
SET_HOLDS_FROM = 10.0
"""degC below which the energy must not be used for setting time: at 40 F it gives 23 h where the table of set times has 14."""


def activation_energy(temperature: Numbers) -> Numbers:
    """Activation energy, J/mol: 33 500 from 20 degC up, 33 500 + 1470 (20 - T) below; ``temperature`` degC.

    >>> round(activation_energy(10.0))
    48200
    """
    return 33_500.0 + 1_470.0 * at_least(REFERENCE - temperature, 0.0)


def rate_factor(temperature: Numbers) -> Numbers:
    """Speed of hydration against 20 degC: exp((E(T)/R)(1/293.15 - 1/T)); ``temperature`` degC.

    >>> round(rate_factor(10.0), 3), round(rate_factor(40.0), 3)
    (0.497, 2.406)
    """
    inverse = 1.0 / (REFERENCE + ZERO_CELSIUS) - 1.0 / (temperature + ZERO_CELSIUS)
    return exp(activation_energy(temperature) / GAS * inverse)


def strength(age: Numbers, ultimate: float, tau: float, shape: float) -> Numbers:
    """Strength at an equivalent age: Su exp(-(tau / t)^a). ``age`` > 0 and ``tau`` s, ``ultimate`` Pa; returns Pa.

    >>> day = 86400.0
    >>> round(strength(7 * day, 50.0, 1.5 * day, 0.7), 2)
    35.58
    """
    return ultimate * exp(-1.0 * power(tau / age, shape))
