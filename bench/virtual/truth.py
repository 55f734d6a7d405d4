"""A chimney top with a known true shape: out of square, lumpy, one to three flues. Seeded; metres; z above the
level string.

The distribution is invented for the bench (issue: figures to beat); liner sizes are those of ASTM C315.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from crownwright.quantity.units import INCH
from crownwright.survey.readings import MasonryKind

Array = NDArray[np.float64]

# outside sizes in inches: rectangular by their nominal outside, round by outside diameter (ASTM C315 classes)
RECTANGULAR = ((8.5, 8.5), (8.5, 13.0), (13.0, 13.0), (8.5, 18.0), (13.0, 18.0), (18.0, 18.0))
ROUND = (9.5, 11.75, 14.0)
FACE_SD = {"rubble stone": 0.55, "brick": 0.08}  # in., how far single stones stand out
TOP_SD = {"rubble stone": 0.60, "brick": 0.09}  # in., how far single tops stand up; brick in the same proportion as its faces


FlueInPlace = tuple[str, Array, tuple[float, float], float]
"""Shape, centre, size (along, across; diameter twice) and turn of a flue, before the corners are jittered."""


@dataclass(frozen=True)
class TrueFlue:
    """A flue as it really stands: outline, centre, size (along, across or diameter twice), turn, top above the
    string.
    """

    name: str
    shape: Literal["rectangular", "round"]
    ring: Array
    centre: Array
    size: tuple[float, float]
    turn: float
    top: float


@dataclass(frozen=True)
class TrueChimney:
    """The truth, in the survey's own datum (A at the origin, B on the x axis)."""

    masonry: MasonryKind
    corners: Array  # (4,2) where the tape hook sits
    outline: Array  # (m,2) the stepped face, counter-clockwise from A
    strings: tuple[Array, ...]  # per side (k,2): mid-stone distance along the string, how far it stands out of it
    seeds: Array  # (s,2) one top a seed
    tops: Array  # (s,) height of each top before tilt and bow
    tilt: Array  # (2,) slope of the whole top
    bow: float  # the middle against the edge
    level: float  # height of the string in the frame of tops
    flues: tuple[TrueFlue, ...]

    def heights(self, points: Array) -> Array:
        """True stone height above the string at points (n,2)."""
        nearest = cKDTree(self.seeds).query(points)[1]
        low, high = self.outline.min(0), self.outline.max(0)
        middle, half = (low + high) / 2, (high - low) / 2
        unit = (points - middle) / half
        bow = self.bow * np.clip(1 - np.maximum(np.abs(unit[:, 0]), np.abs(unit[:, 1])) ** 2, 0, 1)
        return self.tops[nearest] + (points - middle) @ self.tilt + bow - self.level

    def edge_points(self, step: float = 0.25 * INCH) -> Array:
        """Points along the true edge, just inside it."""
        inner = shapely.Polygon(self.outline).buffer(-0.02 * INCH)
        line = inner.exterior if inner.geom_type == "Polygon" else max(inner.geoms, key=lambda g: g.area).exterior
        return shapely.get_coordinates(line.segmentize(step))


def _stones(length: float, rng: np.random.Generator) -> Array:
    """Return joints along a side of ``length``: stones of 6 to 14 in., the last taking what is left."""
    joints = [0.0]
    while length - joints[-1] > 20 * INCH:
        joints.append(joints[-1] + rng.uniform(6, 14) * INCH)
    if length - joints[-1] > 12 * INCH:
        joints.append((joints[-1] + length) / 2)
    return np.array([*joints, length])


def _meet(p: Array, u: Array, q: Array, v: Array) -> Array:
    """Point where the line through p along u meets the line through q along v."""
    return np.asarray(p + u * np.linalg.solve(np.column_stack([u, -v]), q - p)[0])


def _faces(base: Array, sd: float, rng: np.random.Generator) -> tuple[Array, Array, list[tuple[Array, Array]]]:
    """Return the physical corners, the stepped outline, and per side its stone joints with their offsets from the
    base side.
    """
    sides = []
    for i in range(4):
        joints = _stones(float(np.linalg.norm(base[(i + 1) % 4] - base[i])), rng)
        sides.append((joints, rng.normal(0, sd, len(joints) - 1) * INCH))
    along = [(base[(i + 1) % 4] - base[i]) / np.linalg.norm(base[(i + 1) % 4] - base[i]) for i in range(4)]
    out = [np.array([u[1], -u[0]]) for u in along]
    corners = np.array(
        [
            _meet(base[i] + out[i - 1] * sides[i - 1][1][-1], along[i - 1], base[i] + out[i] * sides[i][1][0], along[i])
            for i in range(4)
        ]
    )
    points: list[Array] = []
    for i, (joints, offsets) in enumerate(sides):
        points.append(corners[i])
        for k in range(1, len(offsets)):
            foot = base[i] + along[i] * joints[k]
            points += [foot + out[i] * offsets[k - 1], foot + out[i] * offsets[k]]
    return corners, np.array(points), sides


def _flues(width: float, depth: float, rng: np.random.Generator) -> list[FlueInPlace]:
    """Choose one to three flues in a row with at least 4 in. of wall and wythe, jittered; (shape, centre, size,
    turn) or fewer if none fit.
    """
    wall = 4 * INCH
    wanted = int(rng.integers(1, 4))
    for count in range(wanted, 0, -1):
        for _ in range(30):
            chosen: list[tuple[str, tuple[float, float]]] = []
            for _ in range(count):
                if rng.random() < 0.25:
                    d = ROUND[rng.integers(len(ROUND))] * INCH
                    chosen.append(("round", (d, d)))
                else:
                    a, b = RECTANGULAR[rng.integers(len(RECTANGULAR))]
                    chosen.append(("rectangular", (a * INCH, b * INCH) if rng.random() < 0.5 else (b * INCH, a * INCH)))
            row = sum(s[0] for _, s in chosen) + wall * (count - 1)
            slack_x, slack_y = width - 2 * (wall + INCH) - row, depth - 2 * (wall + INCH) - max(s[1] for _, s in chosen)
            if slack_x >= 0 and slack_y >= 0:
                break
        else:
            continue
        x = wall + INCH + slack_x / 2 + rng.uniform(-0.5, 0.5) * min(slack_x, 4 * INCH)
        placed = []
        for shape, size in chosen:
            y = depth / 2 + rng.uniform(-0.5, 0.5) * min(slack_y, 2 * INCH)
            turn = float(rng.normal(0, np.radians(1.0))) if shape == "rectangular" else 0.0
            placed.append((shape, np.array([x + size[0] / 2, y]), size, turn))
            x += size[0] + wall
        return placed
    return []


def _ring(shape: str, centre: Array, size: tuple[float, float], turn: float) -> Array:
    """Outline of a flue: corners a, b, c, d, or 64 points of a circle."""
    if shape == "round":
        t = np.linspace(0, 2 * np.pi, 64, endpoint=False)
        return np.asarray(centre + size[0] / 2 * np.column_stack([np.cos(t), np.sin(t)]))
    box = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * np.array(size) / 2
    c, s = np.cos(turn), np.sin(turn)
    return np.asarray(centre + box @ np.array([[c, s], [-s, c]]))


def make_chimney(rng: np.random.Generator) -> TrueChimney:
    """Make one chimney of the bench's distribution."""
    kind: MasonryKind = "rubble stone" if rng.random() < 0.5 else "brick"
    while True:
        width, depth = rng.uniform(24, 72, 2) * INCH
        flues = _flues(width, depth, rng)
        if flues:
            return shape_chimney(kind, (width, depth), flues, rng)


def shape_chimney(
    kind: MasonryKind,
    size: tuple[float, float],
    flues: list[FlueInPlace],
    rng: np.random.Generator,
    skew: float = INCH,
    stands: tuple[float, float] = (2 * INCH, 16 * INCH),
) -> TrueChimney:
    """Make a chimney of a wanted kind, size and flues: each corner up to ``skew`` off its place, lumpy faces and tops, liners
    standing somewhere between ``stands`` above the string's usual place.
    """
    width, depth = size
    square = np.array([[0, 0], [width, 0], [width, depth], [0, depth]], dtype=float)
    base = square + rng.uniform(-1, 1, (4, 2)) * skew  # a side's far end up to 2 in. off square
    corners, outline, sides = _faces(base, FACE_SD[kind], rng)
    # to the datum: A at the origin, B on the x axis
    u = (corners[1] - corners[0]) / np.linalg.norm(corners[1] - corners[0])
    spin = np.column_stack([u, [-u[1], u[0]]])
    shift = corners[0].copy()

    def datum(points: Array) -> Array:
        return np.asarray((points - shift) @ spin)

    pitch = rng.uniform(9, 11) * INCH
    nx, ny = int(np.ceil(width / pitch)) + 2, int(np.ceil(depth / pitch)) + 2
    grid = np.stack(np.meshgrid(np.arange(-1, nx), np.arange(-1, ny)), -1).reshape(-1, 2) * pitch
    seeds = grid + rng.uniform(-0.4, 0.4, grid.shape) * pitch
    tops = rng.normal(0, TOP_SD[kind], len(seeds)) * INCH
    tilt = rng.uniform(-1, 1, 2) * INCH / np.array([width, depth])
    chimney = TrueChimney(
        kind,
        datum(corners),
        datum(outline),
        tuple(_strings(base, corners, sides, i) for i in range(4)),
        datum(seeds),
        tops,
        spin.T @ tilt,
        float(rng.uniform(-1.2, 0.2) * INCH),
        0.0,
        (),
    )
    grid = sample_points(chimney, 0.5 * INCH)
    level = float(chimney.heights(grid).max()) + rng.uniform(0.25, 1.0) * INCH
    true_flues = []
    for k, (shape, centre, extent, turn) in enumerate(flues):
        ring = datum(_ring(shape, centre, extent, turn))
        top = rng.uniform(*stands) - rng.uniform(0.25, 1.0) * INCH
        spun = turn - float(np.arctan2(u[1], u[0]))
        true_flues.append(TrueFlue(f"F{k + 1}", shape, ring, datum(centre), extent, spun, top))  # type: ignore[arg-type]
    return TrueChimney(
        kind,
        chimney.corners,
        chimney.outline,
        chimney.strings,
        chimney.seeds,
        tops,
        chimney.tilt,
        chimney.bow,
        level,
        tuple(true_flues),
    )


def _strings(base: Array, corners: Array, sides: list[tuple[Array, Array]], i: int) -> Array:
    """Per stone of side i: (mid-stone distance along the corner-to-corner string, how far its face stands out of
    that string, from, to).
    """
    j = (i + 1) % 4
    u = (base[j] - base[i]) / np.linalg.norm(base[j] - base[i])
    out = np.array([u[1], -u[0]])
    t = (corners[j] - corners[i]) / np.linalg.norm(corners[j] - corners[i])
    n = np.array([t[1], -t[0]])
    joints, offsets = sides[i]
    rows = []
    for k, offset in enumerate(offsets):
        start = corners[i] if k == 0 else base[i] + u * joints[k] + out * offset
        end = corners[j] if k == len(offsets) - 1 else base[i] + u * joints[k + 1] + out * offset
        a, b = (start - corners[i]) @ t, (end - corners[i]) @ t
        rows.append(((a + b) / 2, ((start + end) / 2 - corners[i]) @ n, a, b))
    return np.array(rows)


def sample_points(chimney: TrueChimney, step: float) -> Array:
    """Centres of a square grid of cells of ``step`` inside the true outline."""
    low, high = chimney.outline.min(0), chimney.outline.max(0)
    x = np.arange(low[0] + step / 2, high[0], step)
    y = np.arange(low[1] + step / 2, high[1], step)
    points = np.stack(np.meshgrid(x, y), -1).reshape(-1, 2)
    return points[shapely.contains_xy(shapely.make_valid(shapely.Polygon(chimney.outline)), points)]
