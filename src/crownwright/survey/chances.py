"""Chances and limits of the tests that a network of tapes is put to."""

from __future__ import annotations

from functools import cache
from math import erf, erfc, exp, gamma, sqrt
from statistics import NormalDist

_STANDARD = NormalDist()


def chi_square_above(statistic: float, freedom: int) -> float:
    """Chance that a chi-square variable with ``freedom`` degrees of freedom exceeds ``statistic``.

    Even: exp(-x/2) sum_{j<k/2} (x/2)^j / j!. Odd: erfc(sqrt(x/2)) + exp(-x/2) sum_{j<(k-1)/2} (x/2)^(j+1/2) / Gamma(j+3/2).

    Args:
        statistic: sum of squares over variance, not negative.
        freedom: degrees of freedom, 1 or more.

    Returns:
        The chance, 0..1.

    References:
        NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6.6 (the distribution); the finite sums are derived from it.

    >>> round(chi_square_above(3.841, 1), 4), round(chi_square_above(7.815, 3), 4)
    (0.05, 0.05)
    """
    if statistic <= 0:
        return 1.0
    half = statistic / 2.0
    if half > 700.0 or freedom > 300:
        return _wilson_hilferty(statistic, freedom)
    odd = freedom % 2
    total = erfc(sqrt(half)) if odd else 0.0
    term = exp(-half) * (sqrt(half) / gamma(1.5) if odd else 1.0)
    for j in range(freedom // 2):
        total += term
        term *= half / (j + 1 + 0.5 * odd)
    return min(total, 1.0)


def _wilson_hilferty(statistic: float, freedom: int) -> float:
    """Cube-root normal approximation, good to four digits where the sums would overflow (Wilson and Hilferty, 1931)."""
    spread = 2.0 / (9.0 * freedom)
    return 0.5 * erfc(((statistic / freedom) ** (1 / 3) - (1 - spread)) / sqrt(2 * spread))


@cache
def chi_square_limit(freedom: int, chance: float) -> float:
    """Value that a chi-square variable with ``freedom`` degrees of freedom exceeds with ``chance``.

    >>> round(chi_square_limit(3, 0.05), 3)
    7.815
    """
    low, high = 0.0, 10.0 + 10.0 * freedom
    while chi_square_above(high, freedom) > chance:
        high *= 2
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if chi_square_above(middle, freedom) > chance else (low, middle)
    return (low + high) / 2


@cache
def w_limit(level: float = 0.001) -> float:
    """Two-sided limit of Baarda's w at a level of significance.

    >>> round(w_limit(0.001), 3), round(w_limit(0.01), 3), round(w_limit(0.05), 3)
    (3.291, 2.576, 1.96)
    """
    return _STANDARD.inv_cdf(1 - level / 2)


@cache
def findable_shift(level: float = 0.001, power: float = 0.80) -> float:
    """Shift of w (in its own standard errors) that a w-test at ``level`` finds with ``power``; 4.132 for Baarda's usual choice.

    >>> round(findable_shift(), 3), round(findable_shift() ** 2, 2)
    (4.132, 17.07)
    """
    limit = w_limit(level)
    low, high = 0.0, 20.0
    for _ in range(80):
        shift = (low + high) / 2
        low, high = (shift, high) if _below(shift - limit) + _below(-shift - limit) < power else (low, shift)
    return (low + high) / 2


def _below(x: float) -> float:
    return 0.5 * (1 + erf(x / sqrt(2)))
