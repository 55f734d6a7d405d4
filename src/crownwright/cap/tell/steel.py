"""What is told of the steel: lengths, laps, cover, and why no heavy bar lies in a thin cap."""

from __future__ import annotations

from math import ceil

from crownwright.cap.steel import LADDER, LAP, RUNGS, STOCK, WIRE
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
LEAST_STRIP = 2 * (1.5 * INCH) + LADDER


def findings(worked: Worked) -> tuple[Finding, ...]:
    """Cover of the worst length, and strips between flues too narrow for a ladder."""
    pieces, choices = worked.steel.pieces, worked.choices
    if not pieces:
        action = "The cap is too small for a ladder with its cover; lay 1/2 in. galvanized hardware cloth at mid-depth."
        mesh = Cite("astm_c1283", "8.3.1")
        return (compare("cap.steel", "steel round the cap", mesh, "ladder wire", 0.0, at_least=1.0, action=action),)
    worst = min(pieces, key=lambda piece: piece.cover or 0.0)
    thicker = "Use stainless or hot-dip wire, tied where it is drawn; more cover needs a wider edge board or a smaller groove."
    subject = f"wire {worst.name}"
    cover = compare(
        "cap.steel.cover",
        "concrete round every wire",
        COVER,
        subject,
        worst.cover,
        at_least=choices.steel_cover,
        unit="m",
        action=thicker,
    )
    return (cover, *(_narrow(name, clear) for name, clear in worked.steel.narrow))


def _narrow(name: str, clear: float) -> Finding:
    action = "Lay hardware cloth or a single wire in it and expect a hairline there; the joints either side take the movement."
    return compare(
        f"cap.steel.{name}",
        "room for a ladder with its cover",
        PRACTICE,
        f"strip {name}",
        clear,
        at_least=LEAST_STRIP,
        unit="m",
        action=action,
    )


def figures(worked: Worked) -> tuple[Figure, ...]:
    """Lengths, weight, what shrinkage asks, what a bar would need."""
    pieces = worked.steel.pieces
    total = sum(piece.length for piece in pieces)
    lap = Term("lap", "lap at corners and splices", LAP, "m", Cite("tms_402", "laps of joint reinforcement", "from memory"))
    own = wire(WIRE)
    weight = total * 2 * weight_per_length(own.diameter) + total / RUNGS * LADDER * weight_per_length(own.diameter)
    thick = worked.levels.edge.thickness
    groove = worked.drip.size if worked.drip else 0.0
    return (
        *(
            Figure(
                f"cap.steel.{p.name}",
                f"ladder {p.name}",
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
            "length / stock, up",
            (Term("stock", "length it is sold in", STOCK, "m", PRACTICE),),
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
            "steel that shrinkage asks at the edge, per metre of width",
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
