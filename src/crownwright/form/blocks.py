"""Corner blocks and the strap round them: two 12-in. two-bys screwed into an L, one block at each corner of the stone.

On a stone of four corners the blocks stand square to the form and to each other, packed out from the stone where it falls
back, so that the soffit boards find their bearing and the rails lie straight. On any other stone they stand at its corners and
angles.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.model import CapDesign
from crownwright.codes.capstan import straps_needed
from crownwright.codes.friction import friction
from crownwright.codes.ps_20 import board
from crownwright.form.boards import SoffitBoard
from crownwright.form.choices import FormChoices
from crownwright.form.model import Strap
from crownwright.form.pinwheel import Ring, preceding
from crownwright.geometry.hull import convex_hull
from crownwright.quantity.units import INCH
from crownwright.survey.model import Survey

Array = NDArray[np.float64]

BACK_MOST = 0.5 * INCH
"""A block's inside face stands no further back than this behind the soffit board's inner edge, or its bearing gets short."""
TAIL = 36 * INCH
"""Strap beyond the girth: through the ratchet, a turn and a half on its drum, and enough to pull on (common practice)."""
STRAP_APART = 2.5 * INCH
"""Middle to middle, where there is room."""
WEBBING = 2 * INCH
LONGEST = 24 * INCH
"""Blocks are lengthened no further than this for straps to fit."""
UNDER = 1.5 * INCH
"""From a strap's middle to the soffit board, the rail or the end of the block beside it."""
PULL = 0.8 * 3000.0
"""Tension (N) that stays at a ratchet pulled by hand and taken up once more (the checks show it with its sources)."""
ON_WOOD, ON_STONE = "design: strap on wood edge", "design: wood on wet or dusty stone"
FACTOR = 2.0


@dataclass(frozen=True, slots=True)
class Blocks:
    """Where the blocks stand: the ring of their inside faces, names of its corners; ``legs`` (n,2,4,2) footprints, first
    the leg that butts (on the side before), then the one that laps it; ``inward`` (n,) distance of the ring's sides in from
    the cap's edge; ``shims`` (n,2) behind each leg. ``square`` is false where the stone has not four corners.
    """

    ring: Ring
    names: tuple[str, ...]
    legs: Array
    inward: Array
    shims: Array
    square: bool


def place_blocks(survey: Survey, cap: CapDesign, soffits: list[SoffitBoard], choices: FormChoices) -> Blocks:
    """Place a block at each corner of the stone."""
    section = board(choices.block_section)
    if len(survey.names) != 4:
        own = Ring(survey.corners)
        none = np.zeros((len(survey.names), 2))
        return Blocks(own, survey.names, _legs(own, section.width, section.thickness), none[:, 0], none, False)
    form = Ring(cap.corners)
    proud = _proud_near_corners(survey, form, section.width)
    inward = np.minimum(proud.min(1), [s.reach + BACK_MOST for s in soffits])
    ring = form.moved_out(-inward)
    behind = proud - inward[:, None]  # side by side: at its first corner, at its second
    shims = np.column_stack([preceding(behind[:, 1]), behind[:, 0]])
    return Blocks(ring, survey.names, _legs(ring, section.width, section.thickness), inward, shims, True)


def place_strap(blocks: Blocks, rail_depth: float, load: float, choices: FormChoices) -> Strap:
    """Place the straps: as many as hold ``load`` (N) on wet stone, the topmost as high as the soffit boards or rails let it.

    Their number, unless chosen, is that of the belt-friction formula with a hand's pull at each ratchet and a factor of 2.
    """
    count = choices.straps or straps_needed(load, PULL, friction(ON_WOOD).high, friction(ON_STONE).low, FACTOR)
    top = choices.block_length - rail_depth - UNDER
    apart = min(STRAP_APART, (top - WEBBING / 2) / max(count - 1, 1))
    heights = tuple(top - k * apart for k in range(count))
    thick = board(choices.block_section).thickness
    path = blocks.ring.moved_out(thick) if blocks.square else Ring(convex_hull(blocks.legs.reshape(-1, 2)))
    return Strap(count, heights, path.corners, path.perimeter, path.perimeter + TAIL, load)


def length_for(straps: int, rail_depth: float) -> float:
    """Length of blocks (m, whole inches) on which so many straps lie side by side under a rail, at most `LONGEST`."""
    room = rail_depth + UNDER + (straps - 1) * WEBBING + WEBBING / 2
    return min(ceil(room / INCH - 1e-9) * INCH, LONGEST)


def _legs(ring: Ring, width: float, thick: float) -> Array:
    """Footprints: the butting leg ends flush with the face that the lapping one lies on, which runs on over its edge."""
    corners, before, out_before = ring.corners, preceding(ring.along), thick * preceding(ring.normal)
    past = corners - (thick / ring.sines)[:, None] * ring.along
    butt = np.stack([corners - width * before + out_before, past, corners, corners - width * before], axis=1)
    end, out = past + width * ring.along, thick * ring.normal
    lap = np.stack([past + out, end + out, end, past], axis=1)
    return np.stack([butt, lap], axis=1)


def _proud_near_corners(survey: Survey, form: Ring, leg: float) -> Array:
    """Distance (n,2) in from each cap side to the proudest stone within a leg's length of its two corners."""
    face, side = survey.outline.face, survey.outline.side
    found = np.empty((4, 2))
    for i in range(4):
        rows = np.flatnonzero(side == i)
        points = face[[*rows, (rows[-1] + 1) % len(face)]]
        x = (points - form.corners[i]) @ form.along[i]
        inward = (form.corners[i] - points) @ form.normal[i]
        order = np.argsort(x, kind="stable")
        x, inward = x[order], inward[order]
        # the face runs straight between its stations, so a leg that ends between two may meet it at its end
        first, last = np.interp([x[0] + leg, x[-1] - leg], x, inward)
        found[i] = min(first, inward[x <= x[0] + leg].min()), min(last, inward[x >= x[-1] - leg].min())
    return found
