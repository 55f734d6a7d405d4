"""How many bags: the smallest number whose chance of running short is no more than what the mason accepts.

The pour takes V / (y M) bags. V, the volume, is normal: a sum of many small reading errors, near linear in all of them. y is the
label's yield; M, what a bag truly gives after the spill, is log-normal: a product of factors that cannot be negative and do not
average out over a pour (one pallet, one scale of water, one mixer). The chance of running short is then one smooth integral, done
by Gauss-Hermite quadrature over whichever of the two is the narrower; no sampling.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from math import ceil, exp, log, log1p, pi, sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from crownwright.quantity.uncertain import Uncertain

Array = NDArray[np.float64]
NODES = 64


@dataclass(frozen=True, slots=True)
class Need:
    """What a pour takes: ``volume`` m3; ``per_bag`` m3 on the label; mean and sd of ln M, what a bag truly gives over that."""

    volume: Uncertain
    per_bag: float
    log_mean: float
    log_sd: float

    @property
    def bags(self) -> Uncertain:
        """Mean and standard error of the bags it takes, V / (y M), exactly by moments."""
        first = self.volume.mean * exp(-self.log_mean + self.log_sd**2 / 2) / self.per_bag
        square = (self.volume.mean**2 + self.volume.sd**2) * exp(-2 * self.log_mean + 2 * self.log_sd**2) / self.per_bag**2
        return Uncertain(first, sqrt(max(square - first**2, 0.0)))


@dataclass(frozen=True, slots=True)
class BagCount:
    """The number of bags and what it means.

    ``chance_short`` of running short with ``bags``, and with ``one_fewer``; ``needed`` mean and spread of the bags the pour
    takes; ``left_over`` mean of bags and parts of a bag left, ``unopened`` mean of whole bags left; ``missing`` mean of what is
    missing when it does run short, in bags.
    """

    bags: int
    risk: float
    chance_short: float
    one_fewer: float
    needed: Uncertain
    left_over: float
    unopened: float
    missing: float


def pour_need(volume: Uncertain, per_bag: float, *, yield_sd: float = 0.03, spill: float = 0.02, spill_sd: float = 0.01) -> Need:
    """Return what a pour takes. ``volume`` m3, ``per_bag`` m3; ``yield_sd`` relative and common to the pour; ``spill`` a share.

    ValueError names an impossible argument.

    >>> round(pour_need(Uncertain(0.17, 0.005), 0.017).bags.mean, 2)
    10.21
    """
    for what, value, low, high in (
        ("volume", volume.mean, 0.0, float("inf")),
        ("yield of a bag", per_bag, 0.0, float("inf")),
        ("share kept after spill", 1.0 - spill, 0.0, 1.0 + 1e-12),
    ):
        if not low < value <= high:
            raise ValueError(f"{what} must be above {low:g}, is {value:g}")
    yield_mean, yield_log_sd = _log_moments(1.0, yield_sd)
    kept_mean, kept_log_sd = _log_moments(1.0 - spill, spill_sd)
    return Need(volume, per_bag, yield_mean + kept_mean, sqrt(yield_log_sd**2 + kept_log_sd**2))


def short_chance(need: Need, bags: Array) -> Array:
    """Return the chance that each number of bags runs short: P(V > n y M). ``bags`` any shape, may be fractions.

    >>> round(float(short_chance(pour_need(Uncertain(0.17, 0.005), 0.017), np.array([11.0]))[()][0]), 4)
    0.0405
    """
    mean, sd = need.volume.mean, need.volume.sd
    spread = sd / mean
    n = np.maximum(np.asarray(bags, float), 0.0)[..., None] * need.per_bag
    u, w = _normal_nodes()
    if max(spread, need.log_sd) < 1e-9:  # as good as no spread at all: plain division
        return np.asarray(n[..., 0] * exp(need.log_mean) < mean, float)
    if spread <= need.log_sd:  # the volume is the surer of the two: average over it
        volume = np.maximum(mean + sd * u, 1e-12 * mean)
        with np.errstate(divide="ignore"):
            inside = (np.log(volume) - np.log(n) - need.log_mean) / need.log_sd
    else:
        inside = (mean - n * np.exp(need.log_mean + need.log_sd * u)) / sd
    return np.asarray(ndtr(inside) @ w, float)


def bags_for(need: Need, risk: float = 0.02) -> BagCount:
    """Return the fewest bags whose chance of running short is at most ``risk`` (above 0, under 1; else ValueError).

    >>> count = bags_for(pour_need(Uncertain(0.17, 0.005), 0.017))
    >>> count.bags, round(count.chance_short, 4), round(count.one_fewer, 3)
    (12, 0.0001, 0.041)
    """
    if not 0.0 < risk < 1.0:
        raise ValueError(f"risk of running short must lie between 0 and 1, is {risk:g}")
    few, many = 0, max(1, ceil(need.bags.mean))
    while _chance(need, many) > risk:
        few, many = many, 2 * many
    while many - few > 1:
        middle = (few + many) // 2
        few, many = (middle, many) if _chance(need, middle) > risk else (few, middle)
    return what_follows(need, many, risk)


def what_follows(need: Need, bags: int, risk: float) -> BagCount:
    """Return what a given number of bags means: chances, what is left, what is missing."""
    chance = _chance(need, bags)
    low = max(0.0, need.bags.mean - 9 * need.bags.sd)
    high = max(need.bags.mean + 12 * need.bags.sd, bags + 1.0)
    left = _area(need, min(low, bags), bags, lambda p: 1.0 - p) + 0.0
    unopened = float(np.sum(1.0 - short_chance(need, np.arange(bags, dtype=float))))
    missing = _area(need, bags, high, lambda p: p) / chance if chance > 1e-9 else 0.0
    return BagCount(bags, risk, chance, _chance(need, bags - 1), need.bags, left, unopened, missing)


def _chance(need: Need, bags: int) -> float:
    return float(short_chance(need, np.array([float(bags)]))[0])


def _area(need: Need, low: float, high: float, of: Callable[[Array], Array]) -> float:
    """Integral of a function of the chance over numbers of bags, by Gauss-Legendre on eight spans."""
    x, w = np.polynomial.legendre.leggauss(16)
    edges = np.linspace(low, high, 9)
    half = np.diff(edges)[:, None] / 2
    at = edges[:-1, None] + half * (x + 1.0)
    return float(np.sum(half * w * of(short_chance(need, at))))


def _log_moments(mean: float, sd: float) -> tuple[float, float]:
    """Mean and sd of the logarithm of a log-normal with this mean and sd."""
    variance = log1p((sd / mean) ** 2)
    return log(mean) - variance / 2, sqrt(variance)


@cache
def _normal_nodes() -> tuple[Array, Array]:
    """Nodes and weights for the mean of a function of a standard normal."""
    nodes, weights = np.polynomial.hermite_e.hermegauss(NODES)
    return nodes, weights / sqrt(2 * pi)
