"""How much joint of a face has failed, from patches counted on it: the ratio estimator of survey sampling, with its spread."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from crownwright.quantity.uncertain import Uncertain

ALONE = 0.5
"""Relative standard error of a face on which one patch was counted and no other face tells more (a judgement)."""


@dataclass(frozen=True, slots=True)
class Patch:
    """One patch: its ``area``, m2, and ``length`` of what was counted in it, m."""

    area: float
    length: float


def on_face(patches: Sequence[Patch], area: float, scatter: float | None = None) -> Uncertain:
    """Length on a whole face of ``area`` (m2) from patches of it, m.

    T = A sum(y) / sum(a), and its variance A2 (1 - f) s2 / (n a_mean2), s2 = sum (y - R a)2 / (n - 1), f the share of the face
    that was counted (Cochran, Sampling Techniques, ratio estimator; from memory). The mean is all but unbiased; the variance is
    the large-sample one and a little low for a few patches.

    ``scatter`` is the relative standard deviation of one patch from elsewhere, used where a single patch tells none
    (None: `ALONE`). Raises ValueError without a patch.

    >>> whole = on_face([Patch(0.1, 0.4), Patch(0.1, 0.6)], 2.0)
    >>> round(whole.mean, 6), round(whole.sd, 3)
    (10.0, 1.897)
    """
    if not patches:
        raise ValueError("a face without patches has no length")
    counted = sum(patch.area for patch in patches)
    rate = sum(patch.length for patch in patches) / counted
    left = max(1.0 - counted / area, 0.0) if area > 0 else 0.0
    if len(patches) == 1:
        return Uncertain(rate * area, rate * area * (ALONE if scatter is None else scatter) * sqrt(left))
    s2 = sum((patch.length - rate * patch.area) ** 2 for patch in patches) / (len(patches) - 1)
    mean_area = counted / len(patches)
    return Uncertain(rate * area, area * sqrt(left * s2 / len(patches)) / mean_area)


def scatter_of(faces: Sequence[Sequence[Patch]]) -> float | None:
    """Relative standard deviation of one patch about its face's rate, over all faces with two patches or more; None without any.

    >>> round(scatter_of([[Patch(0.1, 0.4), Patch(0.1, 0.6)], [Patch(0.1, 0.2)]]), 3)
    0.283
    """
    squares, freedom = 0.0, 0
    for patches in faces:
        counted, length = sum(p.area for p in patches), sum(p.length for p in patches)
        if len(patches) < 2 or length <= 0:
            continue
        rate = length / counted
        squares += sum(((p.length - rate * p.area) / (rate * p.area)) ** 2 for p in patches)
        freedom += len(patches) - 1
    return sqrt(squares / freedom) if freedom else None


def mean_of(values: Sequence[float], alone: float) -> Uncertain:
    """Mean of readings with its standard error; ``alone`` is the relative one of a single reading.

    >>> mean_of([1.0, 3.0], 0.2)
    Uncertain(mean=2.0, sd=1.0)
    """
    mean = sum(values) / len(values)
    if len(values) == 1:
        return Uncertain(mean, alone * mean)
    s2 = sum((value - mean) ** 2 for value in values) / (len(values) - 1)
    return Uncertain(mean, sqrt(s2 / len(values)))
