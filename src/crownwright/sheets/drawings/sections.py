"""Sections through the cap, along (A) and across (B): concrete, stone, flues and joints, drip, steel, and every level that
matters.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from crownwright.plan.model import Plan
from crownwright.quantity.units import INCH
from crownwright.sheets.draw.layers import CAP_CUT, FLUE, FLUE_CUT, JOINT, NOTE, STEEL, STONE_CUT, STRING
from crownwright.sheets.draw.shapes import (
    Circle,
    Dimension,
    Drawing,
    Hatch,
    Leader,
    Line,
    Polygon,
    Polyline,
    Shape,
    Symbol,
)
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.capplan import section_places
from crownwright.sheets.drawings.cut import BELOW, Cut, Span, flue_top, less, underside, with_drip
from crownwright.sheets.drawings.frame import cap_frame
from crownwright.sheets.drawings.say import length, spoken
from crownwright.sheets.drawings.top import inside_ring
from crownwright.survey.model import PlacedFlue

NOTES = (66.0, 24.0)  # mm, dimensions and levels beside and under a section


def sections(plan: Plan) -> tuple[Drawing, Drawing]:
    """Return section A, along the cap's length and looking away from side AB, and section B, across it, at one scale."""
    one, other = _section(plan, 1), _section(plan, 0)
    along, across = one(0.0), other(0.0)
    by = max(along.scale, across.scale)
    return along if along.scale == by else one(by), across if across.scale == by else other(by)


def _section(plan: Plan, across: int) -> Callable[[float], Drawing]:
    """What draws one section at the largest scale that fits, but not larger than one to the number it is given."""
    if plan.survey is None or plan.cap is None:
        raise ValueError("this plan has no cap to cut; see its problems")
    survey, cap = plan.survey, plan.cap
    frame = cap_frame(cap)
    cut = Cut(survey, cap, frame, across, section_places(survey, cap, frame)[1 - across], plan.job.units)
    high = max([cap.crest, *(flue.top.mean for flue in survey.flues)]) - cap.soffit + BELOW
    built = (*_beyond(cut), *_stone(cut), *_concrete(cut), *_flues(cut)), (*_steel(cut), *_string(cut))  # the same at any scale

    def draw(no_larger: float) -> Drawing:
        wide = max(cut.span, no_larger * (scales.ROOM[0] - NOTES[0]) / 1000.0 * 0.999)
        return scales.largest(lambda scale: _section_at(cut, built, scale), (wide, high), NOTES, plan.job.units)

    return draw


def _section_at(cut: Cut, built: tuple[tuple[Shape, ...], tuple[Shape, ...]], scale: scales.Scale) -> Drawing:
    """A section at a scale, around what is ``built``: what stands behind the line that breaks the stone off, and before it."""
    cap, times = cut.cap, 1000.0 / scale.by
    name, title = ("section-a", "Section A, along the cap") if cut.across == 1 else ("section-b", "Section B, across the cap")
    behind, before = built
    shapes = (*behind, *_broken_off(cut, times), *before, *_levels(cut, times), *_sizes(cut, times), *_calls(cut, times))
    edge, rise = (length(z, cut.units) for z in (cap.edge - cap.soffit, cap.crest - cap.edge))
    says = f"The cap cut through its largest flue: edge {edge} thick, wash rising {rise} to its crest, over the stone as read."
    return Drawing(name, title, says, scale.by, scale.says, shapes)


def _beyond(cut: Cut) -> Iterator[Shape]:
    """Flues behind the cut, in outline, down to the wash."""
    for flue, met in zip(cut.survey.flues, cut.flues, strict=True):
        if not met:
            u = [point[1 - cut.across] for point in cut.frame.ring(flue.ring)]
            corners = (
                (min(u), cut.cap.edge),
                (max(u), cut.cap.edge),
                (max(u), flue_top(cut, flue)),
                (min(u), flue_top(cut, flue)),
            )
            yield Polygon(NOTE, corners, fill="white", title=f"flue {flue.name}, behind")


def _stone(cut: Cut) -> Iterator[Shape]:
    """The masonry under the cap, less the flues, broken off below."""
    brick = cut.survey.readings.masonry == "brick"
    foot = cut.cap.soffit - BELOW
    flues = [span for met in cut.flues for span in met]
    for start, end in cut.face:
        for left, right in less((start, end), flues):
            top = cut.stone(left, right)
            wall = ((left, foot), *top, (right, foot))
            yield Polygon(STONE_CUT, wall, (), Hatch.BRICK if brick else Hatch.STONE, edge=False)
            yield Polyline(STONE_CUT, wall, title="the chimney's top")


def _broken_off(cut: Cut, times: float) -> Iterator[Shape]:
    spans = cut.face
    size = (spans[-1][1] - spans[0][0]) * times + 8.0
    yield Symbol("break", ((spans[0][0] + spans[-1][1]) / 2, cut.cap.soffit - BELOW), "", 0.0, size)


def _concrete(cut: Cut) -> Iterator[Shape]:
    for run in cut.wash:
        left, right = run[0][0], run[-1][0]
        stretches = [(max(low, left), min(high, right)) for low, high in cut.face]
        over = [cut.stone(low, high) for low, high in stretches if high > low]
        bottom = with_drip(cut, underside(cut, left, right, over))
        yield Polygon(CAP_CUT, (*run, *reversed(bottom)), (), Hatch.CONCRETE, "white", title="concrete")
        if cut.cap.base == "slip sheet":
            for top in over:
                if top[-1][0] - top[0][0] > 0.01:
                    yield Polyline(JOINT, tuple(top), title="slip sheet")


def _flues(cut: Cut) -> Iterator[Shape]:
    fits = {fit.name: fit for fit in cut.cap.flues}
    foot = cut.cap.soffit - BELOW
    for flue, met in zip(cut.survey.flues, cut.flues, strict=True):
        for left, right in met:
            joint = fits[flue.name].extension_joint if flue.name in fits else None
            yield from _flue_walls(cut, flue, (left, right), foot, flue.top.mean if joint is None else joint)
            if joint is not None:
                yield from _flue_walls(cut, flue, (left, right), joint, flue_top(cut, flue))
            if flue.name in fits:
                yield from _joint(cut, cut.spans(cut.frame.ring(fits[flue.name].hole)), (left, right))


def _flue_walls(cut: Cut, flue: PlacedFlue, span: Span, foot: float, top: float) -> Iterator[Shape]:
    left, right = span
    inside = cut.spans(tuple(cut.frame.point(p) for p in inside_ring(flue))) if flue.inside else ()
    if not inside:
        yield Polygon(FLUE_CUT, ((left, foot), (right, foot), (right, top), (left, top)), fill="white", title=f"flue {flue.name}")
        return
    yield Polygon(FLUE, ((left, foot), (right, foot), (right, top), (left, top)), fill="white", edge=False)
    for low, high in ((left, inside[0][0]), (inside[0][1], right)):
        wall = ((low, foot), (high, foot), (high, top), (low, top))
        yield Polygon(FLUE_CUT, wall, (), Hatch.CLAY, title=f"flue {flue.name}")
    yield Line(FLUE, (inside[0][0], top), (inside[0][1], top))


def _joint(cut: Cut, hole: tuple[Span, ...], span: Span) -> Iterator[Shape]:
    """The soft joint each side of a flue, from the stone to where the wash meets it there, sealed at the top."""
    if not hole:
        return
    ends = [end for run in cut.wash for end in (run[0], run[-1])]
    for low, high, edge in ((hole[0][0], span[0], hole[0][0]), (span[1], hole[-1][1], hole[-1][1])):
        if high - low < 1e-4:
            continue
        meets = min(ends, key=lambda end, edge=edge: abs(end[0] - edge))[1]  # type: ignore[misc]
        foot = cut.stone(low, high)
        yield Polygon(JOINT, (*foot, (high, meets), (low, meets)), (), Hatch.SOFT, "white", title="soft joint")
        seal = meets - min(0.5 * INCH, high - low)
        yield Polygon(JOINT, ((low, seal), (high, seal), (high, meets), (low, meets)), fill="black", title="sealant")


def _steel(cut: Cut) -> Iterator[Shape]:
    """Joint reinforcement: rods that cross the cut as dots, rods that run with it as lines."""
    for piece in cut.cap.steel:
        a, b = cut.frame.point(piece.start), cut.frame.point(piece.end)
        low, high = sorted((a[cut.across], b[cut.across]))
        if low < cut.at < high and high - low > 0.02:
            share = (cut.at - a[cut.across]) / (b[cut.across] - a[cut.across])
            u = a[1 - cut.across] + share * (b[1 - cut.across] - a[1 - cut.across])
            for side in (-INCH, INCH):  # a ladder's two side rods
                yield Circle(STEEL, (u + side, piece.level), 0.09 * INCH, "black", f"steel {piece.name}")


def _string(cut: Cut) -> Iterator[Shape]:
    yield Line(STRING, (-1.5 * INCH, 0.0), (cut.span + 1.5 * INCH, 0.0), "the level string")


def _levels(cut: Cut, times: float) -> Iterator[Shape]:
    """Levels from the string, at the right, kept apart so that each can be read; one that had to move is tied to its height."""
    cap = cut.cap
    tops: dict[str, list[str]] = {}
    for flue in cut.survey.flues:
        tops.setdefault(length(flue_top(cut, flue), cut.units, signed=True), []).append(flue.name)
    heights = {flue.name: flue_top(cut, flue) for flue in cut.survey.flues}
    levels = [(cap.soffit, "soffit"), (0.0, "string"), (cap.edge, "edge"), (cap.crest, "crest")]
    levels += [(heights[names[0]], f"{', '.join(names)} top") for names in tops.values()]
    place = -np.inf
    for z, name in sorted(levels):
        place = max(place + 5.0, z * times)
        moved = place - z * times
        text = f"{length(z, cut.units, signed=True)} {name}" if name != "string" else "0 string"
        if moved > 0.3:
            bend = tuple((cut.span + x / times, z + y / times) for x, y in ((6.0, 0.0), (10.0, 0.0), (16.0, moved)))
            yield Polyline(NOTE, bend, title=f"level of {name}")
        yield Symbol("level", (cut.span, z), text, 0.0, shift=(18.0, moved))


def _sizes(cut: Cut, times: float) -> Iterator[Shape]:
    cap, units = cut.cap, cut.units
    yield Dimension((0, cap.edge), (0, cap.soffit), -14.0, length(cap.edge - cap.soffit, units), along=90.0)
    yield Dimension((0, cap.crest), (0, cap.edge), -14.0, length(cap.crest - cap.edge, units), along=90.0)
    spans = cut.face
    foot = cap.soffit
    for start, end in ((0.0, spans[0][0]), (spans[-1][1], cut.span)):
        yield Dimension((start, foot), (end, foot), -9.0, length(end - start, units), along=0.0, first=start == 0.0)
    yield Dimension((0.0, foot), (cut.span, foot), -15.0 - BELOW * times, length(cut.span, units), along=0.0, bold=True, size=3.8)


def _calls(cut: Cut, times: float) -> Iterator[Shape]:
    """Leaders to what is not plain by itself."""
    cap = cut.cap
    spot = (cut.wash[-1][-1][0] - 5 * INCH, (cap.soffit + cap.edge) / 2)
    tops = max([cap.crest, *(flue_top(cut, flue) for flue in cut.survey.flues)])
    over = (tops - spot[1]) * times + 5.0
    base = {"slip sheet": "concrete on a slip sheet", "bonded": "concrete bonded to cleaned, damp stone"}[cap.base]
    yield Leader(spot, (-4.0, over), base, dot=True)
    for flue, spans in zip(cut.survey.flues, cut.flues, strict=True):
        fit = next((f for f in cap.flues if f.name == flue.name), None)
        if spans and fit is not None and fit.joint_width > 0:
            tip = (spans[0][0] - fit.joint_width / 2, fit.meets_low - 0.3 * INCH)
            yield Leader(
                tip,
                (-14.0, (tops - tip[1]) * times + 3.0),
                f"{spoken(fit.joint_width, cut.units)} wrap, backer,\nsealant on top",
            )
            break
