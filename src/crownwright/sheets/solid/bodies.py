"""The bodies of a plan: cap, stone, flues and every piece of the form, each closed."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from crownwright.cap.solid import cap_solid
from crownwright.form.model import Piece
from crownwright.geometry.solid import Solid, prism
from crownwright.plan.model import Plan
from crownwright.sheets.solid.body import Body, Colour, together
from crownwright.survey.model import Array

CONCRETE: Colour = (0.62, 0.62, 0.60, 1.0)
STONE: Colour = (0.36, 0.33, 0.29, 1.0)
CLAY: Colour = (0.55, 0.26, 0.16, 1.0)
WOOD: Colour = (0.76, 0.60, 0.38, 1.0)
ARC = 12  # sides of a quarter-round's curve


def bodies(plan: Plan) -> tuple[Body, ...]:
    """Return what a plan has to show in three dimensions; nothing where it has no cap."""
    if plan.survey is None or plan.cap is None:
        return ()
    cap, stone, *flues = cap_solid(plan.cap, plan.survey)
    found = [Body(cap, "cap", CONCRETE), Body(stone, "stone", STONE), *(Body(flue, "flues", CLAY) for flue in flues)]
    pieces = plan.form.pieces if plan.form is not None else ()
    middle = plan.cap.corners.mean(axis=0)
    return (*found, *(Body(piece_solid(piece, middle), "form", WOOD) for piece in pieces))


def grouped(found: tuple[Body, ...]) -> dict[str, Solid]:
    """Return one mesh for each group (cap, stone, flues, form), for files that hold no names."""
    groups: dict[str, list[Solid]] = {}
    for body in found:
        groups.setdefault(body.group, []).append(body.solid)
    return {name: together(name, solids) for name, solids in groups.items()}


def piece_solid(piece: Piece, middle: Array) -> Solid:
    """Return a piece of the form as a solid; ``middle`` (2,) of the cap tells a moulding's inside from its outside."""
    name = f"{piece.part} {piece.name}"
    if piece.part == "quarter-round" and len(piece.footprint) == 4:
        return _quarter(name, piece, middle)
    return prism(name, piece.footprint, piece.bottom, piece.top)


def _quarter(name: str, piece: Piece, middle: Array) -> Solid:
    """A quarter-round whose flat, plumb side stands on its outer edge, its ends mitred as its footprint says."""
    inner, outer = _inside_and_outside(piece.footprint, middle)
    high = piece.top - piece.bottom
    turns = np.linspace(0.0, np.pi / 2, ARC + 1)
    section = [(0.0, 0.0), *((float(np.sin(t)), high * float(np.cos(t))) for t in turns)]  # (share of the way in, height)
    ends = [np.array([[*(outer[e] + share * (inner[e] - outer[e])), piece.bottom + z] for share, z in section]) for e in (0, 1)]
    count = len(section)
    sides = [(k, (k + 1) % count) for k in range(count)]
    quads = [row for a, b in sides for row in ((a, b, count + b), (a, count + b, count + a))]
    caps = [row for k in range(1, count - 1) for row in ((0, k + 1, k), (count, count + k, count + k + 1))]
    solid = Solid(name, np.vstack(ends), np.array([*quads, *caps], np.intp))
    return solid if solid.volume > 0 else Solid(name, solid.points, solid.triangles[:, ::-1])


def _inside_and_outside(footprint: Array, middle: Array) -> Iterator[Array]:
    """The long edges (2,2) of a moulding's footprint, the one nearer the middle first, both run the same way."""
    after = np.roll(footprint, -1, axis=0)
    first = int(np.hypot(*(after - footprint).T).argmax())
    one = np.array([footprint[first], after[first]])
    other = np.array([footprint[(first + 3) % 4], footprint[(first + 2) % 4]])
    nearer = np.hypot(*(one.mean(axis=0) - middle)) < np.hypot(*(other.mean(axis=0) - middle))
    yield from (one, other) if nearer else (other, one)
