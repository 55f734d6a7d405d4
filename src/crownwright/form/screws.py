"""Every screw: where its head is, which way it is driven, and why it can be reached when the concrete is in.

Only outer faces and undersides can be reached after the pour, so every head lies on one of them, but for the one screw that is
never drawn: at one mitre it makes two mouldings one. Heads that slurry can run over are greased. Thrust goes into side grain:
screws up through the soffit boards into the walls' bottom edges, corner cleats and kickers; the two screws into each wall's end
grain only keep the joint closed. Sizes and spacings are common practice; what they carry is checked elsewhere.
"""

from __future__ import annotations

from collections import Counter
from math import ceil, cos, pi, sin

import numpy as np
from numpy.typing import NDArray

from crownwright.codes.ps_20 import board
from crownwright.form.braces import CLEAT_HALF, has_corner_cleats, joint_start, kicker_name, kicker_places
from crownwright.form.frame import SMALL, Frame
from crownwright.form.model import Hanging, Screw, ScrewLine
from crownwright.form.screw_kinds import screw_kinds
from crownwright.quantity.units import INCH

Array = NDArray[np.float64]
Vector = tuple[float, float, float]

WALL_SPACING = 12 * INCH
MOULDING_SPACING = 10 * INCH
EDGE = INCH
_TOE = 75 * pi / 180  # above level; flatter, a toe-screw comes out of the inner edge of the soffit board


def all_screws(frame: Frame) -> tuple[Screw, ...]:
    """Every screw of the form."""
    return (
        *_blocks(frame),
        *_on_blocks(frame),
        *_joint_cleats(frame),
        *_wall_feet(frame),
        *_wall_corners(frame),
        *_corner_cleats(frame),
        *_moulding(frame),
        *_mitre(frame),
        *_kickers(frame),
        *_rails(frame),
    )


def screw_list(frame: Frame, screws: tuple[Screw, ...], hanging: Hanging) -> tuple[ScrewLine, ...]:
    """The screws counted by place, in the order of building; last those that the lines of strip day are made fast to."""
    kinds = screw_kinds(frame)
    count = Counter(s.place for s in screws)
    count["hang line"] = hanging.screws * len(hanging.lines)
    return tuple(
        ScrewLine(place, k.joint, k.gauge, k.length, count[place], k.driven, k.greased, k.why)
        for place, k in kinds.items()
        if count[place]
    )


def _at(place: str, joins: tuple[str, str], xy: Array, z: float, way: Array, rise: float = 0.0) -> Screw:
    return Screw(place, joins, (float(xy[0]), float(xy[1]), z), (float(way[0]), float(way[1]), rise))


def _up(place: str, joins: tuple[str, str], xy: Array, z: float) -> Screw:
    return Screw(place, joins, (float(xy[0]), float(xy[1]), z), (0.0, 0.0, 1.0))


def _blocks(frame: Frame) -> list[Screw]:
    """Through the lapping leg's face into the edge of the butting one, which lies behind its first inch and a half."""
    ring, thick, height = frame.blocks.ring, frame.block.thickness, frame.choices.block_length
    bottom = frame.soffit_bottom - height
    made = []
    for k, name in enumerate(frame.blocks.names):
        at = ring.corners[k] - thick / 2 * ring.along[k] + thick * ring.normal[k]
        joins = (f"corner block {name}, lap leg", f"corner block {name}, butt leg")
        made += [_at("block", joins, at, bottom + height * share, -ring.normal[k]) for share in (1 / 6, 1 / 2, 5 / 6)]
    return made


def _on_blocks(frame: Frame) -> list[Screw]:
    """One toe-screw a leg, up through its outer face into the soffit board on it."""
    if not frame.blocks.square:
        return []
    ring, size = frame.blocks.ring, frame.block
    z = frame.soffit_bottom - 1.25 * INCH
    made = []
    for k, name in enumerate(frame.blocks.names):
        for leg, i, step in (("butt leg", k - 1, -size.width / 2), ("lap leg", k, size.width / 2)):
            at = ring.corners[k] + step * ring.along[i] + size.thickness * ring.normal[i]
            joins = (f"corner block {name}, {leg}", f"soffit board {frame.sides[i]}")
            made.append(_at("on block", joins, at, z, -cos(_TOE) * ring.normal[i], sin(_TOE)))
    return made


def _joint_cleats(frame: Frame) -> list[Screw]:
    """Two up into each of the boards that meet over the cleat."""
    ring, z = frame.soffit_ring, frame.soffit_bottom - SMALL.thickness
    made = []
    for i in range(len(frame.names)):
        j = frame.next(i)
        middle = ring.corners[j] + (joint_start(frame, j) + SMALL.width / 2) * ring.along[i]
        for side, way in ((i, 1.0), (j, -1.0)):
            joins = (f"joint cleat {frame.names[j]}", f"soffit board {frame.sides[side]}")
            xy = middle + way * CLEAT_HALF / 2 * ring.normal[i]
            made += [_up("joint cleat", joins, xy + step * ring.along[i], z) for step in (-INCH, INCH)]
    return made


def _wall_feet(frame: Frame) -> list[Screw]:
    """Up through the soffit board into the wall, clear of the joint cleats at both ends."""
    ring = frame.ring
    made = []
    for i, name in enumerate(frame.sides):
        j = frame.next(i)
        start = frame.soffits[i - 1].reach + CLEAT_HALF + EDGE
        end = float(ring.lengths[i]) - (frame.soffits[j].reach - joint_start(frame, j)) - EDGE
        foot = ring.corners[i] + frame.wall.thickness / 2 * ring.normal[i]
        joins = (f"soffit board {name}", f"sidewall {name}")
        places = _spread(start, max(end, start), WALL_SPACING)
        made += [_up("wall foot", joins, foot + x * ring.along[i], frame.soffit_bottom) for x in places]
    return made


def _wall_corners(frame: Frame) -> list[Screw]:
    """Through the wall that runs past into the end of the next one."""
    ring, thick = frame.ring, frame.wall.thickness
    made = []
    for i, name in enumerate(frame.sides):
        j = frame.next(i)
        at = ring.corners[j] + thick / 2 * ring.along[i] + thick * ring.normal[i]
        joins = (f"sidewall {name}", f"sidewall {frame.sides[j]}")
        made += [
            _at("wall corner", joins, at, frame.cap.soffit + frame.wall.width * share, -ring.normal[i]) for share in (0.25, 0.75)
        ]
    return made


def _corner_cleats(frame: Frame) -> list[Screw]:
    """Through the horn into the cleat's edge, and through the cleat into the wall."""
    if not has_corner_cleats(frame):
        return []
    ring, thick = frame.ring, frame.wall.thickness
    heels = ring.pinwheel([thick] * len(frame.names), 0.0)[:, 0]
    made = []
    for i, name in enumerate(frame.sides):
        j = frame.next(i)
        cleat = f"corner cleat {frame.names[j]}"
        through_horn = heels[j] + SMALL.thickness / 2 * ring.normal[j] + thick * ring.normal[i]
        through_cleat = heels[j] + SMALL.thickness * ring.normal[j] + SMALL.width / 2 * ring.along[j]
        for share in (0.25, 0.75):
            z = frame.cap.soffit + frame.wall.width * share
            made.append(_at("corner cleat", (f"sidewall {name}", cleat), through_horn, z, -ring.normal[i]))
            made.append(_at("corner cleat", (cleat, f"sidewall {frame.sides[j]}"), through_cleat, z, -ring.normal[j]))
    return made


def _moulding(frame: Frame) -> list[Screw]:
    drip = frame.cap.drip
    if drip is None:
        return []
    line = frame.ring.moved_out(-drip.lip - drip.size / 2)
    made = []
    for i, name in enumerate(frame.sides):
        length = float(line.lengths[i])
        start = min(frame.soffits[i - 1].reach + CLEAT_HALF - drip.lip, length / 3)  # the board before's corner is its own
        joins = (f"soffit board {name}", f"quarter-round {name}")
        places = _spread(start, length - start, MOULDING_SPACING)
        made += [_up("quarter-round", joins, line.corners[i] + x * line.along[i], frame.soffit_bottom) for x in places]
    return made


def _mitre(frame: Frame) -> list[Screw]:
    """One, at the first corner only, out of one moulding into the end of the other: the two come down as one.

    Every moulding starts over the board before its own, so the first board comes down without its moulding; this holds it up till
    the last board brings both.
    """
    drip = frame.cap.drip
    if drip is None:
        return []
    ring = frame.ring.moved_out(-drip.lip)
    at = ring.corners[0] + drip.size / 2 * ring.along[0]
    joins = (f"quarter-round {frame.sides[0]}", f"quarter-round {frame.sides[-1]}")
    return [_at("mitre", joins, at, frame.cap.soffit + drip.size / 4, -ring.normal[0])]


def _kickers(frame: Frame) -> list[Screw]:
    ring, soffit = frame.ring, frame.cap.soffit
    low, high = (soffit + frame.soffit_bottom) / 2, soffit + frame.wall.width * 0.7
    made = []
    for i, name in enumerate(frame.sides):
        out = frame.wall.thickness + frame.soffits[i].sticks_out + SMALL.thickness
        for k, x in enumerate(kicker_places(frame, i)):
            kicker = f"kicker {kicker_name(frame, i, k)}"
            at = ring.corners[i] + x * ring.along[i] + out * ring.normal[i]
            for step in (-0.75 * INCH, 0.75 * INCH):
                xy = at + step * ring.along[i]
                made.append(_at("kicker", (kicker, f"soffit board {name}"), xy, low, -ring.normal[i]))
                made.append(_at("kicker", (kicker, f"sidewall {name}"), xy, high, -ring.normal[i]))
    return made


def _rails(frame: Frame) -> list[Screw]:
    if not frame.blocks.square:
        return []
    ring, block = frame.blocks.ring, frame.block
    made = []
    for i, name in enumerate(frame.sides):
        rail = frame.carried[i].rail
        if rail is None:
            continue
        size, j = board(rail), frame.next(i)
        out = (block.thickness + size.thickness) * ring.normal[i]
        ends = (
            (ring.corners[i] + (block.width / 2 - block.thickness) * ring.along[i], f"corner block {frame.names[i]}, lap leg"),
            (ring.corners[j] - block.width / 2 * ring.along[i], f"corner block {frame.names[j]}, butt leg"),
        )
        for at, leg in ends:
            for step, share in ((-INCH, 0.3), (0.0, 0.7), (INCH, 0.3)):
                z = frame.soffit_bottom - size.width * (1 - share)
                made.append(_at("rail", (f"rail {name}", leg), at + out + step * ring.along[i], z, -ring.normal[i]))
    return made


def _spread(start: float, end: float, most: float) -> list[float]:
    """Places from start to end, evenly, no further apart than ``most``; one in the middle of a short run."""
    if end - start < 2 * INCH:
        return [(start + end) / 2]
    count = ceil((end - start) / most)
    return [start + (end - start) * k / count for k in range(count + 1)]
