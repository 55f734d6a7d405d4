"""The roof page's sketch: the top seen from above, with a layer in which the reading that is asked for is marked."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot

from markupsafe import Markup, escape

from crownwright.service.up_top import Sketch, Step

WIDE, HIGH = 330.0, 156.0  # px, the room for the drawing on a phone, letters included
EDGE = 26.0  # px, room for letters round it
Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Sheet:
    """How metres become points on the sketch: ``scale`` px a metre, ``x0`` and ``y0`` where the datum's origin lies."""

    scale: float
    x0: float
    y0: float
    wide: float
    high: float

    def at(self, point: Pair) -> Pair:
        """A point on the sketch."""
        return round(self.x0 + self.scale * point[0], 1), round(self.y0 - self.scale * point[1], 1)


def sketch_svg(sketch: Sketch, step: Step | None = None) -> Markup:
    """The sketch as SVG. It carries where its points are (``data-points``) and its scale, for the script that marks on it."""
    sheet = _sheet_of(sketch)
    points = {name: sheet.at(p) for name, p in sketch.points.items()}
    about = {"points": points, "corners": sketch.corners, "scale": sheet.scale, "measured": sketch.measured}
    drawn = Markup("{}<g id='mark' class='mark'>{}</g>").format(_ink(sketch, sheet), _mark(step, points, sketch))
    size = Markup('viewBox="0 0 {w:g} {h:g}" width="{w:g}" height="{h:g}"').format(w=sheet.wide, h=sheet.high)
    said = Markup('role="img" aria-label="The top seen from above" data-sketch="{}"').format(json.dumps(about))
    return Markup('<svg id="sketch" class="sketch" xmlns="http://www.w3.org/2000/svg" {} {}>{}</svg>').format(size, said, drawn)


def _sheet(points: Iterable[Pair]) -> Sheet:
    xs, ys = zip(*points, strict=True)
    wide, high = max(max(xs) - min(xs), 0.05), max(max(ys) - min(ys), 0.05)
    scale = min((WIDE - 2 * EDGE) / wide, (HIGH - 2 * EDGE) / high)
    width = max(wide * scale + 2 * EDGE, WIDE)
    height = high * scale + 2 * EDGE
    x0 = (width - wide * scale) / 2 - min(xs) * scale
    return Sheet(round(scale, 3), round(x0, 2), round(EDGE + max(ys) * scale, 2), round(width, 1), round(height, 1))


def _ink(sketch: Sketch, sheet: Sheet) -> Markup:
    face = _path(map(sheet.at, sketch.face))
    strings = _path(sheet.at(sketch.points[c]) for c in sketch.corners)
    flues = Markup("").join(
        Markup('<path class="flue" d="{}"/><text class="named" x="{:.1f}" y="{:.1f}">{}</text>').format(
            _path(map(sheet.at, ring)), *_middle([sheet.at(p) for p in ring]), name
        )
        for name, ring in sketch.flues.items()
    )
    middle = _middle([sheet.at(sketch.points[c]) for c in sketch.corners])
    letters = Markup("").join(_letter(c, sheet.at(sketch.points[c]), middle) for c in sketch.corners)
    dots = Markup("").join(
        Markup('<circle class="drop" cx="{:.1f}" cy="{:.1f}" r="3"/>').format(*sheet.at(p)) for p in sketch.drops
    )
    hatch = Markup(
        '<defs><pattern id="stone" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        '<path class="hatch" d="M0 0V7"/></pattern></defs>'
    )
    return (
        hatch + Markup('<path class="face" d="{}"/><path class="string" d="{}"/>').format(face, strings) + flues + dots + letters
    )


def _letter(name: str, at: Pair, middle: Pair) -> Markup:
    away = max(hypot(at[0] - middle[0], at[1] - middle[1]), 1.0)
    x, y = (at[k] + 15 * (at[k] - middle[k]) / away for k in (0, 1))
    return Markup(
        '<circle class="hook" cx="{:.1f}" cy="{:.1f}" r="3.5"/><text class="corner" x="{:.1f}" y="{:.1f}">{}</text>'
    ).format(*at, x, y, name[:4])


def _mark(step: Step | None, points: dict[str, Pair], sketch: Sketch) -> Markup:
    """What is asked for: the tape's line, the side, or the corner."""
    if step is None:
        return Markup("")
    if step.start in points and step.end in points:
        return line_of(points[step.start], points[step.end])
    if step.start in points:
        return Markup('<circle class="ring" cx="{:.1f}" cy="{:.1f}" r="12"/>').format(*points[step.start])
    ends = ends_of(step.side, sketch.corners)
    return line_of(points[ends[0]], points[ends[1]]) if ends else Markup("")


def ends_of(side: str, corners: tuple[str, ...]) -> tuple[str, str] | None:
    """The two corners of a side."""
    pairs = zip(corners, corners[1:] + corners[:1], strict=True)
    return next((pair for pair in pairs if "".join(pair) == side), None)


def line_of(one: Pair, other: Pair) -> Markup:
    """A tape stretched between two points."""
    ends = Markup("").join(Markup('<circle class="end" cx="{:g}" cy="{:g}" r="6"/>').format(*end) for end in (one, other))
    return Markup('<path class="tape" d="M{:g} {:g}L{:g} {:g}"/>').format(*one, *other) + ends


def _middle(points: list[Pair]) -> Pair:
    return sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points)


def _path(points: Iterable[Pair]) -> str:
    return escape("M" + "L".join(f"{x:g} {y:g}" for x, y in points) + "Z")


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on the sketch (m) with its number; ``this`` one stands out."""

    at: Pair
    number: str
    this: bool = False


_INKS = {
    "face": 'fill="url(#stone)" stroke="#161412" stroke-width="2.5"',
    "hatch": 'stroke="#b9b0a0" fill="none"',
    "string": 'fill="none" stroke="#161412" stroke-dasharray="10 3 2 3"',
    "flue": 'fill="#fff" stroke="#161412" stroke-width="2"',
    "named": 'font-family="sans-serif" font-weight="600" font-size="19" text-anchor="middle" dominant-baseline="central"',
    "corner": 'font-family="sans-serif" font-weight="600" font-size="19" text-anchor="middle" dominant-baseline="central"',
    "hook": 'fill="#161412"',
    "drop": 'fill="#fff" stroke="#161412" stroke-width="1.5"',
}
"""How each part is drawn where no stylesheet reaches: in a picture."""


def sketch_picture(sketch: Sketch, marks: Iterable[Mark]) -> bytes:
    """The sketch as a picture by itself, with numbered marks."""
    sheet = _sheet_of(sketch)
    ink = str(_ink(sketch, sheet))
    for name, drawn in _INKS.items():
        ink = ink.replace(f'class="{name}"', drawn)
    spots = Markup("").join(_spot(mark, sheet) for mark in marks)
    head = Markup('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w:g} {h:g}" width="{w:g}" height="{h:g}">').format(
        w=sheet.wide, h=sheet.high
    )
    return f'{head}<rect width="100%" height="100%" fill="#fff"/>{ink}{spots}</svg>'.encode()


def _spot(mark: Mark, sheet: Sheet) -> Markup:
    fill, text = ("#9a2617", "#fff") if mark.this else ("#fff", "#9a2617")
    x, y = sheet.at(mark.at)
    ring = Markup('<circle cx="{:.1f}" cy="{:.1f}" r="13" fill="{}" stroke="#9a2617" stroke-width="2.5"/>').format(x, y, fill)
    said = Markup('<text x="{:.1f}" y="{:.1f}" fill="{}" {}>{}</text>')
    return ring + said.format(x, y, text, Markup(_INKS["named"]), mark.number)


def placed_at(sketch: Sketch, x: float, y: float) -> Pair | None:
    """Where on the top (m) a point of the sketch's picture lies; None beyond its edges."""
    sheet = _sheet_of(sketch)
    if not (0 <= x <= sheet.wide and 0 <= y <= sheet.high):
        return None
    return (x - sheet.x0) / sheet.scale, (sheet.y0 - y) / sheet.scale


def _sheet_of(sketch: Sketch) -> Sheet:
    return _sheet([*sketch.points.values(), *sketch.face, *(p for ring in sketch.flues.values() for p in ring)])
