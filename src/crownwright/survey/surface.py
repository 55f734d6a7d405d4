"""The top of the stone from a few drops: universal kriging with priors, every answer with its spread.

The prior is that of `stone_model`; the unevenness of the stones is integrated over a few values, weighted by how well each
explains what was read. Drops that were looked for (highest hump, lowest edge of a side) count with what they say of all the
other places (`bounds`). So six drops give an honest band and sixty a narrow one.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from math import hypot, sqrt

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.uncertain import Uncertain
from crownwright.survey.bounds import condition
from crownwright.survey.defaults import default_sd
from crownwright.survey.least_squares import Array
from crownwright.survey.lumps import same_stone, standard_normals
from crownwright.survey.stone_model import ROUGH, TRENDS, StoneModel
from crownwright.survey.stones import EYE, DropsRead, Ground, bounds_of, stone_places, thinned

_STEPS = np.array([-1.5, -0.5, 0.5, 1.5])  # values of the unevenness, in standard errors of its logarithm
_NODES = 12  # most nodes along each way of the box
MANY_DROPS = 24  # as many more as anybody would read


@dataclass(frozen=True)
class Top:
    """A `StoneSurface`: see there.

    ``places`` (a,2) that stand for the stones, the drops first; per value of the unevenness ``sds`` (g,), with its weight
    ``weights`` (g,): ``gain`` (g,a) and ``told`` (g,a,a), so that with c the prior covariance of a point to the places the height
    there is prior mean + c gain, its variance prior variance - c told c'.
    """

    model: StoneModel
    ground: Ground
    places: Array
    drops: int
    drop_sd: float
    sds: Array
    weights: Array
    gain: Array
    told: Array
    highest: Uncertain
    lowest_edge: tuple[Uncertain, ...]

    def heights(self, points: Array) -> tuple[Array, Array]:
        """Mean and standard deviation (n,) of the stone's height (m above the string) at points (n,2)."""
        points = np.atleast_2d(points)
        trend = self.model.trend(points)
        trended, same = self.model.trend_covariance(points, self.places), self.model.same(points, self.places)
        own = np.square(trend) @ self.model.trend_variance
        prior = trend @ self.model.trend_mean
        mean, square = np.zeros(len(points)), np.zeros(len(points))
        for sd, weight, gain, told in zip(self.sds, self.weights, self.gain, self.told, strict=True):
            cross = trended + sd**2 * same
            here = prior + cross @ gain
            variance = own + sd**2 + ROUGH**2 - ((cross @ told) * cross).sum(axis=1)
            mean += weight * here
            square += weight * (variance + np.square(here))
        return mean, np.sqrt(np.maximum(square - np.square(mean), 1e-12))

    def integral(self, x: Array, y: Array, area: Array) -> Uncertain:
        """Integral of z (m3) over cells with centres x, y (n,) and area (n,) in m2; 0 with no spread for no cells."""
        if not len(x):
            return Uncertain(0.0, 0.0)
        points = np.column_stack([x, y])
        mean, covariance = self._state
        row = np.concatenate([self._share(points, np.asarray(area)), area @ self.model.trend(points)])
        return Uncertain(float(row @ mean), sqrt(max(float(row @ covariance @ row), 0.0)))

    def sample(self, points: Array, rng: np.random.Generator) -> Array:
        """One draw (n,) of the heights at points (n,2), from the distribution that `integral` integrates."""
        points = np.atleast_2d(points)
        mean, _ = self._state
        state = mean + self._root @ rng.standard_normal(len(mean))
        return np.asarray(state[self._nearest(points)] + self.model.trend(points) @ state[len(self.nodes) :])

    def spread_with(self, extra_drops: int) -> float:
        """Factor (0..1] on the standard error of the top's mean height with that many well placed drops more.

        Each is put where it tells most of the mean, as if the unevenness were as now estimated.
        """
        known = self._spreads
        return float(known[extra_drops]) if 0 <= extra_drops < len(known) else float(self._with_drops(extra_drops)[0][-1])

    def best_places(self, drops: int) -> Array:
        """Places (n,2) of the drops that would tell most of the top's mean height, the most telling first."""
        return self.nodes[self._with_drops(drops)[1]]

    @cached_property
    def _spreads(self) -> Array:
        """`spread_with` for none to `MANY_DROPS` drops more, worked once."""
        return self._with_drops(MANY_DROPS)[0]

    def _with_drops(self, drops: int) -> tuple[Array, list[int]]:
        """Factors with 0, 1 ... ``drops`` more and the nodes they go to, column by column of the covariance: it is never formed,
        nor changed whole.
        """
        count, (_, state), trend = len(self.nodes), self._state, self.model.trend(self.nodes)
        weight = self.ground.stone(self.nodes).astype(float)
        weight /= max(weight.sum(), 1.0)

        def times(own: Array, of_trend: Array) -> Array:
            """The covariance of the nodes' heights times a vector that weighs own amounts and trend so."""
            product = state[:, :count] @ own + state[:, count:] @ of_trend
            return np.asarray(product[:count] + trend @ product[count:])

        toward = times(weight, trend.T @ weight)
        own = np.diag(state)[:count] + 2 * (state[:count, count:] * trend).sum(axis=1)
        variance = own + ((trend @ state[count:, count:]) * trend).sum(axis=1)
        told: list[Array] = []
        nodes: list[int] = []
        left = [float(weight @ toward)]
        for _ in range(max(drops, 0)):
            noisy = variance + self.drop_sd**2
            k = int(np.argmax(np.where(weight > 0, np.square(toward) / noisy, 0.0)))
            column = times(np.eye(1, count, k)[0], trend[k]) - sum(one[k] * one for one in told)
            column = column / sqrt(noisy[k])
            left.append(left[-1] - float(toward[k] ** 2 / noisy[k]))
            toward = toward - column * (toward[k] / sqrt(noisy[k]))
            variance = variance - np.square(column)
            told.append(column)
            nodes.append(k)
        return (np.sqrt(np.maximum(np.array(left), 0.0) / left[0]) if left[0] > 0 else np.ones(len(left))), nodes

    @cached_property
    def nodes(self) -> Array:
        """Middles (m,2) of the cells, about 3 to 5 in. wide, whose mean heights stand for the stone in integrals and draws."""
        (x, _), (y, _) = self._axes
        return np.stack(np.meshgrid(x, y, indexing="ij"), -1).reshape(-1, 2)

    @cached_property
    def _axes(self) -> tuple[tuple[Array, float], tuple[Array, float]]:
        """Middles and width of the cells along x and along y."""

        def axis(k: int) -> tuple[Array, float]:
            size = 2 * float(self.model.half[k])
            count = int(np.clip(np.ceil(size / (self.model.stones.stone[0] / 2)), 4, _NODES))
            return float(self.model.middle[k]) + ((np.arange(count) + 0.5) / count - 0.5) * size, size / count

        return axis(0), axis(1)

    def _among(self) -> tuple[Array, Array]:
        """How far the means of cells share their stones with each other (m,m), and with the places (m,a)."""
        widths = self.model.stones.stone
        (x, wide), (y, high) = self._axes
        among = np.asarray(np.kron(_cell_cell(x, wide, widths), _cell_cell(y, high, widths)), dtype=float)
        along, across = _cell_place(x, wide, self.places[:, 0], widths), _cell_place(y, high, self.places[:, 1], widths)
        return among, (along[:, None] * across[None]).reshape(len(self.nodes), -1)

    def _nearest(self, points: Array) -> NDArray[np.intp]:
        """Cell (n,) that each point lies in; points beyond the box go to its edge."""
        index = [
            np.clip(np.rint((points[:, k] - middles[0]) / width), 0, len(middles) - 1).astype(np.intp)
            for k, (middles, width) in enumerate(self._axes)
        ]
        return np.asarray(index[0] * len(self._axes[1][0]) + index[1])

    def _share(self, points: Array, area: Array) -> Array:
        return np.asarray(np.bincount(self._nearest(points), weights=area, minlength=len(self.nodes)), dtype=float)

    @cached_property
    def _state(self) -> tuple[Array, Array]:
        """Mean and covariance of (stones' own amounts at the nodes, trend coefficients), over all unevennesses."""
        count = len(self.nodes)
        among, to_places = self._among()
        trend_rows = self.model.trend_variance[:, None] * self.model.trend(self.places).T
        mean, square = np.zeros(count + TRENDS), np.zeros((count + TRENDS, count + TRENDS))
        for sd, weight, gain, told in zip(self.sds, self.weights, self.gain, self.told, strict=True):
            cross = np.concatenate([sd**2 * to_places, trend_rows])
            here = cross @ gain
            here[count:] += self.model.trend_mean
            square += weight * (np.outer(here, here) - cross @ told @ cross.T)
            square[:count, :count] += weight * sd**2 * among
            mean += weight * here
        at = np.arange(count, count + TRENDS)
        square[at, at] += self.model.trend_variance
        return mean, square - np.outer(mean, mean)

    @cached_property
    def _root(self) -> Array:
        values, vectors = np.linalg.eigh(self._state[1])
        return np.asarray(vectors * np.sqrt(np.clip(values, 0, None)))


_GAUSS, _GAUSS_WEIGHT = np.polynomial.legendre.leggauss(4)


def _cell_place(middles: Array, width: float, places: Array, widths: tuple[float, float]) -> Array:
    """Chance, mean over each cell (m,) of a way, of sharing a stone with places (a,)."""
    inside = middles[:, None, None] + width / 2 * _GAUSS[:, None] - places
    return np.asarray(np.einsum("mua,u->ma", same_stone(inside, widths), _GAUSS_WEIGHT / 2))


def _cell_cell(middles: Array, width: float, widths: tuple[float, float]) -> Array:
    """Chance, mean over both cells (m,m) of a way, of sharing a stone."""
    away = (middles[:, None] - middles)[..., None, None] + width / 2 * (_GAUSS[:, None] - _GAUSS)
    return np.asarray(np.einsum("mnuv,u,v->mn", same_stone(away, widths), _GAUSS_WEIGHT / 2, _GAUSS_WEIGHT / 2))


def make_top(model: StoneModel, ground: Ground, drops: DropsRead) -> Top:
    """Fit the surface to what was read."""
    drops = thinned(model, drops)
    places, on_side = stone_places(model, ground, drops)
    count = len(drops.at)
    sds = model.stones.top_sd * model.stones.top_factor**_STEPS
    trend, same = model.trend_covariance(places, places), model.same(places, places)
    prior = trend + np.square(sds)[:, None, None] * same + ROUGH**2 * np.eye(len(places))
    mean = model.mean(places)
    reads, weight = np.zeros(len(places)), np.zeros(len(places))
    reads[:count], weight[:count] = drops.heights, 1 / np.square(drops.sd)
    given = condition(mean, prior, reads, weight, bounds_of(drops, on_side, len(places)))
    log_weights = given.evidence - 0.5 * np.square(_STEPS)
    weights = np.exp(log_weights - log_weights.max())
    weights /= weights.sum()
    stiff = given.stiff
    mixed = weights @ given.mean
    away = given.mean - mixed
    covariance = np.einsum("g,gab->ab", weights, given.covariance) + (weights[:, None] * away).T @ away
    highest, lowest = _extremes(drops, on_side, mixed, covariance)
    gain = (stiff @ (given.mean - mean)[..., None])[..., 0]
    drop_sd = float(np.median(drops.sd)) if count else default_sd("drop")
    told = stiff - stiff @ given.covariance @ stiff
    return Top(model, ground, places, count, drop_sd, sds, weights, gain, told, highest, lowest)


def _extremes(
    drops: DropsRead, on_side: tuple[NDArray[np.bool_], ...], mean: Array, covariance: Array
) -> tuple[Uncertain, tuple[Uncertain, ...]]:
    """Highest hump and each side's lowest edge: as read, or from draws of the stones that nobody read."""
    if drops.highest is None or None in drops.lowest:
        values, vectors = np.linalg.eigh(covariance)
        root = vectors * np.sqrt(np.clip(values, 0, None))
        draws = mean + standard_normals(400, len(mean)) @ root.T

    def one(k: int | None, picked: Callable[[], Array]) -> Uncertain:
        if k is not None:
            return Uncertain(float(mean[k]), hypot(sqrt(max(float(covariance[k, k]), 0.0)), EYE))
        values = picked()
        return Uncertain(float(values.mean()), float(values.std()))

    highest = one(drops.highest, lambda: draws.max(axis=1))
    return highest, tuple(
        one(low, lambda side=side: draws[:, side].min(axis=1))  # type: ignore[misc]
        for low, side in zip(drops.lowest, on_side, strict=True)
    )
