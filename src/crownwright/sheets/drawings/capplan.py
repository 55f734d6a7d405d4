"""The cap seen from above: its edge over the stone, overhangs, wash and which way it sheds, drip, flues and joints, section
marks.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan, hypot

import numpy as np
import shapely

from crownwright.cap.model import CapDesign, SideFit
from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.quantity.display import show_slope
from crownwright.sheets import fonts
from crownwright.sheets.draw import plane
from crownwright.sheets.draw.layers import CAP, DRIP, FLUE, GUARD, JOINT, NOTE, STEEL, STONE_HIDDEN, WASH
from crownwright.sheets.draw.shapes import Dimension, Drawing, Hatch, Leader, Line, Point, Polygon, Polyline, Shape, Symbol, Text
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.bearings import bearings
from crownwright.sheets.drawings.frame import Frame, cap_frame, creases, steepest
from crownwright.sheets.drawings.notes import line_key
from crownwright.sheets.drawings.say import length
from crownwright.sheets.drawings.top import inside_ring
from crownwright.survey.model import Survey

LONG = 1.7  # times as long as wide: from here up the key to the lines may do better beneath than beside
OUT, SAID = 12.0, 3.2  # mm: from the stone's edge out to what is said of the overhang, and its em
FALL = 3.0  # mm, em of what is said of the wash's fall
CLEAR = 11.0  # mm, words from a section mark
KEY = (
    (CAP, "edge of the cap"), (WASH, "the wash turns"), (DRIP, "drip, under the edge"), (STEEL, "joint reinforcement"),
    (STONE_HIDDEN, "face of the stone"), (GUARD, "no stone is expected\noutside this line"),
)  # fmt: skip


def cap_plan(plan: Plan) -> Drawing:
    """Return the plan of the cap. Needs ``plan.survey`` and ``plan.cap``."""
    if plan.survey is None or plan.cap is None:
        raise ValueError("this plan has no cap to draw; see its problems")
    cap, survey, units = plan.cap, plan.survey, plan.job.units
    size, frame = (cap.length, cap.width), cap_frame(cap)
    built = (*_stone(survey, frame), *_top(cap, frame), *_flues(survey, cap, frame))
    arrows = tuple(bearings(plan, frame, (0.0, cap.width), (-24.0, 20.0)))

    def draw(beneath: bool, room: tuple[float, float]) -> Drawing:
        return scales.largest(lambda scale: _cap_plan(cap, survey, units, scale, beneath, built, arrows), size, room, units)

    beside = draw(False, (100.0, 50.0))
    return beside if cap.length < LONG * cap.width else scales.larger(beside, draw(True, (70.0, 75.0)))


def _cap_plan(
    cap: CapDesign,
    survey: Survey,
    units: Units,
    scale: scales.Scale,
    beneath: bool,
    built: tuple[Shape, ...],
    arrows: tuple[Shape, ...],
) -> Drawing:
    """The plan at a scale: what is ``built``, all that is said of it, the key to its lines beside it or beneath, and ``arrows``
    to north and ridge.
    """
    frame = cap_frame(cap)
    square = f"Square when both diagonals\nread {length(hypot(cap.length, cap.width), units)}."
    at, right, across = ((0.0, 0.0), -16.0, 3) if beneath else ((cap.length, cap.width), _size_off(cap, units) + 14.0, 1)
    shapes = [
        *built, *_slopes(cap, frame, units, 1000.0 / scale.by),
        *_sizes(cap, units), *_overhangs(cap, survey, frame, units, 1000.0 / scale.by), *_section_marks(cap, survey, frame),
        *line_key(at, right, KEY, across, -40.0 if beneath else 0.0, square), *arrows,
    ]  # fmt: skip
    says = (
        f"The cap seen from above, {length(cap.length, units)} by {length(cap.width, units)}, with its overhang beyond the stone "
        "on each side and the way its wash sheds water."
    )
    return Drawing("cap-plan", "Plan of the cap", says, scale.by, scale.says, tuple(shapes))


def section_places(survey: Survey, cap: CapDesign, frame: Frame) -> tuple[float, float]:
    """Return where the sections are taken: the y of the one along, the x of the one across, both through the largest flue's
    centre (through the middle of the cap where there is none).
    """
    if not survey.flues:
        return cap.width / 2, cap.length / 2
    largest = max(survey.flues, key=lambda flue: flue.size[0] * flue.size[-1])
    x, y = frame.point(largest.centre)
    return y, x


def _stone(survey: Survey, frame: Frame) -> Iterator[Shape]:
    yield Polyline(STONE_HIDDEN, frame.ring(survey.outline.face), closed=True, title="face of the stone, under the cap")
    yield Polyline(GUARD, frame.ring(survey.outline.guard), closed=True, title="no stone is expected outside this line")


def _top(cap: CapDesign, frame: Frame) -> Iterator[Shape]:
    yield Polygon(CAP, frame.ring(cap.corners), title="edge of the cap")
    for a, b in creases(cap.top):
        yield Line(WASH, frame.point(a), frame.point(b), "the wash turns here")
    if cap.drip is not None:
        yield Polyline(DRIP, frame.ring(cap.drip.line), closed=True, title="drip, under the edge")
    for piece in cap.steel:
        yield Line(STEEL, frame.point(piece.start), frame.point(piece.end), f"steel {piece.name}")


def _flues(survey: Survey, cap: CapDesign, frame: Frame) -> Iterator[Shape]:
    fits = {fit.name: fit for fit in cap.flues}
    for flue in survey.flues:
        if flue.name in fits and fits[flue.name].joint_width > 0:
            outer, inner = frame.ring(fits[flue.name].hole), frame.ring(flue.ring)
            yield Polygon(JOINT, outer, (inner,), Hatch.SOFT, title=f"soft joint round {flue.name}")
        holes = (tuple(frame.point(p) for p in inside_ring(flue)),) if flue.inside else ()
        clay = Hatch.CLAY if holes else None
        yield Polygon(FLUE, frame.ring(flue.ring), holes, clay, "none" if holes else "white", title=f"flue {flue.name}")
        yield Text(frame.point(flue.centre), flue.name, 4.6, "middle", 0.5, bold=True)


def _slopes(cap: CapDesign, frame: Frame, units: Units, times: float) -> Iterator[Shape]:
    """One arrow a side on the facet that reaches its edge, with the fall beside it."""
    slopes = steepest(cap.top)
    corners = frame.of(cap.corners)
    for i in range(4):
        a, b = corners[i], corners[(i + 1) % 4]
        facet = facet_on(cap, frame, a, b)
        if facet is None:
            continue
        grade = float(hypot(*slopes[facet]))
        inward = plane.left(plane.unit(plane.minus(_pt(b), _pt(a))))
        middle = plane.plus(_pt((a + b) / 2), inward, _reach(cap, frame, facet, a, inward) * 0.45)
        turn = plane.turn_of((-inward[0], -inward[1]))
        side = plane.left(inward)
        yield Symbol("arrow", middle, "", turn, 9.0, plane.plus((0, 0), side, 15.0), layer=WASH)
        text = f"falls {show_slope(atan(grade), units).split(' (')[0]}"
        if fonts.width(text, FALL) / 2 + 14.0 > plane.length(plane.minus(_pt(b), _pt(a))) * times / 2:
            text = text.removeprefix("falls ").replace(" per ", "\nper ")  # a short side: as short as it can be said
        aside = plane.plus((0, 0), side, -12.0 if i % 2 else -9.0)
        yield Text(middle, text, FALL, "middle", 0.5, plane.readable(turn + 90.0), shift=aside, clear=True)


def _pt(xy: np.ndarray) -> Point:
    return float(xy[0]), float(xy[1])


def facet_on(cap: CapDesign, frame: Frame, a: np.ndarray, b: np.ndarray) -> int | None:
    """The largest triangle of the wash with two corners on the cap's side ab."""
    flat = frame.of(cap.top.points)
    run = (b - a) / np.hypot(*(b - a))
    off = np.abs((flat - a) @ np.array([-run[1], run[0]])) < 1e-6
    along = np.flatnonzero(off[cap.top.triangles].sum(axis=1) == 2)
    areas = shapely.area(shapely.polygons(flat[cap.top.triangles[along]]))
    return int(along[areas.argmax()]) if len(along) else None


def _reach(cap: CapDesign, frame: Frame, facet: int, a: np.ndarray, inward: Point) -> float:
    flat = frame.of(cap.top.points)[cap.top.triangles[facet]]
    return float(((flat - a) @ np.asarray(inward)).max())


def _sizes(cap: CapDesign, units: Units) -> Iterator[Shape]:
    """Outside size of the cap."""
    long, wide = cap.length, cap.width
    yield Dimension((0, 0), (long, 0), -20.0, length(long, units), size=4.0, bold=True)
    yield Dimension((long, 0), (long, wide), -_size_off(cap, units), length(wide, units), size=4.0, bold=True)


def _size_off(cap: CapDesign, units: Units) -> float:
    """How far out the dimension at the right stands, mm: beyond what is said of that side's overhang."""
    return OUT + 3.0 + max(fonts.width(line, SAID) for line in _overhang_says(cap.sides[1], units).split("\n")) + 7.0


def _overhang_says(side: SideFit, units: Units) -> str:
    return f"{length(side.least, units)} least\n{length(side.most, units)} most"


def _overhangs(cap: CapDesign, survey: Survey, frame: Frame, units: Units, times: float) -> Iterator[Shape]:
    """From every corner of the stone out to the two sides of the cap it is nearest to, and each side's least and most."""
    along = section_places(survey, cap, frame)[0]
    face = frame.of(survey.outline.face)
    for i, side in enumerate(cap.sides):
        a, b = frame.of(cap.corners)[i], frame.of(cap.corners)[(i + 1) % 4]
        run = (b - a) / np.hypot(*(b - a))
        inward = np.array([-run[1], run[0]])
        depth = (face - a) @ inward
        near = face[int(depth.argmin())]
        edge = near - inward * float(depth.min())
        yield Line(NOTE, _pt(near), _pt(edge), f"least overhang on side {side.name}")
        out = (-float(inward[0]), -float(inward[1]))
        spot = _pt((near + edge) / 2)
        slant = (_aside((cap.length - spot[0]) * times), 0.0) if i in (0, 2) else (0.0, _past_the_mark((spot[1] - along) * times))
        yield Leader(spot, plane.plus(slant, out, 11.0 if i in (0, 2) else OUT), _overhang_says(side, units), SAID, dot=True)


def _aside(room: float) -> float:
    """How far to the right (mm) a leader at a long side goes: to the left where its words would run past the cap's end."""
    return 7.0 if room > 34.0 else -7.0


def _past_the_mark(above: float) -> float:
    """How far up or down (mm) a leader goes so that its words keep clear of the section mark, ``above`` mm over it."""
    if abs(above) >= CLEAR:
        return 0.0
    return CLEAR - above if above >= 0 else -CLEAR - above


def _section_marks(cap: CapDesign, survey: Survey, frame: Frame) -> Iterator[Shape]:
    along, across = section_places(survey, cap, frame)
    for x, shift in ((0.0, (-8.0, 0.0)), (cap.length, (8.0, 0.0))):
        yield Symbol("cut", (x, along), "A", 90.0, 5.4, shift)
    for y, shift in ((0.0, (0.0, -28.0)), (cap.width, (0.0, 20.0))):
        yield Symbol("cut", (across, y), "B", 180.0, 5.4, shift)
