"""The shape of the wash: a hipped roof of planes whose ridge runs through the flues.

Heights here are in lengths of run: a wash of fall t (rise over run) stands t times as high. Every plane falls at 1 or steeper,
and the wash is the least of the planes. So it is concave, and has no hollow; no facet is flatter than t; and round the flues:
a bench at one level stands round them all (the ring), from it the wash falls to the edges; over the bench a ridge runs from flue
to flue, as high as half the bench is wide, so that between the flues too it falls at t. It is the upper hull of the edge, the
bench and the ridge.

Where no straight ridge along or across runs through every flue (they stand staggered), the bench is the hull of their joints and
its crown falls to the hull's own sides.

Where a flue stands far from one end, a level ring would have to stand as high as that end is far. The bench may be drawn out
towards the ends instead: then the ridge runs on as on a hipped roof, and the wash is no higher than its half width asks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from crownwright.geometry.envelope import facets, heights, profile
from crownwright.geometry.hull import convex_hull, support

Array = NDArray[np.float64]
Way = Literal["along", "across"]
WAYS: tuple[Way, Way] = ("along", "across")


@dataclass(frozen=True, slots=True)
class Wash:
    """One shape: ``planes`` (k,3) over the cap's own frame; ``low`` and ``high`` (f,) where it meets each flue's joint;
    ``crest`` its highest; ``bench`` the level of the ring, ``name`` in words. All heights in lengths of run.
    """

    name: str
    planes: Array
    low: Array
    high: Array
    crest: float
    bench: float


def washes(length: float, width: float, rings: Sequence[Array]) -> list[Wash]:
    """Every shape worth trying on a cap of ``length`` by ``width`` (m), for the joints' outlines ``rings`` in the cap's frame."""
    made = [_hipped(length, width, rings, way, drawn) for way in WAYS for drawn in (False, True)]
    return [wash for wash in made if wash is not None] or [_staggered(length, width, rings)]


def _hipped(length: float, width: float, rings: Sequence[Array], way: Way, drawn: bool) -> Wash | None:
    """The wash with its ridge along or across; None where no straight ridge that way runs through every flue."""
    if way == "across":
        turned = _hipped(width, length, [ring[:, ::-1] for ring in rings], "along", drawn)
        return None if turned is None else _named(turned.planes[:, [1, 0, 2]], rings, turned.crest, turned.bench, way, drawn)
    spans = _spans(rings, length, width)
    ridge = _ridge(spans[:, 1], _box(spans)[1])
    if ridge is None:
        return None
    (u0, u1), (v0, v1) = _box(spans)
    bench = max(v0, width - v1) if drawn else max(u0, length - u1, v0, width - v1)
    if drawn:
        u0, u1 = min(u0, bench), max(u1, length - bench)
    crest = bench + max(ridge - v0, v1 - ridge)
    # the ends of the ridge: 1 in 1 from the bench, but never past the middle of the first and the last flue, or water would
    # run down the end against the flue's back
    middles = spans[:, 0].mean(1) if len(rings) else np.array([length / 2])
    start = min(u0 + crest - bench, middles.min())
    end = max(u1 - crest + bench, middles.max())
    if start > end:
        start = end = (start + end) / 2
    along = profile([(0, 0), (u0, bench), (start, crest), (end, crest), (u1, bench), (length, 0)])
    across = profile([(0, 0), (v0, bench), (ridge, crest), (v1, bench), (width, 0)])
    planes = np.array([(a, 0.0, c) for a, c in along] + [(0.0, b, c) for b, c in across])
    return _named(planes, rings, crest, bench, way, drawn)


def _staggered(length: float, width: float, rings: Sequence[Array]) -> Wash:
    """The wash round flues that stand staggered: a frustum from the edge up to the hull of the joints, crowned at 1 in 1."""
    outer = np.array([(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)])
    hull = convex_hull(np.clip(np.vstack([_coarse(ring) for ring in rings]), 1e-3, np.array([length, width]) - 1e-3))
    normals = np.vstack([_normals(outer), _normals(hull)])
    reach, inner = support(outer, normals), support(hull, normals)
    bench = float((reach - inner).max())
    rise = bench / (reach - inner)
    crown = _normals(hull)
    planes = np.vstack(
        [
            np.column_stack([-normals * rise[:, None], reach * rise]),
            np.column_stack([-crown, support(hull, crown) + bench]),
        ]
    )
    crest = max(float(z) for _, region in facets(planes, outer) for z in heights(planes, region))
    low = np.array([heights(planes, ring).min() for ring in rings])
    high = np.array([highest_on(planes, ring) for ring in rings])
    return Wash("level ring round the flues, crowned between them", planes, low, high, crest, bench)


def _coarse(ring: Array) -> Array:
    """A ring of few corners that holds it: a round one's circumscribed octagon, so that the wash has few facets."""
    if len(ring) <= 8:
        return ring
    middle = ring.mean(0)
    t = np.arange(8) * np.pi / 4 + np.pi / 8
    return np.asarray(
        middle + np.linalg.norm(ring - middle, axis=1).max() / np.cos(np.pi / 8) * np.column_stack([np.cos(t), np.sin(t)])
    )


def _normals(ring: Array) -> Array:
    """Outward unit normals (n,2) of the sides of a convex ring, counter-clockwise."""
    run = np.roll(ring, -1, axis=0) - ring
    return np.asarray(np.column_stack([run[:, 1], -run[:, 0]]) / np.linalg.norm(run, axis=1)[:, None])


def _spans(rings: Sequence[Array], length: float, width: float) -> Array:
    """Extent (f,2,2) of each ring: (u or v, from and to), kept a hair inside the cap; the cap's middle where there is none."""
    if not len(rings):
        return np.array([[[length / 2] * 2, [width / 2] * 2]])
    spans = np.array([np.stack([ring.min(0), ring.max(0)], axis=-1) for ring in rings])
    hair = 1e-3
    return np.stack([np.clip(spans[:, 0], hair, length - hair), np.clip(spans[:, 1], hair, width - hair)], axis=1)


def _box(spans: Array) -> tuple[tuple[float, float], tuple[float, float]]:
    low, high = spans[:, :, 0].min(0), spans[:, :, 1].max(0)
    return (float(low[0]), float(high[0])), (float(low[1]), float(high[1]))


def _ridge(across: Array, box: tuple[float, float]) -> float | None:
    """Where the ridge runs, as near the bench's middle as every flue lets it: well inside each; None where that cannot be."""
    inset = (across[:, 1] - across[:, 0]) / 4
    low, high = float((across[:, 0] + inset).max()), float((across[:, 1] - inset).min())
    return None if low > high else float(np.clip(sum(box) / 2, low, high))


def _named(planes: Array, rings: Sequence[Array], crest: float, bench: float, way: Way, drawn: bool) -> Wash:
    name = f"ridge {way} the cap, drawn out to hips at its ends" if drawn else f"level ring round the flues, ridge {way} the cap"
    low = np.array([heights(planes, ring).min() for ring in rings])
    high = np.array([highest_on(planes, ring) for ring in rings])
    return Wash(name, planes, low, high, crest, bench)


def highest_on(planes: Array, ring: Array) -> float:
    """Highest of the envelope of ``planes`` along the closed ring (n,2): at a corner or where two planes cross on an edge."""
    start, run = ring, np.roll(ring, -1, axis=0) - ring
    rate = run @ planes[:, :2].T  # (n,k) how each plane rises along each edge
    level = start @ planes[:, :2].T + planes[:, 2]
    with np.errstate(divide="ignore", invalid="ignore"):
        at = (level[:, None, :] - level[:, :, None]) / (rate[:, :, None] - rate[:, None, :])
    edge, i, j = np.nonzero((at > 0) & (at < 1))
    crossings = start[edge] + at[edge, i, j][:, None] * run[edge]
    return float(heights(planes, np.vstack([ring, crossings])).max())
