"""The shape of the wash: a roof of planes, round the flues.

Heights here are in lengths of run: a wash of fall t (rise over run) stands t times as high. A roof is the least of its planes, so
it is concave and has no hollow; every plane falls at 1 or steeper, so no facet of the wash is flatter than t. Where flues stand
so that one roof cannot keep its crown over all of them, the wash is the highest of several roofs.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from crownwright.geometry.envelope import LEAST_AREA, clip, facets, heights
from crownwright.geometry.polygon import signed_area

Array = NDArray[np.float64]
SAME = 1e-9  # planes that differ by less are one plane


@dataclass(frozen=True, slots=True)
class Wash:
    """One shape: ``roofs``, each its planes (k,3) over the cap's own frame; ``low`` and ``high`` (f,) where it meets each flue's
    joint; ``crest`` its highest; ``bench`` the level of the ring round the flues, ``name`` in words. Heights in lengths of run.
    """

    name: str
    roofs: tuple[Array, ...]
    low: Array
    high: Array
    crest: float
    bench: float

    def run(self, points: Array) -> Array:
        """Height (n,) at points (n,2)."""
        return np.asarray(np.max([heights(planes, points) for planes in self.roofs], axis=0))

    def lowest_over(self, hull: Array) -> float:
        """A height that the wash nowhere goes under over a convex region with corners (k,2): of a roof, its lowest corner."""
        return max(float(heights(planes, hull).min()) for planes in self.roofs)

    def regions(self, outer: Array) -> list[Array]:
        """Corners (k,2) of each facet within a convex ``outer`` (n,2)."""
        each = [facets(planes, outer) for planes in self.roofs]
        if len(each) == 1:
            return [region for _, region in each[0]]
        found = []
        for own, planes in enumerate(self.roofs):
            pieces = each[own]
            for other, rivals in enumerate(self.roofs):
                if other != own:
                    pieces = [
                        (k, part)
                        for (k, region), (j, cover) in product(pieces, each[other])
                        if len(part := _over(region, cover, planes[k] - rivals[j], first=own < other)) >= 3
                    ]
            found += [region for _, region in pieces]
        return found


def shape(name: str, roofs: tuple[Array, ...], rings: tuple[Array, ...] | list[Array], crest: float, bench: float) -> Wash:
    """A wash of roofs, with where it meets each of ``rings`` (n,2)."""
    drawn = Wash(name, roofs, np.empty(0), np.empty(0), crest, bench)
    low = np.array([_lowest_on(drawn, ring) for ring in rings])
    high = np.array([max(highest_on(planes, ring) for planes in roofs) for ring in rings])
    return Wash(name, roofs, low, high, crest, bench)


def highest_on(planes: Array, ring: Array) -> float:
    """Highest of a roof of ``planes`` along the closed ring (n,2): at a corner or where two planes cross on an edge."""
    start, run = ring, np.roll(ring, -1, axis=0) - ring
    rate = run @ planes[:, :2].T  # (n,k) how each plane rises along each edge
    level = start @ planes[:, :2].T + planes[:, 2]
    with np.errstate(divide="ignore", invalid="ignore"):
        at = (level[:, None, :] - level[:, :, None]) / (rate[:, :, None] - rate[:, None, :])
    edge, i, j = np.nonzero((at > 0) & (at < 1))
    crossings = start[edge] + at[edge, i, j][:, None] * run[edge]
    return float(heights(planes, np.vstack([ring, crossings])).max())


def _lowest_on(wash: Wash, ring: Array) -> float:
    """Lowest along a ring: of one roof at a corner; where several meet, a valley may cross an edge, so it is sampled."""
    if len(wash.roofs) == 1:
        return float(heights(wash.roofs[0], ring).min())
    share = np.linspace(0, 1, 33)[:, None, None]
    return float(wash.run((ring + share * (np.roll(ring, -1, axis=0) - ring)).reshape(-1, 2)).min())


def _over(region: Array, cover: Array, more: Array, *, first: bool) -> Array:
    """Part of two convex regions (counter-clockwise) where the plane ``more`` (a, b, c) is not under zero.

    Where it is nothing at all, two roofs share a plane, and only the ``first`` has it.
    """
    none = np.empty((0, 2))
    if np.abs(more).max() < SAME and not first:
        return none
    part: list[list[float]] = region.tolist()
    for (x, y), (u, v) in zip(cover.tolist(), np.roll(cover, -1, axis=0).tolist(), strict=True):
        part = clip(part, v - y, x - u, (v - y) * x + (x - u) * y)
    if np.abs(more).max() >= SAME:
        part = clip(part, -float(more[0]), -float(more[1]), float(more[2]))
    kept = np.array(part) if len(part) >= 3 else none
    return kept if len(kept) and abs(signed_area(kept)) > LEAST_AREA else none
