"""The chance that a job loses money at a price, and the price for a chosen chance.

Cost = what is sure + rate of each grade x its hours x what all hours share + a visit more, with some chance, when a pour runs
short. Task hours are log-normal and on their own: their sum is found by convolution on an even grid (by FFT); what they share is
averaged over by Gauss-Hermite quadrature. Chances are floats; the price they lead to is turned into money once, rounded up.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property
from math import ceil, exp, log, pi, sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from crownwright.price.hours import log_spread
from crownwright.quantity.money import Money, Rounding, measured

Array = NDArray[np.float64]
CELLS = 4096
NODES = 24
REACH = 9.0
"""Standard deviations that the grid reaches past the mean of the sum."""
SURE = 8.5
"""Standard deviations past which a normal is 1 in double precision: 1 - 1e-17."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the cost that is not sure, log-normal, in currency; ``shared``: what all hours share is on it."""

    mean: float
    sd: float
    shared: bool = True


@dataclass(frozen=True, slots=True)
class Chancy:
    """A cost that comes with a ``chance``: ``cost`` in currency (running short: a visit and its bags)."""

    chance: float
    cost: float


@dataclass(frozen=True, slots=True)
class _Sums:
    """Sums of a job's parts on a grid: its ``step``; the chance ``on`` each cell of what the shared parts come to (before what
    they share), and of that cell and ``above``; what the ``others`` can come to, and the chance of each (``off``).
    """

    step: float
    on: Array
    above: Array
    others: Array
    off: Array


@dataclass(frozen=True)
class CostSpread:
    """The spread of a job's cost, in currency: ``sure``, the ``parts``, the relative ``shared`` spread, what is ``chancy``."""

    sure: float
    parts: tuple[Part, ...]
    shared: float = 0.0
    chancy: tuple[Chancy, ...] = ()

    @property
    def mean(self) -> float:
        """Mean cost."""
        return self.sure + sum(p.mean for p in self.parts) + sum(c.chance * c.cost for c in self.chancy)

    @property
    def sd(self) -> float:
        """Standard error of the cost, by moments."""
        own = sum(p.sd**2 * (1 + self.shared**2 * p.shared) for p in self.parts)
        together = (self.shared * sum(p.mean for p in self.parts if p.shared)) ** 2
        return sqrt(own + together + sum(c.chance * (1 - c.chance) * c.cost**2 for c in self.chancy))

    def over(self, amount: float) -> float:
        """Return the chance that the cost is more than ``amount``.

        >>> round(CostSpread(100.0, (Part(50.0, 10.0, shared=False),)).over(150.0), 3)
        0.461
        """
        nodes, weights = _normal_nodes()
        sd = log_spread(self.shared)
        factors = np.exp(sd * nodes - sd**2 / 2)
        # P(sure + own + F x shared > amount), averaged over F: for each F the shared part must exceed what is left
        chance = 0.0
        for extra, p in self._extras():
            for part in p * weights * _tails(self._sums, amount - self.sure - extra, factors):
                chance += part
        return min(max(float(chance), 0.0), 1.0)

    def at(self, chance: float) -> float:
        """Return the cost that is exceeded with no more than ``chance`` (above 0, under 1; else ValueError), by halving."""
        if not 0 < chance < 1:
            raise ValueError(f"a chance lies between 0 and 1, is {chance:g}")
        low = self.sure - 1.0
        high = self.mean + 20 * self.sd + 1.0
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if self.over(middle) > chance else (low, middle)
            if high - low < 1e-4 * max(1.0, self.sd):
                break
        return high

    def _extras(self) -> list[tuple[float, float]]:
        """Every way the chancy costs can come out, with its chance."""
        ways = [(0.0, 1.0)]
        for c in self.chancy:
            ways = [(x + c.cost * hit, p * (c.chance if hit else 1 - c.chance)) for x, p in ways for hit in (0, 1)]
        return ways

    @cached_property
    def _sums(self) -> _Sums:
        groups = [[p for p in self.parts if p.shared], [p for p in self.parts if not p.shared]]
        top = max((sum(p.mean for p in g) + REACH * sqrt(sum(p.sd**2 for p in g)) for g in groups if g), default=1.0)
        step = max(top, 1e-9) / (CELLS // 2)
        on, off = _sum_of(groups[0], step), _sum_of(groups[1], step)
        others = np.flatnonzero(off > 1e-12)
        return _Sums(step, on, np.append(np.cumsum(on[::-1])[::-1], 0.0), np.asarray(others * step, float), off[others])


def price_for(cost: CostSpread, chance: float, currency: str, rule: Rounding) -> Money:
    """Return the least price before tax at which the job loses money with no more than ``chance``, rounded up by ``rule``."""
    return Money(measured(cost.at(chance), 2), currency).rounded(Rounding("up", rule.step))


def _sum_of(parts: list[Part], step: float) -> Array:
    """Chances of a sum of independent log-normals on a grid of cells centred on 0, step, 2 step ..."""
    whole = np.ones(CELLS + 1, complex)
    size = 2 * CELLS
    for part in parts:
        whole = whole * np.fft.rfft(_cells(part, step), size)
    out = np.fft.irfft(whole, size) if parts else np.eye(1, size)[0]
    return np.asarray(np.maximum(out, 0.0), float)


def _cells(part: Part, step: float) -> Array:
    """Chance of each cell of one part, moved so that its mean is kept exactly: halves of each cell go to both neighbours.

    The cells end where the part does: one of many fills but the first few hundred.
    """
    if part.sd <= 1e-9 * max(part.mean, step):
        place = part.mean / step
        low = int(place)
        cells = np.zeros(CELLS)
        cells[low], cells[low + 1] = 1 - (place - low), place - low
        return cells
    sd = log_spread(part.sd / part.mean)
    mean = log(part.mean) - sd**2 / 2
    many = min(CELLS, ceil(exp(mean + sd * (SURE + sd)) / step))
    index = np.arange(many + 1)
    with np.errstate(divide="ignore"):
        z = (np.log(index * step) - mean) / sd
    p = np.diff(ndtr(z))
    first = part.mean * np.diff(ndtr(z - sd))  # the part of the mean that each interval holds
    up = first / step - index[:-1] * p  # linear split: keeps chance and mean of each interval
    cells = np.append(p - up, 0.0)
    cells[1:] += up
    return np.asarray(cells[:CELLS], float)


def _tails(sums: _Sums, left: float, factors: Array) -> Array:
    """P(off + factor x on > left) for each factor; within a cell the chance is spread evenly over its width."""
    need = (left - sums.others) / (factors * sums.step)[:, None]
    place = np.minimum(np.maximum(need + 0.5, 0.0), len(sums.on) - 1e-9)
    k = place.astype(int)
    tail = sums.above[k] - (place - k) * sums.on[k]
    return np.asarray(np.vecdot(np.where(need < -0.5, 1.0, tail), sums.off), float)


@cache
def _normal_nodes() -> tuple[Array, Array]:
    """Nodes and weights for the mean of a function of a standard normal."""
    nodes, weights = np.polynomial.hermite_e.hermegauss(NODES)
    return nodes, weights / sqrt(2 * pi)
