"""The sketch on a blank roof card: how corners, sides and flue corners are named, and what each kind of reading is."""

from __future__ import annotations

from collections.abc import Iterator

from crownwright.sheets.draw.layers import FLUE, READING, STONE, STRING, WANTED
from crownwright.sheets.draw.shapes import Drawing, Leader, Line, Point, Polygon, Polyline, Shape, Symbol, Text

_CORNERS: tuple[Point, ...] = ((0.0, 0.0), (1.0, 0.0), (0.98, 0.86), (-0.02, 0.84))
_FACE: tuple[Point, ...] = (
    (0.0, 0.0), (0.22, -0.03), (0.45, 0.015), (0.7, -0.02), (1.0, 0.0), (1.025, 0.3), (0.985, 0.6), (0.98, 0.86),
    (0.7, 0.885), (0.4, 0.84), (0.15, 0.87), (-0.02, 0.84), (-0.045, 0.5), (0.0, 0.25),
)  # fmt: skip
_FLUE: tuple[Point, ...] = ((0.34, 0.3), (0.68, 0.3), (0.68, 0.58), (0.34, 0.58))


def blank_sketch() -> Drawing:
    """Return the sketch. It is of no chimney in particular and to no scale."""
    says = "Corners A to D walking round with the chimney on the left hand; flue corner a looks at A, b at B, and so on."
    return Drawing("sketch", "How it is named", says, 16.0, "", tuple(_shapes()))


def _shapes() -> Iterator[Shape]:
    yield Polygon(STONE, _FACE, fill="white")
    yield Polyline(STRING, _CORNERS, closed=True)
    yield Polygon(FLUE, _FLUE, (tuple((0.51 + (x - 0.51) * 0.84, 0.44 + (y - 0.44) * 0.82) for x, y in _FLUE),))
    yield Text((0.51, 0.44), "F1", 4.6, "middle", 0.5, bold=True)
    for name, (x, y), (dx, dy) in zip("ABCD", _CORNERS, ((-5.0, -4.0), (5.0, -4.0), (5.0, 4.0), (-5.0, 4.0)), strict=True):
        yield Text((x, y), name, 6.0, "middle", 0.5, bold=True, shift=(dx, dy), clear=True)
    for name, (x, y), (dx, dy) in zip("abcd", _FLUE, ((-2.6, -1.8), (2.6, -1.8), (2.6, 1.8), (-2.6, 1.8)), strict=True):
        yield Text((x, y), name, 3.6, "middle", 0.5, shift=(dx, dy))
    yield Line(READING, _CORNERS[0], _FLUE[0])
    yield Text((0.2, 0.18), "tie", 3.2, "middle", 0.5, 41.0, clear=True)
    yield Line(READING, _CORNERS[1], _CORNERS[3])
    yield Text((0.815, 0.158), "tape BD", 3.2, "middle", 0.5, -39.5, clear=True)
    yield Line(WANTED, (0.22, 0.0), (0.22, -0.03))
    yield Leader((0.22, -0.015), (7.0, -8.5), "offset: + out")
    yield Symbol("cross", (0.8, 0.7), size=3.0)
    yield Leader((0.8, 0.7), (-6.0, 16.5), "drop: below the string")
