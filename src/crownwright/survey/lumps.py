"""How stones lump: the chance that two places lie on one stone, and the normal tail formulas that bounds need."""

from __future__ import annotations

from functools import cache
from math import erf, exp, pi, sqrt

import numpy as np

from crownwright.survey.least_squares import Array


def same_stone(away: Array, widths: tuple[float, float]) -> Array:
    """Chance that two places ``away`` (m, any shape) along a wall lie on one stone.

    Stones of width w, uniform between ``widths`` (m), laid end to end: E[max(w - d, 0)] / E[w]. This is the correlation of a
    face whose stones each stand out by their own independent amount.

    >>> same_stone(np.array([0.0, 0.1, 0.5]), (0.2, 0.2)).tolist()
    [1.0, 0.5, 0.0]
    """
    low, high = widths
    d = np.abs(away)
    if high - low < 1e-9:
        return np.asarray(np.clip(1 - d / high, 0, 1))
    # integral over the widths that are longer than d
    share = (np.square(np.clip(high - d, 0, None)) - np.square(np.clip(low - d, 0, None))) / 2 / (high - low)
    return np.asarray(share / ((low + high) / 2))


@cache
def standard_normals(rows: int, columns: int) -> Array:
    """A fixed table of standard normal numbers (rows, columns), antithetic in its rows: the chance that a pure function needs."""
    half = np.random.default_rng(20_240_229).standard_normal(((rows + 1) // 2, columns))
    table = np.concatenate([half, -half])[:rows]
    table.setflags(write=False)
    return table


def normal_below(x: float) -> float:
    """Chance that a standard normal variable lies below x."""
    return 0.5 * (1.0 + erf(x / sqrt(2.0)))


def normal_density(x: float) -> float:
    """Density of the standard normal at x."""
    return exp(-0.5 * x * x) / sqrt(2.0 * pi)
