"""How far the stone reaches towards each side of a turned rectangle: out to the guard, and in to the deepest recess."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.geometry.hull import convex_hull
from crownwright.survey.model import Survey

Array = NDArray[np.float64]
QUARTER = np.pi / 2


@dataclass(frozen=True, slots=True)
class Stone:
    """What the fit needs of the survey: corners (k,2) of the guard's hull, the face points of each side of the stone with
    both its corners, and each side's direction (rad).
    """

    guard: Array
    sides: tuple[Array, ...]
    directions: Array

    @property
    def four(self) -> bool:
        """Whether the stone has four sides, one for each side of the cap."""
        return len(self.sides) == 4


def stone_of(survey: Survey) -> Stone:
    """Group the outline's face by the stone's sides."""
    outline, corners = survey.outline, survey.corners
    count = len(corners)
    rows = [np.flatnonzero(outline.side == k) for k in range(count)]
    sides = tuple(outline.face[[*r, (r[-1] + 1) % len(outline.face)]] if len(r) else corners[[k]] for k, r in enumerate(rows))
    run = np.roll(corners, -1, axis=0) - corners
    return Stone(convex_hull(outline.guard), sides, np.arctan2(run[:, 1], run[:, 0]))


def outward(turns: Array) -> Array:
    """Outward normals (t,4,2) of the rectangle's sides at ``turns`` (t,), side 0 along the turn."""
    angle = turns[:, None] + (np.arange(4) - 1) * QUARTER
    return np.stack([np.cos(angle), np.sin(angle)], axis=-1)


def reach(stone: Stone, turns: Array) -> tuple[Array, Array]:
    """Reach (t,4) of the guard, and of the deepest recess of the stone's sides that face each side of the rectangle.

    Four sides face four, in order. Otherwise each side of the stone counts for the side of the rectangle it is nearest to
    facing; a side that none faces meets the stone at one corner only, and its recess is that corner.
    """
    normals = outward(turns)
    guard = (normals @ stone.guard.T).max(-1)
    if stone.four:
        return guard, np.stack([(normals[:, k] @ stone.sides[k].T).min(-1) for k in range(4)], axis=-1)
    inner = np.stack([(normals @ points.T).min(-1) for points in stone.sides], axis=-1)  # (t,4,n)
    faced = np.round((stone.directions - turns[:, None]) / QUARTER).astype(int) % 4  # (t,n)
    facing = faced[:, None, :] == np.arange(4)[None, :, None]
    recess = np.where(facing, inner, np.inf).min(-1)
    return guard, np.where(np.isfinite(recess), recess, guard)
