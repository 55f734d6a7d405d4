"""The gap between soffit boards and stone: how wide, where, what packs it and where only mortar closes it."""

from __future__ import annotations

from itertools import pairwise
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.model import CapDesign
from crownwright.form.model import Gap
from crownwright.form.pinwheel import Ring
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.survey.model import Survey

Array = NDArray[np.float64]
STONE = 10 * INCH
"""Length over which a face goes with one stone: stations nearer than this are not independent (stones of 6 to 14 in.)."""
_NORMAL = NormalDist()


def gaps_of(survey: Survey, cap: CapDesign, reach: list[float], pack_most: float) -> tuple[Gap, ...]:
    """The gap along each side, from the stations of the stone's face.

    ``reach`` (m): how far in each soffit board's inner edge lies. A side of the form that no side of the stone faces (a stone of
    other than four corners) has the nearest points of the stone as its stations.
    """
    form = Ring(cap.corners)
    made = []
    for i, points in enumerate(_facing(survey, form)):
        at = survey.outline.face[points] - form.corners[i]
        x = at @ form.along[i]
        order = np.argsort(x, kind="stable")
        x, width, sd = x[order], (-(at @ form.normal[i]) - reach[i])[order], survey.outline.face_sd[points][order]
        made.append(_gap(cap.sides[i].name, x, width, sd, pack_most))
    return tuple(made)


def narrowest_gaps(corners: Array, reach: list[float] | Array, outline: Array) -> Array:
    """Least gap (n,) between each soffit board and a given outline (m,2) of stone; negative: the stone stands in its way.

    For judging a form on another outline than the surveyed one (the true one, once it is known).

    >>> square = np.array([(0, 0), (10, 0), (10, 10), (0, 10.0)])
    >>> narrowest_gaps(square, [2, 2, 2, 2], np.array([(3, 3), (7.5, 3), (7.5, 7), (3, 8.5)])).tolist()
    [1.0, 0.5, -0.5, 1.0]
    """
    normal = Ring(np.asarray(corners, dtype=float)).normal
    inward = -np.einsum("nmk,nk->nm", outline[None] - corners[:, None], normal)
    return np.asarray(inward.min(1) - np.asarray(reach))


def _facing(survey: Survey, form: Ring) -> list[NDArray[np.intp]]:
    face, side = survey.outline.face, survey.outline.side
    count = len(survey.corners)
    rows = [np.flatnonzero(side == k) for k in range(count)]
    rows = [np.append(r, (r[-1] + 1) % len(face)) for r in rows]
    if count == 4:
        return rows
    turned_to = (Ring(survey.corners).normal @ form.normal.T).argmax(1)
    nearest = [np.array([(face @ n).argmax()]) for n in form.normal]
    return [np.concatenate([rows[k] for k in np.flatnonzero(turned_to == i)] or [nearest[i]]).astype(np.intp) for i in range(4)]


def _gap(name: str, x: Array, width: Array, sd: Array, pack_most: float) -> Gap:
    worst, least = int(np.argmax(width)), int(np.argmin(width))
    bed = _beyond(x, width, sd, pack_most)
    wide = tuple((float(a), float(b)) for a, b in _stretches(x, width - pack_most))
    widest, narrowest = (Uncertain(float(width[k]), float(sd[k])) for k in (worst, least))
    return Gap(name, x, width, sd, widest, narrowest, wide, bed)


def _beyond(x: Array, width: Array, sd: Array, limit: float) -> Uncertain:
    """Area of the gap where it is wider than ``limit``, as expected from every station's spread.

    A station's width is normal; what it adds is E[w; w > limit] = mu Phi(z) + sd phi(z), z = (mu - limit)/sd.
    """
    spread = np.maximum(sd, 1e-9)
    z = (width - limit) / spread
    over = np.array([_NORMAL.cdf(v) for v in z])
    dense = np.exp(-(z**2) / 2) / np.sqrt(2 * np.pi)
    mean = width * over + spread * dense
    square = (width**2 + spread**2) * over + spread * (width + limit) * dense
    run = _lengths(x)
    alike = max(STONE / max(float(run.mean()), 1e-9), 1.0)
    variance = float((run**2 * np.maximum(square - mean**2, 0.0)).sum()) * min(alike, len(x))
    return Uncertain(float(run @ np.maximum(mean, 0.0)), variance**0.5)


def _lengths(x: Array) -> Array:
    """Length of side that each station stands for: half way to its neighbours."""
    half = np.diff(x) / 2
    run = np.zeros(len(x))
    run[:-1] += half
    run[1:] += half
    return run


def _stretches(x: Array, over: Array) -> list[tuple[float, float]]:
    """Stretches of x where the line through ``over`` is positive."""
    found: list[tuple[float, float]] = []
    for (x0, y0), (x1, y1) in pairwise(zip(x.tolist(), over.tolist(), strict=True)):
        if y0 <= 0 and y1 <= 0:
            continue
        cross = x0 + (x1 - x0) * y0 / (y0 - y1) if (y0 > 0) != (y1 > 0) else 0.0
        start, end = (x0 if y0 > 0 else cross), (x1 if y1 > 0 else cross)
        if found and abs(found[-1][1] - start) < 1e-9:
            found[-1] = (found[-1][0], end)
        else:
            found.append((start, end))
    return found
