"""One side's face against its corner-to-corner string: what the offsets say between and beyond them."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, hypot, log, sqrt
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.units import INCH
from crownwright.survey.defaults import Masonry
from crownwright.survey.least_squares import Array
from crownwright.survey.lumps import hazard, same_stone
from crownwright.survey.merge import merge

KNOT = 4 * INCH
"""Spacing of the points that draw a face."""
MOST_OFFSETS = 48
"""Offsets of a side beyond which those of one spot are merged."""
EYE = 0.05 * INCH
"""How far the proudest stone that was picked by eye may lie behind the proudest one (a judgement)."""


@dataclass(frozen=True, slots=True)
class SideOffsets:
    """Offsets read on one side: ``along``, ``out``, ``sd`` (k,) in m; ``proudest`` the index of the flagged one, or None."""

    along: Array
    out: Array
    sd: Array
    proudest: int | None = None


@dataclass(frozen=True, slots=True)
class Profile:
    """A side's face: ``along`` (k,) from end to end, ``out`` and ``sd`` there; ``mean_out`` with ``mean_sd`` over the
    length; ``bulge`` of its proudest stone with its spread; ``looked_for`` whether that was read; ``count`` offsets read.
    """

    along: Array
    out: Array
    sd: Array
    mean_out: float
    mean_sd: float
    bulge: float
    bulge_sd: float
    looked_for: bool
    count: int


def profile(length: float, read: SideOffsets, stones: Masonry) -> Profile:
    """Estimate the face of a side of ``length`` (m) from its offsets.

    The stones stand out of the wall each by its own amount; the string runs from the first stone to the last, so a face
    against the string is the stone's own amount less the string's. Between readings the estimate goes back to the side's
    mean and its spread grows to that of a stone nobody read. Where a proudest stone was found, no other stands further out.
    """
    read = _thinned(length, read, stones)
    even = length * np.linspace(0, 1, max(ceil(length / KNOT), 2) + 1)
    knots = np.sort(np.concatenate([even, read.along[(read.along > 0) & (read.along < length)]]))
    knots = knots[np.concatenate([[True], knots[1:] - knots[:-1] > 0.1 * INCH])]
    knots[-1] = length
    both = np.concatenate([knots, read.along])
    places = np.concatenate([both, [0.0, length]])
    hang = _hanging(both, length)
    prior = stones.face_sd**2 * (hang @ same_stone(places[:, None] - places, stones.stone) @ hang.T)
    count = len(knots)
    mean, cov = np.zeros(count), prior[:count, :count]
    if len(read.along):
        cross, noisy = prior[:count, count:], prior[count:, count:] + np.diag(np.square(read.sd))
        gain = np.linalg.solve(noisy, cross.T).T
        mean, cov = gain @ read.out, cov - gain @ cross.T
    sd = np.sqrt(np.clip(np.diag(cov), 0, None))
    weights = _trapezoid(knots) / length
    mean_sd = sqrt(max(float(weights @ cov @ weights), 0.0))
    if read.proudest is not None:
        p = read.proudest
        mean, sd = _held_under(mean, sd, float(read.out[p]), hypot(float(read.sd[p]), EYE))
    proudest = bulge(length, read, stones, mean, sd, knots)
    return Profile(knots, mean, sd, float(weights @ mean), mean_sd, *proudest, read.proudest is not None, len(read.along))


def _thinned(length: float, read: SideOffsets, stones: Masonry) -> SideOffsets:
    """Merge offsets of one spot, where there are so many that each tells next to nothing by itself."""
    if len(read.along) <= MOST_OFFSETS:
        return read
    cells = np.clip(read.along / length * MOST_OFFSETS, 0, MOST_OFFSETS - 1).astype(np.intp)
    alone = np.arange(len(read.along)) == (-1 if read.proudest is None else read.proudest)
    found = merge(cells, alone, read.along[:, None], read.out, read.sd, stones.face_sd / 2)
    proudest = None if read.proudest is None else int(found.row[read.proudest])
    return SideOffsets(found.place[:, 0], found.reads, found.sd, proudest)


def bulge(length: float, read: SideOffsets, stones: Masonry, mean: Array, sd: Array, knots: Array) -> tuple[float, float]:
    """How far the proudest stone of a side stands out of its string, with its spread (m).

    Read, where the proudest was looked for. Else the largest of as many independent stones as the side holds, each with the
    mean and spread that the offsets leave it.
    """
    if read.proudest is not None:
        return max(float(read.out[read.proudest]), 0.0), hypot(float(read.sd[read.proudest]), EYE)
    count = max(round(length / (sum(stones.stone) / 2)), 1)
    at = (np.arange(count) + 0.5) * length / count
    means, sds = np.interp(at, knots, mean), np.interp(at, knots, sd)
    middle, low, high = (_largest(means, np.maximum(sds, 1e-6), chance) for chance in (0.5, 0.16, 0.999))
    # what matters is the upper tail: the spread is taken from there
    return max(middle, 0.0), max((high - middle) / NormalDist().inv_cdf(0.999), middle - low)


def _largest(mean: Array, sd: Array, chance: float) -> float:
    """Value that the largest of independent normal variables stays under with ``chance``."""
    low, high = float((mean - 8 * sd).max()), float((mean + 8 * sd).max())
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if hazard((middle - mean) / sd)[1].sum() < log(chance) else (low, middle)
    return (low + high) / 2


def _hanging(s: Array, length: float) -> Array:
    """Rows (k,k+2) that turn what stones stand out of the wall at s and at both ends into out of the string."""
    return np.concatenate([np.eye(len(s)), -np.column_stack([1 - s / length, s / length])], axis=1)


def _held_under(mean: Array, sd: Array, bound: float, bound_sd: float) -> tuple[Array, Array]:
    """Mean and spread of each place given that it does not stand further out than a bound that was read."""
    total = np.hypot(sd, bound_sd)
    t = (bound - mean) / total
    rate, _ = hazard(t)
    shrink = np.clip(1 - np.square(sd / total) * rate * (rate + t), 0.05, 1.0)
    return mean - np.square(sd) / total * rate, sd * np.sqrt(shrink)


def _trapezoid(at: NDArray[np.float64]) -> Array:
    weights = np.zeros(len(at))
    weights[:-1] += np.diff(at) / 2
    weights[1:] += np.diff(at) / 2
    return weights
