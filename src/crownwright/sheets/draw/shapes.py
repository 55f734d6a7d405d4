"""What a drawing is made of. Places are metres in the drawing's own plane (x to the right, y up); sizes of marks are mm on paper.

A shape knows nothing of SVG or DXF. `draw.ink` turns shapes into ink on paper, `draw.svg` and `draw.dxf` write them out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Literal

from crownwright.sheets.draw.layers import DIMENSION, NOTE, Layer

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
Fill = Literal["none", "white", "grey", "black"]


class Hatch(StrEnum):
    """Hatchings, by what is cut."""

    STONE = "stone"
    BRICK = "brick"
    CONCRETE = "concrete"
    CLAY = "clay"
    MORTAR = "mortar"
    WOOD_END = "wood-end"
    WOOD_LONG = "wood-long"
    SOFT = "soft"
    STEEL = "steel"


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    layer: Layer
    start: Point
    end: Point
    title: str = ""


@dataclass(frozen=True, slots=True)
class Polyline:
    """A run of straight lines."""

    layer: Layer
    points: tuple[Point, ...]
    closed: bool = False
    title: str = ""


@dataclass(frozen=True, slots=True)
class Polygon:
    """An area with holes, its edge drawn, hatched or filled. ``turn`` (degrees) turns the hatching; ``edge`` false leaves the
    edge out.
    """

    layer: Layer
    outer: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...] = ()
    hatch: Hatch | None = None
    fill: Fill = "none"
    turn: float = 0.0
    edge: bool = True
    title: str = ""


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle; ``fill`` as for a polygon."""

    layer: Layer
    centre: Point
    radius: float
    fill: Fill = "none"
    title: str = ""


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc, counter-clockwise from ``start`` to ``end`` (degrees from the x axis)."""

    layer: Layer
    centre: Point
    radius: float
    start: float
    end: float
    title: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """Lines of text. ``size`` is the em in mm; ``shift`` moves it by mm on paper from ``at``; ``turn`` degrees; ``rise`` tells
    what of the block's height stands at ``at``: 0 its foot, 0.5 its middle, 1 its head. ``clear`` wipes what lies under it.
    """

    at: Point
    text: str
    size: float = 3.2
    anchor: Anchor = "start"
    rise: float = 0.0
    turn: float = 0.0
    bold: bool = False
    shift: Point = (0.0, 0.0)
    clear: bool = False
    layer: Layer = NOTE


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension between two points, ``off`` mm to the left of the direction start-to-end (negative: to the right).

    ``along`` None measures straight from point to point; an angle in degrees measures only along that direction (0 level,
    90 plumb). ``off`` is measured from ``start``, so that the dimensions of a chain line up. ``text`` is what the tape reads;
    where it does not fit, it goes beyond the end that comes last in reading order, or beyond the ``first``.
    """

    start: Point
    end: Point
    off: float
    text: str
    along: float | None = None
    size: float = 3.4
    bold: bool = False
    layer: Layer = DIMENSION
    first: bool = False


@dataclass(frozen=True, slots=True)
class AngleDimension:
    """The angle at ``corner`` from the arm through ``first`` counter-clockwise to the arm through ``second``, ``radius`` mm on
    paper.
    """

    corner: Point
    first: Point
    second: Point
    radius: float
    text: str
    size: float = 3.2
    layer: Layer = DIMENSION


@dataclass(frozen=True, slots=True)
class Leader:
    """A note tied to what it speaks of: an arrow from the text (shifted by ``shift`` mm from ``tip``) to ``tip``.

    The text stands to the right of its shoulder when ``shift`` goes right, else to the left.
    """

    tip: Point
    shift: Point
    text: str
    size: float = 3.2
    bold: bool = False
    dot: bool = False
    layer: Layer = NOTE


SymbolKind = Literal["balloon", "level", "cut", "arrow", "cross", "sample", "break"]


@dataclass(frozen=True, slots=True)
class Symbol:
    """A drafting mark of a fixed size on paper.

    balloon: a number or letter in a ring; level: the triangle of a level with its text; cut: where a section is taken and which
    way it looks (``turn``); arrow: a filled arrow head pointing along ``turn``; cross: a place read; sample: ``size`` mm of the
    layer's line, with ``text`` after it; break: a broken-off line, ``size`` mm long along ``turn``.
    """

    kind: SymbolKind
    at: Point
    text: str = ""
    turn: float = 0.0
    size: float = 6.0
    shift: Point = (0.0, 0.0)
    layer: Layer = NOTE


Shape = Line | Polyline | Polygon | Circle | Arc | Text | Dimension | AngleDimension | Leader | Symbol


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing: a short ``name`` for files, its ``title``, what it shows in a sentence or two (read out where it cannot be
    seen), the scale it is meant to be printed at (1 to ``scale``) and how that scale is said, and its shapes from back to front.
    """

    name: str
    title: str
    says: str
    scale: float
    scale_says: str
    shapes: tuple[Shape, ...] = field(default=())

    def with_shapes(self, more: Iterable[Shape]) -> Drawing:
        """Return the drawing with more shapes in front."""
        return replace(self, shapes=(*self.shapes, *more))
