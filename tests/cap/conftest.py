"""Surveys made by hand: an invented top whose shape, spread and flues are known exactly, to change one thing of at a time."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import pytest
from hypothesis import settings
from numpy.typing import NDArray

from crownwright.geometry.hull import convex_hull, frame
from crownwright.geometry.polygon import signed_area
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.survey.model import Closure, Outline, PlacedFlue, Survey
from crownwright.survey.readings import Readings

Array = NDArray[np.float64]

settings.register_profile("steady", deadline=None, derandomize=True, max_examples=60)
settings.load_profile("steady")


@dataclass(frozen=True)
class Bed:
    """A stone top: a level, a tilt and a wave (m), the same standard error everywhere, alike over ``reach`` (m)."""

    level: float = -2.0 * INCH
    tilt: tuple[float, float] = (0.0, 0.0)
    wave: float = 0.3 * INCH
    turn: float = 0.0
    shift: tuple[float, float] = (0.0, 0.0)
    sd: float = 0.15 * INCH
    reach: float = 10 * INCH
    highest: Uncertain = field(default_factory=lambda: Uncertain(-1.2 * INCH, 0.1 * INCH))
    lowest_edge: tuple[Uncertain, ...] = field(default_factory=lambda: (Uncertain(-2.6 * INCH, 0.1 * INCH),) * 4)

    def heights(self, points: Array) -> tuple[Array, Array]:
        own = (points - np.asarray(self.shift)) @ frame(self.turn).T
        z = self.level + own @ np.asarray(self.tilt) + self.wave * np.sin(own[:, 0] / 0.2) * np.cos(own[:, 1] / 0.27)
        return z, np.full(len(points), self.sd)

    def integral(self, x: Array, y: Array, area: Array) -> Uncertain:
        points = np.column_stack([x, y])
        return Uncertain(float(self.heights(points)[0] @ area), float(np.sqrt(area @ self._covariance(points) @ area)))

    def sample(self, points: Array, rng: np.random.Generator) -> Array:
        values, vectors = np.linalg.eigh(self._covariance(points))
        return self.heights(points)[0] + vectors @ (np.sqrt(np.clip(values, 0, None)) * rng.standard_normal(len(points)))

    def spread_with(self, extra_drops: int) -> float:
        return 1.0 / (1 + extra_drops) ** 0.5

    def _covariance(self, points: Array) -> Array:
        apart = np.linalg.norm(points[:, None] - points[None], axis=-1)
        return self.sd**2 * np.exp(-apart / self.reach)


def flue(
    name: str = "F1",
    centre: Sequence[float] = (20, 15),
    size: Sequence[float] = (13, 13),
    top: float = 10,
    turn: float = 0.0,
    shape: str = "rectangular",
) -> PlacedFlue:
    """A flue; inches and radians."""
    box = np.array([(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)])
    at = np.asarray(centre, dtype=float) * INCH
    ring = at + box * np.asarray(size) * INCH @ frame(turn)
    if shape == "round":
        t = np.arange(48) * 2 * np.pi / 48
        ring = at + size[0] / 2 * INCH * np.column_stack([np.cos(t), np.sin(t)])
    sides = (size[0] * INCH, size[-1] * INCH)
    return PlacedFlue(name, shape, ring, (at[0], at[1]), turn, sides, None, Uncertain(top * INCH, INCH / 16), INCH / 16)  # type: ignore[arg-type]


def face_of(corners: Array, lumps: Array, per_side: int) -> tuple[Array, NDArray[np.intp]]:
    """Points along the strings between corners, each standing out by its lump (m), and the side of each."""
    points, side = [], []
    for k, (p, q) in enumerate(zip(corners, np.roll(corners, -1, axis=0), strict=True)):
        run = (q - p) / np.linalg.norm(q - p)
        t = np.arange(per_side) / per_side
        out = np.outer(lumps[k], np.array([run[1], -run[0]]))
        out[0] = 0
        points.append(p + t[:, None] * (q - p) + out)
        side += [k] * per_side
    return np.vstack(points), np.array(side, dtype=np.intp)


def make_survey(
    corners: Sequence[Sequence[float]] = ((0, 0), (40, 0), (40, 30), (0, 30)),
    flues: Sequence[PlacedFlue] = (),
    bed: Bed | None = None,
    lumps: Array | None = None,
    per_side: int = 12,
    face_sd: float = 0.1,
    guard: float = 0.25,
    corner_sd: float = 0.08,
) -> Survey:
    """A survey from corners, lumps and spreads in inches: the guard stands ``guard`` outside the hull of the face."""
    at = np.asarray(corners, dtype=float) * INCH
    count = len(at)
    lumps = np.zeros((count, per_side)) if lumps is None else lumps
    face, side = face_of(at, lumps * INCH, per_side)
    hull = convex_hull(face)
    middle = hull.mean(0)
    away = hull - middle
    grown = middle + away * (1 + guard * INCH * 1.5 / np.linalg.norm(away, axis=1))[:, None]
    names = tuple("ABCDEFGH"[:count])
    parameters = (f"{names[1]}.x", *(f"{c}.{axis}" for c in names[2:] for axis in "xy"))
    estimate = np.array([at[1, 0], *at[2:].ravel()])
    for one in flues:
        parts = ("x", "y") if one.shape == "round" else ("x", "y", "turn", "along", "across")
        parameters += tuple(f"{one.name}.{part}" for part in parts)
        values = (*one.centre, one.turn, *one.size)
        estimate = np.concatenate([estimate, values[: len(parts)]])
    sds = np.array([corner_sd * INCH if not p.endswith(".turn") else 0.005 for p in parameters])
    area_sd = float(np.sqrt(sum(np.linalg.norm(at - np.roll(at, 1, axis=0), axis=1) ** 2) / 2) * corner_sd * INCH)
    bed = bed or Bed()
    if len(bed.lowest_edge) != count:
        bed = replace(bed, lowest_edge=bed.lowest_edge[:1] * count)
    outline = Outline(face, np.full(len(face), face_sd * INCH), side, grown, 0.995, Uncertain(signed_area(face), area_sd))
    return Survey(
        Readings(names, "rubble stone"), names, at, parameters, estimate, np.diag(sds**2), (), Closure(0.0, 1, 0.1, 6.6, True),
        (), (), outline, bed, tuple(flues), quick=False,
    )  # fmt: skip


def moved(survey: Survey, turn: float, shift: Sequence[float]) -> Survey:
    """The same top in a frame turned by ``turn`` (rad) and moved by ``shift`` (m)."""
    axes, by = frame(turn), np.asarray(shift, dtype=float)

    def put(points: Array) -> Array:
        return np.asarray(points) @ axes + by

    outline = replace(survey.outline, face=put(survey.outline.face), guard=put(survey.outline.guard))
    surface = replace(survey.surface, turn=survey.surface.turn + turn, shift=tuple(put(np.asarray(survey.surface.shift))))  # type: ignore[type-var, attr-defined]
    flues = tuple(replace(f, ring=put(f.ring), centre=tuple(put(np.array(f.centre))), turn=f.turn + turn) for f in survey.flues)
    return replace(survey, corners=put(survey.corners), outline=outline, surface=surface, flues=flues)


@pytest.fixture
def a_survey() -> Callable[..., Survey]:
    """Make a survey: 40 by 30 in., no flue, unless told otherwise."""
    return make_survey


def random_survey(rng: np.random.Generator) -> Survey:
    """An invented top: 24 to 72 in., out of square, lumpy, one to three flues in a row, as the bench has them."""
    while True:
        width, depth = rng.uniform(24, 72, 2)
        count = int(rng.integers(1, 4))
        sizes = [((8.5, 8.5), (13, 13), (8.5, 13), (13, 18))[rng.integers(4)] for _ in range(count)]
        row = sum(s[0] for s in sizes) + 4 * (count - 1)
        if row + 10 <= width and max(s[1] for s in sizes) + 10 <= depth:
            break
    corners = np.array([(0, 0), (width, 0), (width, depth), (0, depth)]) + rng.uniform(-1, 1, (4, 2))
    corners[0] = 0
    corners[1, 1] = 0
    x = (width - row) / 2 + rng.uniform(-1, 1) * min(2, (width - row - 10) / 2)
    flues = []
    for k, size in enumerate(sizes):
        shape = "round" if rng.random() < 0.25 and size[0] == size[1] else "rectangular"
        y = depth / 2 + rng.uniform(-1, 1)
        flues.append(flue(f"F{k + 1}", (x + size[0] / 2, y), size, rng.uniform(2, 16), rng.normal(0, 0.02), shape))
        x += size[0] + 4
    bed = Bed(level=rng.uniform(-3, -1) * INCH, tilt=tuple(rng.uniform(-0.02, 0.02, 2)), wave=rng.uniform(0, 0.6) * INCH)
    return make_survey(corners, flues, bed, rng.normal(0, 0.4, (4, 10)), 10)
