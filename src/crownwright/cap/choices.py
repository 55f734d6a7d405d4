"""What the mason may decide about the cap. Everything has a default of the trade; whatever he fixes, the rest is
solved round it.

Metres and radians. None means: let Crownwright choose.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, radians
from typing import Literal

from crownwright.quantity.findings import Waiver
from crownwright.quantity.units import FOOT, INCH


@dataclass(frozen=True, slots=True)
class CapChoices:
    """Targets, floors and hand-set values for the cap (see the nomenclature page for the words).

    ``overhang_least`` and ``overhang_most``: the band, beyond the proudest stone and at the deepest recess.
    ``length``, ``width``: hand-set outside size along AB and across. ``turn``: hand-set direction of the AB side of
    the cap. ``edge_board``: "2x4", "2x6", "2x8" ...; ``edge_thickness`` overrides it. ``soffit_drop``: how far the
    soffit lies below the level string. ``slope_least`` nowhere flatter; ``slope_wanted`` where height allows.
    ``proud_least``/``proud_most``: flue above the wash. ``cover_least``: concrete over the highest hump.
    ``drip_size`` leg of the quarter-round, ``drip_setback`` face of the proudest stone to the groove, ``drip_lip``
    least concrete outside it. ``joint_width`` round each flue; ``joint_waived`` records leaving it out on a repair.
    ``hollow_depth``: a top course hollowed out that keys the cap, ``hollow_inset`` in from its face. ``round_to``: step of the
    cap's plan size; ``level_step`` of its levels.
    ``sure``: chance (0..1) with which the true stone keeps each single planned minimum. ``square_within``: evenness of the
    overhang given up to stand square to what the eye sees. ``extension_buried``: concrete over the joint of a flue extension.
    ``liner_length``, ``liner_warming``, ``sealant_movement``: the liner above its support, how much warmer it gets (K), and the
    sealant's movement class (0.25 is +/- 25 %), for the width of the joint. ``steel_cover`` on every side of the wire.
    """

    overhang_least: float = 3 * INCH
    overhang_most: float = 5 * INCH
    overhang_wanted: float = 4 * INCH
    length: float | None = None
    width: float | None = None
    turn: float | None = None
    round_to: float = INCH / 4
    edge_board: str | None = None
    edge_thickness: float | None = None
    soffit_drop: float | None = None
    slope_least: float = radians(10.0)
    slope_wanted: float = atan(3.0 / 12.0)
    proud_least: float = 2 * INCH
    proud_wanted: float = 4 * INCH
    proud_most: float = 4 * INCH
    cover_least: float = 2 * INCH
    drip_size: float = 0.75 * INCH
    drip_setback: float = 1.5 * INCH
    drip_lip: float = 0.75 * INCH
    joint_width: float | None = None
    joint_waived: Waiver | None = None
    base: Literal["bonded", "slip sheet"] = "slip sheet"
    hollow_depth: float = 0.0
    hollow_inset: float = 0.0
    level_step: float = INCH / 8
    sure: float = 0.995
    square_within: float = INCH / 16
    extension_buried: float = 1.0 * INCH
    liner_length: float = 25 * FOOT
    liner_warming: float = 400.0 / 1.8
    sealant_movement: float = 0.25
    steel_cover: float = 1.5 * INCH
    density: float = 2320.0  # kg/m3, about 145 lb/ft3, fresh normal concrete
