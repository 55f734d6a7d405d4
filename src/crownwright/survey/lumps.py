"""How stones lump: the chance that two places lie on one stone, and the normal tail formulas that bounds need."""

from __future__ import annotations

from functools import cache

import numpy as np

from crownwright.survey.least_squares import Array

_TAIL = (
    -1.26551223,
    1.00002368,
    0.37409196,
    0.09678418,
    -0.18628806,
    0.27886807,
    -1.13520398,
    1.48851587,
    -0.82215223,
    0.17087277,
)


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


def hazard(z: Array) -> tuple[Array, Array]:
    """Density over distribution of the standard normal at z, and the logarithm of the distribution, good far into the tail.

    The tail is the Chebyshev fit of erfc in Press et al., Numerical Recipes, section 6.2 (relative error under 1.2e-7).

    >>> rate, log_below = hazard(np.array([0.0, -40.0]))
    >>> np.round(rate, 4).tolist()
    [0.7979, 40.025]
    """
    x = np.abs(z) / np.sqrt(2)
    t = 1 / (1 + 0.5 * x)
    log_scaled = np.log(t / 2) + np.polynomial.polynomial.polyval(t, _TAIL)  # log of the tail times exp(x^2)
    tail = np.exp(log_scaled - x * x)
    log_below = np.where(z < 0, log_scaled - x * x, np.log1p(-np.where(z < 0, 0.0, tail)))
    return np.exp(-x * x - 0.5 * np.log(2 * np.pi) - log_below), log_below
