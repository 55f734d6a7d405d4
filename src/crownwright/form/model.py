"""The form as designed. Same datum as the survey; metres, m2, m3, kg and radians.

Sides and corners are numbered as the cap's: side i runs from corner i to corner i + 1, counter-clockwise. Distances "in" and
"out" are square from the outer edge of the cap, which is the inside face of the sidewalls.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from crownwright.form.choices import FormChoices
from crownwright.form.cutlist import CutList
from crownwright.quantity.findings import Finding
from crownwright.quantity.problems import Problem
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import Figure

Array = NDArray[np.float64]
Part = Literal[
    "corner block", "rail", "soffit board", "joint cleat", "sidewall", "corner cleat", "kicker", "packer", "quarter-round"
]


@dataclass(frozen=True, slots=True)
class EndCut:
    """How a piece's end is cut: ``square``; ``bevel`` (tilt of the blade from square, through the thickness) or
    ``mitre`` (turn of the saw from square, across the width); ``angle`` is what the saw is set to.
    """

    kind: Literal["square", "bevel", "mitre"]
    angle: float = 0.0


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of the form. ``length`` is its longest edge, to the nearest sixteenth; ``inside`` the exact length of the edge
    that faces the concrete (the same where both ends are square). It fills the plan polygon ``footprint`` (n,2) from ``bottom``
    to ``top``; a quarter-round fills a quarter disc along its footprint, its flat side on the outer edge.

    ``place`` says where it goes: a side's or a corner's name. ``stands`` is true where its length is upright.
    """

    name: str
    part: Part
    place: str
    section: str
    length: float
    inside: float
    start: EndCut
    end: EndCut
    footprint: Array
    bottom: float
    top: float
    stands: bool = False


@dataclass(frozen=True, slots=True)
class Screw:
    """One screw: the ``place`` it belongs to (key of a `ScrewLine`), the pieces it joins, the point its head is at and the unit
    direction it is driven in.
    """

    place: str
    joins: tuple[str, str]
    head: tuple[float, float, float]
    drive: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class ScrewLine:
    """One line of the screw list: what it joins, gauge and length of the screw (m), how many, from where it is driven, whether
    the head is greased against slurry, and what it is there for.
    """

    place: str
    joint: str
    gauge: int
    length: float
    count: int
    driven: Literal["from outside", "from below", "from inside"]
    greased: bool
    why: str


@dataclass(frozen=True, slots=True)
class FormSide:
    """One side of the form.

    ``inside`` length between sidewalls; soffit board of ``section``, whose inner edge lies ``reach`` in from the sidewall's
    inside face and which sticks out ``sticks_out`` beyond the sidewall; ``rail`` the section under it (None: not needed);
    ``span`` clear between the corner blocks and ``span_most`` what the soffit board (with its rail) may span; ``wall_most`` what
    the sidewall may span, ``kickers`` how many hold it between the corners.
    """

    name: str
    inside: float
    section: str
    width: float
    reach: float
    sticks_out: float
    rail: str | None
    span: float
    span_most: float
    wall_most: float
    kickers: int


@dataclass(frozen=True, slots=True)
class FormCorner:
    """One corner: its inside angle in the form, how much each leg of the block is packed out from the stone there (first leg on
    the side before, second on the side after), and how much of the soffit boards bears on it.
    """

    name: str
    angle: float
    shims: tuple[float, float]
    bearing: float


@dataclass(frozen=True, slots=True)
class Gap:
    """The gap between one soffit board and the stone, station by station along the side: ``along`` from the cap's corner,
    ``width`` (negative: the stone stands in the way) and its standard error. ``wide`` are the stretches (from, to) too wide to
    pack dry; ``bed`` m2 of them in plan, as expected with its spread.
    """

    side: str
    along: Array
    width: Array
    sd: Array
    widest: Uncertain
    narrowest: Uncertain
    wide: tuple[tuple[float, float], ...]
    bed: Uncertain


@dataclass(frozen=True, slots=True)
class Strap:
    """The ratchet straps round the blocks: how many, how high each lies above the blocks' undersides, the path (n,2) of one,
    its girth, the least length of strap to have, and the load (N) they were counted for.
    """

    count: int
    heights: tuple[float, ...]
    path: Array
    girth: float
    least_length: float
    load: float


@dataclass(frozen=True, slots=True)
class HangLine:
    """One line that holds the form up while it comes off: its ``place``, the piece it ``holds``, the point of its screw on the
    outer face, and the unit direction that screw is driven in.
    """

    place: str
    holds: str
    head: tuple[float, float, float]
    drive: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Hanging:
    """The lines for strip day: ``screws`` to each, the ``load`` (N) each is made for and what one screw ``carries`` (N), and
    ``length`` of line in all (m).
    """

    lines: tuple[HangLine, ...]
    screws: int
    load: float
    carries: float
    length: float


@dataclass(frozen=True, slots=True)
class Step:
    """One step of putting the form together: what to do, the pieces it brings in, the places of its screws."""

    title: str
    tell: str
    pieces: tuple[str, ...]
    screws: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FormDesign:
    """The whole form. ``choices`` as it was planned with; ``corners`` (n,2) of the inside faces of the sidewalls (the cap's
    outer edge); levels above the string: ``soffit`` top of the soffit boards, ``block_bottom``. ``packing_volume`` and
    ``bed_volume`` m3; ``bead_length`` m of sealing bead; ``oil_area`` m2; ``skirt`` size of the cloth; ``weight`` kg of lumber,
    without a spread. ``cut`` is None when the cut list was left out.
    """

    choices: FormChoices
    corners: Array
    soffit: float
    block_bottom: float
    sides: tuple[FormSide, ...]
    joints: tuple[FormCorner, ...]
    pieces: tuple[Piece, ...]
    screws: tuple[Screw, ...]
    screw_list: tuple[ScrewLine, ...]
    steps: tuple[Step, ...]
    strap: Strap
    hanging: Hanging
    gaps: tuple[Gap, ...]
    packing_volume: Uncertain
    bed_volume: Uncertain
    bead_length: float
    oil_area: float
    skirt: tuple[float, float]
    weight: float
    cut: CutList | None
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    problems: tuple[Problem, ...]

    def piece(self, name: str) -> Piece:
        """Return the piece with this name; KeyError naming those there are."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise KeyError(f"no piece {name!r}; there are: {', '.join(p.name for p in self.pieces)}")
