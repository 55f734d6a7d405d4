"""Joinery of a ring of boards, from the corners of the ring and their true angles: pinwheel butts and mitres.

In a pinwheel every board butts the one before it and runs past for the one after it. The ring may have any number of corners
from three up, counter-clockwise, convex; angles are the inside ones. Lengths in m, angles in rad.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import pi, sin, tan

import numpy as np
from numpy.typing import NDArray

from crownwright.geometry.polygon import signed_area

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Ring:
    """Corners (n,2) of a convex ring, counter-clockwise, with what follows from them worked out once.

    >>> triangle = Ring(np.array([(0, 0), (1, 0), (0, 1.0)]))
    >>> [round(float(a), 6) for a in triangle.angles / pi], round(triangle.perimeter, 3)
    ([0.5, 0.25, 0.25], 3.414)
    """

    corners: Array

    @cached_property
    def run(self) -> Array:
        """From each corner to the next (n,2)."""
        return following(self.corners) - self.corners

    @cached_property
    def lengths(self) -> Array:
        """Length (n,) of each side."""
        return np.asarray(np.hypot(self.run[:, 0], self.run[:, 1]))

    @cached_property
    def along(self) -> Array:
        """Unit vectors (n,2) along the sides."""
        return np.asarray(self.run / self.lengths[:, None])

    @cached_property
    def normal(self) -> Array:
        """Unit vectors (n,2) square out of the sides."""
        return np.asarray(self.along[:, ::-1] * (1.0, -1.0))

    @cached_property
    def angles(self) -> Array:
        """Inside angle (n,) at each corner."""
        before = preceding(self.along)
        cross = before[:, 0] * self.along[:, 1] - before[:, 1] * self.along[:, 0]
        return np.asarray(pi - np.arctan2(cross, (before * self.along).sum(1)))

    @cached_property
    def sines(self) -> Array:
        """Sine (n,) of the inside angles."""
        return np.asarray(np.sin(self.angles))

    @cached_property
    def perimeter(self) -> float:
        """Length round."""
        return float(self.lengths.sum())

    @cached_property
    def area(self) -> float:
        """Area inside."""
        return signed_area(self.corners)

    def moved_out(self, out: Sequence[float] | Array | float) -> Ring:
        """The ring whose sides stand ``out`` (n,) outside these (negative: inside), each by its own amount.

        >>> Ring(np.array([(0, 0), (4, 0), (4, 3), (0, 3.0)])).moved_out([1, 2, 0, 0]).corners.tolist()
        [[0.0, -1.0], [6.0, -1.0], [6.0, 3.0], [0.0, 3.0]]
        """
        by = np.zeros(len(self.corners)) + out
        # A corner slides along either side by what the other side moves, over the sine of the angle between them.
        own = (by / self.sines)[:, None] * preceding(self.along)
        return Ring(self.corners + own - (preceding(by) / self.sines)[:, None] * self.along)

    def pinwheel(self, widths: Sequence[float] | Array, horn: float) -> Array:
        """Footprints (n,4,2) of a pinwheel of boards round the ring, inner edge of board i on side i.

        ``widths`` (n,) of the boards, square out of their sides; ``horn`` runs on beyond what the joint needs. Points of each,
        counter-clockwise: outer edge from its butt to its far end, inner edge back to its corner. The far end is square.

        >>> Ring(np.array([(0, 0), (4, 0), (4, 3), (0, 3.0)])).pinwheel((1, 1, 1, 1), 0.5)[0].tolist()
        [[0.0, -1.0], [5.5, -1.0], [5.5, 0.0], [0.0, 0.0]]
        """
        w = np.asarray(widths, dtype=float)
        butt = self.corners + (w / self.sines)[:, None] * preceding(self.along)  # covered by the board before it
        far = following(butt) + horn * self.along
        return np.stack([butt, far + w[:, None] * self.normal, far, self.corners], axis=1)

    def pinwheel_lengths(self, widths: Sequence[float] | Array, horn: float) -> Array:
        """Length (n,) of each board along its inner edge: s + t/sin(angle) + horn, with t and the angle of the next board.

        >>> Ring(np.array([(0, 0), (40, 0), (40, 40), (0, 40.0)])).pinwheel_lengths((1.5,) * 4, 0.0).tolist()
        [41.5, 41.5, 41.5, 41.5]
        """
        return np.asarray(self.lengths + following(np.asarray(widths, dtype=float) / self.sines) + horn)


def following(rows: Array) -> Array:
    """Row i of the answer is row i + 1, the last one the first."""
    return np.concatenate((rows[1:], rows[:1]))


def preceding(rows: Array) -> Array:
    """Row i of the answer is row i - 1, the first one the last."""
    return np.concatenate((rows[-1:], rows[:-1]))


def run_past(thickness: float, angle: float) -> float:
    """How far past the inside corner a board must run to cover the end of the next one: t / sin(angle).

    ``thickness`` of the next board, ``angle`` inside at that corner.

    >>> round(run_past(1.5, pi / 2), 4), round(run_past(1.5, 88 * pi / 180), 4)
    (1.5, 1.5009)
    """
    return thickness / sin(angle)


def butt_gap(thickness: float, angle: float, cut_for: float = pi / 2) -> float:
    """Widest gap of a butt whose end was cut for ``cut_for`` and meets at ``angle``: t |cot(angle) - cot(cut for)|.

    ``thickness`` is how deep the butting end is, measured square to its board: the thickness of a board on edge, the width of one
    lying flat.

    >>> round(butt_gap(1.5, 88 * pi / 180), 3), round(butt_gap(1.5, 95 * pi / 180), 3)
    (0.052, 0.131)
    """
    return thickness * abs(1 / tan(angle) - 1 / tan(cut_for))


def bevel(angle: float) -> float:
    """Saw setting from square for an end that butts at an inside ``angle``: 90 degrees less the angle, whichever way."""
    return abs(pi / 2 - angle)


def mitre_setting(angle: float) -> float:
    """Saw setting from square for the mitre of an inside ``angle``: 90 degrees less half of it.

    >>> round(mitre_setting(pi / 2) * 180 / pi, 6)
    45.0
    """
    return pi / 2 - angle / 2


def mitre_loss(width: float, angle: float) -> float:
    """How much shorter than its outer edge the inner edge of a mitred moulding is, at one end: width / tan(angle/2).

    >>> [round(mitre_loss(0.75, a * pi / 180), 3) for a in (90, 88, 92)]
    [0.75, 0.777, 0.724]
    """
    return width / tan(angle / 2)


def mitre_gap(width: float, angle: float, cut_for: float = pi / 2) -> float:
    """Widest gap of a mitre cut for ``cut_for`` and closed to ``angle``: twice its face times the sine of half the difference.

    >>> round(mitre_gap(0.75, 88 * pi / 180), 3)
    0.037
    """
    return 2 * width / sin(cut_for / 2) * abs(sin((cut_for - angle) / 2))
