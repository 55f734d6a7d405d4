"""The form seen from above, set out from the corners of the stone, with the name of every piece."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import hypot

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from crownwright.cap.model import CapDesign
from crownwright.form.model import FormDesign, Piece
from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.sheets.draw import plane
from crownwright.sheets.draw.layers import BOARD, BOARD_CUT, BOARD_HIDDEN, MOULDING, NOTE, READING, STONE, STRAP, Layer
from crownwright.sheets.draw.shapes import (
    Dimension,
    Drawing,
    Hatch,
    Leader,
    Polygon,
    Polyline,
    Shape,
    Symbol,
    Text,
)  # fmt: skip
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.bearings import bearings
from crownwright.sheets.drawings.frame import Frame, cap_frame
from crownwright.sheets.drawings.notes import Note, column, columns, heading, line_key
from crownwright.sheets.drawings.say import length
from crownwright.sheets.drawings.top import flue_rings, ring
from crownwright.survey.model import Array, Survey

LONG = 1.7  # times as long as wide: from here up notes may do better beneath the form than beside it
COLUMN, BENEATH = 56.0, -38.0  # mm: a column of notes, and how far under the form they begin
NOTES = 40.0  # mm from the form's inside face to the notes
LAYERS: dict[str, Layer] = {"sidewall": BOARD_CUT, "quarter-round": MOULDING}
UNDER = frozenset({"corner block", "rail", "joint cleat", "packer"})  # what lies under the soffit boards
KEY = (
    (BOARD_CUT, "sidewall"), (BOARD, "soffit board"), (BOARD_HIDDEN, "under it: blocks, cleats, rails"), (MOULDING,
    "quarter-round"), (STRAP, "ratchet strap"), (STONE, "face of the stone"),
)  # fmt: skip


def form_plan(plan: Plan) -> Drawing:
    """Return the plan of the form. Needs ``plan.survey``, ``plan.cap`` and ``plan.form``."""
    if plan.survey is None or plan.cap is None or plan.form is None:
        raise ValueError("this plan has no form to draw; see its problems")
    cap, pieces, units = plan.cap, plan.form.pieces, plan.job.units
    frame = cap_frame(cap)
    inside = f"{length(cap.length, units)} by {length(cap.width, units)} inside"
    says = f"Form boards round the chimney seen from above: {len(pieces)} pieces, {inside}."
    drawn = (
        *_stone(plan.survey, frame),
        *_pieces(pieces, frame),
        *_strap(plan.form, frame),
        *_corners(plan.survey, frame),
        *_sizes(cap, units),
        *_names(pieces, frame),
        *bearings(plan, frame, (0.0, cap.width), (-24.0, 24.0)),
    )
    notes, corner, size = tuple(_notes(plan.survey, cap, pieces, units)), (cap.length, cap.width), (cap.length, cap.width)

    def draw(said: Iterable[Shape], room: tuple[float, float]) -> Drawing:
        shapes = (*drawn, *said)
        return scales.largest(
            lambda scale: Drawing("form-plan", "Plan of the form", says, scale.by, scale.says, shapes), size, room, units
        )

    first = draw((*line_key(corner, NOTES, KEY), *column(notes, corner, COLUMN, (NOTES, -50.0))), (110.0, 45.0))
    if cap.length < LONG * cap.width:
        return first
    under = (*line_key((0.0, 0.0), -20.0, KEY, 2, BENEATH), *columns(notes, (0.0, 0.0), COLUMN, 2, (104.0, BENEATH)))
    return scales.larger(first, draw(under, (60.0, 80.0)))


def _notes(survey: Survey, cap: CapDesign, pieces: Sequence[Piece], units: Units) -> Iterator[Note]:
    yield heading("Sidewalls, from the corner nails")
    yield from (Note(row, 3.4) for row in set_out(survey, cap, pieces, units))
    yield Note("Pieces are named by their side (AB) or their corner (A).", 3.4)
    yield Note(f"Square when both diagonals inside read {length(hypot(cap.length, cap.width), units)}.", 3.4)


def _stone(survey: Survey, frame: Frame) -> Iterator[Shape]:
    yield Polyline(STONE, frame.ring(survey.outline.face), closed=True, title="face of the stone")
    for flue in survey.flues:
        for shape in flue_rings(flue):
            if isinstance(shape, Polygon):
                outer = tuple(map(frame.point, shape.outer))
                holes = tuple(tuple(map(frame.point, hole)) for hole in shape.holes)
                yield Polygon(shape.layer, outer, holes, shape.hatch, title=shape.title)


def _pieces(pieces: Sequence[Piece], frame: Frame) -> Iterator[Shape]:
    """Pieces as seen from above: what lies under another piece is left out, but the corner blocks are shown broken."""
    cover: BaseGeometry = shapely.Polygon()
    for piece in sorted(pieces, key=lambda p: -p.top):
        flat, title = frame.of(piece.footprint), f"{piece.part} {piece.name}"
        if piece.part in UNDER:
            yield Polyline(BOARD_HIDDEN, ring(flat), closed=True, title=title)
            continue
        face = shapely.Polygon(flat)
        hatch = Hatch.WOOD_LONG if piece.part == "sidewall" else None
        for part in shapely.get_parts(shapely.difference(face, cover, grid_size=1e-6)):
            if isinstance(part, shapely.Polygon) and part.area > 1e-6:
                outer = ring(shapely.get_coordinates(part.exterior)[:-1])
                yield Polygon(LAYERS.get(piece.part, BOARD), outer, (), hatch, turn=_lie(flat), title=title)
        cover = shapely.union(cover, face)


def _lie(flat: Array) -> float:
    """The direction of the longest edge of a footprint, degrees."""
    edges = np.roll(flat, -1, axis=0) - flat
    longest = edges[int(np.hypot(*edges.T).argmax())]
    return float(np.degrees(np.arctan2(longest[1], longest[0])))


def _strap(form: FormDesign, frame: Frame) -> Iterator[Shape]:
    yield Polyline(STRAP, ring(frame.of(form.strap.path)), closed=True, title="strap round the corner blocks")


def _corners(survey: Survey, frame: Frame) -> Iterator[Shape]:
    """The nails at the stone's corners, and their letters."""
    middle = frame.of(survey.corners).mean(axis=0)
    for name, corner in zip(survey.names, frame.of(survey.corners), strict=True):
        at = (float(corner[0]), float(corner[1]))
        inward = plane.unit((float(middle[0]) - at[0], float(middle[1]) - at[1]))
        yield Symbol("cross", at, size=3.2, layer=READING)
        yield Text(at, name, 5.0, "middle", 0.5, bold=True, shift=plane.plus((0.0, 0.0), inward, 7.0))


def set_out(survey: Survey, cap: CapDesign, pieces: Sequence[Piece], units: Units) -> list[str]:
    """Return, for each corner of the stone, how far out square the two nearest sidewalls stand."""
    frame = cap_frame(cap)
    walls = {piece.place: frame.of(piece.footprint).mean(axis=0) for piece in pieces if piece.part == "sidewall"}
    rows = []
    for name, corner in zip(survey.names, frame.of(survey.corners), strict=True):
        away = {(0, 0): corner[0], (0, 1): cap.length - corner[0], (1, 0): corner[1], (1, 1): cap.width - corner[1]}
        parts = []
        for axis in (0, 1):
            end = min((0, 1), key=lambda e, axis=axis: away[axis, e])  # type: ignore[misc]
            edge = (cap.length, cap.width)[axis] * end
            wall = min(walls, key=lambda n, axis=axis, edge=edge: abs(walls[n][axis] - edge))  # type: ignore[misc]
            parts.append(f"{length(float(away[axis, end]), units)} to {wall}")
        rows.append(f"{name}: {', '.join(parts)}")
    return rows


def _sizes(cap: CapDesign, units: Units) -> Iterator[Shape]:
    yield Dimension((0, 0), (cap.length, 0), -22.0, f"{length(cap.length, units)} inside", size=3.8, bold=True)
    yield Dimension((cap.length, 0), (cap.length, cap.width), -22.0, f"{length(cap.width, units)} inside", size=3.8, bold=True)


def _names(pieces: Sequence[Piece], frame: Frame) -> Iterator[Shape]:
    """The name of each side outside its sidewall (every piece is named by its side or corner), and of the corner blocks."""
    middle = np.mean([frame.of(p.footprint).mean(axis=0) for p in pieces], axis=0)
    for piece in pieces:
        if piece.part == "sidewall":
            flat = frame.of(piece.footprint).mean(axis=0)
            out = (float(flat[0] - middle[0]), float(flat[1] - middle[1]))
            side = (0.0, float(np.copysign(1.0, out[1]))) if abs(out[1]) > abs(out[0]) else (float(np.copysign(1.0, out[0])), 0.0)
            aside = plane.plus(plane.plus((0.0, 0.0), side, 9.0), plane.left(side), 16.0)
            turn = 0.0 if side[1] else 90.0
            yield Text((float(flat[0]), float(flat[1])), piece.place, 4.6, "middle", 0.5, turn, True, aside, True, NOTE)
    yield from _block_names(pieces, frame, middle)


def _block_names(pieces: Sequence[Piece], frame: Frame, middle: Array) -> Iterator[Shape]:
    """One leader to each corner's blocks, from outside the form."""
    corners: dict[tuple[bool, bool], list[Piece]] = {}
    for piece in pieces:
        if piece.part == "corner block":
            flat = frame.of(piece.footprint).mean(axis=0)
            corners.setdefault((bool(flat[0] > middle[0]), bool(flat[1] > middle[1])), []).append(piece)
    for (right, top), blocks in corners.items():
        points = np.vstack([frame.of(piece.footprint) for piece in blocks])
        tip = (
            float(points[:, 0].max() if right else points[:, 0].min()),
            float(points[:, 1].max() if top else points[:, 1].min()),
        )
        yield Leader(tip, (10.0 if right else -10.0, 14.0 if top else -14.0), f"block {blocks[0].place}", 3.2)
