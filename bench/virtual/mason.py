"""A simulated mason: he reads the true chimney with tape error and rounding, and in one job of five one tape is off
by an inch.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray

from bench.virtual.truth import TrueChimney, sample_points
from crownwright.quantity.units import INCH
from crownwright.survey.readings import AtCorner, ByTies, Drop, Flue, Length, Offset, OnSide, Place, Readings, Tape

Array = NDArray[np.float64]
TAPE_SD, TAPE_STEP = INCH / 8, INCH / 8
DROP_SD, DROP_STEP = 0.2 * INCH, INCH / 4
LETTERS = "ABCD"


@dataclass(frozen=True)
class Slip:
    """The tape that is off, by how much (m)."""

    start: str
    end: str
    by: float


class Mason:
    """Reads one chimney. ``rng`` is his hand: every call reads afresh."""

    def __init__(self, chimney: TrueChimney, rng: np.random.Generator) -> None:
        self.chimney = chimney
        self.rng = rng

    def point(self, name: str) -> Array:
        """True place of a named point."""
        if name in LETTERS:
            return self.chimney.corners[LETTERS.index(name)]
        flue = next(f for f in self.chimney.flues if name.startswith(f.name))
        return flue.centre if name == flue.name else flue.ring["abcd".index(name[-1])]

    def _read(self, true: float, sd: float, step: float) -> Length:
        return Length(float(round((true + self.rng.normal(0, sd)) / step) * step))

    def tape(self, start: str, end: str) -> Tape:
        """Tape from one named point to another."""
        return Tape(start, end, self._read(float(np.linalg.norm(self.point(end) - self.point(start))), TAPE_SD, TAPE_STEP))

    def drop(self, place: Place, extreme: str | None = None, at: Array | None = None) -> Drop:
        """Read the drop at a place; ``at`` where he really holds the rule (the place as read carries its own error)."""
        where = self.locate(place) if at is None else at
        below = -float(self.chimney.heights(where[None])[0])
        return Drop(place, self._read(below, DROP_SD, DROP_STEP), extreme)  # type: ignore[arg-type]

    def locate(self, place: Place) -> Array:
        """The true place that a described place means."""
        corners = self.chimney.corners
        centre = corners.mean(0)
        if isinstance(place, AtCorner):
            p = self.point(place.corner)
            return p + (centre - p) / np.linalg.norm(centre - p) * 0.5 * INCH
        if isinstance(place, OnSide):
            i = LETTERS.index(place.side[0])
            t = corners[(i + 1) % 4] - corners[i]
            t = t / np.linalg.norm(t)
            p = corners[i] + t * place.along.metres + np.array([-t[1], t[0]]) * (place.inward.metres + 0.01 * INCH)
            return self._onto_stone(p)
        p, q = self.point(place.first), self.point(place.second)
        d, a, b = np.linalg.norm(q - p), place.first_reads.metres, place.second_reads.metres
        e = (q - p) / d
        x = (a * a - b * b + d * d) / (2 * d)
        h = np.sqrt(max(a * a - x * x, 0.0))
        return self._onto_stone(p + e * x + np.array([-e[1], e[0]]) * h)

    def _onto_stone(self, p: Array) -> Array:
        """He holds the rule on stone: a place just off the edge is moved in."""
        stone = shapely.make_valid(shapely.Polygon(self.chimney.outline)).buffer(-0.1 * INCH)
        if stone.contains(shapely.Point(p)):
            return p
        near = shapely.get_coordinates(shapely.shortest_line(stone, shapely.Point(p)))[0]
        return np.asarray(near)

    def offsets(self, side: int, plain: int) -> list[Offset]:
        """The proudest stone of a side, found by eye along a straightedge, and ``plain`` further stations."""
        stones = self.chimney.strings[side]
        name = LETTERS[side] + LETTERS[(side + 1) % 4]
        proud = int(np.argmax(stones[:, 1] + self.rng.normal(0, 0.05 * INCH, len(stones))))
        found = [(proud, True)]
        span = stones[-1, 3]
        for k in range(plain):
            s = span * (k + 1) / (plain + 1)
            stone = int(np.clip(np.searchsorted(stones[:, 3], s), 0, len(stones) - 1))
            if stone not in [f[0] for f in found]:
                found.append((stone, False))
        out = []
        for stone, flag in found:
            along = self._read(float(stones[stone, 0]), TAPE_SD, INCH / 2)
            out.append(Offset(name, along, self._read(float(stones[stone, 1]), TAPE_SD, TAPE_STEP), flag))
        return out

    def highest(self) -> Drop:
        """The highest hump, found with a straightedge on the string."""
        points = self.free_points()
        at = points[int(np.argmax(self.chimney.heights(points) + self.rng.normal(0, 0.05 * INCH, len(points))))]
        return self.drop(self.describe(at), "highest", at)

    def lowest_edges(self) -> list[Drop]:
        """The lowest edge of each side, found by sighting along it."""
        corners, edge = self.chimney.corners, self.chimney.edge_points()
        middle = corners.mean(0)
        heights = self.chimney.heights(edge)
        found = []
        for i in range(4):
            a, b = corners[i] - middle, corners[(i + 1) % 4] - middle
            p = edge - middle
            inside = (a[0] * p[:, 1] - a[1] * p[:, 0] >= 0) & (p[:, 0] * b[1] - p[:, 1] * b[0] >= 0)
            k = np.flatnonzero(inside)[np.argmin(heights[inside] + self.rng.normal(0, 0.05 * INCH, int(inside.sum())))]
            t = (corners[(i + 1) % 4] - corners[i]) / np.linalg.norm(corners[(i + 1) % 4] - corners[i])
            along = self._read(float(np.clip((edge[k] - corners[i]) @ t, 0, None)), TAPE_SD, INCH / 2)
            name = LETTERS[i] + LETTERS[(i + 1) % 4]
            found.append(self.drop(OnSide(name, along), "lowest edge", edge[k]))
        return found

    def free_points(self) -> Array:
        """Points of the stone that no flue stands on."""
        points = sample_points(self.chimney, 0.5 * INCH)
        for flue in self.chimney.flues:
            points = points[~shapely.contains_xy(shapely.Polygon(flue.ring).buffer(0.25 * INCH), points)]
        return points

    def describe(self, at: Array) -> OnSide:
        """Say where a point is by the AB side: along and in, taped to the half inch."""
        along = self._read(float(at[0]), TAPE_SD, INCH / 2)
        inward = self._read(float(at[1]), TAPE_SD, INCH / 2)
        return OnSide("AB", Length(max(along.metres, 0.0)), Length(max(inward.metres, 0.0)))

    def plain_drops(self, count: int) -> list[Drop]:
        """``count`` drops: the corners first, then spread over the top as far from each other as may be, clear of
        flues.
        """
        corners = [AtCorner(c) for c in LETTERS][:count]
        drops = [self.drop(place) for place in corners]
        points = self.free_points()
        taken = [self.locate(place) for place in corners] or [points[0]]
        while len(drops) < count:
            away = np.min([np.linalg.norm(points - t, axis=1) for t in taken], axis=0)
            at = points[int(np.argmax(away))]
            taken.append(at)
            drops.append(self.drop(self.describe(at), at=at))
        return drops

    def flue(self, index: int) -> tuple[Flue, list[Tape]]:
        """A flue's size, its height, and the tapes that tie it: each corner to the chimney corner it looks at; a
        round one from all four.
        """
        f = self.chimney.flues[index]
        sizes = f.size if f.shape == "rectangular" else f.size[:1]
        read = tuple(self._read(s, TAPE_SD / 2, INCH / 8) for s in sizes)
        top = self._read(f.top, TAPE_SD, INCH / 8)
        ties = [self.tape(c, f.name if f.shape == "round" else f.name + c.lower()) for c in LETTERS]
        return Flue(f.name, f.shape, read, top), ties

    def climb(self, drops: int = 12, plain_offsets: int = 2, slip_chance: float = 0.2) -> tuple[Readings, Slip | None]:
        """Take the first round of readings. Of ``drops``, five are looked for (highest hump, lowest edge of each
        side).
        """
        tapes = [self.tape(a, b) for a, b in ("AB", "BC", "CD", "DA", "AC", "BD")]
        flues = []
        for k in range(len(self.chimney.flues)):
            flue, ties = self.flue(k)
            flues.append(flue)
            tapes += ties
        slip = None
        if self.rng.random() < slip_chance:
            k = int(self.rng.integers(len(tapes)))
            by = float(self.rng.choice([-1, 1])) * INCH
            slip = Slip(tapes[k].start, tapes[k].end, by)
            tapes[k] = replace(tapes[k], reads=Length(tapes[k].reads.metres + by))
        taken = [self.highest(), *self.lowest_edges(), *self.plain_drops(drops - 5)]
        offsets = [o for side in range(4) for o in self.offsets(side, plain_offsets)]
        return Readings(tuple(LETTERS), self.chimney.masonry, tuple(tapes), tuple(offsets), tuple(taken), tuple(flues)), slip


__all__ = ["ByTies", "Mason", "Slip"]
