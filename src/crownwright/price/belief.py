"""One thing learned of a mason: normal with inverse chi-square variance, and whether the defaults are right for him after all.

y = ln(actual / forecast). His own way: y is normal about his own mu with variance sigma^2 / w. The usual way: mu is that of the
defaults, whose forecasts are right on average. Which of the two he works by is weighed by how likely each makes his jobs (Bayes
factor, odds of one to two before the first), so that one who works by the defaults is not led astray by the chance of a few jobs.

Method: P. Hoff, A First Course in Bayesian Statistical Methods (2009), 5.3 (the update); J. A. Hoeting et al., Bayesian Model
Averaging, Statistical Science 14 (1999), eqs. 1 to 3 (the mixture), from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, inf, log, sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit, stdtr, stdtrit

Array = NDArray[np.float64]
USUAL = 1.0 / 3.0
"""Chance, before the first own job, that the defaults are right for a mason (judgement). Of the rules tried it has about the
least regret, and keeps the forecasts of one who is somewhat off them within 3 % after ten jobs: docs/bench/learning-rules.md."""
HALVINGS = 28


@dataclass(frozen=True, slots=True)
class Belief:
    """Normal with inverse chi-square variance: ``mean`` of mu, its ``weight`` counted in jobs, ``sd`` of one job of weight 1, and
    ``freedom``, counted in jobs too, of that sd.
    """

    mean: float
    weight: float
    sd: float
    freedom: float

    def scale(self, weight: float = 1.0) -> float:
        """Return the scale of Student's t for the next job of this weight."""
        return self.sd * sqrt(1.0 / weight + 1.0 / self.weight)

    def factor(self, weight: float = 1.0) -> float:
        """Return what the forecast is multiplied by to be right on average (log-normal, the spread taken as known)."""
        return exp(self.mean + self.scale(weight) ** 2 / 2)

    def over(self, ratio: float, weight: float = 1.0) -> float:
        """Return the chance that actual / forecast of the next job is more than ``ratio``."""
        return float(stdtr(self.freedom, -(log(ratio) - self.mean) / self.scale(weight)))

    def at(self, chance: float, weight: float = 1.0) -> float:
        """Return the ratio that the next job goes over with this chance."""
        return exp(self.mean + float(stdtrit(self.freedom, 1.0 - chance)) * self.scale(weight))


def unbiased(weight: float, sd: float, freedom: float) -> Belief:
    """Return the belief whose forecast for a first job is the default's on average: E[exp y] = 1, the spread taken as known."""
    return Belief(-(sd**2) * (1.0 + 1.0 / weight) / 2, weight, sd, freedom)


PRIORS = {
    "bags": unbiased(0.5, 0.04, 8.0),
    "hours": unbiased(0.6, 0.20, 6.0),
    "spill": unbiased(0.5, 0.40, 6.0),
    "set": unbiased(0.8, 0.15, 6.0),
    "strip": unbiased(0.8, 0.20, 6.0),
}
"""What is believed of an own way of working before the first own job (judgement, no source)."""


def update(prior: Belief, y: Sequence[float], weights: Sequence[float] | None = None) -> Belief:
    """Return the belief after observations y, each of variance sigma^2 / weight.

    k' = k + sum w; m' = (k m + sum w y) / k'; f' = f + n; f' s'^2 = f s^2 + sum w (y - m_w)^2 + k W (m_w - m)^2 / k'.

    >>> midges = [1.64, 1.70, 1.72, 1.74, 1.82, 1.82, 1.82, 1.90, 2.08]
    >>> after = update(Belief(1.9, 1.0, 0.1, 1.0), midges)
    >>> round(after.mean, 3), round(after.sd**2, 3)
    (1.814, 0.015)
    """
    values = np.asarray(y, float)
    w = np.ones(len(values)) if weights is None else np.asarray(weights, float)
    k, m, f, s2 = posterior(prior, values, w, np.ones(len(values), bool))
    return Belief(float(m), float(k), sqrt(float(s2)), float(f))


def posterior(prior: Belief, y: Array, w: Array, keep: NDArray[np.bool_]) -> tuple[Array, Array, Array, Array]:
    """Return weight, mean, freedom and variance after the observations kept; arrays (..., n), the last axis is the jobs."""
    w = np.where(keep, w, 0.0)
    k, f = prior.weight + w.sum(-1), prior.freedom + keep.sum(-1)
    wy = (w * y).sum(-1)
    m = (prior.weight * prior.mean + wy) / k
    square = (w * y**2).sum(-1) + prior.weight * prior.mean**2 - k * m**2
    return k, m, f, (prior.freedom * prior.sd**2 + np.maximum(square, 0.0)) / f


def usual_way(prior: Belief) -> float:
    """Return mu of the usual way: the defaults' forecasts are right on average, E[exp y] = 1."""
    return -(prior.sd**2) / 2


def usual_posterior(prior: Belief, y: Array, w: Array, keep: NDArray[np.bool_]) -> tuple[Array, Array]:
    """Return freedom and variance of the usual way after the observations kept; arrays (..., n), the last axis is the jobs."""
    f = prior.freedom + keep.sum(-1)
    square = (np.where(keep, w, 0.0) * (y - usual_way(prior)) ** 2).sum(-1)
    return f, (prior.freedom * prior.sd**2 + square) / f


def usual_chance(prior: Belief, own: tuple[Array, Array, Array, Array], usual: tuple[Array, Array]) -> Array:
    """Return the chance of the usual way: the odds before times the Bayes factor sqrt(k'/k) (S_own / S_usual)^(f'/2).

    S = f' s'^2, the sum of squares under each; ``own`` as of `posterior`, ``usual`` as of `usual_posterior`.
    """
    k, _, f, s2 = own
    factor = 0.5 * np.log(k / prior.weight) + f / 2 * (np.log(s2) - np.log(usual[1]))
    return np.asarray(expit(factor + log(USUAL / (1 - USUAL))), float)


@dataclass(frozen=True, slots=True)
class Believed:
    """What is believed of the next job: with the chance ``usual`` the ``plain`` belief (the defaults hold; its weight is without
    end), else the ``own``.
    """

    usual: float
    plain: Belief
    own: Belief

    def factor(self, weight: float = 1.0) -> float:
        """Return what the forecast is multiplied by to be right on average."""
        return self.usual * self.plain.factor(weight) + (1 - self.usual) * self.own.factor(weight)

    def over(self, ratio: float, weight: float = 1.0) -> float:
        """Return the chance that actual / forecast of the next job is more than ``ratio``."""
        return self.usual * self.plain.over(ratio, weight) + (1 - self.usual) * self.own.over(ratio, weight)

    def at(self, chance: float, weight: float = 1.0) -> float:
        """Return the ratio that the next job goes over with this chance."""
        sides = [(one.mean, one.scale(weight), one.freedom) for one in (self.plain, self.own)]
        (m0, s0, f0), (m1, s1, f1) = sides
        return exp(float(mixed_at(chance, np.array(self.usual), *(np.array(x) for x in (m0, s0, f0, m1, s1, f1)))))

    def scale(self, weight: float = 1.0) -> float:
        """Return the standard error of ln(actual / forecast) of the next job, by moments of the two scales."""
        q, a, b = self.usual, self.plain, self.own
        mean = q * a.mean + (1 - q) * b.mean
        parts = ((q, a), (1 - q, b))
        return sqrt(sum(share * (one.scale(weight) ** 2 + (one.mean - mean) ** 2) for share, one in parts))


def first(prior: Belief) -> Believed:
    """Return what is believed before the first own job."""
    return Believed(USUAL, Belief(usual_way(prior), inf, prior.sd, prior.freedom), prior)


def after(prior: Belief, y: Array, w: Array, keep: NDArray[np.bool_]) -> Believed:
    """Return what is believed after the jobs kept."""
    own, usual = posterior(prior, y, w, keep), usual_posterior(prior, y, w, keep)
    k, m, f, s2 = (float(x) for x in own)
    plain = Belief(usual_way(prior), inf, sqrt(float(usual[1])), float(usual[0]))
    return Believed(float(usual_chance(prior, own, usual)), plain, Belief(m, k, sqrt(s2), f))


def mixed_at(chance: float, q: Array, m0: Array, s0: Array, f0: Array, m1: Array, s1: Array, f1: Array) -> Array:
    """Return the point that a mixture of two Student's t goes over with a chance, by halving between the points of the two."""
    a, b = m0 + stdtrit(f0, 1 - chance) * s0, m1 + stdtrit(f1, 1 - chance) * s1
    low, high = np.minimum(a, b), np.maximum(a, b)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        over = q * stdtr(f0, -(middle - m0) / s0) + (1 - q) * stdtr(f1, -(middle - m1) / s1)
        low, high = np.where(over > chance, middle, low), np.where(over > chance, high, middle)
    return np.asarray(high, float)
