"""Strength from the clock: gel over space (Powers) on the same degree of hydration that makes the heat, set to open test data.

The curve with typical cement reads a little high early. Of 67 tests of 51 portland mixes without slag or ash (Yeh's open set),
at 3 and 7 days, the middle one lies exp(-0.20) under it and the middle half within exp(+-0.084): `BIAS` and `SPREAD`. Either
age's tests alone give the same within 0.03, and the band got from one holds 85 to 95 % of the other
(tests/validation/test_yeh_1998.py).
"""

from __future__ import annotations

from math import log

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from crownwright.codes.astm_c1074 import ENERGY_BAND
from crownwright.codes.powers_1958 import gel_space
from crownwright.codes.schindler_folliard_2005 import Hydration, degree, set_ages
from crownwright.cure.heat import GAS, History, clock_rate, curve_of
from crownwright.cure.inputs import MixInCure
from crownwright.quantity.units import DAY, ZERO_CELSIUS

Floats = NDArray[np.float64]

BIAS = -0.20
SPREAD = 0.125
"""Median, and standard error from the middle half, of the logarithm of tested over computed share at 3 and 7 days."""
FULL_UNTIL = 7 * DAY
STANDARD = 28 * DAY
"""Bias and spread hold in full till seven days and fade along the logarithm of age to nothing at 28, where the share is 1."""
LAB = 23.0
"""Temperature of standard curing, degC: the 28 days that strength is promised for are days at it."""
SET_SPREAD = 0.15
"""How near the computed setting time comes to the trade's table from 50 to 90 F, relative."""


def standard_clock(curve: Hydration, age: float) -> float:
    """Return the clock (s) after ``age`` s of standard curing."""
    return age * float(clock_rate(curve, np.array(LAB)))


def typical_share(mix: MixInCure, curve: Hydration, clock: Floats) -> tuple[Floats, Floats]:
    """Return the middle share of 28-day strength at ``clock`` (s) and the standard error of its logarithm."""
    end = standard_clock(curve, STANDARD)
    wc = mix.water_cement
    gel = gel_space(degree(curve, clock), wc) / gel_space(degree(curve, end), wc)
    full = standard_clock(curve, FULL_UNTIL)
    fade = np.clip(np.log(end / np.maximum(clock, 1.0)) / log(end / full), 0.0, 1.0)
    share: Floats = gel**3 * np.exp(BIAS * fade)
    return share, SPREAD * fade


def strength(mix: MixInCure, curve: Hydration, clock: Floats, quantile: float = 0.5) -> Floats:
    """Return compressive strength, Pa, at ``clock`` (s); with chance ``quantile`` the real one is lower.

    The spread joins that of the share of 28-day strength with that of the 28-day strength itself, as independent.
    """
    share, sd = typical_share(mix, curve, np.asarray(clock, float))
    total: Floats = mix.strength * share * np.exp(float(ndtri(quantile)) * np.hypot(sd, mix.strength_sd))
    return total


def clock_for(mix: MixInCure, curve: Hydration, needed: float, quantile: float = 0.5) -> float:
    """Return the clock (s) at which strength reaches ``needed`` Pa with chance 1 - ``quantile``; infinite if it never does."""
    grid = np.geomspace(600.0, 365 * DAY, 2000)
    reached = np.maximum.accumulate(strength(mix, curve, grid, quantile))
    if reached[-1] < needed:
        return float("inf")
    return float(np.exp(np.interp(needed, reached, np.log(grid))))


def when(age: Floats, clock: Floats, target: float) -> Floats:
    """Return the age (s) at which each clock passes ``target``, infinite where it does not.

    ``age`` (ages,), ``clock`` (ages, ...) never falling; returns the shape without the ages.
    """
    below = (clock < target).sum(axis=0)
    hi = np.clip(below, 1, len(age) - 1)
    later = np.take_along_axis(clock, hi[None], axis=0)[0]
    earlier = np.take_along_axis(clock, hi[None] - 1, axis=0)[0]
    part = np.clip((target - earlier) / np.maximum(later - earlier, 1e-9), 0.0, 1.0)
    found = age[hi - 1] + part * (age[hi] - age[hi - 1])
    return np.where(below < len(age), found, np.inf)


def set_clocks(mix: MixInCure) -> tuple[float, float]:
    """Return the clocks (s) of initial and final set."""
    return set_ages(curve_of(mix), mix.water_cement)


def other_clock(history: History, temperatures: Floats, energy: float) -> Floats:
    """Return the clock (ages, ...) that another activation energy (J/mol) would have kept over the same ``temperatures``."""
    drive = energy / GAS
    rate = np.exp(drive / (history.curve.reference + ZERO_CELSIUS) - drive / (temperatures + ZERO_CELSIUS))
    grown = np.zeros_like(rate)
    steps = np.diff(history.age)[(...,) + (None,) * (rate.ndim - 1)]
    grown[1:] = np.cumsum(0.5 * (rate[1:] + rate[:-1]) * steps, axis=0)
    return grown


def clock_band(history: History, temperatures: Floats, clock: Floats) -> tuple[Floats, Floats]:
    """Return the slowest and the fastest clock among the activation energies in print and the one computed here."""
    others = [other_clock(history, temperatures, energy) for energy in ENERGY_BAND]
    stacked = np.array([clock, *others])
    return stacked.min(axis=0), stacked.max(axis=0)
