"""The edge at large scale, on the side with the least overhang: drip, lip, setback, thickness and wash."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan, cos, hypot, pi, sin

from crownwright.cap.model import CapDesign, SideFit
from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.quantity.display import show_slope
from crownwright.quantity.units import INCH
from crownwright.sheets.draw.layers import CAP_CUT, NOTE, STEEL, STONE_CUT, STRING, WASH
from crownwright.sheets.draw.shapes import (
    AngleDimension,
    Circle,
    Dimension,
    Drawing,
    Hatch,
    Leader,
    Line,
    Point,
    Polygon,
    Polyline,
    Shape,
    Symbol,
    Text,
)
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.capplan import facet_on
from crownwright.sheets.drawings.frame import cap_frame, steepest
from crownwright.sheets.drawings.say import angle, length, spoken

INSIDE = 5 * INCH  # of stone shown inside its face
BELOW = 3 * INCH


def edge_detail(plan: Plan) -> Drawing:
    """Return the detail of the cap's edge where the overhang is least. Needs ``plan.cap``."""
    cap = plan.cap
    if cap is None:
        raise ValueError("this plan has no cap to draw; see its problems")
    i = min(range(len(cap.sides)), key=lambda k: cap.sides[k].least)
    side, units = cap.sides[i], plan.job.units
    fall = _fall(cap, i)
    brick = plan.job.readings.masonry == "brick"
    high = cap.edge + INSIDE * fall - cap.soffit + BELOW
    says = f"The edge on side {side.name}, where the stone stands proudest: the cap stands {length(side.least, units)} beyond it."

    def draw(scale: scales.Scale) -> Drawing:
        shapes = (*_cut(cap, side, fall, brick), *_sizes(cap, side, units), *_calls(cap, side, fall, units, scale.by))
        return Drawing("edge", f"Edge on side {side.name}", says, scale.by, scale.says, shapes)

    return scales.largest(draw, (INSIDE + side.least, high), (40.0, 8.0), units)


def _fall(cap: CapDesign, side: int) -> float:
    """Fall of the wash toward a side (m/m)."""
    corners = cap_frame(cap).of(cap.corners)
    facet = facet_on(cap, cap_frame(cap), corners[side], corners[(side + 1) % 4])
    return 0.0 if facet is None else float(hypot(*steepest(cap.top)[facet]))


def _groove(cap: CapDesign, side: SideFit) -> list[Point]:
    """The groove of the drip, from its inner edge outward: a quarter disc whose flat, plumb side stands outward, where a
    drop meets a sharp edge.
    """
    drip = cap.drip
    if drip is None:
        return []
    outer = side.least - drip.lip
    turns = [pi / 2 * (k / 12) for k in range(13)]
    return [*((outer - drip.size * cos(t), cap.soffit + drip.size * sin(t)) for t in turns), (outer, cap.soffit)]


def _cut(cap: CapDesign, side: SideFit, fall: float, brick: bool) -> Iterator[Shape]:
    foot, out = cap.soffit - BELOW, side.least
    recess = 0.0 if brick else -0.25 * INCH
    lumpy = [(0.0, foot), (recess, foot + 0.6 * BELOW), (0.0, cap.soffit), (0.8 * recess, cap.soffit + 0.4 * INCH)]
    stone = [*lumpy, (-INSIDE, cap.soffit + 0.7 * INCH), (-INSIDE, foot)]
    yield Polygon(STONE_CUT, tuple(stone), (), Hatch.BRICK if brick else Hatch.STONE, edge=False)
    yield Polyline(STONE_CUT, (*lumpy, stone[4]), title="the proudest stone")
    under = [(-INSIDE, cap.soffit + 0.7 * INCH), lumpy[3], (0.0, cap.soffit)]
    top = [(out, cap.soffit), (out, cap.edge), (-INSIDE, cap.edge + (INSIDE + out) * fall)]
    yield Polygon(CAP_CUT, (*under, *_groove(cap, side), *top), (), Hatch.CONCRETE, edge=False)
    yield Polyline(CAP_CUT, (*under, *_groove(cap, side), *top), title="concrete")
    yield Line(NOTE, (-INSIDE, foot), (-INSIDE, top[2][1]))
    for piece in cap.steel[:1]:
        for inward in (2.0, 4.0):
            yield Circle(STEEL, (out - inward * INCH, piece.level), 0.09 * INCH, "black", "joint reinforcement")


def _sizes(cap: CapDesign, side: SideFit, units: Units) -> Iterator[Shape]:
    out, z, drip = side.least, cap.soffit, cap.drip
    yield Dimension((out, z), (out, cap.edge), -9.0, length(cap.edge - z, units), along=90.0, size=3.8)
    yield Dimension(
        (0.0, z), (out, z), -22.0 if drip else -12.0, f"{length(out, units)} overhang", along=0.0, size=3.8, bold=True
    )
    if drip is not None:
        groove = out - drip.lip
        yield Dimension((0.0, z), (groove - drip.size, z), -12.0, length(groove - drip.size, units), along=0.0)
        yield Dimension((groove - drip.size, z), (groove, z), -12.0, length(drip.size, units), along=0.0)
        yield Dimension((groove, z), (out, z), -12.0, length(drip.lip, units), along=0.0)


def _calls(cap: CapDesign, side: SideFit, fall: float, units: Units, scale: float) -> Iterator[Shape]:
    out = side.least
    middle = (out - INSIDE) / 2
    yield Symbol("arrow", (middle, cap.edge + (out - middle) * fall), "", -_degrees(fall), 14.0, (6.0, 2.2), WASH)
    level = (out - 3.0 * INCH, cap.edge)
    reach = 2.2 * INCH * 1000.0 / scale
    yield Line(STRING, (out, cap.edge), level, "level")
    yield AngleDimension((out, cap.edge), (out - INCH, cap.edge + INCH * fall), level, reach, angle(atan(fall)))
    rise = show_slope(atan(fall), units).split(" (")[0]
    spot = (middle, cap.edge + (out - middle) * fall)
    yield Text(spot, f"wash falls {rise}", 3.4, "middle", 0.0, -_degrees(fall), shift=(0.0, 7.5))
    if cap.drip is not None:
        tip = (out - cap.drip.lip - 0.35 * cap.drip.size, cap.soffit + 0.45 * cap.drip.size)
        yield Leader(tip, (42.0, -14.0), f"drip: {spoken(cap.drip.size, units)} quarter-round,\nflat side outward, mitred")
    if cap.steel:
        yield Leader(
            (out - 2.0 * INCH, cap.steel[0].level), (2.0 * INCH * 1000.0 / scale + 16.0, 8.0), "joint reinforcement, galvanised"
        )


def _degrees(fall: float) -> float:
    return atan(fall) * 180.0 / pi
