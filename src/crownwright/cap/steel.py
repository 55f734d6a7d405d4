"""Ladder-type joint reinforcement: round the cap, and across it beside and between the flues, where cracks start at the holes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from crownwright.cap.choices import CapChoices
from crownwright.cap.fit import Fit
from crownwright.cap.ground import Ground
from crownwright.cap.levels import Levels
from crownwright.cap.model import Drip, SteelPiece
from crownwright.codes.astm_a1064 import wire
from crownwright.geometry.envelope import heights
from crownwright.quantity.units import INCH

Array = NDArray[np.float64]

WIRE = "W1.7"
"""Side wires of the ladder: 9 gauge."""
LADDER = 2 * INCH
"""Width of the ladder, wire to wire: sold for a 4-in. wall (from memory: about 2 in. less than the wall)."""
LAP = 6 * INCH
"""Lap at corners and splices (from memory: joint reinforcement laps 6 in.)."""
RUNGS = 16 * INCH
"""Spacing of the cross wires (from memory)."""
STOCK = 120 * INCH
"""Length it is sold in (from memory)."""


@dataclass(frozen=True, slots=True)
class Line:
    """A centre line in the cap's frame, from ``start`` to ``end`` (2,), with what to call it; ``lap`` (m) turned or run past."""

    name: str
    start: Array
    end: Array
    lap: float


@dataclass(frozen=True, slots=True)
class Steel:
    """The pieces, and the strips between two holes too narrow for a ladder with its cover: name and clear width (m)."""

    pieces: tuple[SteelPiece, ...]
    narrow: tuple[tuple[str, float], ...]


def steel_of(fit: Fit, ground: Ground, levels: Levels, drip: Drip | None, names: tuple[str, ...], choices: CapChoices) -> Steel:
    """Lay out the steel. ``names`` are the flues', in the order of the ground's rings."""
    half = wire(WIRE).diameter / 2
    inset = choices.steel_cover + half + LADDER / 2
    if min(fit.length, fit.width) <= 4 * inset:
        return Steel((), ())
    around = _around(fit, inset)
    across, narrow = _across(fit, ground, inset, names, choices)
    pieces = []
    for line in around + across:
        level, cover = _level(line, fit, ground, levels, drip)
        start, end = (tuple(map(float, ground.back(p[None])[0])) for p in (line.start, line.end))
        run = float(np.linalg.norm(line.end - line.start))
        splices = int(np.ceil(max(run + line.lap - STOCK, 0.0) / (STOCK - LAP)))
        pieces.append(SteelPiece(line.name, start, end, level, run + line.lap + splices * LAP, line.lap, cover))  # type: ignore[arg-type]
    return Steel(tuple(pieces), tuple(narrow))


def _around(fit: Fit, inset: float) -> list[Line]:
    """One length a side, one end turned round the corner by a lap."""
    low, high = np.array([inset, inset]), np.array([fit.length - inset, fit.width - inset])
    corner = [low, np.array([high[0], low[1]]), high, np.array([low[0], high[1]])]
    return [Line(f"along {side.name}", corner[k], corner[(k + 1) % 4], LAP) for k, side in enumerate(fit.sides)]


def _across(
    fit: Fit, ground: Ground, inset: float, names: tuple[str, ...], choices: CapChoices
) -> tuple[list[Line], list[tuple[str, float]]]:
    """Lengths across the cap, each way, in the strips that the holes leave clear."""
    lines, narrow = [], []
    for axis, (reach, other) in enumerate(((fit.length, fit.width), (fit.width, fit.length))):
        for name, low, high in _strips(ground.rings, names, axis, reach):
            clear = high - low
            beside_ring = (low == 0.0) + (high == reach)
            if clear < 2 * inset:
                if not beside_ring:
                    narrow.append((name, clear))
                continue
            if beside_ring and clear < 4 * inset:
                continue  # the ladder round the cap already lies in this strip
            at = (low + high) / 2 if not beside_ring else (high - inset if low == 0.0 else low + inset)
            ends = np.array([[inset, at], [other - inset, at]]) if axis else np.array([[at, inset], [at, other - inset]])
            lines.append(Line(name, ends[0], ends[1], LADDER))
    return lines, narrow


def _strips(rings: tuple[Array, ...], names: tuple[str, ...], axis: int, reach: float) -> list[tuple[str, float, float]]:
    """Clear strips across the cap along an axis: (name, from, to), edge to hole, hole to hole, hole to edge; holes whose
    extents overlap count as one.
    """
    spans: list[tuple[float, float, str]] = []
    for low, high, name in sorted(
        (float(r[:, axis].min()), float(r[:, axis].max()), n) for r, n in zip(rings, names, strict=True)
    ):
        if spans and low < spans[-1][1]:
            was = spans.pop()
            spans.append((was[0], max(was[1], high), f"{was[2]} and {name}"))
        else:
            spans.append((low, high, name))
    if not spans:
        return []
    found = [(f"beside {spans[0][2]}", 0.0, spans[0][0])]
    found += [(f"between {a[2]} and {b[2]}", a[1], b[0]) for a, b in pairwise(spans)]
    return [*found, (f"beside {spans[-1][2]}", spans[-1][1], reach)]


def _level(line: Line, fit: Fit, ground: Ground, levels: Levels, drip: Drip | None) -> tuple[float, float]:
    """Level of a line with the most concrete round its wires, and that cover: to soffit, stone, groove, wash, edge, hole."""
    half, edge = wire(WIRE).diameter / 2, levels.edge
    run = line.end - line.start
    side = np.array([-run[1], run[0]]) / np.linalg.norm(run) * LADDER / 2
    share = np.linspace(0, 1, max(2, int(np.linalg.norm(run) / (2 * INCH))))[:, None]
    wires = np.concatenate([line.start + share * run + side, line.start + share * run - side])
    over = edge.top + levels.fall * heights(levels.wash.planes, wires)
    within = np.minimum(np.minimum(wires[:, 0], fit.length - wires[:, 0]), np.minimum(wires[:, 1], fit.width - wires[:, 1]))
    nearest = np.argmin(((wires[:, None] - ground.at[None]) ** 2).sum(-1), axis=1)
    on_stone = shapely.contains_xy(ground.stone, wires)
    under = np.where(on_stone, np.maximum(ground.mean[nearest], edge.soffit), edge.soffit)
    low, high = float(under.max()), float(over.min())
    level = (low + high) / 2
    covers = [level - low, high - level, float(within.min())]
    if drip is not None:
        inner = drip.lip + drip.size  # the groove is deepest at its flat inner side
        beside = np.maximum(within - inner, 0.0)
        covers.append(float(np.hypot(beside, max(level - edge.soffit - drip.size, 0.0)).min()))
    points = shapely.points(wires)
    covers += [float(shapely.distance(shapely.Polygon(ring), points).min()) for ring in ground.rings]
    return level, min(covers) - half
