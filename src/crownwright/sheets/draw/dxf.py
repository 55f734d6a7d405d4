"""DXF R2010: layers in trade words, real dimensions and hatches, model space at full size in inches or millimetres.

Dimensions measure the model themselves (their scale factor is one); what they show is the tape's reading, written over it.
"""

from __future__ import annotations

import io
import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from crownwright.quantity.units import INCH
from crownwright.sheets import fonts
from crownwright.sheets.draw import hatch, ink, measure, plane
from crownwright.sheets.draw.layers import HATCH, LAYERS, Layer
from crownwright.sheets.draw.marks import Ink, Stroke, Words
from crownwright.sheets.draw.shapes import (
    AngleDimension,
    Arc,
    Circle,
    Dimension,
    Drawing,
    Hatch,
    Line,
    Point,
    Polygon,
    Polyline,
    Shape,
)  # fmt: skip

Unit = Literal["in", "mm"]
METRES: dict[Unit, float] = {"in": INCH, "mm": 0.001}
STYLE = "WORDS"
_ONE_AT_A_TIME = threading.Lock()  # the library's "no clock" option is a global of its own


@dataclass(frozen=True, slots=True)
class Space:
    """Model space being filled: the library's document and space, one metre and one mm of paper in its units."""

    document: Any
    space: Any
    metre: float
    paper_mm: float

    def at(self, point: Point) -> Point:
        """Return a place of the drawing (m) in the file's units."""
        return point[0] * self.metre, point[1] * self.metre

    def on_paper(self, point: Point) -> Point:
        """Return a place on paper (mm) in the file's units."""
        return point[0] * self.paper_mm, point[1] * self.paper_mm


def dxf(drawing: Drawing, unit: Unit = "in") -> str:
    """Return the drawing as the text of a DXF R2010 file at full size. Identical drawings give identical text."""
    from ezdxf import filemanagement, units  # slow to import, and only DXF needs it
    from ezdxf._options import options

    with _ONE_AT_A_TIME:
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            document = filemanagement.new("R2010", units={"in": units.IN, "mm": units.MM}[unit])
            metre = 1.0 / METRES[unit]
            space = Space(document, document.modelspace(), metre, metre * drawing.scale / 1000.0)
            _tables(space, unit)
            for shape in drawing.shapes:
                _draw(shape, space, drawing.scale)
            return _text(document)
        finally:
            options.write_fixed_meta_data_for_testing = before


def _text(document: Any) -> str:
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()


def _tables(space: Space, unit: Unit) -> None:
    """Layers with their line weights and dashes, the text style, and the dimension style."""
    document, mm = space.document, space.paper_mm
    document.header["$MEASUREMENT"] = 0 if unit == "in" else 1
    document.header["$LWDISPLAY"] = 1
    document.styles.add(STYLE, font=f"{fonts.FAMILY}-Regular.ttf")
    for layer in LAYERS:
        entry = document.layers.add(_name(layer), color=layer.colour, lineweight=round(layer.weight * 100))
        entry.description = layer.holds
        if layer.dash:
            dashes = [length * mm * (1 if i % 2 == 0 else -1) for i, length in enumerate(layer.dash)]
            document.linetypes.add(_name(layer), pattern=[sum(map(abs, dashes)), *dashes], description=layer.holds)
            entry.dxf.linetype = _name(layer)
    style = document.dimstyles.duplicate_entry("Standard", "TAPE")
    looks = {
        "dimlfac": 1.0, "dimtxt": 3.4 * fonts.CAP_HEIGHT * mm, "dimtsz": measure.SLASH * mm, "dimasz": measure.SLASH * mm,
        "dimexo": measure.GAP * mm, "dimexe": measure.PAST * mm, "dimgap": measure.AIR * mm, "dimtad": 1, "dimtih": 0, "dimtoh":
        0, "dimtxsty": STYLE, "dimscale": 1.0, "dimzin": 8, "dimdec": 4, "dimdle": 0.0,
    }  # fmt: skip
    for key, value in looks.items():
        style.dxf.set(key, value)


def _name(layer: Layer) -> str:
    return layer.name.upper()


def _draw(shape: Shape, space: Space, scale: float) -> None:
    """Put a shape into model space: as the entity of its kind where DXF has one, else as its ink."""
    look = {"layer": _name(shape.layer)}
    match shape:
        case Line():
            space.space.add_line(space.at(shape.start), space.at(shape.end), look)
        case Polyline():
            space.space.add_lwpolyline(list(map(space.at, shape.points)), close=shape.closed, dxfattribs=look)
        case Circle():
            space.space.add_circle(space.at(shape.centre), shape.radius * space.metre, look)
        case Arc():
            space.space.add_arc(space.at(shape.centre), shape.radius * space.metre, shape.start, shape.end, dxfattribs=look)
        case Polygon():
            _polygon(shape, space, look)
        case Dimension():
            _dimension(shape, space, scale, look)
        case AngleDimension():
            _angle(shape, space, look)
        case _:
            times = 1000.0 / scale
            for mark in ink.ink_of(shape, lambda p: (p[0] * times, p[1] * times), times):
                _mark(mark, space)


def _polygon(shape: Polygon, space: Space, look: dict[str, str]) -> None:
    rings = [list(map(space.at, ring)) for ring in (shape.outer, *shape.holes)]
    if shape.edge:
        for ring in rings:
            space.space.add_lwpolyline(ring, close=True, dxfattribs=look)
    if shape.hatch is None and shape.fill not in ("black", "grey"):
        return
    entity = space.space.add_hatch(dxfattribs={"layer": _name(HATCH), "hatch_style": 0})
    for i, ring in enumerate(rings):
        entity.paths.add_polyline_path(ring, is_closed=True, flags=1 if i == 0 else 16)
    if shape.hatch is None or shape.hatch is Hatch.STEEL:
        entity.set_solid_fill(color=HATCH.colour)
        return
    entity.set_pattern_fill(shape.hatch.value.upper(), HATCH.colour, pattern_type=2, definition=_pattern(shape, space.paper_mm))


def _pattern(shape: Polygon, mm: float) -> list[Any]:
    """Families of lines of a hatching, sized for the drawing's scale, as DXF wants them."""
    lines = []
    for family in hatch.FAMILIES[shape.hatch or Hatch.STONE]:
        angle = family.angle + shape.turn
        up = plane.toward(angle + 90.0)
        dash = [length * mm * (1 if i % 2 == 0 else -1) for i, length in enumerate(family.dash)]
        base, step = (tuple(c * d * mm for c in up) for d in (family.start, family.gap))
        lines.append([angle, base, step, dash])
    return lines


def _dimension(shape: Dimension, space: Space, scale: float, look: dict[str, str]) -> None:
    times = 1000.0 / scale
    first, _ = measure.dimension_line(shape, lambda p: (p[0] * times, p[1] * times))
    ends = plane.minus(shape.end, shape.start)
    angle = plane.readable(plane.turn_of(ends)) if shape.along is None else shape.along
    entity = space.space.add_linear_dim(
        space.on_paper(first), space.at(shape.start), space.at(shape.end), text=_flat(shape.text), angle=angle, dimstyle="TAPE",
        dxfattribs=look,
    )  # fmt: skip
    entity.render()


def _angle(shape: AngleDimension, space: Space, look: dict[str, str]) -> None:
    corner = space.at(shape.corner)
    first, second = (plane.unit(plane.minus(arm, shape.corner)) for arm in (shape.first, shape.second))
    middle = plane.unit(plane.plus(first, second))
    base = plane.plus(corner, middle, shape.radius * space.paper_mm)
    entity = space.space.add_angular_dim_3p(
        base, corner, space.at(shape.first), space.at(shape.second), text=_flat(shape.text), dimstyle="TAPE", dxfattribs=look
    )
    entity.render()


def _mark(mark: Ink, space: Space) -> None:
    put: Callable[..., Any]
    if isinstance(mark, Words):
        from ezdxf.enums import TextEntityAlignment as Align

        align = {"start": Align.LEFT, "middle": Align.CENTER, "end": Align.RIGHT}[mark.anchor]
        look = {"layer": _name(mark.layer), "style": STYLE, "rotation": mark.turn}
        put = space.space.add_text(mark.text, height=mark.size * fonts.CAP_HEIGHT * space.paper_mm, dxfattribs=look).set_placement
        put(space.on_paper(mark.at), align=align)
        return
    if mark.fill == "white" and mark.weight == 0:
        return  # clears paper under text; a model has no paper to clear
    for run in mark.runs:
        _run(mark, list(map(space.on_paper, run)), space)


def _run(mark: Stroke, points: list[Point], space: Space) -> None:
    look = {"layer": _name(mark.layer)}
    if mark.fill == "black":
        entity = space.space.add_hatch(color=mark.layer.colour, dxfattribs=look)
        entity.paths.add_polyline_path(points, is_closed=True)
        entity.set_solid_fill(color=mark.layer.colour)
    if mark.weight > 0:
        space.space.add_lwpolyline(points, close=mark.closed, dxfattribs=look)


def _flat(text: str) -> str:
    return " ".join(text.split("\n"))
