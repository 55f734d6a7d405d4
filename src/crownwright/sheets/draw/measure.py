"""Ink of dimensions and leaders: extension lines, slashes, and text where it fits."""

from __future__ import annotations

from collections.abc import Iterator

from crownwright.sheets import fonts
from crownwright.sheets.draw import plane
from crownwright.sheets.draw.marks import Ink, Paper, Stroke, Words, text_ink, wipe
from crownwright.sheets.draw.plane import dot, left, minus, plus, toward, unit
from crownwright.sheets.draw.shapes import Anchor, AngleDimension, Dimension, Leader, Point, Text

GAP = 1.2  # mm between the object and its extension line
PAST = 1.6  # mm an extension line runs past the dimension line
SLASH = 1.3  # mm, half length of the slash
SLASH_WEIGHT = 0.5
BESIDE = 2.2  # mm a text leaves free of its dimension line, both ends together
AIR = 0.9  # mm between a line and the text on it
_PLUMB = 20.0  # degrees off plumb up to which a dimension counts as plumb


def dimension_line(shape: Dimension, paper: Paper) -> tuple[Point, Point]:
    """Return the two ends of a dimension's line on paper."""
    a, b = paper(shape.start), paper(shape.end)
    run = unit(minus(b, a)) if shape.along is None else toward(shape.along)
    if dot(run, minus(b, a)) < 0:
        run = (-run[0], -run[1])
    first = plus(a, left(run), shape.off)
    return first, plus(first, run, dot(run, minus(b, a)))


def dimension(shape: Dimension, paper: Paper) -> Iterator[Ink]:
    """Ink of a straight dimension. Text that does not fit on it goes beyond its end; beside it where it stands plumb."""
    p, q = dimension_line(shape, paper)
    for place, foot in ((paper(shape.start), p), (paper(shape.end), q)):
        yield from _extension(shape, place, foot)
    run = unit(minus(q, p))
    lines = shape.text.split("\n")
    wide = max(fonts.width(line, shape.size, shape.bold) for line in lines)
    room = plane.length(minus(q, p))
    turn = plane.readable(plane.turn_of(run))
    yield from _slashes(shape, (p, q), turn)
    if wide + BESIDE <= room:
        yield Stroke(shape.layer, ((p, q),), shape.layer.weight)
        yield from _on_line(shape, lines, plus(p, run, room / 2), wide, turn)
    elif abs(turn - 90.0) < _PLUMB:
        yield Stroke(shape.layer, ((plus(p, run, -3.0), plus(q, run, 3.0)),), shape.layer.weight)
        yield from _beside(shape, plus(p, run, room / 2), (paper(shape.start), p))
    else:
        # beyond one end, on a stub of the line
        on = (dot(run, toward(turn)) > 0) != shape.first
        first, last, way = (p, q, run) if on else (q, p, (-run[0], -run[1]))
        yield Stroke(shape.layer, ((plus(first, way, -3.0), plus(last, way, wide + 3.2)),), shape.layer.weight)
        yield from _on_line(shape, lines, plus(last, way, 2.2 + wide / 2), wide, turn)


def _on_line(shape: Dimension, lines: list[str], middle: Point, wide: float, turn: float) -> Iterator[Ink]:
    """The first line of text above the dimension line, any others under it."""
    up = left(toward(turn))
    high = shape.size * fonts.CAP_HEIGHT
    yield wipe(plane.block(plus(middle, up, AIR + high / 2), wide + 0.6, high + 0.8, turn), shape.layer)
    yield Words(shape.layer, plus(middle, up, AIR), lines[0], shape.size, "middle", turn, shape.bold)
    for i, line in enumerate(lines[1:]):
        yield Words(
            shape.layer, plus(middle, up, -AIR - high - 1.25 * i * shape.size), line, shape.size, "middle", turn, shape.bold
        )


def _beside(shape: Dimension, middle: Point, extension: tuple[Point, Point]) -> Iterator[Ink]:
    """Level text beside a plumb dimension, on the side away from the object."""
    side = -1.0 if extension[1][0] < extension[0][0] else 1.0
    anchor: Anchor = "end" if side < 0 else "start"
    text = Text(shape.start, shape.text, shape.size, anchor, 0.5, bold=shape.bold, clear=True, layer=shape.layer)
    yield from text_ink(text, plus(middle, (side * 2.0, 0.0)))


def _extension(shape: Dimension, place: Point, foot: Point) -> Iterator[Ink]:
    """The thin line from the object to past the dimension line; none where the two fall together."""
    way = minus(foot, place)
    size = plane.length(way)
    if size > GAP + 0.3:
        yield Stroke(shape.layer, ((plus(place, unit(way), GAP), plus(foot, unit(way), PAST)),), shape.layer.weight)


def _slashes(shape: Dimension, ends: tuple[Point, Point], turn: float) -> Iterator[Ink]:
    slant = toward(turn + 45.0)
    yield Stroke(shape.layer, tuple((plus(e, slant, -SLASH), plus(e, slant, SLASH)) for e in ends), SLASH_WEIGHT)


def angle(shape: AngleDimension, paper: Paper) -> Iterator[Ink]:
    """Ink of an angle: an arc with slashes, and its text beside the middle of the arc."""
    corner = paper(shape.corner)
    first = plane.turn_of(minus(paper(shape.first), corner))
    second = plane.turn_of(minus(paper(shape.second), corner))
    sweep = (second - first) % 360.0
    yield Stroke(shape.layer, (plane.arc(corner, shape.radius, first, first + sweep),), shape.layer.weight)
    out = toward(first + sweep / 2)
    wide = fonts.width(shape.text, shape.size)
    reach = shape.radius + 2.0 + abs(out[0]) * wide / 2 + abs(out[1]) * shape.size * 0.5
    middle = plus(corner, out, reach)
    yield wipe(plane.block(middle, wide + 1.0, shape.size * fonts.CAP_HEIGHT + 1.0, 0.0), shape.layer)
    yield Words(shape.layer, plus(middle, (0.0, -shape.size * fonts.CAP_HEIGHT / 2)), shape.text, shape.size, "middle")


def leader(shape: Leader, paper: Paper) -> Iterator[Ink]:
    """Ink of a leader: an arrow (or a dot inside an area), a slanting line, a short shoulder, and the text."""
    tip = paper(shape.tip)
    knee = plus(tip, shape.shift)
    side = 1.0 if shape.shift[0] >= 0 else -1.0
    shoulder = plus(knee, (side * 2.0, 0.0))
    yield Stroke(shape.layer, ((tip, knee, shoulder),), shape.layer.weight)
    yield dot_ink(shape, tip) if shape.dot else head(tip, minus(tip, knee), shape)
    anchor: Anchor = "start" if side > 0 else "end"
    text = Text(shape.tip, shape.text, shape.size, anchor, 0.5, bold=shape.bold, clear=True, layer=shape.layer)
    yield from text_ink(text, plus(shoulder, (side * 1.0, 0.0)))


def head(tip: Point, way: Point, shape: Leader) -> Stroke:
    """Return a slender filled arrow head at ``tip`` pointing along ``way``."""
    back = plus(tip, unit(way), -2.4)
    out = left(unit(way))
    return Stroke(shape.layer, ((tip, plus(back, out, 0.45), plus(back, out, -0.45)),), 0.0, (), "black", True)


def dot_ink(shape: Leader, at: Point) -> Stroke:
    """Return the dot that ends a leader inside an area."""
    return Stroke(shape.layer, (plane.arc(at, 0.55, 0, 360)[:-1],), 0.0, (), "black", True)
