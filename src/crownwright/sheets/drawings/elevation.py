"""The chimney as it stands and with its cap, beside each other and beside a person, so that its proportions can be seen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import tan

import numpy as np
import shapely

from crownwright.cap.model import CapDesign
from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.quantity.display import show
from crownwright.quantity.lengths import print_length
from crownwright.quantity.units import FOOT, INCH
from crownwright.sheets.draw.layers import CAP, FLUE, NOTE, PERSON, ROOF, STONE, WASH
from crownwright.sheets.draw.shapes import Circle, Dimension, Drawing, Line, Point, Polygon, Polyline, Shape, Text
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.frame import Frame, cap_frame
from crownwright.sheets.drawings.say import length
from crownwright.sheets.drawings.top import ring
from crownwright.sheets.drawings.walls import joints
from crownwright.survey.model import Survey
from crownwright.survey.readings import MasonryKind, Surroundings

PERSON_TALL = 68 * INCH
STUB = 3 * FOOT  # of stack shown where nothing was read of the roof
REACH = 1.5 * FOOT  # of roof shown each side
APART = 26.0  # mm between the two pictures
STAND = 1.3 * FOOT  # the person's distance from the stack


@dataclass(frozen=True, slots=True)
class _View:
    """One look at the chimney, along the cap's x (``across`` 0) or y (1): the stack's ends, and the roof's line."""

    survey: Survey
    cap: CapDesign
    frame: Frame
    across: int
    left: float
    right: float
    roof_left: float
    roof_right: float
    roof_read: tuple[bool, bool]
    masonry: MasonryKind
    units: Units
    times: float

    @property
    def span(self) -> float:
        """The cap's size seen."""
        return self.cap.length if self.across == 1 else self.cap.width


def elevation(plan: Plan) -> Drawing:
    """Return the elevation, before and after. Needs ``plan.survey`` and ``plan.cap``."""
    if plan.survey is None or plan.cap is None:
        raise ValueError("this plan has no cap to draw; see its problems")
    survey, cap = plan.survey, plan.cap
    view = _view(plan, survey, cap, 1.0)
    top = max([cap.crest, *(flue.top.mean for flue in survey.flues)])
    slope = abs(view.roof_left - view.roof_right) / (view.right - view.left)
    low = min(view.roof_left, view.roof_right) - (REACH + STAND) * slope
    wide = 2 * view.span + 4 * REACH + STAND
    stack = tuple(_stack(view))

    def draw(scale: scales.Scale) -> Drawing:
        return _elevation(replace(view, times=1000.0 / scale.by), stack, top, scale)

    return scales.largest(draw, (wide, top - low), (30.0, 24.0), view.units)


def _elevation(view: _View, stack: tuple[Shape, ...], top: float, scale: scales.Scale) -> Drawing:
    """The ``stack`` as it stands and with its cap, beside each other."""
    apart = view.span + 2 * REACH + APART / view.times
    before = (*stack, *_roof_line(view, REACH), *_heights(view))
    after = (*stack, *_roof_line(view, REACH + STAND), *_capped(view), *_person(view))
    shapes = (*before, *_moved(after, apart), *_titles(view, apart, top))
    side = view.cap.sides[0 if view.across == 1 else 1].name
    says = f"The chimney as read, and with its cap, seen from side {side}, beside a person for scale."
    return Drawing("elevation", f"Before and after, from side {side}", says, scale.by, scale.says, shapes)


def _view(plan: Plan, survey: Survey, cap: CapDesign, times: float) -> _View:
    """Look along the ridge, so that the roof is seen sloping; which way that is is told by the stack's width along the ridge."""
    around = plan.job.surroundings
    frame = cap_frame(cap)
    along = around.width_along_ridge
    sizes = np.ptp(frame.of(survey.outline.face), axis=0)
    across = 0 if along is not None and abs(along - sizes[0]) < abs(along - sizes[1]) else 1
    u = frame.of(survey.outline.face)[:, 1 - across]
    left, right = float(u.min()), float(u.max())
    uphill, downhill, known = _roof(around, right - left)
    masonry = survey.readings.masonry
    return _View(survey, cap, frame, across, left, right, -uphill, -downhill, known, masonry, plan.job.units, times)


def _roof(around: Surroundings, width: float) -> tuple[float, float, tuple[bool, bool]]:
    """How far below the string the roof meets the stack uphill and downhill, and whether each was read or follows from the pitch;
    a stub where it does not.
    """
    up, down, pitch = around.roof_below_string, around.roof_below_string_low, around.roof_pitch
    fall = width * tan(pitch) if pitch is not None else 0.0
    known = up is not None or (down is not None and pitch is not None), down is not None or (up is not None and pitch is not None)
    high = up if up is not None else down - fall if down is not None else STUB
    return high, down if down is not None else high + fall, known


def _moved(shapes: Iterable[Shape], by: float) -> Iterator[Shape]:
    """Shapes moved to the right. Only the kinds this drawing uses."""

    def to(p: Point) -> Point:
        return p[0] + by, p[1]

    for shape in shapes:
        match shape:
            case Line() | Dimension():
                yield replace(shape, start=to(shape.start), end=to(shape.end))
            case Polyline():
                yield replace(shape, points=tuple(map(to, shape.points)))
            case Polygon():
                yield replace(shape, outer=tuple(map(to, shape.outer)))
            case Circle():
                yield replace(shape, centre=to(shape.centre))
            case Text():
                yield replace(shape, at=to(shape.at))
            case _:
                raise TypeError(f"cannot move a {type(shape).__name__}")


def _stack(view: _View) -> Iterator[Shape]:
    """The stack down to the roof, with its joints."""
    tops = [(float(u), float(z)) for u, z in _skyline(view)]
    wall = shapely.Polygon([(view.left, view.roof_left), (view.right, view.roof_right), *reversed(tops)])
    for flue in view.survey.flues:
        u = [p[1 - view.across] for p in view.frame.ring(flue.ring)]
        base = min(z for _, z in tops)
        yield Polygon(FLUE, ((min(u), base), (max(u), base), (max(u), flue.top.mean), (min(u), flue.top.mean)), fill="white")
    yield Polygon(STONE, ring(np.asarray(wall.exterior.coords)[:-1]), fill="white", title="the chimney above the roof")
    yield from joints(wall, view.masonry)


def _roof_line(view: _View, reach: float) -> Iterator[Shape]:
    """The roof's line either side of the stack, ``reach`` to the right."""
    if not any(view.roof_read):
        ends = (view.left - 0.1, view.roof_left), (view.right + 0.1, view.roof_right)
        yield Line(NOTE, *ends, "broken off here: the roof was not read")
        return
    slope = (view.roof_right - view.roof_left) / (view.right - view.left)
    yield Line(ROOF, (view.left - REACH, view.roof_left - REACH * slope), (view.left, view.roof_left), "roof")
    yield Line(ROOF, (view.right, view.roof_right), (view.right + reach, view.roof_right + reach * slope), "roof")


def _skyline(view: _View) -> list[tuple[float, float]]:
    """The highest stone seen at each place along the top."""
    u = np.linspace(view.left, view.right, 25)
    depth = view.frame.of(view.survey.outline.face)[:, view.across]
    rows = [np.full_like(u, d) for d in np.linspace(depth.min(), depth.max(), 7)]
    heights = [
        view.survey.surface.heights(view.frame.back(np.column_stack((u, row) if view.across == 1 else (row, u))))[0]
        for row in rows
    ]
    return list(zip(u, np.max(heights, axis=0), strict=True))


def _heights(view: _View) -> Iterator[Shape]:
    """How far the string stands above the roof, uphill and downhill, where that is known."""
    sides = ((view.left, view.roof_left, 16.0), (view.right, view.roof_right, -16.0))
    for (u, roof, off), known in zip(sides, view.roof_read, strict=True):
        if known:
            text = length(-roof, view.units) if view.units == "metric" else print_length(-roof, "feet", 2)
            yield Dimension((u, roof), (u, 0.0), off, text, along=90.0)


def _capped(view: _View) -> Iterator[Shape]:
    """The cap on the stack: edge, wash in outline, flues proud of it."""
    cap = view.cap
    flat = view.frame.of(cap.top.points)[:, 1 - view.across]
    outline = shapely.MultiPoint(np.column_stack((flat, cap.top.points[:, 2]))).convex_hull
    for flue in view.survey.flues:
        u = [p[1 - view.across] for p in view.frame.ring(flue.ring)]
        top = flue.top.mean + sum(fit.extension for fit in cap.flues if fit.name == flue.name)
        yield Polygon(
            FLUE, ((min(u), cap.edge), (max(u), cap.edge), (max(u), top), (min(u), top)), fill="white", title=f"flue {flue.name}"
        )
    if isinstance(outline, shapely.Polygon):
        yield Polygon(WASH, ring(np.asarray(outline.exterior.coords)[:-1]), fill="white", title="wash")
    edge = ((0.0, cap.soffit), (view.span, cap.soffit), (view.span, cap.edge), (0.0, cap.edge))
    yield Polygon(CAP, edge, fill="white", title="edge of the cap")
    yield Dimension(
        (0.0, cap.edge), (view.span, cap.edge), 6.0 + view.times * 0.16, length(view.span, view.units), along=0.0, bold=True
    )
    yield Dimension((0.0, cap.soffit), (0.0, cap.edge), 7.0, length(cap.edge - cap.soffit, view.units), along=90.0)


def _person(view: _View) -> Iterator[Shape]:
    """A person standing on the roof downhill of the stack, in plain outline."""
    slope = (view.roof_right - view.roof_left) / (view.right - view.left)
    x = view.right + REACH + 0.5 * FOOT
    foot = view.roof_right + (REACH + 0.5 * FOOT) * slope
    tall = PERSON_TALL
    half = (
        (0.025, 0.0), (0.085, 0.0), (0.08, 0.03), (0.075, 0.25), (0.088, 0.47), (0.085, 0.56), (0.105, 0.47), (0.133, 0.47),
        (0.14, 0.62), (0.13, 0.77), (0.105, 0.815), (0.035, 0.845), (0.035, 0.875),
    )  # fmt: skip
    outline = [*half, *((-u, v) for u, v in reversed(half)), (-0.008, 0.45), (0.008, 0.45)]
    yield Polygon(PERSON, tuple((x + u * tall, foot + v * tall) for u, v in outline), fill="white", title="a person, for scale")
    yield Circle(PERSON, (x, foot + 0.935 * tall), 0.065 * tall, "white")
    yield Text(
        (x, foot + tall),
        show(tall, "m", "metric") if view.units == "metric" else print_length(tall, "feet"),
        2.9,
        "middle",
        0.0,
        shift=(0.0, 2.0),
    )


def _titles(view: _View, apart: float, top: float) -> Iterator[Shape]:
    for by, text in ((0.0, "As read"), (apart, "With its cap")):
        yield Text((view.span / 2 + by, top), text, 4.2, "middle", 0.0, bold=True, shift=(0.0, 18.0))
