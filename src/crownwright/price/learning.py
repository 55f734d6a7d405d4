"""What the mason's own finished jobs say: bags, hours and times against their forecasts, by a conjugate Bayesian update.

For each thing y = ln(actual / forecast). y is normal about the mason's own mu with variance sigma^2 / w, where the weight w is
larger for a job that was surveyed better. Prior and posterior are normal with inverse chi-square variance, so the update is exact
and the next job's y is Student's t; beside it stands the chance that the defaults are right for him (`price.belief`). What was
believed before and the weight of own data are shown; a job that the others make all but impossible is set aside with a word.

Method: A. Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), 3.3 (conjugate prior) and 14.7 (variances known up to a factor),
from memory; the update as printed in P. Hoff, A First Course in Bayesian Statistical Methods (2009), 5.3.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, log

import numpy as np
from numpy.typing import NDArray
from scipy.special import stdtr

from crownwright.price.belief import PRIORS, Array, Belief, Believed, after, first, posterior, update

__all__ = ["PRIORS", "Aside", "Belief", "Believed", "Finished", "Held", "Learned", "bags_by", "held", "kept", "learn", "update"]

SET_ASIDE = 1.0 / 2000.0
"""A job is set aside when the others would give one so far out, either way, less often than this (judgement)."""
SELDOM = 1e-6
MOST_ASIDE = 0.2
"""No more than this share of the jobs is set aside: more than that is not slips but another way of working."""


@dataclass(frozen=True, slots=True)
class Finished:
    """One finished job and one thing: its name, what was forecast and what it took (same unit, above nothing); ``spread`` the
    relative standard error of the forecast (None: that of the prior).
    """

    job: str
    forecast: float
    actual: float
    spread: float | None = None


@dataclass(frozen=True, slots=True)
class Aside:
    """A job set aside: its ratio, how seldom the others would give one so far out, and a word on it."""

    job: str
    ratio: float
    chance: float
    says: str


@dataclass(frozen=True, slots=True)
class Learned:
    """What own jobs say of one thing: what was believed before and is now, ``own`` the weight of own data against all that was
    believed before (0..1), jobs counted and jobs set aside.
    """

    what: str
    prior: Believed
    belief: Believed
    own: float
    jobs: int
    aside: tuple[Aside, ...]

    @property
    def factor(self) -> float:
        """What the forecast is multiplied by; 1 before the first own job."""
        return self.belief.factor() if self.jobs else 1.0


def kept(prior: Belief, y: Array, w: Array) -> tuple[NDArray[np.bool_], Array]:
    """Return which jobs are kept, and for each how seldom the others would give one so far out; arrays (..., n).

    The worst is set aside first, and the rest judged again without it.
    """
    keep = np.ones(y.shape, bool)
    seldom = np.ones(y.shape)
    n = y.shape[-1]
    for _ in range(int(MOST_ASIDE * n)):
        chance = _others(prior, y, w, keep)
        worst = np.where(keep, chance, 1.0).argmin(-1)[..., None]
        out = np.take_along_axis(chance, worst, -1) < SET_ASIDE
        if not out.any():
            break
        np.put_along_axis(
            seldom, worst, np.where(out, np.take_along_axis(chance, worst, -1), np.take_along_axis(seldom, worst, -1)), -1
        )
        np.put_along_axis(keep, worst, np.take_along_axis(keep, worst, -1) & ~out, -1)
    return keep, seldom


def _others(prior: Belief, y: Array, w: Array, keep: NDArray[np.bool_]) -> Array:
    """Two-sided chance of each observation by what all the other kept ones say, in closed form."""
    k, m, f, s2 = (part[..., None] for part in posterior(prior, y, w, keep))
    own = np.where(keep, w, 0.0)
    k_ = k - own
    m_ = (k * m - own * y) / k_
    f_ = f - keep
    lost = own * k_ / k * (y - m_) ** 2  # what the observation adds to the sum of squares
    s2_ = np.maximum(f * s2 - lost, 1e-12) / f_
    t = (y - m_) / np.sqrt(s2_ * (1.0 / w + 1.0 / k_))
    return np.asarray(2.0 * stdtr(f_, -np.abs(t)), float)


def learn(what: str, jobs: Sequence[Finished], prior: Belief | None = None) -> Learned:
    """Return what finished jobs say of a thing. KeyError for a thing without a prior; ValueError for a job that took nothing."""
    if prior is None:
        if what not in PRIORS:
            raise KeyError(f"nothing is believed about {what!r}; there are: {', '.join(PRIORS)}")
        prior = PRIORS[what]
    if not jobs:
        return Learned(what, first(prior), first(prior), 0.0, 0, ())
    for job in jobs:
        if not (job.forecast > 0 and job.actual > 0):
            raise ValueError(f"{job.job}: {what} forecast {job.forecast:g}, took {job.actual:g}; both must be above nothing")
    y = np.array([log(job.actual / job.forecast) for job in jobs])
    w = np.array([weight_of(prior, job.spread) for job in jobs])
    keep, seldom = kept(prior, y, w)
    belief = after(prior, y, w, keep)
    aside = tuple(_aside(what, jobs[int(i)], float(seldom[i])) for i in np.flatnonzero(~keep))
    own = (1.0 - belief.usual) * (1.0 - prior.weight / belief.own.weight)
    return Learned(what, first(prior), belief, own, int(keep.sum()), aside)


def weight_of(prior: Belief, spread: float | None) -> float:
    """Return the weight of a job whose forecast had this relative spread: 1 at the prior's own."""
    return 1.0 if spread is None or spread <= 0 else (prior.sd / spread) ** 2


def _aside(what: str, job: Finished, chance: float) -> Aside:
    ratio = job.actual / job.forecast
    slip = next(
        (f"; {n:g} times the forecast looks like a slip of the pen" for n in (10, 0.1, 100, 0.01) if 0.8 < ratio / n < 1.25), ""
    )
    once = f"one time in {1 / chance:,.0f}" if chance > SELDOM else "less than one time in a million"
    says = f"{job.job}: {what} came to {ratio:.2f} of the forecast; your other jobs would give that {once}{slip}. Not counted"
    return Aside(job.job, ratio, chance, says)


def bags_by(belief: Believed, needed: float, spread: float, prior: Belief, risk: float) -> tuple[int, float]:
    """Return the fewest whole bags that keep the risk, for a pour that takes ``needed`` by forecast with a relative ``spread``,
    and the chance of running short with them.
    """
    w = weight_of(prior, spread)
    bags = max(1, ceil(needed * belief.at(risk, w) - 1e-9))
    return bags, belief.over(bags / needed, w)


ENOUGH = 8
"""Jobs from which on a count says anything of a stated chance: of fewer nearly every count is within its limits (judgement)."""


@dataclass(frozen=True, slots=True)
class Held:
    """How well a stated chance has held: how often it was stated and came true, and the limits 95 in 100 such counts keep."""

    what: str
    stated: float
    times: int
    came: int
    low: int
    high: int

    @property
    def enough(self) -> bool:
        """Whether it was stated often enough to be judged."""
        return self.times >= ENOUGH

    @property
    def holds(self) -> bool:
        """Whether the count lies within its binomial limits."""
        return self.low <= self.came <= self.high


def held(what: str, stated: float, came: Sequence[bool]) -> Held:
    """Return how well a stated chance has held over jobs (true: it came), with central 95 % binomial limits."""
    from scipy.stats import binom

    n = len(came)
    low, high = (int(x) for x in binom.ppf([0.025, 0.975], n, stated)) if n else (0, 0)
    return Held(what, stated, n, sum(map(bool, came)), low, high)
