"""Pictures of upright solids as seen from above one corner (isometric projection), with hidden lines left out.

Every face is a plane polygon. A face is hidden where another one lies nearer on the same line of sight; bodies that do not run
into each other never swap places inside the stretch where their faces overlap, so one look at its middle settles each pair.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
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
class Shell:
    """Plane faces of any slope, each (n,3) counter-clockwise seen from outside; ``groups`` (one number a face): faces of a group
    are drawn as one where they meet.
    """

    faces: tuple[Array, ...]
    groups: tuple[int, ...]
    layer: Layer = BOARD
    fill: Fill = "white"
    title: str = ""


@dataclass(frozen=True, slots=True)
class _Face:
    corners: Array  # (n,3)
    normal: Array  # (3,)
    layer: Layer
    fill: Fill
    title: str
    solid: int
    convex: bool
    group: int  # visible parts of one group of a solid are drawn as one


def picture(solids: Sequence[Upright | Shell]) -> Iterator[Shape]:
    """Yield the visible faces of solids, in the plane of the picture (m)."""
    for _, shape in scenes(solids, [range(len(solids))])[0]:
        yield shape


def scenes(solids: Sequence[Upright | Shell], sets: Sequence[Iterable[int]]) -> list[list[tuple[int, Polygon]]]:
    """Return a picture for each set of solids, sharing the work of finding what can hide what.

    ``sets`` holds numbers of ``solids``. Each picture is a list of (number of the solid, a visible face of it).
    """
    faces = [face for i, solid in enumerate(solids) for face in _all_faces(solid, i) if float(face.normal @ _SIGHT) < -1e-6]
    flat = np.array([shapely.set_precision(shapely.Polygon(_project(face.corners)), _GRAIN) for face in faces], dtype=object)
    parts = _Parts(faces, flat, _nearer(faces, flat))
    return [parts.scene(frozenset(shown)) for shown in sets]


class _Parts:
    """What is seen of each face for what covers it. Most of a picture is the same as in the one before: that is worked once."""

    def __init__(self, faces: list[_Face], flat: NDArray[np.object_], hidden_by: list[list[int]]) -> None:
        self.faces, self.flat, self.hidden_by = faces, flat, hidden_by
        self._seen: dict[tuple[int, tuple[int, ...]], shapely.Geometry] = {}

    def scene(self, shown: frozenset[int]) -> list[tuple[int, Polygon]]:
        """Return the visible faces of the solids shown, with their solids' numbers."""
        groups: dict[tuple[int, int], list[shapely.Geometry]] = {}
        for i, face in enumerate(self.faces):
            if face.solid in shown:
                covers = tuple(j for j in self.hidden_by[i] if self.faces[j].solid in shown)
                groups.setdefault((face.solid, face.group), []).append(self.seen(i, covers))
        look = {(face.solid, face.group): face for face in self.faces}
        return [
            (key[0], shape)
            for key, parts in groups.items()
            for shape in _drawn(shapely.union_all(parts, grid_size=_GRAIN) if len(parts) > 1 else parts[0], look[key])
        ]

    def seen(self, face: int, covers: tuple[int, ...]) -> shapely.Geometry:
        """What is seen of a face behind others."""
        key = face, covers
        if key not in self._seen:
            hidden = shapely.union_all(self.flat[list(covers)]) if covers else shapely.Polygon()
            self._seen[key] = shapely.difference(self.flat[face], hidden)
        return self._seen[key]


def _drawn(seen: shapely.Geometry, face: _Face) -> Iterator[Polygon]:
    for part in shapely.get_parts(seen):
        if isinstance(part, shapely.Polygon) and part.area > 1e-7:
            rings = [tuple((float(x), float(y)) for x, y in ring.coords[:-1]) for ring in (part.exterior, *part.interiors)]
            yield Polygon(face.layer, rings[0], tuple(rings[1:]), fill=face.fill, title=face.title)


def _project(points: Array) -> Array:
    """Plane of the picture: x runs right and up, y left and up, z up."""
    x, y, z = points[:, 0], points[:, 1], points[:, 2]
    return np.column_stack(((x - y) * _COS, (x + y) * _SIN + z))


def _all_faces(solid: Upright | Shell, number: int) -> Iterator[_Face]:
    if isinstance(solid, Upright):
        yield from _faces(solid, number)
        return
    for corners, group in zip(solid.faces, solid.groups, strict=True):
        normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
        size = float(np.linalg.norm(normal))
        if size > 0:
            yield _Face(corners, normal / size, solid.layer, solid.fill, solid.title, number, False, group)


def _faces(solid: Upright, number: int) -> Iterator[_Face]:
    """Faces of a solid, which is known by its ``number``."""
    group = 0
    ring = solid.footprint if shapely.Polygon(solid.footprint).exterior.is_ccw else solid.footprint[::-1]
    look = solid.layer, solid.fill, solid.title, number, _convex(ring) and solid.hollow is None
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
        yield _Face(lid, up, solid.layer, "grey", solid.title, number, False, group + 2)


def _convex(ring: Array) -> bool:
    """Whether a ring turns left all the way, so that no side of it can hide another."""
    run = np.roll(ring, -1, axis=0) - ring
    after = np.roll(run, -1, axis=0)
    return bool((run[:, 0] * after[:, 1] - run[:, 1] * after[:, 0] > -1e-9).all())


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
    owners = np.array([face.solid for face in faces])
    convex = np.array([face.convex for face in faces])
    once = (first < second) & ((owners[first] != owners[second]) | ~convex[first])
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
