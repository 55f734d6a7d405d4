"""Piece drawings: every different piece with its length and how its ends are cut, as it lies seen from above."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees

import numpy as np

from crownwright.form.model import EndCut, Piece
from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.quantity.units import INCH
from crownwright.sheets.draw.layers import BOARD, BOARD_CUT
from crownwright.sheets.draw.shapes import Dimension, Drawing, Hatch, Polygon, Shape, Text
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.say import length, pieces_called, wrap
from crownwright.survey.model import Array

HIGH = 148.0  # mm of rows on a sheet
AIR, LEAST = 14.0, 21.0  # mm between two faces, and from row to row at the least
SHORT = 1.25  # m; shorter forms are drawn no larger than this one would be
LEFT = 58.0  # mm for the names
SAME = INCH / 32  # pieces whose lengths differ by less are cut alike
SAME_ANGLE = 0.1  # degrees


def piece_sheets(plan: Plan) -> tuple[Drawing, ...]:
    """Return the piece drawings, as many different pieces on each as have room. Needs ``plan.form``."""
    if plan.form is None:
        raise ValueError("this plan has no form to draw; see its problems")
    groups = alike(plan.form.pieces)
    longest = max(SHORT, *(piece.length for piece in plan.form.pieces))
    scale = scales.fit(longest, 0.0, plan.job.units, (scales.ROOM[0] - LEFT - 30.0, 1.0))
    sheets = _on_sheets(groups, 1000.0 / scale.by)
    return tuple(_sheet(rows, i, len(sheets), scale, plan.job.units) for i, rows in enumerate(sheets))


def _on_sheets(groups: list[list[Piece]], times: float) -> list[list[list[Piece]]]:
    sheets: list[list[list[Piece]]] = []
    room = 0.0
    for group in groups:
        high = _high(group, times)
        if not sheets or high > room:
            sheets.append([])
            room = HIGH
        sheets[-1].append(group)
        room -= high
    return sheets


def _high(group: list[Piece], times: float) -> float:
    """How much of a sheet a row takes, mm."""
    return max(float(np.ptp(_face(group[0])[:, 1])) * times + AIR, LEAST)


def alike(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """Put pieces together that are sawn alike, in the order they first come."""
    groups: list[list[Piece]] = []
    for piece in pieces:
        home = next((group for group in groups if _same(group[0], piece)), None)
        if home is None:
            groups.append([piece])
        else:
            home.append(piece)
    return groups


def _same(a: Piece, b: Piece) -> bool:
    ends = all(x.kind == y.kind and abs(degrees(x.angle - y.angle)) < SAME_ANGLE for x, y in ((a.start, b.start), (a.end, b.end)))
    return a.part == b.part and a.section == b.section and abs(a.length - b.length) < SAME and ends


def end_says(cut: EndCut) -> str:
    """Return how an end is cut, in words: what the saw is set to."""
    if cut.kind == "square" or abs(degrees(cut.angle)) < SAME_ANGLE / 2:
        return "square"
    return f"{cut.kind} {abs(degrees(cut.angle)):.1f}°"


def _sheet(rows: list[list[Piece]], i: int, count: int, scale: scales.Scale, units: Units) -> Drawing:
    shapes: list[Shape] = []
    down = 0.0
    for group in rows:
        high = _high(group, 1000.0 / scale.by)
        shapes += _row(group, down + high / 2, 1000.0 / scale.by, units)
        down += high
    number = f" {i + 1} of {count}" if count > 1 else ""
    says = "Pieces of the form as they lie, seen from above: " + "; ".join(map(pieces_called, rows)) + "."
    return Drawing(
        f"pieces-{i + 1}" if count > 1 else "pieces", f"Pieces of the form{number}", says, scale.by, scale.says, tuple(shapes)
    )


def _face(piece: Piece) -> Array:
    """A piece's face, its length level: seen from above as it lies, or the face of one that stands."""
    return _upright(piece) if piece.stands else own_frame(piece.footprint)


def _row(group: list[Piece], down: float, times: float, units: Units) -> Iterator[Shape]:
    """A piece with its middle ``down`` mm under the sheet's head."""
    piece = group[0]
    flat = _face(piece)
    foot = -down / times
    flat = flat - [flat[:, 0].min(), (flat[:, 1].min() + flat[:, 1].max()) / 2] + [0.0, foot]
    names = pieces_called(group)
    yield Text((0.0, foot), wrap(names, 3.8, LEFT - 25.0, bold=True), 3.8, "start", 0.0, bold=True, shift=(-LEFT, 0.8))
    what = piece.section
    if abs(piece.inside - piece.length) > SAME:
        what += f"\ninside edge {length(piece.inside, units)}"
    yield Text((0.0, foot), f"{len(group)} × {what}", 3.0, "start", 1.0, shift=(-LEFT, -0.8))
    grain = Hatch.WOOD_LONG if piece.part != "quarter-round" else None
    layer = BOARD_CUT if piece.part != "quarter-round" else BOARD
    yield Polygon(layer, tuple((float(x), float(y)) for x, y in flat), (), grain, title=f"{piece.part} {names}")
    right, top = float(flat[:, 0].max()), float(flat[:, 1].max())
    yield Dimension((0.0, top), (right, top), 5.5, length(piece.length, units), along=0.0, size=4.0, bold=True)
    yield Text((0.0, foot), end_says(piece.start), 3.2, "end", 0.5, shift=(-2.5, 0.0))
    yield Text((right, foot), end_says(piece.end), 3.2, "start", 0.5, shift=(2.5, 0.0))


def _upright(piece: Piece) -> Array:
    """The face of a piece that stands on end, laid down."""
    wide = float(np.hypot(*(np.roll(piece.footprint, -1, axis=0) - piece.footprint).T).max())
    return np.array([[0.0, 0.0], [piece.length, 0.0], [piece.length, wide], [0.0, wide]])


def own_frame(footprint: Array) -> Array:
    """Return a footprint turned so that its longest edge lies level, at the top."""
    edges = np.roll(footprint, -1, axis=0) - footprint
    run = edges[int(np.hypot(*edges.T).argmax())]
    run = run / np.hypot(*run)
    flat = footprint @ np.array([[run[0], -run[1]], [run[1], run[0]]])
    longest = int(np.hypot(*edges.T).argmax())
    return np.asarray(flat if flat[longest, 1] >= flat[:, 1].mean() else -flat)
