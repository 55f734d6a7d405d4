"""Which boards each side of the form is made of: soffit boards from the overhang, rails and kickers from the spans."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, tan

from crownwright.cap.model import CapDesign
from crownwright.codes.aci_347_04 import CONSTRUCTION_LIVE, liquid_thrust
from crownwright.codes.beam_formulas import Rectangle, span_for_deflection, span_for_ratio
from crownwright.codes.nds_2018 import lumber, modulus_value
from crownwright.codes.ps_20 import Board, board, boards
from crownwright.form.choices import FormChoices
from crownwright.quantity.units import G0, INCH, PSF

LOOSE = 0.5 * INCH
"""A soffit board may stop this much further from the stone than the clearance before the next wider one is taken (judgement)."""
FORM_LOAD = 5 * PSF
"""Weight of the form on its own soffit boards."""
SAG_MOST = INCH / 16
SAG_RATIO = 360.0
"""Deflection limits of form boards: 1/16 in. and span/360, whichever is less."""
GRADE = "SPF No.1/No.2"
"""The weakest grade on the rack in most places; wet, since fresh concrete wets the form."""
RAILS = ("2x4", "2x6", "2x8")
STRAP_ROOM = 4 * INCH
"""What a rail must leave of the block's height for the strap."""
NARROWEST = 3.5 * INCH


@dataclass(frozen=True, slots=True)
class SoffitBoard:
    """``section``, ``width``; ``reach`` of its inner edge in from the sidewall's inside face; what ``sticks_out`` beyond it;
    ``most`` the furthest in that the stone lets it reach.
    """

    section: str
    width: float
    reach: float
    sticks_out: float
    most: float


@dataclass(frozen=True, slots=True)
class Carrying:
    """What a soffit board spans: its ``load`` (N/m), the ``rail`` under it (None: none), ``span_most`` it may span so."""

    load: float
    rail: str | None
    span_most: float


def wall_board(cap: CapDesign) -> Board:
    """The sidewall's board."""
    return board(cap.edge_board)


def widths_on_offer(choices: FormChoices) -> list[Board]:
    """Boards a soffit can be made of, narrow to wide: those of the stock list; all there are when it lists none."""
    listed = {s.section for s in choices.stock}
    usable = [b for b in boards().values() if b.width >= NARROWEST - 1e-9]
    return [b for b in usable if b.name in listed] or usable


def soffit_board(most: float, wall: float, choices: FormChoices) -> SoffitBoard:
    """Choose the narrowest board that comes near enough to the stone with the sidewall standing on it.

    ``most``: how far in from the sidewall's inside face the stone lets the board reach; ``wall``: the sidewall's thickness. What
    a board is wider than both together sticks out beyond the sidewall.
    """
    wanted = max(most, 0.0) + wall
    on_offer = widths_on_offer(choices)
    chosen = next((b for b in on_offer if b.width >= wanted - LOOSE), on_offer[-1])
    reach = min(max(most, 0.0), chosen.width - wall)
    return SoffitBoard(chosen.name, chosen.width, reach, chosen.width - wall - reach, most)


def reach_most(cap: CapDesign, choices: FormChoices) -> list[float]:
    """How far in (m) each side's soffit board may reach: short of the proudest stone by the clearance, and of the guard."""
    return [min(side.least - choices.clearance, side.sure) for side in cap.sides]


def carrying(cap: CapDesign, soffit: SoffitBoard, span: float, choices: FormChoices) -> Carrying:
    """Choose the lightest rail with which the soffit board spans ``span`` (m) between the blocks; none where it can alone.

    The board carries concrete at its greatest depth over it, the live load of ACI 347 and the form, over its whole width; board
    and rail bend together but each for itself.
    """
    depth = cap.edge_thickness + soffit.reach * tan(max(cap.least_slope, cap.choices.slope_wanted))
    load = (cap.choices.density * G0 * depth + CONSTRUCTION_LIVE + FORM_LOAD) * soffit.width
    thick = board(soffit.section).thickness
    flat = Rectangle(soffit.width, thick).inertia
    rails = [name for name in RAILS if board(name).width <= choices.block_length - STRAP_ROOM]
    made = [Carrying(load, None, _span(flat, load))]
    made += [Carrying(load, name, _span(flat + _edge_inertia(name), load)) for name in rails]
    return next((one for one in made if one.span_most >= span), made[-1])


def wall_span(cap: CapDesign) -> float:
    """Longest span (m) of a sidewall between what holds it, with liquid concrete to its full height pushing it out."""
    thrust = liquid_thrust(cap.choices.density, cap.edge_thickness)
    wall = wall_board(cap)
    return _span(Rectangle(wall.width, wall.thickness).inertia, thrust)


def kickers_for(inside: float, most: float) -> int:
    """How many kickers hold a wall of ``inside`` length whose span may be ``most``."""
    return max(ceil(inside / most - 1e-9) - 1, 0)


def _edge_inertia(name: str) -> float:
    return Rectangle(board(name).thickness, board(name).width).inertia


def _span(inertia: float, load: float) -> float:
    stiffness = modulus_value(lumber(GRADE), wet=True) * inertia
    return min(span_for_deflection(stiffness, load, SAG_MOST), span_for_ratio(stiffness, load, SAG_RATIO))
