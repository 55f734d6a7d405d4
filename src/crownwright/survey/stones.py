"""The drops on the plan, and the places that stand for the stones that nobody read."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.geometry.polygon import contains
from crownwright.quantity.units import INCH
from crownwright.survey.bounds import Bounds
from crownwright.survey.least_squares import Array
from crownwright.survey.merge import merge
from crownwright.survey.stone_model import StoneModel

EYE = 0.05 * INCH
"""How far the highest or lowest place that was picked by eye may miss the true one (a judgement)."""
MOST_DROPS = 80
"""Drops beyond which those of one spot are merged."""
_CELLS = 9  # spots along each way of the box, when drops are merged
EDGE = 1.0 * INCH
"""A place this near the face is on the edge (a judgement)."""


@dataclass(frozen=True, slots=True)
class DropsRead:
    """Drops on the plan: places ``at`` (n,2), ``heights`` (n,) above the string and ``sd`` (n,), all m. ``highest`` the index of
    the highest hump, or None; ``lowest`` per side the index of its lowest edge, or None.
    """

    at: Array
    heights: Array
    sd: Array
    highest: int | None
    lowest: tuple[int | None, ...]


@dataclass(frozen=True, slots=True)
class Ground:
    """Where the stone is: its ``face`` (m,2), ``edges`` per side places (k,2) on it, ``holes`` the outlines of flues."""

    face: Array
    edges: tuple[Array, ...]
    holes: tuple[Array, ...] = ()

    def stone(self, points: Array) -> NDArray[np.bool_]:
        """Whether each point (n,2) is on stone: inside the face and under no flue."""
        on = contains(self.face, points)
        for hole in self.holes:
            on &= ~contains(hole, points)
        return on


def thinned(model: StoneModel, drops: DropsRead) -> DropsRead:
    """Merge drops of one spot, where there are so many that each tells next to nothing by itself."""
    count = len(drops.at)
    if count <= MOST_DROPS:
        return drops
    low, size = model.middle - model.half, 2 * model.half
    cells = np.clip(np.floor((drops.at - low) / size * _CELLS), 0, _CELLS - 1).astype(np.intp)
    alone = np.zeros(count, dtype=bool)
    alone[[k for k in (drops.highest, *drops.lowest) if k is not None]] = True
    found = merge(cells[:, 0] * _CELLS + cells[:, 1], alone, drops.at, drops.heights, drops.sd, model.stones.top_sd / 2)
    highest = None if drops.highest is None else int(found.row[drops.highest])
    lowest = tuple(None if k is None else int(found.row[k]) for k in drops.lowest)
    return DropsRead(found.place, found.reads, found.sd, highest, lowest)


def stone_places(model: StoneModel, ground: Ground, drops: DropsRead) -> tuple[Array, tuple[NDArray[np.bool_], ...]]:
    """Places (a,2) about one a stone, the drops first, and per side which of them lie on its edge."""
    pitch = sum(model.stones.stone) / 2
    low, high = model.middle - model.half, model.middle + model.half
    counts = np.maximum(np.round((high - low) / pitch).astype(int), 1)
    axes = [lo + (np.arange(n) + 0.5) * (hi - lo) / n for lo, hi, n in zip(low, high, counts, strict=True)]
    grid = np.stack(np.meshgrid(*axes), -1).reshape(-1, 2)
    edges = np.concatenate([_along_edge(edge, pitch) for edge in ground.edges])
    at = _add(drops.at.reshape(-1, 2), edges, pitch / 2)
    at = _add(at, grid[ground.stone(grid)], pitch / 2)
    return at, tuple(_near_edge(at, edge, EDGE) for edge in ground.edges)


def _along_edge(edge: Array, pitch: float) -> Array:
    """Places along an edge (k,2), about one a stone."""
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(edge, axis=0).T))])
    count = max(round(run[-1] / pitch), 1)
    s = (np.arange(count) + 0.5) * run[-1] / count
    return np.column_stack([np.interp(s, run, edge[:, 0]), np.interp(s, run, edge[:, 1])])


def _add(there: Array, more: Array, apart: float) -> Array:
    """Add those places that lie well apart from what is there."""
    if len(there) and len(more):
        away = more[:, None] - there
        more = more[np.square(away).sum(-1).min(axis=1) > apart**2]
    return np.concatenate([there, more])


def _near_edge(at: Array, edge: Array, within: float) -> NDArray[np.bool_]:
    a, run = edge[:-1], np.diff(edge, axis=0)
    share = np.clip(((at[:, None] - a) * run).sum(-1) / np.maximum((run * run).sum(-1), 1e-12), 0, 1)
    gap = at[:, None] - (a + share[..., None] * run)
    return np.asarray(np.hypot(gap[..., 0], gap[..., 1]).min(axis=1) <= within)


def bounds_of(drops: DropsRead, on_side: tuple[NDArray[np.bool_], ...], count: int) -> Bounds:
    """What was seen in looking for the extremes: no place stands over the highest, none of a side under its lowest edge."""
    above: list[int] = []
    below: list[int] = []
    if drops.highest is not None:
        others = [k for k in range(count) if k != drops.highest]
        above += [drops.highest] * len(others)
        below += others
    for low, side in zip(drops.lowest, on_side, strict=True):
        if low is not None:
            others = [int(k) for k in np.flatnonzero(side) if k != low]
            above += others
            below += [low] * len(others)
    return Bounds(np.array(above, dtype=np.intp), np.array(below, dtype=np.intp), EYE)
