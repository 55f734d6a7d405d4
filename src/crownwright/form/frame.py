"""What the form is laid out on, and how a length, an end and a box of it are written down."""

from __future__ import annotations

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
from crownwright.form.pinwheel import Ring, bevel
from crownwright.quantity.units import INCH

Array = NDArray[np.float64]

SMALL = board("2x4")
"""Cleats and kickers are made of it."""
SIXTEENTH = INCH / 16
SQUARE = EndCut("square")
TRUE_ENOUGH = 0.25 * pi / 180
"""Angles nearer to square than a quarter degree are cut square: no saw is set finer (judgement)."""


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


def to_sixteenth(length: float) -> float:
    """Length to the nearest sixteenth of an inch."""
    return round(length / SIXTEENTH) * SIXTEENTH


def butt_cut(angle: float, *, flat: bool) -> EndCut:
    """End cut of a board that butts at an inside ``angle``: through the thickness, or across the width of one lying flat."""
    setting = bevel(angle)
    return SQUARE if setting < TRUE_ENOUGH else EndCut("mitre" if flat else "bevel", setting)


def box(at: Array, along: Array, out: Array) -> Array:
    """Footprint of a box from its corner ``at``, counter-clockwise when ``out`` is on the right hand of ``along``."""
    return np.array([at, at + out, at + out + along, at + along])


def plain(
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
    """A piece with both ends square; ``levels`` are its bottom and top."""
    return Piece(name, part, place, section, to_sixteenth(length), length, SQUARE, SQUARE, foot, *levels, stands=stands)
