"""Which reading is off, and by which slip: every slip of every reading weighed by how well the rest then closes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from crownwright.survey.chances import chi_square_limit
from crownwright.survey.layout import tape_model
from crownwright.survey.least_squares import Array, Fit, LooseError, fit
from crownwright.survey.slip_kinds import ANYTHING, Kind, Slips, slips_of
from crownwright.survey.tapes import TapedTop

BIG = 0.05
"""A slip (m) beyond which the network is bent so far that it is straightened before slips are weighed."""
PAIRS_UP_TO = 60
"""Readings up to which two slips at once are tried."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """Slips weighed against each other. ``chance`` (h,) of each after looking; ``none`` the chance of no slip at all;
    ``by_reading`` (n,) the chance that each reading is off; ``amount`` (h,) the slip, with the best value where it may be
    anything; ``left`` (h,) the sum of squares that would be left. ``second`` (h,) the reading of a second slip, -1 for none,
    with its ``second_amount``.
    """

    slips: Slips
    chance: Array
    none: float
    by_reading: Array
    amount: Array
    left: Array
    second: NDArray[np.intp]
    second_amount: Array
    second_kind: tuple[Kind, ...]

    @property
    def best(self) -> int:
        """The most likely slip."""
        return int(np.argmax(self.chance))


@dataclass(frozen=True, slots=True)
class Strain:
    """The network seen by a slip: ``pull`` and ``stiff`` (n,), so that taking a slip s out of reading i leaves the sum of squares
    ``whole`` - 2 s pull_i + s^2 stiff_i; ``free`` (n,p) spans what the estimate can take up.
    """

    whole: float
    pull: Array
    stiff: Array
    free: Array
    sd: Array

    def shared(self, i: NDArray[np.intp], j: NDArray[np.intp]) -> Array:
        """How slips in different readings i and j (k,) work together: the sum of squares has 2 s t shared in it."""
        return np.asarray(-(self.free[i] * self.free[j]).sum(axis=1) / (self.sd[i] * self.sd[j]))


def strain(slope: Array, sd: Array, misclosure: Array) -> Strain:
    """Strain of readings that miss a place by ``misclosure`` (n,), read minus predicted there, with ``slope`` (n,p).

    With the readings divided by their standard errors, what no estimate can take up is M = I - Q Q' (Q spans the slopes).
    """
    basis = np.linalg.qr(slope / sd[:, None])[0]
    off = misclosure / sd
    left = off - basis @ (basis.T @ off)
    stiff = (1.0 - np.square(basis).sum(axis=1)) / np.square(sd)
    return Strain(float(left @ left), left / sd, stiff, basis, sd)


def weigh(top: TapedTop) -> Weighed:
    """Weigh every slip of every reading, and pairs of slips where no single one explains the misfit."""
    slips = slips_of(top.tapes.reads, top.tapes.typed, top.tapes.tapes)
    seen = strain(top.fit.slope, top.fit.sd, -top.fit.residual)
    found = _single(slips, seen, len(top.tapes))
    # a foot in one tape bends the whole plan: straighten it by the best guess, then weigh again on the straight plan
    tried: set[int] = set()
    while abs(found.amount[found.best]) > BIG and found.none < 0.5 and found.best not in tried and len(tried) < 4:
        tried.add(found.best)
        straight = refit(top, {int(slips.index[found.best]): float(found.amount[found.best])})
        values, slope = tape_model(top.layout, top.tapes, top.square)(straight.estimate)
        reads = np.append(top.tapes.reads, np.zeros(len(top.square)))
        seen = strain(slope, top.fit.sd, reads - values)
        found = _single(slips, seen, len(top.tapes))
    freedom = top.fit.freedom - 1
    if freedom > 1 and found.left[found.best] > chi_square_limit(freedom, 0.001) and len(top.tapes) <= PAIRS_UP_TO:
        return _pairs(found, seen, len(top.tapes))
    return found


def refit(top: TapedTop, slips: dict[int, float]) -> Fit:
    """Adjust again with slips (reading -> m) taken out; as it was, where without them nothing would hold the top."""
    reads = np.append(top.tapes.reads, np.zeros(len(top.square)))
    for k, slip in slips.items():
        reads[k] -= slip
    try:
        return fit(tape_model(top.layout, top.tapes, top.square), top.fit.estimate, reads, top.fit.sd)
    except LooseError:  # a slip as long as the tape itself folds the plan flat: it explains nothing
        return top.fit


def _single(slips: Slips, seen: Strain, readings: int) -> Weighed:
    index = slips.index
    pull, stiff = seen.pull[index], np.maximum(seen.stiff[index], 0.0)
    anything = np.isnan(slips.slip)
    best = pull / np.maximum(stiff + 1 / ANYTHING**2, 1e-12)
    amount = np.where(anything, best, slips.slip)
    left = seen.whole - 2 * amount * pull + amount**2 * stiff
    # a slip of unknown size pays for the freedom to choose it (marginal of a normal with standard error ANYTHING)
    fair = np.where(anything, left + amount**2 / ANYTHING**2 + np.log1p(ANYTHING**2 * stiff), left)
    log_odds = slips.log_odds + (seen.whole - fair) / 2
    chance, none = _chances(log_odds)
    by_reading = _by_reading(index, chance, readings)
    nothing = np.full(len(index), -1, dtype=np.intp)
    return Weighed(slips, chance, none, by_reading, amount, left, nothing, np.zeros(len(index)), slips.kind)


def _by_reading(index: NDArray[np.intp], chance: Array, readings: int) -> Array:
    return np.asarray(np.bincount(index, weights=chance, minlength=readings), dtype=float)


def _chances(log_odds: Array) -> tuple[Array, float]:
    top = max(float(log_odds.max(initial=0.0)), 0.0)
    odds = np.exp(log_odds - top)
    none = float(np.exp(-top))
    total = odds.sum() + none
    return odds / total, none / float(total)


def _pairs(single: Weighed, seen: Strain, readings: int) -> Weighed:
    """Weigh two slips at once, of the known kinds, in two readings."""
    slips = single.slips
    known = np.flatnonzero(~np.isnan(slips.slip))
    first, second = (known[list(side)] for side in zip(*combinations(range(len(known)), 2), strict=True))
    apart = slips.index[first] != slips.index[second]
    first, second = first[apart], second[apart]
    i, j, s, t = slips.index[first], slips.index[second], slips.slip[first], slips.slip[second]
    own = -2 * slips.slip * seen.pull[slips.index] + slips.slip**2 * seen.stiff[slips.index]
    left = seen.whole + own[first] + own[second] + 2 * s * t * seen.shared(i, j)
    log_odds = slips.log_odds[first] + slips.log_odds[second] + (seen.whole - left) / 2
    keep = np.argsort(-log_odds)[:200]
    ones = slips.log_odds + (seen.whole - single.left) / 2
    chance, none = _chances(np.concatenate([ones, log_odds[keep]]))
    first, second = first[keep], second[keep]
    index = np.concatenate([slips.index, slips.index[first]])
    both = np.concatenate([np.full(len(slips.index), -1), slips.index[second]])
    by_reading = _by_reading(index, chance, readings) + _by_reading(both[both >= 0], chance[both >= 0], readings)
    wide = Slips(
        index,
        np.concatenate([slips.slip, slips.slip[first]]),
        (*slips.kind, *(slips.kind[k] for k in first)),
        np.concatenate([slips.log_odds, slips.log_odds[first] + slips.log_odds[second]]),
    )
    return replace(
        single,
        slips=wide,
        chance=chance,
        none=none,
        by_reading=by_reading,
        amount=np.concatenate([single.amount, slips.slip[first]]),
        left=np.concatenate([single.left, left[keep]]),
        second=both.astype(np.intp),
        second_amount=np.concatenate([np.zeros(len(slips.index)), slips.slip[second]]),
        second_kind=(*slips.kind, *(slips.kind[k] for k in second)),
    )
