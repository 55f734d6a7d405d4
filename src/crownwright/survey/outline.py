"""The true face of the stone from strings and offsets, and the guard that no stone is expected to pass."""

from __future__ import annotations

from math import hypot, sqrt
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from crownwright.geometry.polygon import signed_area
from crownwright.quantity.uncertain import Uncertain
from crownwright.survey.defaults import Masonry
from crownwright.survey.layout import Layout
from crownwright.survey.least_squares import Array
from crownwright.survey.model import Outline
from crownwright.survey.places import side_frame
from crownwright.survey.profile import Profile, SideOffsets, profile

GUARD_CHANCE = 0.995
"""Chance that no stone of the whole outline stands outside the guard."""


def side_profiles(corners: Array, read: tuple[SideOffsets, ...], stones: Masonry) -> tuple[Profile, ...]:
    """Estimate the face of every side from its offsets."""
    return tuple(profile(side_frame(corners, i)[3], offsets, stones) for i, offsets in enumerate(read))


def make_outline(
    layout: Layout, estimate: Array, covariance: Array, profiles: tuple[Profile, ...], chance: float = GUARD_CHANCE
) -> Outline:
    """Turn the adjusted strings and the profile of each side into the face and its guard.

    Args:
        layout: the parameters.
        estimate: (p,) adjusted parameters.
        covariance: (p,p) of them.
        profiles: side by side.
        chance: that no stone of the whole outline stands outside the guard.
    """
    corners = layout.corners(estimate)
    slope = layout.points(estimate)[1][: len(corners)]
    frames = [side_frame(corners, i) for i in range(len(corners))]
    face, sd, side = [], [], []
    for i, ((start, along, out, length), p) in enumerate(zip(frames, profiles, strict=True)):
        string_sd = _string_sd(slope, covariance, i, out, p.along / length)
        keep = slice(0, len(p.along) - 1)  # the last point of a side is the first of the next
        face.append(start + p.along[keep, None] * along + p.out[keep, None] * out)
        sd.append(np.hypot(p.sd, string_sd)[keep])
        side.append(np.full(len(p.along) - 1, i))
    ring = np.concatenate(face)
    guard = _guard(frames, profiles, slope, covariance, chance)
    area = _area(ring, corners, slope, covariance, frames, profiles)
    sides = np.concatenate(side).astype(np.intp)
    return Outline(_frozen(ring), _frozen(np.concatenate(sd)), sides, _frozen(guard), chance, area)


def _string_sd(slope: Array, covariance: Array, i: int, out: Array, t: Array) -> Array:
    """Standard error, outward, of places at shares t along the string of side i."""
    j = (i + 1) % len(slope)
    rows = (1 - t)[:, None] * (out @ slope[i]) + t[:, None] * (out @ slope[j])
    return np.asarray(np.sqrt(np.clip(np.einsum("ij,jk,ik->i", rows, covariance, rows), 0, None)))


def _guard(
    frames: list[tuple[Array, Array, Array, float]], profiles: tuple[Profile, ...], slope: Array, cov: Array, chance: float
) -> Array:
    """Two points a side: the string moved out by its bulge and as many standard errors as the chance asks of every side."""
    z = NormalDist().inv_cdf(1 - (1 - chance) / len(frames))
    points: list[Array] = []
    for i, ((start, along, out, length), p) in enumerate(zip(frames, profiles, strict=True)):
        string_sd = float(_string_sd(slope, cov, i, out, np.array([0.0, 0.5, 1.0])).max())
        reach = p.bulge + z * hypot(p.bulge_sd, string_sd)
        points += [start + reach * out, start + along * length + reach * out]
    return np.array(points)


def _area(
    ring: Array,
    corners: Array,
    slope: Array,
    cov: Array,
    frames: list[tuple[Array, Array, Array, float]],
    profiles: tuple[Profile, ...],
) -> Uncertain:
    """Area inside the face; its spread from the corners (area's slope) and from each side's mean offset."""
    after, before = np.roll(corners, -1, axis=0), np.roll(corners, 1, axis=0)
    by_corner = 0.5 * np.column_stack([after[:, 1] - before[:, 1], before[:, 0] - after[:, 0]])
    row = np.einsum("ij,ijk->k", by_corner, slope)
    variance = float(row @ cov @ row) + sum((frame[3] * p.mean_sd) ** 2 for frame, p in zip(frames, profiles, strict=True))
    return Uncertain(signed_area(ring), sqrt(variance))


def _frozen(array: NDArray[np.float64]) -> Array:
    array.setflags(write=False)
    return array
