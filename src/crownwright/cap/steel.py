"""Ladder-type joint reinforcement: round the cap, and across it beside and between the flues, where cracks start at the holes.

In a strip between two joints too narrow for the ladder one wire lies alone, if it can have the cover of joint reinforcement.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import sqrt
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from crownwright.cap.choices import CapChoices
from crownwright.cap.fit import Fit
from crownwright.cap.ground import Ground
from crownwright.cap.levels import Levels
from crownwright.cap.model import Drip, SteelPiece
from crownwright.codes.astm_a1064 import wire
from crownwright.quantity.units import INCH

Array = NDArray[np.float64]

WIRE = "W1.7"
"""Side wires of the ladder: 9 gauge."""
LADDER = 2 * INCH
"""Width of the ladder, wire to wire: sold for a 4-in. wall (from memory: about 2 in. less than the wall)."""
LAP = 6 * INCH
"""Lap at corners and splices (from memory: joint reinforcement laps 6 in.)."""
JOINT_COVER = 0.625 * INCH
"""Least cover of joint reinforcement in exposed masonry (from memory); what one wire in a narrow strip must have."""
RUNGS = 16 * INCH
"""Spacing of the cross wires (from memory)."""
STOCK = 120 * INCH
"""Length it is sold in (from memory)."""


@dataclass(frozen=True, slots=True)
class Line:
    """A centre line in the cap's frame, from ``start`` to ``end`` (2,), with what to call it; ``lap`` (m) turned or run past;
    ``single`` where it is one wire and no ladder.
    """

    name: str
    start: Array
    end: Array
    lap: float
    single: bool = False


@dataclass(frozen=True, slots=True)
class Steel:
    """The pieces, and the strips between two holes too narrow even for one wire with its cover: name and clear width (m)."""

    pieces: tuple[SteelPiece, ...]
    narrow: tuple[tuple[str, float], ...]


def steel_of(fit: Fit, ground: Ground, levels: Levels, drip: Drip | None, names: tuple[str, ...], choices: CapChoices) -> Steel:
    """Lay out the steel. ``names`` are the flues', in the order of the ground's rings."""
    inset = _inset(levels, drip, choices)
    if min(fit.length, fit.width) <= 4 * inset:
        return Steel((), ())
    across, narrow = _across(fit, ground, inset, names, choices)
    lines = [*_around(fit, inset), *across]
    pieces = []
    for line, (level, cover) in zip(lines, _levels(lines, fit, ground, levels, drip), strict=True):
        (x, y), (p, q) = ground.back(np.array([line.start, line.end])).tolist()
        run = float(np.linalg.norm(line.end - line.start)) + line.lap
        splices = int(np.ceil(max(run - STOCK, 0.0) / (STOCK - LAP)))
        length = run + splices * LAP
        pieces.append(SteelPiece(line.name, (x, y), (p, q), level, length, line.lap, cover, line.single))
    return Steel(tuple(pieces), tuple(narrow))


def _inset(levels: Levels, drip: Drip | None, choices: CapChoices) -> float:
    """Distance from the cap's edge to the ladder's centre line that gives its outer wire the cover wanted to edge and groove."""
    cover, half = choices.steel_cover, wire(WIRE).diameter / 2
    within = cover + half
    if drip is not None:
        clear, over = drip.size + cover + half, levels.edge.thickness / 2
        within = max(within, drip.lip + sqrt(max(clear**2 - over**2, 0.0)))
    return within + LADDER / 2


def _around(fit: Fit, inset: float) -> list[Line]:
    """One length a side, one end turned round the corner by a lap."""
    low, high = np.array([inset, inset]), np.array([fit.length - inset, fit.width - inset])
    corner = [low, np.array([high[0], low[1]]), high, np.array([low[0], high[1]])]
    return [Line(f"along {side.name}", corner[k], corner[(k + 1) % 4], LAP) for k, side in enumerate(fit.sides)]


@dataclass(frozen=True, slots=True)
class Strip:
    """Clear concrete across the cap between two holes, or between a hole and the cap's edge at its ``end`` ("low" or "high")."""

    name: str
    low: float
    high: float
    end: Literal["low", "high", ""] = ""

    @property
    def clear(self) -> float:
        """Width of the strip, m."""
        return self.high - self.low


def _across(
    fit: Fit, ground: Ground, inset: float, names: tuple[str, ...], choices: CapChoices
) -> tuple[list[Line], list[tuple[str, float]]]:
    """Lengths across the cap, each way, in the strips that the holes leave clear."""
    lines, narrow = [], []
    room = LADDER + 2 * choices.steel_cover + wire(WIRE).diameter  # a ladder with its cover to the holes
    for axis, other in enumerate((fit.width, fit.length)):
        for strip in _strips(fit, ground.rings, names, axis):
            if strip.end and strip.clear < inset + LADDER / 2 + room:
                continue  # the ladder round the cap already lies in this strip
            if strip.clear < 2 * JOINT_COVER + wire(WIRE).diameter:
                narrow.append((strip.name, strip.clear))
                continue
            at = {"low": strip.high - room / 2, "high": strip.low + room / 2, "": (strip.low + strip.high) / 2}[strip.end]
            ends = np.array([[inset, at], [other - inset, at]]) if axis else np.array([[at, inset], [at, other - inset]])
            lines.append(Line(strip.name, ends[0], ends[1], LADDER, not strip.end and strip.clear < room))
    return lines, narrow


def _strips(fit: Fit, rings: tuple[Array, ...], names: tuple[str, ...], axis: int) -> list[Strip]:
    """Clear strips along an axis (0 along the cap, 1 across it), edge to hole, hole to hole, hole to edge; holes whose extents
    overlap count as one.
    """
    reach, sides = (fit.length, (fit.sides[3], fit.sides[1])) if axis == 0 else (fit.width, (fit.sides[0], fit.sides[2]))
    spans: list[tuple[float, float, str]] = []
    extents = [(float(ring[:, axis].min()), float(ring[:, axis].max())) for ring in rings]
    for (low, high), name in sorted(zip(extents, names, strict=True)):
        if spans and low < spans[-1][1]:
            was = spans.pop()
            spans.append((was[0], max(was[1], high), f"{was[2]} and {name}"))
        else:
            spans.append((low, high, name))
    if not spans:
        return []
    way = "along" if axis else "across"
    between = [Strip(f"between {a[2]} and {b[2]}, {way}", a[1], b[0]) for a, b in pairwise(spans)]
    first = Strip(f"beside {spans[0][2]} to {sides[0].name}", 0.0, spans[0][0], "low")
    return [first, *between, Strip(f"beside {spans[-1][2]} to {sides[1].name}", spans[-1][1], reach, "high")]


def _levels(lines: list[Line], fit: Fit, ground: Ground, levels: Levels, drip: Drip | None) -> list[tuple[float, float]]:
    """Level of each line half way between what is under and over its wires, and the least cover there: to soffit, stone, groove,
    wash, edge and holes.
    """
    half, edge = wire(WIRE).diameter / 2, levels.edge
    paths = [_wires(line) for line in lines]
    wires = np.concatenate(paths)
    over = levels.over(wires)
    within = np.minimum(wires, np.array([fit.length, fit.width]) - wires).min(1)
    if not len(ground.at):  # no stone under the cap at all: a finding elsewhere
        return [(edge.soffit + edge.thickness / 2, 0.0) for _ in lines]
    apart = (ground.at**2).sum(1) - 2 * wires @ ground.at.T  # the wires' own squares do not change which cell is nearest
    stone = np.where(shapely.contains_xy(ground.stone, wires), ground.mean[apart.argmin(1)], edge.soffit)
    under = np.maximum(stone, edge.soffit)
    aside = within.copy()
    spots = shapely.points(wires)
    for ring in ground.rings:
        aside = np.minimum(aside, shapely.distance(shapely.Polygon(ring), spots))
    found = []
    ends = np.cumsum([len(path) for path in paths])
    for start, end in zip(ends - [len(path) for path in paths], ends, strict=True):
        own = slice(int(start), int(end))
        low, high = float(under[own].max()), float(over[own].min())
        level = (low + high) / 2
        groove = _to_groove(within[own], level - edge.soffit, drip)
        found.append((level, min(level - low, high - level, float(aside[own].min()), groove) - half))
    return found


def _wires(line: Line) -> Array:
    """Places (n,2) along both side wires of a line."""
    run = line.end - line.start
    length = float(np.linalg.norm(run))
    side = np.array([-run[1], run[0]]) / length * (0.0 if line.single else LADDER / 2)
    share = np.linspace(0, 1, max(2, int(length / (3 * INCH))))[:, None]
    return np.concatenate([line.start + share * run + side, line.start + share * run - side])


def _to_groove(within: Array, height: float, drip: Drip | None) -> float:
    """Distance from wires ``within`` (n,) the edge and ``height`` over the soffit to the groove.

    The groove is a quarter disc about the foot of its flat, outer side.
    """
    if drip is None:
        return float("inf")
    inward = within - drip.lip
    beyond = np.hypot(inward, height) - drip.size
    over_lip = np.hypot(inward, max(height - drip.size, 0.0))  # nearest there is the top corner of the flat side
    return float(np.where(inward < 0, over_lip, beyond).min())
