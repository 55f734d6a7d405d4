"""The cap's own frame (origin at its first corner, x along its first side), and cuts through surfaces in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import dist

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.model import CapDesign, Surface
from crownwright.sheets.draw.shapes import Point
from crownwright.survey.model import Array


@dataclass(frozen=True, slots=True)
class Frame:
    """A frame in the survey's plane: its ``origin`` (2,) and ``axes`` (2,2), one unit vector a row."""

    origin: Array
    axes: Array

    def of(self, points: Array) -> Array:
        """Return survey points (n,2) in this frame."""
        return np.asarray((np.atleast_2d(points)[:, :2] - self.origin) @ self.axes.T)

    def point(self, point: Point | Array) -> Point:
        """Return one survey point in this frame."""
        x, y = self.of(np.asarray(point, float))[0]
        return float(x), float(y)

    def ring(self, points: Array) -> tuple[Point, ...]:
        """Return survey points (n,2) in this frame, as points."""
        return tuple(map(tuple, self.of(points).tolist()))

    def back(self, points: Array) -> Array:
        """Return points (n,2) of this frame in the survey's plane."""
        return np.asarray(np.atleast_2d(points) @ self.axes + self.origin)


def cap_frame(cap: CapDesign) -> Frame:
    """Return the frame of a cap: x along the side that faces AB, y to the inside."""
    run = cap.corners[1] - cap.corners[0]
    run = run / np.hypot(*run)
    return Frame(cap.corners[0], np.array([run, [-run[1], run[0]]]))


def creases(surface: Surface, least: float = 0.01) -> Iterator[tuple[Point, Point]]:
    """Yield the edges of a surface along which its slope changes (by more than ``least``, m/m), in plan, in the order of its
    triangles.
    """
    points, slopes = surface.points[:, :2].tolist(), steepest(surface).tolist()
    owner: dict[tuple[int, int], int] = {}
    for t, triangle in enumerate(surface.triangles.tolist()):
        for i in range(3):
            edge = (min(triangle[i], triangle[i - 1]), max(triangle[i], triangle[i - 1]))
            if edge in owner and dist(slopes[t], slopes[owner[edge]]) > least:
                yield tuple(points[edge[0]]), tuple(points[edge[1]])
            owner.setdefault(edge, t)


def _slopes(points: Array, triangles: NDArray[np.intp]) -> Array:
    """Gradient (t,2) of each triangle."""
    a, b, c = (points[triangles[:, i]] for i in range(3))
    normal = np.cross(b - a, c - a)
    return np.asarray(-normal[:, :2] / normal[:, 2:])


def steepest(surface: Surface) -> Array:
    """Return the gradient (t,2) of every triangle of a surface."""
    return _slopes(surface.points, surface.triangles)


def profile(surface: Surface, frame: Frame, across: int, at: float) -> tuple[tuple[Point, ...], ...]:
    """Cut a surface by the plane on which the frame's coordinate ``across`` (0 or 1) is ``at``.

    Returns runs of (distance along the other coordinate, height), left to right, one for each unbroken piece of the surface.
    """
    flat = frame.of(surface.points)
    u, v, z = flat[:, 1 - across], flat[:, across] - at, surface.points[:, 2]
    v = np.where(v == 0.0, 1e-12, v)  # a plane through a corner would cut it twice or not at all
    pieces = []
    for triangle in surface.triangles:
        cuts = []
        for i in range(3):
            p, q = triangle[i], triangle[i - 1]
            if v[p] * v[q] < 0:
                share = v[p] / (v[p] - v[q])
                cuts.append((float(u[p] + share * (u[q] - u[p])), float(z[p] + share * (z[q] - z[p]))))
        if len(cuts) == 2:
            pieces.append(tuple(sorted(cuts)))
    return tuple(_joined(sorted(pieces)))


def _joined(pieces: list[tuple[Point, ...]], gap: float = 1e-6) -> Iterator[tuple[Point, ...]]:
    """Join pieces that meet end to end."""
    run: list[Point] = []
    for start, end in pieces:
        if run and start[0] - run[-1][0] > gap:
            yield tuple(run)
            run = []
        run = [*run, end] if run else [start, end]
    if run:
        yield tuple(run)
