"""How many bags for a risk of running short that the mason states.

The risk is the chance for the pour at hand, so the number is the fewest whole bags that keep it. Rounding up to whole bags makes
the share of pours that run short over a season far smaller, a third of one per cent for a stated two, paid for in bags left over;
who counts over the season can have the rounding counted in, with no single pour above `WORST` times the risk. Either way the
chance for this pour is shown, with one bag fewer and one more.

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
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.normal import normal_chance
from crownwright.quantity.uncertain import Uncertain

Array = NDArray[np.float64]
NODES = 32
WORST = 4.0
"""No single pour is planned at more than this many times the stated risk (judgement)."""
Promise = Literal["over many pours", "every pour"]


@dataclass(frozen=True, slots=True)
class Need:
    """What a pour takes: ``volume`` m3; ``per_bag`` m3 on the label; mean and sd of ln M, what a bag truly gives over that;
    ``own`` is counted in M already: what a bag has given in the mason's own finished jobs, of what is reckoned without them.
    """

    volume: Uncertain
    per_bag: float
    log_mean: float
    log_sd: float
    own: float = 1.0

    @property
    def bags(self) -> Uncertain:
        """Mean and standard error of the bags it takes, V / (y M), exactly by moments."""
        first = self.volume.mean * exp(-self.log_mean + self.log_sd**2 / 2) / self.per_bag
        square = (self.volume.mean**2 + self.volume.sd**2) * exp(-2 * self.log_mean + 2 * self.log_sd**2) / self.per_bag**2
        return Uncertain(first, sqrt(max(square - first**2, 0.0)))


@dataclass(frozen=True, slots=True)
class BagCount:
    """The number of bags and what it means.

    ``chance_short`` of running short with ``bags``, with ``one_fewer`` and ``one_more``; ``needed`` mean and spread of the bags
    the pour takes; ``amount`` what it takes no more than but for the risk, before rounding up; ``left_over`` mean of bags and
    parts of a bag left, ``unopened`` mean of whole bags left; ``missing`` mean of what is missing when it does run short.
    """

    bags: int
    risk: float
    chance_short: float
    one_fewer: float
    one_more: float
    needed: Uncertain
    amount: float
    left_over: float
    unopened: float
    missing: float


def pour_need(
    volume: Uncertain, per_bag: float, *, yield_sd: float = 0.03, spill: float = 0.02, spill_sd: float = 0.01, own: float = 1.0
) -> Need:
    """Return what a pour takes. ``volume`` m3, ``per_bag`` m3; ``yield_sd`` relative and common to the pour; ``spill`` a share;
    ``own`` what a bag has given in finished jobs, of what is reckoned without them.

    ValueError names an impossible argument.

    >>> round(pour_need(Uncertain(0.17, 0.005), 0.017).bags.mean, 2)
    10.21
    """
    for what, value, low, high in (
        ("volume", volume.mean, 0.0, float("inf")),
        ("yield of a bag", per_bag, 0.0, float("inf")),
        ("share kept after spill", 1.0 - spill, 0.0, 1.0 + 1e-12),
        ("yield by own jobs", own, 0.0, float("inf")),
    ):
        if not low < value <= high:
            raise ValueError(f"{what} must be above {low:g}, is {value:g}")
    yield_mean, yield_log_sd = _log_moments(1.0, yield_sd)
    kept_mean, kept_log_sd = _log_moments(1.0 - spill, spill_sd)
    return Need(volume, per_bag, yield_mean + kept_mean + log(own), sqrt(yield_log_sd**2 + kept_log_sd**2), own)


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
    return np.asarray(normal_chance(inside) @ w, float)


def bags_for(need: Need, risk: float = 0.02, promise: Promise = "every pour") -> BagCount:
    """Return the number of bags for a stated risk (above 0, under 1; else ValueError) and what it means.

    ``promise`` "every pour" takes the fewest bags whose chance is at most the risk; "over many pours" lets the chances of many
    pours average to it, none above `WORST` times it.

    >>> need = pour_need(Uncertain(0.17, 0.005), 0.017)
    >>> every, many = bags_for(need), bags_for(need, promise="over many pours")
    >>> every.bags, round(every.chance_short, 4), many.bags, round(many.chance_short, 4)
    (12, 0.0001, 11, 0.0405)
    """
    return what_follows(need, bag_number(need, risk, promise), risk)


def bag_number(need: Need, risk: float = 0.02, promise: Promise = "every pour") -> int:
    """Return the bare number of `bags_for`.

    Over many pours the need falls anywhere between two bags. Rounding a count x up then runs short M(x) of the time, the mean of
    P(V > (x + f) y M) over f from 0 to 1; x may be as low as M(x) = risk; and the least whole n not under that x is the least
    with M(n) <= risk.
    """
    if not 0.0 < risk < 1.0:
        raise ValueError(f"risk of running short must lie between 0 and 1, is {risk:g}")
    if promise == "every pour":
        return _least(need, lambda n: _chance(need, n) <= risk)
    worst = min(WORST * risk, (1.0 + risk) / 2)
    f, w = _span_nodes()
    return _least(need, lambda n: _chance(need, n) <= worst and float(short_chance(need, n + (f + 1) / 2) @ w) / 2 <= risk)


def _least(need: Need, enough: Callable[[int], bool]) -> int:
    """Least number of bags that is enough, found by doubling and halving from the mean."""
    few, many = 0, max(1, ceil(need.bags.mean))
    if many > 2 and not enough(many - 2):
        few = many - 2  # nearly always: saves most of the halving
    while not enough(many):
        few, many = many, many + max(1, many - few)
    while many - few > 1:
        middle = (few + many) // 2
        few, many = (few, middle) if enough(middle) else (middle, many)
    return many


def what_follows(need: Need, bags: int, risk: float) -> BagCount:
    """Return what a given number of bags means: chances, what is left, what is missing."""
    chance, mean, sd = _chance(need, bags), need.bags.mean, need.bags.sd
    lacking = _area(need, bags, max(mean + 9 * sd, bags + 1.0))
    first = max(0, int(mean - 9 * sd))  # fewer bags than that are surely not enough
    unopened = float(np.sum(1.0 - short_chance(need, np.arange(first, max(bags, first), dtype=float))))
    return BagCount(
        bags=bags,
        risk=risk,
        chance_short=chance,
        one_fewer=_chance(need, bags - 1),
        one_more=_chance(need, bags + 1),
        needed=need.bags,
        amount=need_at(need, risk),
        left_over=bags - mean + lacking,  # what is left less what is lacking is always n less the need
        unopened=unopened,
        missing=lacking / chance if chance > 1e-9 else 0.0,
    )


def need_at(need: Need, risk: float) -> float:
    """Return the bags, parts counted, that the pour takes no more than but for the risk: where the chance of running short is it.

    >>> round(need_at(pour_need(Uncertain(0.17, 0.005), 0.017), 0.02), 2)
    11.15
    """
    low, high = 0.0, need.bags.mean + 12 * need.bags.sd + 1.0
    while high - low > 1e-4:
        middle = (low + high) / 2
        low, high = (middle, high) if float(short_chance(need, np.array([middle]))[0]) > risk else (low, middle)
    return high


def _chance(need: Need, bags: int) -> float:
    return float(short_chance(need, np.array([float(bags)]))[0])


def _area(need: Need, low: float, high: float) -> float:
    """Integral of the chance of running short over numbers of bags, by Gauss-Legendre on two spans."""
    x, w = _span_nodes()
    edges = np.linspace(low, high, 3)
    half = np.diff(edges)[:, None] / 2
    return float(np.sum(half * w * short_chance(need, edges[:-1, None] + half * (x + 1.0))))


def _log_moments(mean: float, sd: float) -> tuple[float, float]:
    """Mean and sd of the logarithm of a log-normal with this mean and sd."""
    variance = log1p((sd / mean) ** 2)
    return log(mean) - variance / 2, sqrt(variance)


@cache
def _normal_nodes() -> tuple[Array, Array]:
    """Nodes and weights for the mean of a function of a standard normal."""
    nodes, weights = np.polynomial.hermite_e.hermegauss(NODES)
    return nodes, weights / sqrt(2 * pi)


@cache
def _span_nodes() -> tuple[Array, Array]:
    """Nodes and weights for an integral over -1 to 1."""
    nodes, weights = np.polynomial.legendre.leggauss(16)
    return nodes, weights
