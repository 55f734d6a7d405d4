"""How much joint of a face has failed, from patches counted on it: the ratio estimator of survey sampling, with its spread."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from crownwright.quantity.uncertain import Uncertain

ALONE = 0.5
"""Relative standard error of a face on which one patch was counted and no other face tells more (a judgement)."""
_T = (12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160, 2.145, 2.131)
_Z = 1.960
Z_95 = 1.6449


@dataclass(frozen=True, slots=True)
class Patch:
    """One patch: its ``area``, m2, and ``length`` of what was counted in it, m."""

    area: float
    length: float


@dataclass(frozen=True, slots=True)
class Scatter:
    """How far one patch lies from its face's rate: ``relative`` standard deviation over several faces, with ``freedom``."""

    relative: float
    freedom: int


def widened(freedom: int) -> float:
    """Factor that makes two standard errors of a few patches hold as often as two of many: t over z at 97.5 %.

    Student's t by table to 15 degrees of freedom, beyond by z + (z3 + z)/(4 n) (Abramowitz & Stegun 26.7.5).

    >>> round(widened(5), 2), round(widened(40), 2)
    (1.31, 1.03)
    """
    if freedom <= len(_T):
        return _T[max(freedom, 1) - 1] / _Z
    return 1.0 + (_Z**2 + 1.0) / (4 * freedom)


def on_face(patches: Sequence[Patch], area: float, scatter: Scatter | None = None) -> Uncertain:
    """Length on a whole face of ``area`` (m2) from patches of it, m.

    T = A sum(y) / sum(a), and its variance A2 (1 - f) s2 / (n a_mean2), s2 = sum (y - R a)2 / (n - 1), f the share of the face
    that was counted (Cochran, Sampling Techniques, ratio estimator; from memory). The mean is all but unbiased. The standard
    error is `widened` for few patches, so that it may be taken as normal further on.

    ``scatter`` is that of patches over all faces; it is used where it knows more than the patches of this face alone. One patch
    and no scatter: `ALONE`. Raises ValueError without a patch.

    >>> whole = on_face([Patch(0.1, 0.4), Patch(0.1, 0.6), Patch(0.1, 0.5)], 3.0)
    >>> round(whole.mean, 6), round(whole.sd, 2)
    (15.0, 3.61)
    """
    if not patches:
        raise ValueError("a face without patches has no length")
    counted = sum(patch.area for patch in patches)
    rate = sum(patch.length for patch in patches) / counted
    left = max(1.0 - counted / area, 0.0) if area > 0 else 0.0
    count = len(patches)
    if scatter is not None and scatter.freedom > count - 1:
        return Uncertain(rate * area, rate * area * scatter.relative * sqrt(left / count) * widened(scatter.freedom))
    if count == 1:
        return Uncertain(rate * area, rate * area * ALONE * sqrt(left))
    s2 = sum((patch.length - rate * patch.area) ** 2 for patch in patches) / (count - 1)
    return Uncertain(rate * area, area * sqrt(left * s2 / count) / (counted / count) * widened(count - 1))


def none_on_face(patches: Sequence[Patch], area: float, most: float) -> Uncertain:
    """Length on a whole face none of whose patches had any, m: nothing, with the spread that so few patches leave.

    Of ``n`` patches without, at most 1 - 0.05^(1/n) of all have any, 19 in 20 times (Clopper & Pearson 1934, one-sided;
    nearly 3/n, the rule of three, Hanley & Lippman-Hand 1983; both from memory). A patch that has any is taken to have failed
    whole: ``most`` m is all joint there is on the face of ``area`` m2. The standard error is such that 1.645 of them reach that
    bound, for the part of the face that was not counted.

    >>> whole = none_on_face([Patch(0.1, 0.0)] * 10, 4.0, 60.0)
    >>> whole.mean, round(whole.quantile(0.95), 1)
    (0.0, 11.6)
    """
    left = max(1.0 - sum(patch.area for patch in patches) / area, 0.0) if area > 0 else 0.0
    return Uncertain(0.0, most_of_none(len(patches)) * most * left / Z_95)


def most_of_none(count: int) -> float:
    """Upper limit of a share, 95 %, when none of ``count`` had it.

    >>> round(most_of_none(10), 4), round(most_of_none(100) * 100 / 3, 2)
    (0.2589, 0.98)
    """
    return float(1 - 0.05 ** (1 / count))


def scatter_of(faces: Sequence[Sequence[Patch]]) -> Scatter | None:
    """Return the scatter of one patch about its face's rate, over all faces with two patches or more; None without any.

    >>> scatter_of([[Patch(0.1, 0.4), Patch(0.1, 0.6)], [Patch(0.1, 0.2)]]).freedom
    1
    """
    squares, freedom = 0.0, 0
    for patches in faces:
        counted, length = sum(p.area for p in patches), sum(p.length for p in patches)
        if len(patches) < 2 or length <= 0:
            continue
        mean = length / len(patches)
        rate = length / counted
        squares += sum(((p.length - rate * p.area) / mean) ** 2 for p in patches)
        freedom += len(patches) - 1
    return Scatter(sqrt(squares / freedom), freedom) if freedom else None


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
