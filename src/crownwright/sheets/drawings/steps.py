"""Assembly, step by step, as pictures seen from above one corner: what goes on in each step is shaded."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from crownwright.cap.model import CapDesign
from crownwright.form.model import Piece
from crownwright.plan.model import Plan
from crownwright.quantity.units import INCH
from crownwright.sheets.draw.layers import BOARD, FLUE, HATCH, NOTE, STONE
from crownwright.sheets.draw.shapes import Drawing, Point, Polygon, Shape, Symbol, Text
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.frame import Frame, cap_frame
from crownwright.sheets.drawings.readings import inside_ring
from crownwright.sheets.drawings.say import wrap
from crownwright.sheets.drawings.solidview import Upright, scenes
from crownwright.survey.model import Array, Survey

CELL = (84.0, 82.0)  # mm, one step's room
BELOW = 10 * INCH  # of stone shown under the soffit
WEB = 2 * INCH  # width of a strap
SHOWN = 0.3 * INCH  # the smallest lump a picture shows


@dataclass(frozen=True, slots=True)
class Step:
    """One step: the parts of the form it adds, its words, and whether it adds strap or steel."""

    adds: tuple[str, ...]
    says: str
    strap: bool = False
    steel: bool = False


STEPS = (
    Step((), "Sweep the top, cut back what rocks. String and nails stay. Plug and tag the flues, cover the roof."),
    Step(
        ("corner block",),
        "Hang the corner blocks level, all tops at the soffit boards' underside; strap round, ratchet tight.",
        True,
    ),
    Step(("soffit board",), "Lay the soffit boards on the blocks, each butting the next; screw down. Pack the gap to the stone."),
    Step(
        ("sidewall", "cleat", "kicker"),
        "Stand the sidewalls on the set-out, each running past the next; screw, check both diagonals.",
    ),
    Step(("quarter-round",), "Mitre the quarter-round round the soffit, flat side inward. Seal the joints, oil the boards."),
    Step((), "Wrap the flues, lay the slip sheet, set the steel on its chairs. Ready for concrete.", steel=True),
)


def assembly(plan: Plan) -> Drawing:
    """Return the steps of assembly, six pictures. Needs ``plan.survey``, ``plan.cap`` and ``plan.form``."""
    if plan.survey is None or plan.cap is None or plan.form is None:
        raise ValueError("this plan has no form to draw; see its problems")
    frame = cap_frame(plan.cap)
    pieces = [replace(p, footprint=frame.of(p.footprint)) for p in plan.form.pieces]
    whole = plan.cap.length + plan.cap.width
    scale = scales.fit(whole * 0.87, whole * 0.5 + 2 * BELOW, plan.job.units, (CELL[0] - 6.0, CELL[1] - 24.0))
    times = 1000.0 / scale.by
    shapes: list[Shape] = []
    for i, seen in enumerate(_pictures(list(_solids(plan.survey, plan.cap, frame, pieces)))):
        corner = (i % 3 * CELL[0] / times, -(i // 3) * CELL[1] / times)
        shapes += _cell(i, STEPS[i], seen, corner, times)
    says = " ".join(f"{i + 1}: {step.says}" for i, step in enumerate(STEPS))
    return Drawing("assembly", "Putting the form together", says, scale.by, "", tuple(shapes))


def _pictures(solids: list[tuple[int, bool, Upright]]) -> Iterator[list[Polygon]]:
    """One picture a step of what is there by then; what the step adds is shaded."""
    numbers = range(len(STEPS))
    sets = [[k for k, (at, stays, _) in enumerate(solids) if at == i or (at < i and stays)] for i in numbers]
    for i, scene in enumerate(scenes([solid for _, _, solid in solids], sets)):
        yield [replace(shape, fill="grey") if solids[k][0] == i and shape.fill == "white" else shape for k, shape in scene]


def _cell(i: int, step: Step, seen: list[Polygon], corner: Point, times: float) -> Iterator[Shape]:
    """One picture, centred in its room, its number and words above it."""
    left, _, right, top = shapely.MultiPoint([p for shape in seen for p in shape.outer]).bounds
    dx = corner[0] + CELL[0] / 2 / times - (left + right) / 2
    dy = corner[1] - 19.0 / times - top
    for shape in seen:
        outer = tuple((x + dx, y + dy) for x, y in shape.outer)
        yield replace(shape, outer=outer, holes=tuple(tuple((x + dx, y + dy) for x, y in hole) for hole in shape.holes))
    yield Symbol("balloon", corner, str(i + 1), size=7.0, shift=(4.0, -4.5))
    yield Text(corner, wrap(step.says, 3.0, CELL[0] - 14.0), 3.0, "start", 1.0, shift=(9.5, -1.2), layer=NOTE)


def _solids(survey: Survey, cap: CapDesign, frame: Frame, pieces: Sequence[Piece]) -> Iterator[tuple[int, bool, Upright]]:
    """Yield (the step that adds it, whether it is drawn in later steps, the solid) for all there is to see."""
    edge = max(float(np.mean([u.mean for u in survey.surface.lowest_edge])), cap.soffit)
    yield (
        -1,
        True,
        Upright(_plain(frame.of(survey.outline.face)), cap.soffit - BELOW, edge, STONE, title="the chimney", rounded=True),
    )
    for flue in survey.flues:
        inside = _plain(frame.of(np.array(inside_ring(flue)))) if flue.inside else None
        yield (
            -1,
            True,
            Upright(_plain(frame.of(flue.ring)), edge, flue.top.mean, FLUE, title=flue.name, hollow=inside, rounded=True),
        )
    for i, step in enumerate(STEPS):
        for piece in pieces:
            if piece.part in step.adds:
                yield i, True, Upright(piece.footprint, piece.bottom, piece.top, BOARD, title=f"{piece.part} {piece.name}")
        if step.strap:
            yield from ((i, False, band) for band in _strap(pieces))
        if step.steel:
            yield from ((i, True, rod) for rod in _steel(cap, frame))


def _plain(ring: Array) -> Array:
    """A ring with no more corners than a small picture can show."""
    return shapely.get_coordinates(shapely.Polygon(ring).simplify(SHOWN))[:-1]


def _strap(pieces: Sequence[Piece]) -> Iterator[Upright]:
    """The strap as a dark band round the blocks at half their height."""
    blocks = [piece for piece in pieces if piece.part == "corner block"]
    if blocks:
        girth = shapely.union_all([shapely.Polygon(p.footprint) for p in blocks]).convex_hull.buffer(0.004, join_style="mitre")
        middle = (blocks[0].bottom + blocks[0].top) / 2
        yield Upright(
            shapely.get_coordinates(girth)[:-1], middle - WEB / 2, middle + WEB / 2, BOARD, "black", "ratchet strap", tops=False
        )


def _steel(cap: CapDesign, frame: Frame) -> Iterator[Upright]:
    """Joint reinforcement as thin dark rods."""
    for piece in cap.steel:
        line = shapely.LineString([frame.point(piece.start), frame.point(piece.end)])
        ring = np.asarray(line.buffer(0.008, cap_style="flat").exterior.coords)[:-1]
        yield Upright(ring, piece.level - 0.004, piece.level + 0.004, HATCH, "black", f"steel {piece.name}")
