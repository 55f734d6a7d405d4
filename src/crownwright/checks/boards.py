"""Soffit boards and sidewalls under fresh concrete: bending, shear and sag by the lumber code, wet, for the days of a pour."""

from __future__ import annotations

from dataclasses import dataclass
from math import tan

from crownwright.cap.model import CapDesign
from crownwright.checks.tell import figure, value_of
from crownwright.codes.aci_347_04 import CONSTRUCTION_LIVE, liquid_thrust
from crownwright.codes.beam_formulas import Rectangle, shear_stress, simple_uniform
from crownwright.codes.nds_2018 import Lumber, bending_value, lumber, modulus_value, shear_value
from crownwright.codes.ps_20 import board as dressed
from crownwright.form.model import FormDesign, FormSide
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import G0, INCH, PSF
from crownwright.quantity.working import Cite, Figure

WOOD = Cite("nds_2018", "4.3, Supplement Table 4A")
LOADS = Cite("aci_347_2004", "2.2.1 and 2.2.2")
SAG = Cite("aci_347_2004", "L/360, and 1/16 in. for a face that is seen", "from memory")
FORM = 5 * PSF
"""Weight of the boards themselves (common practice, no source)."""
CONSTRUCTION = "seven days"
SIXTEENTH = INCH / 16
STIFFER = "Bring the blocks closer, set a rail under the board or a kicker at the sidewall."


@dataclass(frozen=True, slots=True)
class Board:
    """A board as a beam: its section (``breadth`` across the load), nominal width (in.), span (m), load (N/m), and whether it is
    loaded on its wide face.
    """

    name: str
    section: Rectangle
    nominal: int
    span: float
    load: float
    flat: bool = True


def boards_of(form: FormDesign, cap: CapDesign) -> tuple[Board, ...]:
    """Return every soffit board, rail and sidewall of a form as a beam."""
    return tuple(one for side in form.sides for one in (*soffit_boards(side, cap), sidewall(side, cap)))


def soffit_boards(side: FormSide, cap: CapDesign) -> tuple[Board, ...]:
    """Return a side's soffit board under concrete, people and itself, and the rail under it; they share the load by stiffness."""
    slope = tan(max(cap.least_slope, cap.choices.slope_wanted))
    depth = cap.edge_thickness + side.reach * slope
    load = (cap.choices.density * G0 * depth + CONSTRUCTION_LIVE + FORM) * side.width
    size = dressed(side.section)
    flat = Rectangle(side.width, size.thickness)
    if side.rail is None:
        return (Board(f"soffit board {side.name}", flat, _nominal(side.section), side.span, load),)
    under = dressed(side.rail)
    edge = Rectangle(under.thickness, under.width)
    share = flat.inertia / (flat.inertia + edge.inertia)
    return (
        Board(f"soffit board {side.name}", flat, _nominal(side.section), side.span, load * share),
        Board(f"rail {side.name}", edge, _nominal(side.rail), side.span, load * (1 - share), flat=False),
    )


def sidewall(side: FormSide, cap: CapDesign) -> Board:
    """Return a side's sidewall under the full liquid head of the edge, between corners and kickers."""
    size = dressed(cap.edge_board)
    load = liquid_thrust(cap.choices.density, cap.edge_thickness)
    span = side.inside / (side.kickers + 1)
    return Board(f"sidewall {side.name}", Rectangle(size.width, size.thickness), _nominal(cap.edge_board), span, load)


def figures_board(board: Board, wood: Lumber) -> tuple[Figure, ...]:
    """Return load, bending and shear stress and sag of one board, with what the wood may bear."""
    key = "checks.board." + board.name.replace(" ", "_")
    bent = simple_uniform(board.load, board.span, modulus_value(wood, wet=True) * board.section.inertia)
    given = (("w", "load", board.load, "N/m"), ("L", "span", board.span, "m"))
    size = (("b", "breadth", board.section.breadth, "m"), ("d", "depth", board.section.depth, "m"))
    stiff = ("E", "stiffness, wet", modulus_value(wood, wet=True), "Pa")
    base = ("Fb", f"{wood.grade}", wood.bending, "Pa")
    bending = bending_value(wood, board.nominal, CONSTRUCTION, wet=True, flat=board.flat)
    return (
        figure(
            f"{key}.bending",
            f"bending, {board.name}",
            bent.moment / board.section.modulus,
            "Pa",
            "(w L^2/8)/(b d^2/6)",
            LOADS,
            *given,
            *size,
        ),
        figure(f"{key}.bending_value", f"bending it may bear, {board.name}", bending, "Pa", "Fb CD CM CF Cfu", WOOD, base),
        figure(
            f"{key}.shear",
            f"shear, {board.name}",
            shear_stress(bent.shear, board.section.area),
            "Pa",
            "1.5 (w L/2)/(b d)",
            LOADS,
            *given,
            *size,
        ),
        figure(f"{key}.sag", f"sag, {board.name}", bent.deflection, "m", "5 w L^4/(384 E I)", LOADS, *given, *size, stiff),
    )


def check_boards(form: FormDesign, cap: CapDesign, grade: str) -> tuple[Finding, ...]:
    """Return the findings on every soffit board, rail and sidewall."""
    wood = lumber(grade)
    return tuple(finding for board in boards_of(form, cap) for finding in _board(board, wood))


def figures_boards(form: FormDesign, cap: CapDesign, grade: str) -> tuple[Figure, ...]:
    """Return the figures of every soffit board, rail and sidewall."""
    wood = lumber(grade)
    return tuple(one for board in boards_of(form, cap) for one in figures_board(board, wood))


def _board(board: Board, wood: Lumber) -> tuple[Finding, ...]:
    known, key = figures_board(board, wood), "checks.board." + board.name.replace(" ", "_")
    bending, most, shear, sag = (value_of(known, f"{key}.{name}") for name in ("bending", "bending_value", "shear", "sag"))
    at = board.name.replace(" ", ".")
    limit = min(board.span / 360, SIXTEENTH)
    return (
        compare(
            f"form.bending.{at}", "bending under its value", WOOD, board.name, bending, at_most=most, unit="Pa", action=STIFFER
        ),
        compare(
            f"form.shear.{at}",
            "shear under its value",
            WOOD,
            board.name,
            shear,
            at_most=shear_value(wood, CONSTRUCTION, wet=True),
            unit="Pa",
            action=STIFFER,
        ),
        compare(
            f"form.sag.{at}",
            "sag under span/360 and 1/16 in. (2 mm)",
            SAG,
            board.name,
            sag,
            at_most=limit,
            unit="m",
            action=STIFFER,
        ),
    )


def _nominal(section: str) -> int:
    """Nominal width, in., of a section by its trade name ("2x6"); the size factors go by it."""
    return int(section.split("x")[1])
