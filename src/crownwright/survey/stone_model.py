"""What is held of a stone top before any drop is read: a level, a tilt, a bow, and stones each with its own amount."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from crownwright.quantity.units import INCH
from crownwright.survey.defaults import Masonry
from crownwright.survey.least_squares import Array
from crownwright.survey.lumps import same_stone

ANY_LEVEL = 0.15
"""Prior spread (m) of the mean level where drops were read: nothing is known of where he set the string."""
TRENDS = 5
"""Number of coefficients of the trend."""
ROUGH = 0.05 * INCH
"""How much two places on one stone differ (a judgement)."""


@dataclass(frozen=True, slots=True)
class StoneModel:
    """The prior of one top.

    ``middle`` and ``half`` (2,) the box round it that tilt and bow are measured in; ``level`` and ``level_sd`` of its mean, m
    above the string; ``stones`` how this masonry lumps. The unevenness of the stones is left open: it comes as an argument.
    """

    middle: Array
    half: Array
    level: float
    level_sd: float
    stones: Masonry

    def trend(self, points: Array) -> Array:
        """Level, two tilts, bow and the bow's fulness at points (n,2): (n,5).

        The bow is 1 in the middle and 0 on the box. Whether it is a bowl or a tray nobody knows: fulness leads from the one
        to the other.
        """
        unit = (points - self.middle) / self.half
        away = np.clip(1 - np.square(unit), 0, 1)
        bowl = away[:, 0] * away[:, 1]
        return np.column_stack([np.ones(len(points)), unit, bowl, away.min(axis=1) - bowl])

    @property
    def trend_mean(self) -> Array:
        """Prior means (m) of level, tilts, bow and fulness."""
        return np.array([self.level, 0.0, 0.0, self.stones.bow[0], 0.5 * self.stones.bow[0]])

    @property
    def trend_variance(self) -> Array:
        """Prior variances (m2) of level, tilts, bow and fulness; a tilt is the rise over half the box."""
        tilt = (self.stones.tilt / 2) ** 2
        return np.array([self.level_sd**2, tilt, tilt, bow := self.stones.bow[1] ** 2, bow])

    def mean(self, points: Array) -> Array:
        """Prior mean height (n,) at points."""
        return np.asarray(self.trend(points) @ self.trend_mean)

    def trend_covariance(self, a: Array, b: Array) -> Array:
        """Covariance (n,m) of the trend between places."""
        return np.asarray(self.trend(a) @ (self.trend_variance[:, None] * self.trend(b).T))

    def same(self, a: Array, b: Array) -> Array:
        """Chance (n,m) that two places lie on one stone: this is how far they share the stone's own amount."""
        away = a[:, None] - b[None, :]
        return same_stone(away[..., 0], self.stones.stone) * same_stone(away[..., 1], self.stones.stone)


def stone_model(face: Array, stones: Masonry, level: float | None = None, level_sd: float = ANY_LEVEL) -> StoneModel:
    """Return the prior of the top inside a face (m,2); ``level`` defaults to the usual drop of this masonry."""
    low, high = face.min(axis=0), face.max(axis=0)
    half = np.maximum((high - low) / 2, 1e-6)
    return StoneModel((low + high) / 2, half, -stones.drop[0] if level is None else level, level_sd, stones)
