"""The cap, the stone and the flues as closed meshes, for 3-D views and for weighing the volume against an independent cut."""

from __future__ import annotations

from math import pi, sin, sqrt

import numpy as np
import shapely
from numpy.typing import NDArray

from crownwright.cap.joint import circle
from crownwright.cap.model import CapDesign, Drip, FlueFit
from crownwright.geometry.hull import frame
from crownwright.geometry.solid import Solid, between, cut, mitred, prism
from crownwright.geometry.surface import plan_mesh
from crownwright.quantity.units import INCH
from crownwright.survey.model import PlacedFlue, Survey

Array = NDArray[np.float64]

DEEP = 12 * INCH
"""How far below the soffit the stone and the flues are drawn."""
GRID = 1.5 * INCH
"""Spacing of the heights that draw the stone's top."""
WALL = 0.75 * INCH
"""Wall of a flue whose inside was not read."""
ARC = 24
SAME = 1e-9  # m; levels nearer than this are one level


def cap_solid(cap: CapDesign, survey: Survey, grid: float = GRID) -> tuple[Solid, ...]:
    """Pieces in the survey's frame: "cap", "stone", then one per flue with its extension; each closed.

    Args:
        cap: the design.
        survey: what it was designed for.
        grid: spacing of the heights that draw the stone's top (m).
    """
    below = cap.soffit - DEEP
    stone = stone_solid(survey, cap, below, grid)
    flues = [flue_solid(flue, fit, below) for flue, fit in zip(survey.flues, cap.flues, strict=True)]
    return (concrete_solid(cap, survey, grid), cut("stone", stone, flues) if flues else stone, *flues)


def concrete_solid(cap: CapDesign, survey: Survey, grid: float = GRID) -> Solid:
    """The concrete: everything under the wash, less the stone, less what lies under the soffit round it, less the groove."""
    stone = stone_solid(survey, cap, cap.soffit - 10 * DEEP, grid)
    tops = stone.points[:, 2]
    low = min(cap.soffit, float(tops[tops > tops.min() + SAME].min())) - INCH
    top, triangles = cap.top.points, cap.top.triangles
    block = between("block", top[:, :2], triangles, np.full(len(top), low), top[:, 2])
    out = _grown(cap.corners, INCH)
    under = prism("under the soffit", out, low - INCH, cap.soffit, [survey.outline.face])
    away = [_deeper(stone, low - INCH), under]
    if cap.drip is not None:
        away.append(groove_solid(cap.drip, cap.corners, cap.soffit))
    return cut("cap", block, away)


def stone_solid(survey: Survey, cap: CapDesign, bottom: float, grid: float = GRID) -> Solid:
    """The top of the stack from ``bottom`` up: its outline, its mean surface in triangles, hollowed where the cap keys in."""
    face = survey.outline.face
    axes = frame(cap.turn)
    local = face @ axes.T
    low, high = local.min(0), local.max(0)
    lines = [np.array([[x, low[1]], [x, high[1]]]) @ axes for x in np.arange(low[0] + grid / 2, high[0], grid)]
    lines += [np.array([[low[0], y], [high[0], y]]) @ axes for y in np.arange(low[1] + grid / 2, high[1], grid)]
    plan, triangles = plan_mesh(face, lines, ())
    top, _ = survey.surface.heights(plan)
    whole = between("stone", plan, triangles, np.full(len(plan), bottom), top)
    deep, inset = cap.choices.hollow_depth, cap.choices.hollow_inset
    ring = shapely.make_valid(shapely.Polygon(face)).buffer(-inset) if deep > 0 else shapely.Polygon()
    if shapely.is_empty(ring):
        return whole
    parts = [shapely.get_coordinates(shapely.orient_polygons(part).exterior)[:-1] for part in shapely.get_parts(ring)]
    hollows = []
    for part in parts:
        plan, triangles = plan_mesh(part, lines, ())
        top, _ = survey.surface.heights(plan)
        hollows.append(between("hollow", plan, triangles, top - deep, np.full(len(plan), float(top.max()) + INCH)))
    return cut("stone", whole, hollows)


def groove_solid(drip: Drip, corners: Array, soffit: float) -> Solid:
    """What the quarter-round leaves open, mitred round the cap, reaching a little under the soffit.

    Its flat side stands plumb at the lip: the drop lets go at a sharp corner, and the moulding comes out downward.
    """
    arc = np.linspace(0, pi / 2, ARC + 1)
    # a polygon of the disc's own area: the corners of the arc stand a hair outside it
    step = pi / 2 / ARC
    r = drip.size * sqrt(step / sin(step))
    curve = np.column_stack([drip.lip + r * np.cos(arc), soffit + r * np.sin(arc)])
    section = np.vstack([[drip.lip + r, soffit - INCH / 4], curve, [drip.lip, soffit - INCH / 4]])
    return mitred("groove", corners, section)


def flue_solid(flue: PlacedFlue, fit: FlueFit, bottom: float) -> Solid:
    """The liner from ``bottom`` to its top, its extension included."""
    top = flue.top.mean + fit.extension
    if flue.shape == "round":
        centre, outer = np.asarray(flue.centre), flue.size[0] / 2
        inner = (flue.inside[0] if flue.inside else flue.size[0] - 2 * WALL) / 2
        return prism(flue.name, circle(centre, outer), bottom, top, [circle(centre, inner)])
    inside = flue.inside or (flue.size[0] - 2 * WALL, flue.size[1] - 2 * WALL)
    box = np.array([(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)]) * np.array(inside)
    return prism(flue.name, flue.ring, bottom, top, [box @ frame(flue.turn) + np.asarray(flue.centre)])


def _grown(corners: Array, by: float) -> Array:
    """The rectangle (4,2) made larger all round."""
    u, v = corners[1] - corners[0], corners[3] - corners[0]
    out = u / np.linalg.norm(u) * by, v / np.linalg.norm(v) * by
    signs = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
    return np.asarray(corners + signs[:, :1] * out[0] + signs[:, 1:] * out[1])


def _deeper(solid: Solid, bottom: float) -> Solid:
    """The same solid with its flat bottom at another level."""
    points = solid.points.copy()
    lowest = points[:, 2].min()
    points[points[:, 2] <= lowest + SAME, 2] = bottom
    return Solid(solid.name, points, solid.triangles)
