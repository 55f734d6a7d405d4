"""Pictures of upright solids as seen from above one corner (isometric projection), with hidden lines left out.

Every face is a plane polygon. A face is hidden where another one lies nearer on the same line of sight; bodies that do not run
into each other never swap places inside the stretch where their faces overlap, so one look at its middle settles each pair.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import cos, pi, sin

import numpy as np
import shapely
from numpy.typing import NDArray

from crownwright.sheets.draw.layers import BOARD, Layer
from crownwright.sheets.draw.shapes import Fill, Polygon, Shape

Array = NDArray[np.float64]
_COS, _SIN = cos(pi / 6), sin(pi / 6)
_SIGHT = np.array([1.0, 1.0, -1.0])  # away from the eye, which stands low x, low y and high
_TURNS_LITTLE = cos(pi / 4)
_GRAIN = 1e-6  # m; everything is snapped to it, so that faces that touch meet exactly


@dataclass(frozen=True, slots=True)
class Upright:
    """A solid with plumb sides: ``footprint`` (n,2) counter-clockwise, from ``bottom`` to ``top``. ``tops`` false leaves its top
    and bottom out (a band). ``hollow`` is drawn on its top, dark. ``rounded`` leaves out the plumb edges where its sides turn
    little.
    """

    footprint: Array
    bottom: float
    top: float
    layer: Layer = BOARD
    fill: Fill = "white"
    title: str = ""
    tops: bool = True
    hollow: Array | None = None
    rounded: bool = False


@dataclass(frozen=True, slots=True)
class _Face:
    corners: Array  # (n,3)
    normal: Array  # (3,)
    layer: Layer
    fill: Fill
    title: str
    group: int  # visible parts of one group are drawn as one


def turned(points: Array, middle: Array, quarter_turns: int) -> Array:
    """Return plan points (n,2) turned about a middle, to look at another corner."""
    for _ in range(quarter_turns % 4):
        points = np.column_stack((-(points - middle)[:, 1], (points - middle)[:, 0])) + middle
    return points


def picture(solids: Iterable[Upright]) -> Iterator[Shape]:
    """Yield the visible faces of solids, in the plane of the picture (m)."""
    faces = [face for i, solid in enumerate(solids) for face in _faces(solid, 1000 * i) if float(face.normal @ _SIGHT) < -1e-9]
    flat = np.array([shapely.set_precision(shapely.Polygon(_project(face.corners)), _GRAIN) for face in faces], dtype=object)
    hidden_by = _nearer(faces, flat)
    seen: dict[int, list[shapely.Geometry]] = {}
    for i, face in enumerate(faces):
        cover = shapely.union_all(flat[hidden_by[i]]) if hidden_by[i] else shapely.Polygon()
        seen.setdefault(face.group, []).append(shapely.difference(flat[i], cover, grid_size=_GRAIN))
    look = {face.group: face for face in faces}
    for group, parts in seen.items():
        yield from _drawn(shapely.union_all(parts, grid_size=_GRAIN) if len(parts) > 1 else parts[0], look[group])


def _drawn(seen: shapely.Geometry, face: _Face) -> Iterator[Shape]:
    for part in shapely.get_parts(seen):
        if isinstance(part, shapely.Polygon) and part.area > 1e-7:
            rings = [tuple((float(x), float(y)) for x, y in ring.coords[:-1]) for ring in (part.exterior, *part.interiors)]
            yield Polygon(face.layer, rings[0], tuple(rings[1:]), fill=face.fill, title=face.title)


def _project(points: Array) -> Array:
    """Plane of the picture: x runs right and up, y left and up, z up."""
    x, y, z = points[:, 0], points[:, 1], points[:, 2]
    return np.column_stack(((x - y) * _COS, (x + y) * _SIN + z))


def _faces(solid: Upright, group: int) -> Iterator[_Face]:
    """Faces of a solid; ``group`` is the first of the thousand group numbers it may use."""
    ring = solid.footprint if shapely.Polygon(solid.footprint).exterior.is_ccw else solid.footprint[::-1]
    look = solid.layer, solid.fill, solid.title
    normals = np.roll(ring, -1, axis=0) - ring
    normals = np.column_stack((normals[:, 1], -normals[:, 0], np.zeros(len(ring)))) / np.hypot(*normals.T)[:, None]
    for i, (a, b) in enumerate(zip(ring, np.roll(ring, -1, axis=0), strict=True)):
        if not (solid.rounded and i and normals[i] @ normals[i - 1] > _TURNS_LITTLE):
            group += 1
        corners = np.array([[*a, solid.bottom], [*b, solid.bottom], [*b, solid.top], [*a, solid.top]])
        yield _Face(corners, normals[i], *look, group)
    up = np.array([0.0, 0.0, 1.0])
    if solid.tops:
        yield _Face(np.column_stack((ring, np.full(len(ring), solid.top))), up, *look, group + 1)
    if solid.hollow is not None:
        lid = np.column_stack((solid.hollow, np.full(len(solid.hollow), solid.top + 1e-5)))
        yield _Face(lid, up, solid.layer, "grey", solid.title, group + 2)


def _depth(face: _Face, at: Array) -> float:
    """How far along the sight a face's plane is met at a place of the picture."""
    start = np.array([at[0] / (2 * _COS), -at[0] / (2 * _COS), at[1]])
    return float(face.normal @ (face.corners[0] - start) / (face.normal @ _SIGHT))


def _nearer(faces: list[_Face], flat: NDArray[np.object_]) -> list[list[int]]:
    """For each face, the faces that hide part of it."""
    hidden_by: list[list[int]] = [[] for _ in faces]
    if not faces:
        return hidden_by
    first, second = shapely.STRtree(flat).query(flat, predicate="intersects")
    once = first < second
    first, second = first[once], second[once]
    shared = shapely.intersection(flat[first], flat[second])
    large = shapely.area(shared) > 1e-9
    spots = shapely.get_coordinates(shapely.point_on_surface(shared[large]))
    for i, j, spot in zip(first[large], second[large], spots, strict=True):
        gap = _depth(faces[i], spot) - _depth(faces[j], spot)
        if gap > _GRAIN:
            hidden_by[i].append(int(j))
        elif gap < -_GRAIN:
            hidden_by[j].append(int(i))
    return hidden_by
