"""Lines that hold the form up while it comes off: from screws in each sidewall, over the hard cap and round its flues.

The straps press all corner blocks at once, so letting them go would let everything down. With the walls hung first, blocks,
soffit boards and walls come off one by one, each in the hand: no part is ever held by nothing.
"""

from __future__ import annotations

from math import ceil

import numpy as np
import shapely
from numpy.typing import NDArray

from crownwright.codes.nds_2018 import duration_factor, lumber
from crownwright.codes.nds_2018_fasteners import WET_FASTENER, screw, screw_proud
from crownwright.codes.ps_20 import board
from crownwright.form.boards import GRADE
from crownwright.form.frame import SMALL, Frame
from crownwright.form.model import Hanging, HangLine
from crownwright.quantity.units import FOOT, G0, INCH
from crownwright.survey.model import Survey

Array = NDArray[np.float64]
GAUGE, LONG, PROUD = 10, 2 * INCH, 0.75 * INCH
"""The screw a line is made fast to: left so far out, it does not come through the wall into the concrete."""
LEVER = 0.25 * INCH
"""From the wood to the middle of the line pulled tight against it: half of a 1/2 in. line."""
DOWN = INCH
"""From the wall's top (a block's foot) to the screw."""
ASIDE = SMALL.width / 2 + INCH
"""From a kicker's middle to the screw, so that its line runs clear of it."""
KNOTS = 3 * FOOT
"""Line for the hitches at both ends (common practice)."""


def hang(frame: Frame, survey: Survey, weight: float) -> Hanging:
    """Lay out the lines for a form of ``weight`` kg: one a sidewall; one more a block where blocks are not screwed to boards.

    A stiff frame on four lines may hang on two of them, so each is made for half of the weight.
    """
    walls = tuple(_on_wall(frame, i) for i in range(len(frame.sides)))
    blocks = () if frame.blocks.square else tuple(_on_block(frame, k) for k in range(len(frame.blocks.names)))
    lines = (*walls, *blocks)
    load, holds = weight * G0 / 2, screw_holds()
    return Hanging(lines, ceil(load / holds), load, holds, sum(_length(one, frame, survey) for one in lines))


def screw_holds() -> float:
    """What one screw left proud of wet wood carries across its length, N."""
    bare = screw_proud(screw(GAUGE), lumber(GRADE).gravity, LEVER, LONG - PROUD)
    return bare * duration_factor("seven days") * WET_FASTENER


def _on_wall(frame: Frame, i: int) -> HangLine:
    """At the middle of the wall's outer face, or beside the kicker that stands there."""
    ring = frame.ring
    middle = float(ring.lengths[i]) / 2 + (ASIDE if frame.kickers[i] % 2 else 0.0)
    at = ring.corners[i] + middle * ring.along[i] + frame.wall.thickness * ring.normal[i]
    return _line(frame.sides[i], f"sidewall {frame.sides[i]}", at, frame.wall_top - DOWN, ring.normal[i])


def _on_block(frame: Frame, k: int) -> HangLine:
    ring, size = frame.blocks.ring, board(frame.choices.block_section)
    at = ring.corners[k] + size.width / 2 * ring.along[k] + size.thickness * ring.normal[k]
    low = frame.soffit_bottom - frame.choices.block_length + DOWN
    return _line(frame.blocks.names[k], f"corner block {frame.blocks.names[k]}, lap leg", at, low, ring.normal[k])


def _line(place: str, holds: str, at: Array, level: float, out: Array) -> HangLine:
    return HangLine(place, holds, (float(at[0]), float(at[1]), level), (-float(out[0]), -float(out[1]), 0.0))


def _length(line: HangLine, frame: Frame, survey: Survey) -> float:
    """From the screw over the wall's top to the flues, round them all, and both hitches; to the middle where there is none."""
    x, y, z = line.head
    rings = [flue.ring for flue in survey.flues] or [frame.cap.corners.mean(axis=0)[None]]
    flues = shapely.MultiPoint(np.vstack(rings)).convex_hull
    return float(flues.distance(shapely.Point(x, y))) + (frame.wall_top - z) + float(flues.length) + KNOTS
