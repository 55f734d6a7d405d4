"""The top of the stone from a few drops: universal kriging with priors, every answer with its spread.

A height is a level, a tilt and a bow over the whole top, plus the stone's own amount: two places share it as far as they lie
on one stone. Level, tilt, bow and the stones' unevenness have priors (`defaults.toml`); the unevenness is integrated over a
few values, weighted by how well each explains the drops. So six drops give an honest band and sixty a narrow one.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.uncertain import Uncertain
from crownwright.survey.defaults import Masonry
from crownwright.survey.least_squares import Array
from crownwright.survey.lumps import same_stone, standard_normals

_STEPS = (-1.6, -0.8, 0.0, 0.8, 1.6)  # values of the unevenness, in standard errors of its logarithm
ANY_LEVEL = 0.15
"""Prior spread (m) of the mean level where drops were read: nothing is known of where he set the string."""


@dataclass(frozen=True, slots=True)
class Frame:
    """The box round the top that tilt and bow are measured in: ``middle`` (2,) and ``half`` (2,) its half sizes."""

    middle: Array
    half: Array

    def trend(self, points: Array) -> Array:
        """Level, two tilts and bow at points: (n,4). The bow is 1 in the middle and 0 on the box."""
        unit = (points - self.middle) / self.half
        bow = np.clip(1 - unit[:, 0] ** 2, 0, 1) * np.clip(1 - unit[:, 1] ** 2, 0, 1)
        return np.column_stack([np.ones(len(points)), unit, bow])


def frame_of(face: Array) -> Frame:
    """Return the frame of a face (m,2)."""
    low, high = face.min(axis=0), face.max(axis=0)
    return Frame((low + high) / 2, np.maximum((high - low) / 2, 1e-6))


@dataclass(frozen=True)
class Top:
    """A `StoneSurface`: see there. ``weights`` (g,) of the unevennesses ``sds`` (g,)."""

    frame: Frame
    stones: Masonry
    level_sd: float
    at: Array
    sds: Array
    weights: Array
    gains: Array  # (g,a) inverse noisy covariance times what the drops differ from the prior
    inverses: Array  # (g,a,a)
    nodes: Array
    highest: Uncertain
    lowest_edge: tuple[Uncertain, ...]

    def heights(self, points: Array) -> tuple[Array, Array]:
        """Mean and standard deviation (n,) of the stone's height (m above the string) at points (n,2)."""
        points = np.atleast_2d(points)
        trend = _trend_cov(self.frame.trend(points), self.frame.trend(self.at), self._trend_var())
        stone = _stone_corr(points, self.at, self.stones)
        own = np.einsum("ij,j,ij->i", t := self.frame.trend(points), self._trend_var(), t)
        prior = t @ _trend_mean(self.stones)
        means, variances = [], []
        for sd, gain, inverse in zip(self.sds, self.gains, self.inverses, strict=True):
            cross = trend + sd**2 * stone
            means.append(prior + cross @ gain)
            variances.append(own + sd**2 - np.einsum("ij,jk,ik->i", cross, inverse, cross, optimize=True))
        return _mix(self.weights, np.array(means), np.array(variances))

    def integral(self, x: Array, y: Array, area: Array) -> Uncertain:
        """Integral of z (m3) over cells with centres x, y (n,) and area (n,) in m2; 0 with no spread for no cells."""
        if not len(x):
            return Uncertain(0.0, 0.0)
        points = np.column_stack([x, y])
        nearest = _nearest_node(points, self.nodes)
        node_area = np.bincount(nearest, weights=area, minlength=len(self.nodes))
        trend = area @ self.frame.trend(points)
        mean, cov = self._state()
        row = np.concatenate([node_area, trend])
        return Uncertain(float(row @ mean), sqrt(max(float(row @ cov @ row), 0.0)))

    def sample(self, points: Array, rng: np.random.Generator) -> Array:
        """One draw (n,) of the heights at points (n,2), of the same distribution as `integral`."""
        mean, cov = self._state()
        values, vectors = np.linalg.eigh(cov)
        state = mean + vectors @ (np.sqrt(np.clip(values, 0, None)) * rng.standard_normal(len(mean)))
        points = np.atleast_2d(points)
        return np.asarray(state[_nearest_node(points, self.nodes)] + self.frame.trend(points) @ state[len(self.nodes) :])

    def spread_with(self, extra_drops: int) -> float:
        """Factor (0..1] on the standard error of the top's mean height with that many well placed drops more."""
        return 1.0 if extra_drops <= 0 else 1.0 / sqrt(1 + extra_drops / max(len(self.at), 1))

    def _trend_var(self) -> Array:
        return trend_variance(self.stones, self.level_sd)

    def _state(self) -> tuple[Array, Array]:
        """Mean and covariance of (stone's own amount at each node, trend coefficients)."""
        count = len(self.nodes)
        trend_var, trend_mean = self._trend_var(), _trend_mean(self.stones)
        prior_mean = np.concatenate([np.zeros(count), trend_mean])
        among, to_drops = _stone_corr(self.nodes, self.nodes, self.stones), _stone_corr(self.nodes, self.at, self.stones)
        trend_rows = trend_var[:, None] * self.frame.trend(self.at).T
        means, covs = [], []
        for sd, gain, inverse in zip(self.sds, self.gains, self.inverses, strict=True):
            cross = np.concatenate([sd**2 * to_drops, trend_rows])
            prior = np.zeros((count + 4, count + 4))
            prior[:count, :count] = sd**2 * among
            prior[range(count, count + 4), range(count, count + 4)] = trend_var
            means.append(prior_mean + cross @ gain)
            covs.append(prior - cross @ inverse @ cross.T)
        mean = np.einsum("g,gi->i", self.weights, np.array(means))
        away = np.array(means) - mean
        return mean, np.einsum("g,gij->ij", self.weights, np.array(covs)) + np.einsum("g,gi,gj->ij", self.weights, away, away)


def make_top(
    face: Array, edges: tuple[Array, ...], at: Array, heights: Array, sd: Array, stones: Masonry, level_sd: float = ANY_LEVEL
) -> Top:
    """Fit the surface to drops at ``at`` (n,2) with ``heights`` (n,) and standard errors ``sd`` (n,), m above the string.

    ``face`` (m,2) is the outline; ``edges`` per side points (k,2) on its edge.
    """
    frame = frame_of(face)
    trend = frame.trend(at)
    trend_cov = _trend_cov(trend, trend, trend_variance(stones, level_sd))
    corr = _stone_corr(at, at, stones)
    away = heights - trend @ _trend_mean(stones)
    sds = stones.top_sd * stones.top_factor ** np.array(_STEPS)
    log_weights, gains, inverses = [], [], []
    for step, stone_sd in zip(_STEPS, sds, strict=True):
        noisy = trend_cov + stone_sd**2 * corr + np.diag(np.square(sd))
        inverse = np.linalg.inv(noisy) if len(at) else np.zeros((0, 0))
        gains.append(inverse @ away)
        inverses.append(inverse)
        log_weights.append(
            -0.5 * step**2 - 0.5 * float(away @ gains[-1]) - 0.5 * float(np.linalg.slogdet(noisy)[1] if len(at) else 0.0)
        )
    weights = np.exp(np.array(log_weights) - max(log_weights))
    weights /= weights.sum()
    top = Top(frame, stones, level_sd, at, sds, weights, np.array(gains), np.array(inverses), _nodes(face), Uncertain(0.0), ())
    return _with_extremes(top, edges)


def _with_extremes(top: Top, edges: tuple[Array, ...]) -> Top:
    """Find the highest hump and the lowest edge of each side from draws of the surface."""
    from dataclasses import replace

    points = np.concatenate([top.nodes, *edges])
    mean, sd = top.heights(points)
    draws = mean + sd * standard_normals(64, len(points))
    highest = draws.max(axis=1)
    lows, at = [], len(top.nodes)
    for edge in edges:
        low = draws[:, at : at + len(edge)].min(axis=1)
        lows.append(Uncertain(float(low.mean()), float(low.std())))
        at += len(edge)
    return replace(top, highest=Uncertain(float(highest.mean()), float(highest.std())), lowest_edge=tuple(lows))


def _trend_mean(stones: Masonry) -> Array:
    return np.array([-stones.drop[0], 0.0, 0.0, stones.bow[0]])


def trend_variance(stones: Masonry, level_sd: float) -> Array:
    """Prior variances (m2) of level, two tilts and bow."""
    return np.array([level_sd**2, (stones.tilt / 2) ** 2, (stones.tilt / 2) ** 2, stones.bow[1] ** 2])


def _trend_cov(a: Array, b: Array, variance: Array) -> Array:
    return np.asarray(a @ (variance[:, None] * b.T))


def _stone_corr(a: Array, b: Array, stones: Masonry) -> Array:
    """Correlation of the stones' own amounts between places (n,2) and (m,2)."""
    away = a[:, None] - b[None, :]
    return same_stone(away[..., 0], stones.stone) * same_stone(away[..., 1], stones.stone)


def _mix(weights: Array, means: Array, variances: Array) -> tuple[Array, Array]:
    mean = weights @ means
    return mean, np.sqrt(np.clip(weights @ (variances + np.square(means - mean)), 0, None))


def _nodes(face: Array) -> Array:
    """Grid of places that stand for the stones in integrals and draws, over the face's box."""
    low, high = face.min(axis=0), face.max(axis=0)
    counts = np.clip(np.ceil((high - low) / 0.08), 4, 14).astype(int)
    axes = [lo + (np.arange(n) + 0.5) * (hi - lo) / n for lo, hi, n in zip(low, high, counts, strict=True)]
    return np.stack(np.meshgrid(*axes), -1).reshape(-1, 2)


def _nearest_node(points: Array, nodes: Array) -> NDArray[np.intp]:
    return np.asarray(np.argmin(np.square(points[:, None] - nodes[None]).sum(-1), axis=1))
