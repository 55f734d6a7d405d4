"""Washes worth trying on a cap: a bench at one level round the flues, from it a fall to the edges, over it a crown.

The hipped ones have a straight ridge, along the cap or across, that runs through every flue: from flue to flue it stands as high
over the bench as half the bench is wide, so that between the flues too the wash falls as it should. It is the upper hull of the
edge, the bench and the ridge. Where a flue stands far from one end, a level ring would have to stand as high as that end is far;
the bench may be drawn out towards the ends instead. Then the ridge runs on as on a hipped roof, and the wash is no higher than
its half width asks.

Where flues stand staggered, no straight ridge runs through them all. Then each two neighbours (those a shortest tree over the
flues joins) get a roof of their own, crowned over the hull of their two joints, and the wash is the highest of these.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.wash import SAME, Wash, shape
from crownwright.geometry.envelope import facets, heights, profile
from crownwright.geometry.hull import convex_hull, support

Array = NDArray[np.float64]
Way = Literal["along", "across"]

WAYS: tuple[Way, Way] = ("along", "across")
HAIR = 1e-3  # m; rings are kept that far inside the cap, so that a flue read outside it stops nothing


def washes(length: float, width: float, rings: Sequence[Array]) -> list[Wash]:
    """Every shape worth trying on a cap of ``length`` by ``width`` (m), for the joints' outlines ``rings`` in the cap's frame."""
    made = [_hipped(length, width, rings, way, drawn) for way in WAYS for drawn in (False, True)]
    return [wash for wash in made if wash is not None] or [_staggered(length, width, rings)]


def _hipped(length: float, width: float, rings: Sequence[Array], way: Way, drawn: bool) -> Wash | None:
    """The wash with its ridge along or across; None where no straight ridge that way runs through every flue."""
    turned = way == "across"
    found = _roof(width, length, [ring[:, ::-1] for ring in rings], drawn) if turned else _roof(length, width, rings, drawn)
    if found is None:
        return None
    planes, crest, bench = found
    name = f"ridge {way} the cap, drawn out to hips at its ends" if drawn else f"level ring round the flues, ridge {way} the cap"
    return shape(name, (planes[:, [1, 0, 2]] if turned else planes,), list(rings), crest, bench)


def _roof(length: float, width: float, rings: Sequence[Array], drawn: bool) -> tuple[Array, float, float] | None:
    """Planes (k,3), crest and bench of a hipped wash with its ridge along u."""
    spans = _spans(rings, length, width)
    (u0, u1), (v0, v1) = _box(spans)
    ridge = _ridge(spans[:, 1], (v0 + v1) / 2)
    if ridge is None:
        return None
    bench = max(v0, width - v1) if drawn else max(u0, length - u1, v0, width - v1)
    if drawn:
        u0, u1 = min(u0, bench), max(u1, length - bench)
    crest = bench + max(ridge - v0, v1 - ridge)
    # the ends of the ridge: 1 in 1 from the bench, but never past the middle of the first and the last flue, or water would
    # run down the end against the flue's back
    middles = spans[:, 0].mean(1) if len(rings) else np.array([length / 2])
    start, end = min(u0 + crest - bench, float(middles.min())), max(u1 - crest + bench, float(middles.max()))
    if start > end:
        start = end = (start + end) / 2
    along = profile([(0, 0), (u0, bench), (start, crest), (end, crest), (u1, bench), (length, 0)])
    across = profile([(0, 0), (v0, bench), (ridge, crest), (v1, bench), (width, 0)])
    return np.array([(a, 0.0, c) for a, c in along] + [(0.0, b, c) for b, c in across]), crest, bench


def _spans(rings: Sequence[Array], length: float, width: float) -> Array:
    """Extent (f,2,2) of each ring: (u or v, from and to), kept a hair inside the cap; the cap's middle where there is none."""
    if not len(rings):
        return np.array([[[length / 2] * 2, [width / 2] * 2]])
    spans = np.array([np.stack([ring.min(0), ring.max(0)], axis=-1) for ring in rings])
    return np.stack([np.clip(spans[:, 0], HAIR, length - HAIR), np.clip(spans[:, 1], HAIR, width - HAIR)], axis=1)


def _box(spans: Array) -> tuple[tuple[float, float], tuple[float, float]]:
    low, high = spans[:, :, 0].min(0), spans[:, :, 1].max(0)
    return (float(low[0]), float(high[0])), (float(low[1]), float(high[1]))


def _ridge(across: Array, middle: float) -> float | None:
    """Where the ridge runs, as near the bench's middle as every flue lets it: well inside each; None where that cannot be."""
    inset = (across[:, 1] - across[:, 0]) / 4
    low, high = float((across[:, 0] + inset).max()), float((across[:, 1] - inset).min())
    return None if low > high else float(np.clip(middle, low, high))


def _staggered(length: float, width: float, rings: Sequence[Array]) -> Wash:
    """The highest of one roof for each two neighbours: a frustum from the edge to the hull of their joints, crowned at 1 in 1."""
    outer = np.array([(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)])
    inside = [np.clip(_coarse(ring), HAIR, np.array([length, width]) - HAIR) for ring in rings]
    hulls = [convex_hull(np.vstack([inside[i], inside[j]])) for i, j in neighbours([ring.mean(0) for ring in inside])]
    # one bench for all, or water would run from the higher against the flues of the lower
    bench = max(float(_room(outer, hull)[1].max()) for hull in hulls)
    roofs = tuple(_crowned(outer, hull, bench) for hull in hulls)
    crest = max(float(heights(planes, region).max()) for planes in roofs for _, region in facets(planes, outer))
    return shape("level ring round the flues, crowned between them", roofs, list(rings), crest, bench)


def _crowned(outer: Array, hull: Array, bench: float) -> Array:
    """Planes (k,3) of the frustum from ``outer`` up to a ``hull`` at the bench, and of the crown over the hull."""
    normals, room = _room(outer, hull)
    rise, crown = bench / room, _normals(hull)
    frustum = np.column_stack([-normals * rise[:, None], support(outer, normals) * rise])
    planes = np.vstack([frustum, np.column_stack([-crown, support(hull, crown) + bench])])
    _, first = np.unique(np.round(planes / SAME), axis=0, return_index=True)  # a side of the hull may lie along the cap's
    return np.asarray(planes[np.sort(first)])


def _room(outer: Array, hull: Array) -> tuple[Array, Array]:
    """Normals (n,2) of the sides of both polygons, and how far apart the two lie in each (n,)."""
    normals = np.vstack([_normals(outer), _normals(hull)])
    return normals, support(outer, normals) - support(hull, normals)


def neighbours(points: Sequence[Array]) -> list[tuple[int, int]]:
    """Pairs that a shortest tree over the points joins (Prim, 1957).

    >>> neighbours([np.array(p) for p in ((0.0, 0.0), (5.0, 0.0), (1.0, 0.0))])
    [(0, 2), (2, 1)]
    """
    joined, left, pairs = [0], set(range(1, len(points))), []
    while left:
        _, i, j = min((float(np.linalg.norm(points[i] - points[j])), i, j) for i in joined for j in left)
        pairs.append((i, j))
        joined.append(j)
        left.remove(j)
    return pairs


def _coarse(ring: Array) -> Array:
    """A ring of few corners that holds it: a round one's circumscribed octagon, so that the wash has few facets."""
    if len(ring) <= 8:
        return ring
    middle, t = ring.mean(0), np.arange(8) * np.pi / 4 + np.pi / 8
    reach = np.linalg.norm(ring - middle, axis=1).max() / np.cos(np.pi / 8)
    return np.asarray(middle + reach * np.column_stack([np.cos(t), np.sin(t)]))


def _normals(ring: Array) -> Array:
    """Outward unit normals (n,2) of the sides of a convex ring, counter-clockwise."""
    run = np.roll(ring, -1, axis=0) - ring
    return np.asarray(np.column_stack([run[:, 1], -run[:, 0]]) / np.linalg.norm(run, axis=1)[:, None])
