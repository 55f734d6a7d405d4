"""Every number of the form with its working."""

from __future__ import annotations

import numpy as np

from crownwright.codes.friction import friction
from crownwright.codes.nds_2018 import lumber
from crownwright.form.blocks import ON_STONE, ON_WOOD, PULL
from crownwright.form.boards import FORM_LOAD, GRADE, SAG_MOST
from crownwright.form.compared import JUDGED, PROUD_HOLD, SAG
from crownwright.form.frame import Frame
from crownwright.form.hanging import GAUGE, KNOTS, LEVER, LONG, PROUD
from crownwright.form.model import FormSide, Gap, Hanging, Piece, ScrewLine, Strap
from crownwright.form.takeoff import MOISTURE, Takeoff
from crownwright.quantity.lengths import print_length
from crownwright.quantity.working import DERIVED, ENTERED, PRACTICE, Cite, Figure, Term

DRESSED = Cite("ps_20", "dressed sizes")
WET = Cite("nds_2018", f"E of {GRADE}, wet")
SPAN = "least of (384 EI d/(5 w))^(1/4) and (384 EI/(5 w 360))^(1/3)"


def figures(
    frame: Frame,
    pieces: tuple[Piece, ...],
    sides: tuple[FormSide, ...],
    gaps: tuple[Gap, ...],
    tied: tuple[Strap, Hanging],
    took: Takeoff,
    screws: tuple[ScrewLine, ...],
) -> tuple[Figure, ...]:
    """Every number of the form with its working."""
    return (
        *_lengths(frame, pieces),
        *_diagonal(frame),
        *(f for side, one in zip(sides, frame.carried, strict=True) for f in _side(side, one.load, frame)),
        *(f for gap in gaps for f in _gap_figures(gap)),
        *_amounts(frame, took),
        *_strap_figures(tied[0], frame),
        *_hanging_figures(tied[1], took),
        _weight(pieces, took),
        _screws(screws),
    )


def _lengths(frame: Frame, pieces: tuple[Piece, ...]) -> list[Figure]:
    walls = frame.ring, [frame.wall.thickness] * len(frame.names), frame.choices.horn
    rings = {"sidewall": walls, "soffit board": (frame.soffit_ring, [s.width for s in frame.soffits], 0.0)}
    made = []
    for piece in pieces:
        if piece.part in rings:
            ring, widths, horn = rings[piece.part]
            i = frame.sides.index(piece.place)
            j = frame.next(i)
            inputs = (
                Term("s", "inside length between the boards beside it", float(ring.lengths[i]), "m"),
                Term("t", "the next board, square to its length", widths[j], "m", DRESSED),
                Term("angle", "inside angle where it runs past", float(ring.angles[j]), "rad"),
                Term("horn", "runs on past", horn, "m", ENTERED),
            )
            made.append(Figure(_key(piece), f"{piece.name}, inside edge", piece.inside, "m", "s + t/sin(angle) + horn", inputs))
    return made + [_moulding(piece, frame) for piece in pieces if piece.part == "quarter-round"]


def _moulding(piece: Piece, frame: Frame) -> Figure:
    lip = frame.cap.drip.lip if frame.cap.drip else 0.0
    formula = "side of the cap less the lip at both ends, long points"
    inputs = (Term("lip", "in from the sidewall", lip, "m"),)
    return Figure(_key(piece), f"{piece.name}, outer edge", piece.inside, "m", formula, inputs)


def _key(piece: Piece) -> str:
    return f"form.{piece.part.replace(' ', '_').replace('-', '_')}.{piece.place}"


def _diagonal(frame: Frame) -> tuple[Figure, ...]:
    c, names = frame.ring.corners, frame.names
    if len(c) != 4:
        return ()
    formula = "(x^2 + y^2)^(1/2), corner to corner inside the sidewalls; square when both are equal"
    made = []
    for k in (0, 1):
        x, y = (float(run) for run in c[k + 2] - c[k])
        run = Term("x", "run between the two corners", x, "m"), Term("y", "run square to it", y, "m")
        ends = names[k], names[k + 2]
        long = float(np.hypot(x, y))
        made.append(Figure(f"form.diagonal.{''.join(ends)}", f"inside diagonal {' to '.join(ends)}", long, "m", formula, run))
    return tuple(made)


def _side(side: FormSide, load: float, frame: Frame) -> tuple[Figure, ...]:
    with_rail = f" with a {side.rail} rail" if side.rail else ""
    return (
        Figure(
            f"form.sticks_out.{side.name}", f"soffit board {side.name} sticks out beyond the sidewall", side.sticks_out, "m",
            "width - sidewall - reach",
            (
                Term("width", f"width of a {side.section}", side.width, "m", DRESSED),
                Term("sidewall", "thickness of the sidewall", frame.wall.thickness, "m", DRESSED),
                Term("reach", "inner edge in from the sidewall, short of the stone by the clearance", side.reach, "m"),
            ),
        ),
        Figure(
            f"form.span_most.{side.name}", f"span that soffit board {side.name} allows{with_rail}", side.span_most, "m", SPAN,
            (
                Term("w", "concrete, 50 psf live, form, over its width", load, "N/m", Cite("aci_347_2004", "live load")),
                Term("d", "sag allowed", SAG_MOST, "m", SAG),
                Term("rail", "rail", side.rail or "none"),
                Term("form", "weight of the form on the board", FORM_LOAD, "Pa", JUDGED),
            ),
            WET, "small deflections; board and rail bend each for itself",
        ),
        Figure(
            f"form.wall_span.{side.name}", f"span that sidewall {side.name} allows", side.wall_most, "m",
            f"{SPAN}, w = density g h^2/2",
            (
                Term("h", "depth of concrete against it", frame.cap.edge_thickness, "m"),
                Term("density", "fresh concrete", frame.cap.choices.density, "kg/m3"),
                Term("d", "bulge allowed", SAG_MOST, "m", SAG),
            ),
            WET, "full liquid head",
        ),
    )  # fmt: skip


def _gap_figures(gap: Gap) -> tuple[Figure, ...]:
    formula = "station by station: stone in from the sidewall - reach of the soffit board"
    inputs = (Term("stations", "stations along the side", len(gap.along)),)
    return tuple(
        Figure(
            f"form.gap_{key}.{gap.side}", f"{key} gap between soffit board {gap.side} and the stone", value.mean, "m", formula,
            inputs, DERIVED, "spread of that one station", spread=value.sd,
        )
        for key, value in (("widest", gap.widest), ("narrowest", gap.narrowest))
    )  # fmt: skip


def _amounts(frame: Frame, took: Takeoff) -> tuple[Figure, ...]:
    depth = Term("depth", "thickness of the soffit boards", frame.cap.soffit - frame.soffit_bottom, "m", DRESSED)
    ring = Term("ring", "between soffit boards and stone, in plan", took.ring.mean, "m2")
    bed = Term("bed", "where the gap is too wide to pack, in plan", took.bed.mean, "m2")
    most = Term("limit", "widest gap packed dry", frame.choices.pack_most, "m", ENTERED)
    skirt = Term("skirt", "past the form", frame.choices.skirt, "m", ENTERED)
    cloth = "outside of the soffit boards + skirt at both ends"
    return (
        Figure("form.packing_volume", "packing between soffit boards and stone", took.packing_volume.mean, "m3",
               "(ring - bed) x depth", (ring, bed, depth), spread=took.packing_volume.sd),
        Figure("form.bed_volume", "mortar bed where the gap is too wide to pack", took.bed_volume.mean, "m3", "bed x depth",
               (bed, most, depth), holds="the gap's expected area beyond the limit; stations within one stone go together",
               spread=took.bed_volume.sd),
        Figure("form.bead", "sealing bead", sum(x for _, x in took.bead), "m", "sum of the joints that concrete touches",
               tuple(Term("", what, x, "m") for what, x in took.bead)),
        Figure("form.oil", "faces to oil", took.oil, "m2", "walls + soffit boards + moulding",
               (Term("h", "depth of concrete against the walls", frame.cap.edge_thickness, "m"),)),
        Figure("form.skirt_length", "cloth round the chimney, along", took.skirt[0], "m", cloth, (skirt,)),
        Figure("form.skirt_width", "cloth round the chimney, across", took.skirt[1], "m", cloth, (skirt,)),
    )  # fmt: skip


def _strap_figures(strap: Strap, frame: Frame) -> tuple[Figure, ...]:
    length = frame.choices.block_length
    block = Term("block", "length of the corner blocks", length, "m", ENTERED)
    return (
        Figure("form.block_length", "length of the corner blocks", length, "m",
               "as chosen; longer where rail + 1 1/2 in. + 2 in. a strap need it", (Term("n", "straps", strap.count),), ENTERED),
        Figure("form.girth", "girth of the strap round the blocks", strap.girth, "m", "hull of the blocks in plan",
               (Term("legs", "legs of the blocks", 2 * len(frame.blocks.names)),)),
        Figure("form.strap_length", "strap to have, each", strap.least_length, "m", "girth + 36 in. for ratchet and pull",
               (Term("girth", "girth", strap.girth, "m"),), PRACTICE),
        Figure("form.strap_height", "topmost strap above the undersides of the blocks", strap.heights[0], "m",
               "block - deepest rail - 1 1/2 in.", (block,), JUDGED),
        Figure("form.straps", "ratchet straps", strap.count, "1", "load x 2/(mu 2 T (1 + exp(-m pi/2))^2), rounded up",
               (Term("load", "concrete beside the stone, people, form", strap.load, "N", Cite("aci_347_2004", "2.2.1, 50 psf")),
                Term("T", "tension that stays at a ratchet", PULL, "N", JUDGED),
                Term("mu", ON_STONE.removeprefix("design: "), friction(ON_STONE).low, "1", JUDGED),
                Term("m", ON_WOOD.removeprefix("design: "), friction(ON_WOOD).high, "1", JUDGED)),
               ENTERED if frame.choices.straps else Cite("beer_johnston", "8.10, belt friction"), "a factor of 2 on wet stone"),
    )  # fmt: skip


def _hanging_figures(hanging: Hanging, took: Takeoff) -> tuple[Figure, ...]:
    load = Term("P", "half of the form on one line", hanging.load, "N")
    lines = Term("n", "lines", len(hanging.lines))
    return (
        Figure("form.hanging.load", "one hang line is made for", hanging.load, "N", "m g / 2",
               (Term("m", "weight of the form's lumber", took.weight, "kg"),), DERIVED, "a stiff frame hung on two of its lines"),
        Figure("form.hanging.carries", "a screw left standing out carries", hanging.carries, "N",
               "q ((e^2 + 2 M/q)^(1/2) - e)/KD x CD x CM, q = Fe D, M = Fyb D^3/6",
               (Term("gauge", "wood screw", str(GAUGE)), Term("l", "its length", LONG, "m"),
                Term("p", "left standing out", PROUD, "m", JUDGED),
                Term("e", "middle of the line off the wood", LEVER, "m", JUDGED)),
               PROUD_HOLD, "side grain; a line pulled tight against the wall"),
        Figure("form.hanging.screws", "screws to each hang line", hanging.screws, "1", "P / Z', rounded up",
               (load, Term("Z'", "one screw carries", hanging.carries, "N")), PROUD_HOLD),
        Figure("form.hanging.lines", "hang lines, in all", hanging.length, "m",
               "sum of (screw to the flues + wall's top to the screw + girth of all flues + hitches)",
               (lines, Term("h", "for the hitches of one", KNOTS, "m", PRACTICE)), DERIVED),
    )  # fmt: skip


def _weight(pieces: tuple[Piece, ...], took: Takeoff) -> Figure:
    inputs = (
        Term("pieces", "pieces", len(pieces)),
        Term("m", "moisture, percent", MOISTURE),
        Term("G", f"specific gravity of {GRADE}", lumber(GRADE).gravity),
    )
    formula = "volume of the pieces x 62.4 G/(1 + 0.009 G m) (1 + m/100) lb/ft3"
    return Figure("form.weight", "weight of the form's lumber", took.weight, "kg", formula, inputs,
                  Cite("nds_2018", "Supplement, 3.1.3", "from memory"), "dry lumber as bought, up to 30 % moisture")  # fmt: skip


def _screws(lines: tuple[ScrewLine, ...]) -> Figure:
    inputs = tuple(
        Term(line.place, f"{line.joint}, No. {line.gauge} x {print_length(line.length, 'in.')}", line.count) for line in lines
    )
    return Figure("form.screws", "screws", sum(line.count for line in lines), "1", "sum of the joints", inputs, PRACTICE)
