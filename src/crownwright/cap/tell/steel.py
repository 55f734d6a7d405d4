"""What is told of the steel: lengths, laps, cover, and why no heavy bar lies in a thin cap."""

from __future__ import annotations

from math import ceil

from crownwright.cap.model import SteelPiece
from crownwright.cap.steel import JOINT_COVER, LADDER, LAP, RUNGS, STOCK, WIRE
from crownwright.cap.tell.worked import Worked
from crownwright.cap.words import say
from crownwright.codes.astm_a1064 import SHRINKAGE_RATIO, steel_wanted, weight_per_length, wire
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import INCH
from crownwright.quantity.working import DERIVED, PRACTICE, Cite, Figure, Term

COVER = Cite("aci_318_2019", "Table 20.5.1.3.1")
RATIO = Cite("aci_318_2019", "24.4.3.2", "from memory")
BAR = 0.5 * INCH
"""A No. 4 bar."""
JOINT = Cite("tms_402", "cover of joint reinforcement, exposed", "from memory")


def findings(worked: Worked) -> tuple[Finding, ...]:
    """Cover of the worst ladder, of wires alone in narrow strips, and strips too narrow for any."""
    pieces = worked.steel.pieces
    if not pieces:
        action = "The cap is too small for a ladder with its cover; lay 1/2 in. (13 mm) galvanized hardware cloth at mid-depth."
        mesh = Cite("astm_c1283", "8.3.1")
        return (compare("cap.steel", "steel round the cap", mesh, "ladder wire", 0.0, at_least=1.0, action=action),)
    ladders, alone = ([piece for piece in pieces if piece.single is single] for single in (False, True))
    return (_ladder(ladders, worked), *map(_single, alone), *(_narrow(name, clear) for name, clear in worked.steel.narrow))


def _ladder(pieces: list[SteelPiece], worked: Worked) -> Finding:
    worst = min(pieces, key=lambda piece: piece.cover or 0.0)
    action = "Use stainless or hot-dip wire, tied where it is drawn; more cover needs a wider edge board or a smaller groove."
    rule = "concrete round every wire of the ladders"
    least = worked.choices.steel_cover
    return compare(
        "cap.steel.cover", rule, COVER, f"ladder {worst.name}", worst.cover, at_least=least, unit="m", action=action, slack=1e-4
    )


def _single(piece: SteelPiece) -> Finding:
    action = "Leave the wire out of this strip and fill the strip with joint filler and sealant."
    rule = "cover of one hot-dip or stainless wire alone in a narrow strip"
    subject = f"wire {piece.name}"
    return compare(
        f"cap.steel.{piece.name}", rule, JOINT, subject, piece.cover, at_least=JOINT_COVER, unit="m", action=action, slack=1e-4
    )


def _narrow(name: str, clear: float) -> Finding:
    action = "No wire fits in it: expect a crack there, or fill the strip with joint filler and sealant instead of concrete."
    least = 2 * JOINT_COVER + wire(WIRE).diameter
    return compare(
        f"cap.steel.{name}",
        "room for a wire with its cover",
        JOINT,
        f"strip {name}",
        clear,
        at_least=least,
        unit="m",
        action=action,
    )


def figures(worked: Worked) -> tuple[Figure, ...]:
    """Lengths, weight, what shrinkage asks, what a bar would need."""
    pieces = worked.steel.pieces
    total = sum(piece.length for piece in pieces if not piece.single)
    alone = sum(piece.length for piece in pieces if piece.single)
    lap = Term("lap", "lap at corners and splices", LAP, "m", Cite("tms_402", "laps of joint reinforcement", "from memory"))
    own = wire(WIRE)
    weight = (2 * total + alone) * weight_per_length(own.diameter) + total / RUNGS * LADDER * weight_per_length(own.diameter)
    thick = worked.levels.edge.thickness
    groove = worked.drip.size if worked.drip else 0.0
    return (
        *(
            Figure(
                f"cap.steel.{p.name}",
                f"{'wire' if p.single else 'ladder'} {p.name}",
                p.length,
                "m",
                "centre line + lap",
                (lap, Term("level", "above the string", p.level, "m")),
            )
            for p in pieces
        ),
        Figure(
            "cap.steel.length", "ladder-type joint reinforcement, hot-dip galvanized", total, "m", "sum of the lengths", (lap,)
        ),
        Figure(
            "cap.steel.stock",
            "lengths to buy",
            float(ceil(total / STOCK - 1e-9)),
            "1",
            "length / stock, rounded up",
            (
                Term("length", "joint reinforcement", total, "m"),
                Term("stock", "length it is sold in", STOCK, "m", PRACTICE),
            ),
            holds="offcuts lapped; cut whole sides first",
        ),
        Figure(
            "cap.steel.weight",
            "weight of it",
            weight,
            "kg",
            "two side wires and a rung every so far",
            (Term("d", "wire", own.diameter, "m", own.cite), Term("rungs", "spacing of the rungs", RUNGS, "m", PRACTICE)),
        ),
        Figure(
            "cap.steel.wanted",
            "steel that shrinkage asks at the edge, for so much width",
            steel_wanted(thick),
            "m2/m",
            "0.0018 x thickness",
            (Term("ratio", "least steel", SHRINKAGE_RATIO, "1", RATIO), Term("thickness", "outer edge", thick, "m")),
            RATIO,
            "good practice; the concrete code does not govern a cap",
        ),
        Figure(
            "cap.steel.bar_needs",
            "edge that a 1/2 in. bar would need",
            2 * worked.choices.steel_cover + BAR + groove,
            "m",
            "2 x cover + bar + groove",
            (
                Term("cover", "concrete round the bar", worked.choices.steel_cover, "m", COVER),
                Term("bar", "a No. 4 bar", BAR, "m"),
                Term("groove", "depth of the drip", groove, "m"),
            ),
            DERIVED,
            f"this edge is {say(thick)}: a bar with less cover rusts and bursts it",
        ),
    )
