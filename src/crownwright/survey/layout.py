"""The parameters of a chimney top and the points they place: A at the origin, B on the x axis, flues as rigid rectangles.

Parameters in order: B.x, then x and y of every further corner; then per flue its centre x, y and, if rectangular, its turn
(rad) and its two outside sizes. Metres.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import isfinite, pi

import numpy as np
from numpy.typing import NDArray

from crownwright.survey.check_lengths import has_spread
from crownwright.survey.defaults import sd_of
from crownwright.survey.least_squares import Array, Model
from crownwright.survey.names import Names
from crownwright.survey.network import Rows, lengths_and_directions
from crownwright.survey.readings import Length, Tape

_BOX = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])  # a, b, c, d of a flue in units of its sizes


@dataclass(frozen=True)
class Layout:
    """Which parameter is where. ``flue_at`` the first parameter of each flue; ``size`` the number of parameters."""

    names: Names
    flue_at: tuple[int, ...]
    size: int

    @cached_property
    def parameters(self) -> tuple[str, ...]:
        """Names of the parameters: "B.x", "C.x", "C.y", "F1.x", "F1.y", "F1.turn", "F1.long", "F1.across"."""
        corners = self.names.corners
        names = [f"{corners[1]}.x", *(f"{c}.{axis}" for c in corners[2:] for axis in "xy")]
        for flue in self.names.flues:
            parts = ("x", "y") if flue.shape == "round" else ("x", "y", "turn", "along", "across")
            names += [f"{flue.name}.{part}" for part in parts]
        return tuple(names)

    @cached_property
    def _corner_slope(self) -> NDArray[np.float64]:
        count = len(self.names.corners)
        slope = np.zeros((self.rows, 2, self.size))
        slope[1, 0, 0] = 1.0
        for i in range(2, count):
            slope[i, 0, 2 * i - 3] = slope[i, 1, 2 * i - 2] = 1.0
        return slope

    @property
    def rows(self) -> int:
        """Number of points: corners and the tie points of flues."""
        return len(self.names.corners) + sum(1 if f.shape == "round" else 4 for f in self.names.flues)

    def corners(self, x: Array) -> Array:
        """Corners (n,2) at parameters x."""
        flat = np.concatenate([[0.0, 0.0, x[0], 0.0], x[1 : 2 * len(self.names.corners) - 3]])
        return flat.reshape(-1, 2)

    def points(self, x: Array) -> tuple[Array, Array]:
        """All points (m,2) and their slopes (m,2,p)."""
        at, slope = np.empty((self.rows, 2)), self._corner_slope.copy()
        count = len(self.names.corners)
        at[:count] = self.corners(x)
        for flue, k, row in zip(self.names.flues, self.flue_at, self.names.first_row, strict=True):
            if flue.shape == "round":
                at[row] = x[k : k + 2]
                slope[row, 0, k] = slope[row, 1, k + 1] = 1.0
                continue
            at[row : row + 4], slope[row : row + 4, :, k : k + 5] = _rectangle(x[k : k + 5])
        return at, slope

    def pack(self, corners: Array, flues: list[Array]) -> Array:
        """Parameters from corners (n,2) already in the datum and the flues' own parameters in order."""
        return np.concatenate([[corners[1, 0]], corners[2:].ravel(), *flues])


def layout_of(names: Names) -> Layout:
    """Lay out the parameters of a top."""
    at, k = [], 2 * len(names.corners) - 3
    for flue in names.flues:
        at.append(k)
        k += 2 if flue.shape == "round" else 5
    return Layout(names, tuple(at), k)


def _rectangle(p: Array) -> tuple[Array, Array]:
    """Corners a, b, c, d (4,2) of a flue with parameters (centre x, y, turn, along, across), and their slopes (4,2,5)."""
    c, s = np.cos(p[2]), np.sin(p[2])
    own = _BOX * p[3:5]
    turn = np.array([[c, s], [-s, c]])
    away = own @ turn
    slope = np.zeros((4, 2, 5))
    slope[:, 0, 0] = slope[:, 1, 1] = 1.0
    slope[:, 0, 2], slope[:, 1, 2] = -away[:, 1], away[:, 0]
    slope[:, :, 3] = _BOX[:, :1] * turn[0]
    slope[:, :, 4] = _BOX[:, 1:] * turn[1]
    return p[:2] + away, slope


@dataclass(frozen=True, slots=True)
class TapeSet:
    """The readings that place points: tapes first, then the sizes of rectangular flues.

    ``start`` and ``end`` (n,) rows of points (a size is the distance a-b or b-c of its flue); ``reads``, ``sd`` (n,) metres;
    ``said`` how the mason would name each ("tape AC", "size of F1 along ab");
    ``origin`` its place among the readings as entered, sizes counting on after the tapes; ``tapes`` how many are tapes.
    """

    start: Rows
    end: Rows
    reads: Array
    sd: Array
    said: tuple[str, ...]
    typed: tuple[str, ...]
    origin: tuple[int, ...]
    tapes: int

    def __len__(self) -> int:
        """Number of readings."""
        return len(self.reads)


def tape_set(names: Names, tapes: tuple[Tape, ...]) -> TapeSet:
    """Gather the tapes between two known points with a length above nothing, and the sizes of rectangular flues."""
    rows: list[tuple[int, int, float, float, str, str, int]] = []
    for k, tape in enumerate(tapes):
        if tape.start in names.points and tape.end in names.points and tape.start != tape.end and _is_length(tape.reads):
            rows.append((*_ends(names, tape), tape.reads.metres, sd_of(tape.reads, "tape"), _said(tape), tape.reads.typed, k))
    used = len(rows)
    at = len(tapes)
    for flue, first in zip(names.flues, names.first_row, strict=True):
        if flue.shape == "rectangular":
            for k, length in enumerate(flue.outside):
                said = f"size of {flue.name} along {'ab' if k == 0 else 'bc'}"
                rows.append((first + k, first + k + 1, length.metres, sd_of(length, "flue_size"), said, length.typed, at))
                at += 1
    return TapeSet(
        np.array([r[0] for r in rows], dtype=np.intp),
        np.array([r[1] for r in rows], dtype=np.intp),
        np.array([r[2] for r in rows], dtype=float),
        np.array([r[3] for r in rows], dtype=float),
        tuple(r[4] for r in rows),
        tuple(r[5] for r in rows),
        tuple(r[6] for r in rows),
        used,
    )


def without_rows(tapes: TapeSet, rows: tuple[int, ...]) -> TapeSet:
    """The readings with some of them left out."""
    keep = [k for k in range(len(tapes)) if k not in rows]
    return TapeSet(
        tapes.start[keep],
        tapes.end[keep],
        tapes.reads[keep],
        tapes.sd[keep],
        tuple(tapes.said[k] for k in keep),
        tuple(tapes.typed[k] for k in keep),
        tuple(tapes.origin[k] for k in keep),
        sum(k < tapes.tapes for k in keep),
    )


def _ends(names: Names, tape: Tape) -> tuple[int, int]:
    return names.points[tape.start], names.points[tape.end]


def _said(tape: Tape) -> str:
    dash = "" if len(tape.start) == len(tape.end) == 1 else "-"
    return f"tape {tape.start}{dash}{tape.end}"


def _is_length(reads: Length) -> bool:
    return isfinite(reads.metres) and reads.metres > 0 and has_spread(reads)


def tape_model(layout: Layout, tapes: TapeSet, square: tuple[int, ...] = ()) -> Model:
    """Return the model of these readings over the parameters of a layout.

    ``square`` names parameters that are turns of flues taken as set square by eye with the four walls: each counts as one more
    reading, of zero, after the others.
    """
    start, end = tapes.start, tapes.end
    turns = list(square)

    def model(x: Array) -> tuple[Array, Array]:
        at, slope = layout.points(x)
        length, unit = lengths_and_directions(at[start], at[end])
        along = slope[end] - slope[start]
        rows = unit[:, :1] * along[:, 0] + unit[:, 1:] * along[:, 1]
        if not turns:
            return length, rows
        walls, lean = _lean_of_walls(at, slope, len(layout.names.corners))
        return np.concatenate([length, x[turns] - walls]), np.concatenate([rows, np.eye(layout.size)[turns] - lean])

    return model


def _lean_of_walls(at: Array, slope: Array, count: int) -> tuple[float, Array]:
    """Mean turn of the sides against a square set on the first of them, rad, and its slope (p,): so that it is the walls that a
    flue stands square with, whichever corner is called A.
    """
    after = [*range(1, count), 0]
    runs, grows = at[after] - at[:count], slope[after] - slope[:count]
    turned = np.arctan2(runs[:, 1], runs[:, 0]) - np.arange(count) * 2 * pi / count
    lean = (turned + pi) % (2 * pi) - pi
    across = runs[:, :1] * grows[:, 1] - runs[:, 1:] * grows[:, 0]
    return float(lean.mean()), np.asarray((across / np.square(runs).sum(axis=1)[:, None]).mean(axis=0))
