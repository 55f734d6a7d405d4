"""Ink of drafting marks: balloons, levels, section cuts, arrows, crosses, samples of lines, breaks."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from crownwright.sheets import fonts
from crownwright.sheets.draw import plane
from crownwright.sheets.draw.marks import Ink, Paper, Stroke, Words, text_ink
from crownwright.sheets.draw.plane import left, plus, toward
from crownwright.sheets.draw.shapes import Fill, Point, Symbol, Text

RING_WEIGHT = 0.35


def symbol(shape: Symbol, paper: Paper) -> Iterator[Ink]:
    """Ink of a mark, at its place on paper moved by its shift."""
    return _MARKS[shape.kind](shape, plus(paper(shape.at), shape.shift))


def _ring(shape: Symbol, centre: Point, radius: float, fill: Fill = "white") -> Stroke:
    return Stroke(shape.layer, (plane.arc(centre, radius, 0.0, 360.0)[:-1],), RING_WEIGHT, (), fill, True)


def _centred(shape: Symbol, at: Point, size: float, bold: bool = True) -> Words:
    return Words(shape.layer, plus(at, (0.0, -size * fonts.CAP_HEIGHT / 2)), shape.text, size, "middle", 0.0, bold)


def _balloon(shape: Symbol, at: Point) -> Iterator[Ink]:
    size = shape.size * 0.56
    half = max(shape.size / 2, fonts.width(shape.text, size, True) / 2 + 0.8)
    yield _ring(shape, at, half)
    yield _centred(shape, at, size)


def _level(shape: Symbol, at: Point) -> Iterator[Ink]:
    """A triangle standing on its tip, a line, and the level written on it, to the right or (turn 180) to the left."""
    side = -1.0 if shape.turn == 180.0 else 1.0
    wide = fonts.width(shape.text, 3.2) + 3.5
    tip = ((at, plus(at, (1.4, 2.2)), plus(at, (-1.4, 2.2))),)
    yield Stroke(shape.layer, tip, 0.25, (), "black", True)
    yield Stroke(shape.layer, ((plus(at, (-side * 2.0, 0.0)), plus(at, (side * wide, 0.0))),), 0.25)
    yield Words(shape.layer, plus(at, (side * 2.6, 0.9)), shape.text, 3.2, "start" if side > 0 else "end")


def _cut(shape: Symbol, at: Point) -> Iterator[Ink]:
    """A lettered ring with a filled wing pointing the way the section looks."""
    radius = shape.size / 2
    way, out = toward(shape.turn), left(toward(shape.turn))
    wing = (plus(at, way, radius * 1.9), plus(at, out, radius * 1.25), plus(at, out, -radius * 1.25))
    yield Stroke(shape.layer, (wing,), 0.0, (), "black", True)
    yield _ring(shape, at, radius)
    yield _centred(shape, at, shape.size * 0.6)


def _arrow(shape: Symbol, at: Point) -> Iterator[Ink]:
    """A line with a filled head at ``at``, ``size`` long; its text stands at the tail."""
    way, out = toward(shape.turn), left(toward(shape.turn))
    head = min(2.4, shape.size * 0.6)
    back = plus(at, way, -head)
    yield Stroke(shape.layer, ((plus(at, way, -shape.size), back),), 0.25)
    yield Stroke(shape.layer, ((at, plus(back, out, 0.6), plus(back, out, -0.6)),), 0.0, (), "black", True)
    if shape.text:
        yield from text_ink(
            Text(at, shape.text, 3.2, "middle", 0.5, clear=True, layer=shape.layer), plus(at, way, -shape.size - 3.0)
        )


def _cross(shape: Symbol, at: Point) -> Iterator[Ink]:
    half = shape.size / 2
    arms = ((plus(at, (-half, 0.0)), plus(at, (half, 0.0))), (plus(at, (0.0, -half)), plus(at, (0.0, half))))
    yield Stroke(shape.layer, arms, 0.35)


def _sample(shape: Symbol, at: Point) -> Iterator[Ink]:
    end = plus(at, (shape.size, 0.0))
    yield Stroke(shape.layer, ((at, end),), shape.layer.weight, shape.layer.dash)
    yield from text_ink(Text(at, shape.text, 3.0, "start", 0.5, layer=shape.layer), plus(end, (2.0, 0.0)))


def _break(shape: Symbol, at: Point) -> Iterator[Ink]:
    way, up = toward(shape.turn), left(toward(shape.turn))
    steps = ((-0.5, 0.0), (-0.04, 0.0), (-0.02, 2.0), (0.02, -2.0), (0.04, 0.0), (0.5, 0.0))
    run = tuple(plus(plus(at, way, u * shape.size), up, v) for u, v in steps)
    yield Stroke(shape.layer, (run,), 0.25)


_MARKS: dict[str, Callable[[Symbol, Point], Iterator[Ink]]] = {
    "balloon": _balloon,
    "level": _level,
    "cut": _cut,
    "arrow": _arrow,
    "cross": _cross,
    "sample": _sample,
    "break": _break,
}
