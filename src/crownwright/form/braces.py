"""What braces the form: rails under long soffit boards, cleats under their butts and in the outside corners, kickers."""

from __future__ import annotations

import numpy as np

from crownwright.codes.ps_20 import board
from crownwright.form.frame import SIXTEENTH, SMALL, Frame, box, plain
from crownwright.form.model import Piece
from crownwright.quantity.units import INCH

CLEAT_HALF = 4 * INCH
_JOINT_FREE = INCH / 8


def has_corner_cleats(frame: Frame) -> bool:
    """Whether the horns are long enough to hold a cleat in the outside corner."""
    return frame.choices.horn >= SMALL.thickness - 1e-9


def rails(frame: Frame) -> list[Piece]:
    """On edge under the soffit boards, on the outer faces of the two blocks of a side."""
    if not frame.blocks.square:
        return []
    ring, thick = frame.blocks.ring, frame.block.thickness
    made = []
    for i, name in enumerate(frame.sides):
        rail = frame.carried[i].rail
        if rail is None:
            continue
        size = board(rail)
        a = ring.corners[i] + thick * (ring.normal[i] - ring.along[i])
        b = ring.corners[frame.next(i)] + thick * (ring.normal[i] + ring.along[i])
        length = float(ring.lengths[i]) + 2 * thick
        out = size.thickness * ring.normal[i]
        top = frame.soffit_bottom
        made.append(
            plain(f"rail {name}", "rail", name, rail, length, np.array([a + out, b + out, b, a]), (top - size.width, top))
        )
    return made


def joint_cleats(frame: Frame) -> list[Piece]:
    """Flat under the butt of two soffit boards, outside the block (and the rail) there."""
    ring, top = frame.soffit_ring, frame.soffit_bottom
    made = []
    for i in range(len(frame.names)):
        j = frame.next(i)
        start = ring.corners[j] + joint_start(frame, j) * ring.along[i]
        across, wide = CLEAT_HALF * ring.normal[i], SMALL.width * ring.along[i]
        foot = np.array([start + across, start + across + wide, start - across + wide, start - across])
        name = frame.names[j]
        made.append(
            plain(f"joint cleat {name}", "joint cleat", name, SMALL.name, 2 * CLEAT_HALF, foot, (top - SMALL.thickness, top))
        )
    return made


def joint_start(frame: Frame, side: int) -> float:
    """How far out from the soffit's inner corner a joint cleat begins: clear of the block, and of the rail of ``side``."""
    soffit, thick = frame.soffits[side], frame.block.thickness
    block_out = soffit.reach - (float(frame.blocks.inward[side]) - thick) if frame.blocks.square else 0.0
    rail = frame.carried[side].rail
    return max(block_out, 0.0) + (board(rail).thickness if rail else 0.0) + _JOINT_FREE


def corner_cleats(frame: Frame) -> list[Piece]:
    """Upright in the outside corner between a horn and the next wall: the thrust goes into side grain, not end grain."""
    if not has_corner_cleats(frame):
        return []
    ring = frame.ring
    heels = ring.pinwheel([frame.wall.thickness] * len(frame.names), 0.0)[:, 0]  # outer corners of the walls' butts
    made = []
    for j, heel in enumerate(heels):
        foot = box(heel, SMALL.width * ring.along[j], SMALL.thickness * ring.normal[j])
        name, height = frame.names[j], frame.wall.width
        made.append(
            plain(
                f"corner cleat {name}",
                "corner cleat",
                name,
                SMALL.name,
                height,
                foot,
                (frame.cap.soffit, frame.wall_top),
                stands=True,
            )
        )
    return made


def kicker_places(frame: Frame, i: int) -> list[float]:
    """Where the kickers of side i stand, along it from its corner: in equal spans."""
    count = frame.kickers[i]
    return [float(frame.ring.lengths[i]) * (k + 1) / (count + 1) for k in range(count)]


def kicker_name(frame: Frame, i: int, k: int) -> str:
    """Name of kicker k of side i; numbered where there are several."""
    return frame.sides[i] + (f" {k + 1}" if frame.kickers[i] > 1 else "")


def kickers(frame: Frame) -> list[Piece]:
    """Upright on the outer edge of the soffit board, against the sidewall; a packer between where the board sticks out."""
    ring = frame.ring
    made = []
    for i, name in enumerate(frame.sides):
        out, wide = frame.soffits[i].sticks_out * ring.normal[i], SMALL.width * ring.along[i]
        for k, x in enumerate(kicker_places(frame, i)):
            at = ring.corners[i] + (x - SMALL.width / 2) * ring.along[i] + frame.wall.thickness * ring.normal[i]
            tag = kicker_name(frame, i, k)
            if frame.soffits[i].sticks_out > SIXTEENTH:
                levels = frame.cap.soffit, frame.wall_top
                foot = box(at, wide, out)
                made.append(plain(f"packer {tag}", "packer", name, "offcut", frame.wall.width, foot, levels, stands=True))
            levels = frame.soffit_bottom, frame.wall_top
            foot, height = box(at + out, wide, SMALL.thickness * ring.normal[i]), levels[1] - levels[0]
            made.append(plain(f"kicker {tag}", "kicker", name, SMALL.name, height, foot, levels, stands=True))
    return made
