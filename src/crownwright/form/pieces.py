"""Every piece of the form, cut and placed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import pi

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.model import CapDesign
from crownwright.codes.ps_20 import Board, board
from crownwright.form.blocks import Blocks
from crownwright.form.boards import Carrying, SoffitBoard, wall_board
from crownwright.form.choices import FormChoices
from crownwright.form.model import EndCut, Part, Piece
from crownwright.form.pinwheel import Ring, bevel, mitre_setting
from crownwright.quantity.lengths import print_length
from crownwright.quantity.units import INCH

Array = NDArray[np.float64]

SMALL = board("2x4")
"""Cleats and kickers are made of it."""
CLEAT_HALF = 4 * INCH
SIXTEENTH = INCH / 16
SQUARE = EndCut("square")
TRUE_ENOUGH = 0.25 * pi / 180
"""Angles nearer to square than a quarter degree are cut square: no saw is set finer (judgement)."""
_JOINT_FREE = INCH / 8


@dataclass(frozen=True, eq=False)
class Frame:
    """What the pieces are laid out on: the ``ring`` of the sidewalls' inside faces and all that was decided for each side.

    ``names`` are those of its corners. Not slotted, since it keeps what it works out.
    """

    cap: CapDesign
    choices: FormChoices
    ring: Ring
    names: tuple[str, ...]
    wall: Board
    soffits: list[SoffitBoard]
    carried: list[Carrying]
    kickers: list[int]
    blocks: Blocks

    @cached_property
    def sides(self) -> tuple[str, ...]:
        """Names of the sides."""
        return tuple(side.name for side in self.cap.sides)

    @cached_property
    def soffit_ring(self) -> Ring:
        """The soffit boards' inner edges."""
        return self.ring.moved_out([-s.reach for s in self.soffits])

    @property
    def block(self) -> Board:
        """What the corner blocks are made of."""
        return board(self.choices.block_section)

    def next(self, i: int) -> int:
        """Number of the corner (and side) after i."""
        return (i + 1) % len(self.names)

    @property
    def soffit_bottom(self) -> float:
        """Level of the soffit boards' undersides, on the blocks."""
        return self.cap.soffit - board(self.soffits[0].section).thickness

    @property
    def wall_top(self) -> float:
        """Level of the sidewalls' top edges."""
        return self.cap.soffit + self.wall.width


def frame_of(
    cap: CapDesign,
    choices: FormChoices,
    soffits: list[SoffitBoard],
    carried: list[Carrying],
    kickers: list[int],
    blocks: Blocks,
) -> Frame:
    """Gather the frame."""
    names = blocks.names if blocks.square else tuple(str(k + 1) for k in range(len(cap.corners)))
    return Frame(cap, choices, Ring(cap.corners), names, wall_board(cap), soffits, carried, kickers, blocks)


def all_pieces(frame: Frame) -> tuple[Piece, ...]:
    """Every piece, in the order of building."""
    return (
        *_corner_blocks(frame),
        *_soffit_boards(frame),
        *_joint_cleats(frame),
        *_sidewalls(frame),
        *_corner_cleats(frame),
        *_quarter_round(frame),
        *_kickers(frame),
        *_rails(frame),
    )


def to_sixteenth(length: float) -> float:
    """Length to the nearest sixteenth of an inch."""
    return round(length / SIXTEENTH) * SIXTEENTH


def butt_cut(angle: float, *, flat: bool) -> EndCut:
    """End cut of a board that butts at an inside ``angle``: through the thickness, or across the width of one lying flat."""
    setting = bevel(angle)
    return SQUARE if setting < TRUE_ENOUGH else EndCut("mitre" if flat else "bevel", setting)


def quarter_round_section(leg: float) -> str:
    """The moulding as it is asked for in a yard.

    >>> quarter_round_section(0.75 * INCH)
    'quarter-round 3/4'
    """
    return f"quarter-round {print_length(leg, 'inches').removesuffix(chr(34))}"


def has_corner_cleats(frame: Frame) -> bool:
    """Whether the horns are long enough to hold a cleat in the outside corner."""
    return frame.choices.horn >= SMALL.thickness - 1e-9


def _ring(
    frame: Frame,
    part: Part,
    ring: Ring,
    widths: Sequence[float],
    sections: Sequence[str],
    levels: tuple[float, float],
    horn: float,
) -> list[Piece]:
    """A pinwheel of boards round ``ring``."""
    flat = part == "soffit board"
    inside = ring.pinwheel_lengths(widths, horn)
    footprints = ring.pinwheel(widths, horn)
    longest = inside + np.maximum(np.asarray(widths) / np.tan(ring.angles), 0.0)
    return [
        Piece(
            f"{part} {name}",
            part,
            name,
            sections[i],
            to_sixteenth(float(longest[i])),
            float(inside[i]),
            butt_cut(float(ring.angles[i]), flat=flat),
            SQUARE,
            footprints[i],
            *levels,
        )
        for i, name in enumerate(frame.sides)
    ]


def _soffit_boards(frame: Frame) -> list[Piece]:
    widths, sections = [s.width for s in frame.soffits], [s.section for s in frame.soffits]
    levels = frame.soffit_bottom, frame.cap.soffit
    return _ring(frame, "soffit board", frame.soffit_ring, widths, sections, levels, 0.0)


def _sidewalls(frame: Frame) -> list[Piece]:
    count = len(frame.names)
    levels = frame.cap.soffit, frame.wall_top
    return _ring(
        frame, "sidewall", frame.ring, [frame.wall.thickness] * count, [frame.wall.name] * count, levels, frame.choices.horn
    )


def _corner_blocks(frame: Frame) -> list[Piece]:
    section, length = frame.choices.block_section, frame.choices.block_length
    top = frame.soffit_bottom
    return [
        Piece(
            f"corner block {name}, {leg}", "corner block", name, section, length, length, SQUARE, SQUARE,
            frame.blocks.legs[k, which], top - length, top, stands=True,
        )
        for k, name in enumerate(frame.blocks.names)
        for which, leg in enumerate(("butt leg", "lap leg"))
    ]  # fmt: skip


def _rails(frame: Frame) -> list[Piece]:
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
            _plain(f"rail {name}", "rail", name, rail, length, np.array([a + out, b + out, b, a]), (top - size.width, top))
        )
    return made


def _joint_cleats(frame: Frame) -> list[Piece]:
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
            _plain(f"joint cleat {name}", "joint cleat", name, SMALL.name, 2 * CLEAT_HALF, foot, (top - SMALL.thickness, top))
        )
    return made


def joint_start(frame: Frame, side: int) -> float:
    """How far out from the soffit's inner corner a joint cleat begins: clear of the block, and of the rail of ``side``."""
    soffit, thick = frame.soffits[side], frame.block.thickness
    block_out = soffit.reach - (float(frame.blocks.inward[side]) - thick) if frame.blocks.square else 0.0
    rail = frame.carried[side].rail
    return max(block_out, 0.0) + (board(rail).thickness if rail else 0.0) + _JOINT_FREE


def _corner_cleats(frame: Frame) -> list[Piece]:
    """Upright in the outside corner between a horn and the next wall: the thrust goes into side grain, not end grain."""
    if not has_corner_cleats(frame):
        return []
    ring = frame.ring
    heels = ring.pinwheel([frame.wall.thickness] * len(frame.names), 0.0)[:, 0]  # outer corners of the walls' butts
    made = []
    for j, heel in enumerate(heels):
        foot = _box(heel, SMALL.width * ring.along[j], SMALL.thickness * ring.normal[j])
        name, height = frame.names[j], frame.wall.width
        made.append(
            _plain(
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


def _kickers(frame: Frame) -> list[Piece]:
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
                foot = _box(at, wide, out)
                made.append(_plain(f"packer {tag}", "packer", name, "offcut", frame.wall.width, foot, levels, stands=True))
            levels = frame.soffit_bottom, frame.wall_top
            foot, height = _box(at + out, wide, SMALL.thickness * ring.normal[i]), levels[1] - levels[0]
            made.append(_plain(f"kicker {tag}", "kicker", name, SMALL.name, height, foot, levels, stands=True))
    return made


def _quarter_round(frame: Frame) -> list[Piece]:
    drip = frame.cap.drip
    if drip is None:
        return []
    outer, inner = (frame.ring.moved_out(-inset) for inset in (drip.lip, drip.lip + drip.size))
    section = quarter_round_section(drip.size)
    made = []
    for i, name in enumerate(frame.sides):
        j, length = frame.next(i), float(outer.lengths[i])
        first, second = (EndCut("mitre", mitre_setting(float(outer.angles[k]))) for k in (i, j))
        foot = np.array([outer.corners[i], outer.corners[j], inner.corners[j], inner.corners[i]])
        levels = frame.cap.soffit, frame.cap.soffit + drip.size
        size = to_sixteenth(length), length
        made.append(Piece(f"quarter-round {name}", "quarter-round", name, section, *size, first, second, foot, *levels))
    return made


def _box(at: Array, along: Array, out: Array) -> Array:
    return np.array([at, at + out, at + out + along, at + along])


def _plain(
    name: str,
    part: Part,
    place: str,
    section: str,
    length: float,
    foot: Array,
    levels: tuple[float, float],
    *,
    stands: bool = False,
) -> Piece:
    return Piece(name, part, place, section, to_sixteenth(length), length, SQUARE, SQUARE, foot, *levels, stands=stands)
