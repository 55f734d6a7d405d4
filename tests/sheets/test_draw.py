"""Drawing: shapes to ink to SVG. Sizes on paper, hatching inside its area, text where it can be read."""

import re
import xml.etree.ElementTree as ET
from math import hypot

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.sheets.draw import ink, plane
from crownwright.sheets.draw.hatch import FAMILIES, hatch
from crownwright.sheets.draw.layers import CAP, CAP_CUT, LAYERS
from crownwright.sheets.draw.marks import Stroke, Words
from crownwright.sheets.draw.shapes import (
    AngleDimension,
    Circle,
    Dimension,
    Drawing,
    Hatch,
    Leader,
    Line,
    Polygon,
    Polyline,
    Symbol,
    Text,
)  # fmt: skip
from crownwright.sheets.draw.svg import size_mm, svg

SQUARE = ((0.0, 0.0), (1.2, 0.0), (1.2, 1.2), (0.0, 1.2))
NAMESPACE = "{http://www.w3.org/2000/svg}"


def sheet(*shapes, scale=12.0):
    return Drawing("trial", "A trial", "A square & nothing else.", scale, "1 in. = 1 ft", shapes)


def test_a_foot_is_an_inch_long_on_paper_at_one_to_twelve():
    wide, high = size_mm(sheet(Polyline(CAP, ((0, 0), (0.3048, 0), (0.3048, 0.6096)))), margin=0.0)
    assert (wide, high) == pytest.approx((25.4, 50.8))


def test_svg_is_mm_on_paper_with_title_description_real_text_and_layer_classes():
    text = svg(sheet(Polygon(CAP_CUT, SQUARE, hatch=Hatch.CONCRETE, title="the cap"), Dimension((0, 0), (1.2, 0), -8, '47 1/4"')))
    root = ET.fromstring(text)
    assert root.get("width", "").endswith("mm")
    assert root.find(f"{NAMESPACE}title").text == "A trial"
    assert "A square & nothing else." in root.find(f"{NAMESPACE}desc").text
    assert [t.text for t in root.iter(f"{NAMESPACE}text")] == ['47 1/4"']
    assert {"cap-cut", "hatch", "dimension"} <= {g.get("class") for g in root.iter(f"{NAMESPACE}g")}
    assert "the cap" in [t.text for t in root.iter(f"{NAMESPACE}title")]
    assert "script" not in text
    assert re.search(r"\d\.\d{3}", text) is None  # nothing finer than 0.01 mm
    assert svg(sheet(Text((0, 0), "a"))) == svg(sheet(Text((0, 0), "a")))


def test_line_weights_on_paper_do_not_depend_on_the_scale():
    weights = {
        next(m.weight for m in ink.ink(sheet(Line(CAP, (0, 0), (1, 0)), scale=scale)) if isinstance(m, Stroke))
        for scale in (4, 12, 48)
    }
    assert weights == {CAP.weight}


@pytest.mark.parametrize("kind", [k for k in Hatch if k is not Hatch.STEEL])
def test_hatching_stays_inside_its_area_and_out_of_its_holes(kind):
    area = shapely.Polygon([(0, 0), (60, 0), (60, 25), (30, 40), (0, 25)], [[(20, 10), (30, 10), (30, 20), (20, 20)]])
    rings = [list(ring.coords)[:-1] for ring in (area.exterior, *area.interiors)]
    lines = hatch(rings, kind)
    assert len(lines) > 20
    assert shapely.MultiLineString(lines).within(area.buffer(1e-6))
    assert hatch(rings, kind) == lines


@pytest.mark.parametrize("kind", [Hatch.STONE, Hatch.BRICK, Hatch.CLAY, Hatch.WOOD_LONG, Hatch.WOOD_END, Hatch.SOFT])
def test_hatching_covers_all_of_an_area_with_notch_and_hole(kind):
    """Lines a gap apart are as long together as the area over the gap, less what their dashes leave out."""
    outer = [(0, 0), (160, 0), (160, 110), (90, 40), (70, 110), (0, 110)]
    hole = [(20, 20), (50, 25), (35, 60)]
    area = shapely.Polygon(outer, [hole]).area
    full = sum(area / f.gap * (f.dash[0] / sum(f.dash) if f.dash else 1.0) for f in FAMILIES[kind])
    ink_of = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in hatch([outer, hole], kind, 13.0))
    assert ink_of == pytest.approx(full, rel=0.02)  # the last gap at an edge is wider or narrower than the others


@pytest.mark.parametrize("kind", [Hatch.STONE, Hatch.BRICK, Hatch.CLAY])
def test_turning_an_area_and_its_hatching_together_keeps_the_amount_of_ink(kind):
    area = shapely.Polygon([(0, 0), (200, 0), (200, 150), (0, 150)])
    turned = shapely.affinity.rotate(area, 30, origin=(0, 0))
    ink_of = [
        sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in hatch([list(shape.exterior.coords)[:-1]], kind, turn))
        for shape, turn in ((area, 0), (turned, 30))
    ]
    assert ink_of[0] == pytest.approx(ink_of[1], rel=0.02)  # dashes are cut differently at the edge


@given(st.floats(-360, 360))
def test_text_always_reads_from_below_or_from_the_right(turn):
    flipped = plane.readable(turn)
    assert -75.0 < flipped <= 105.0
    assert (flipped - turn) % 180.0 == pytest.approx(0.0, abs=1e-6) or (flipped - turn) % 180.0 == pytest.approx(180.0, abs=1e-6)


@settings(deadline=None, max_examples=60)
@given(st.floats(0.01, 2.0), st.floats(-180, 180), st.floats(-20, 20))
def test_a_dimension_line_is_as_long_as_what_it_measures_and_its_text_is_not_on_it(span, turn, off):
    along = plane.toward(turn)
    marks = ink.ink(sheet(Dimension((0.0, 0.0), (span * along[0], span * along[1]), off, "12 1/2")))
    words = next(m for m in marks if isinstance(m, Words))
    slashes = next(m for m in marks if isinstance(m, Stroke) and m.weight == 0.5)
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in slashes.runs]
    assert hypot(middles[0][0] - middles[1][0], middles[0][1] - middles[1][1]) == pytest.approx(span * 1000 / 12, abs=1e-6)
    line = shapely.LineString(middles)
    assert not line.intersects(shapely.Polygon(words.corners()))


def test_every_kind_of_mark_leaves_ink_and_unknown_letters_do_not_break_it():
    kinds = ("balloon", "level", "cut", "arrow", "cross", "sample", "break")
    shapes = [Symbol(kind, (i * 0.2, 0.0), "A") for i, kind in enumerate(kinds)]
    shapes += [
        Leader((0, 0), (10, 5), "note\nof two lines"),
        AngleDimension((0, 0), (1, 0), (0, 1), 10, "90°"),
        Circle(CAP, (0, 0), 0.1),
    ]
    assert "\U0001f600" in svg(sheet(*shapes, Text((0, 0), "\U0001f600 <&>")))
    assert svg(sheet()).endswith("</svg>\n")


def test_layers_have_different_names_and_weights_of_the_standard_row():
    assert len({layer.name for layer in LAYERS}) == len(LAYERS)
    assert {layer.weight for layer in LAYERS} <= {0.13, 0.18, 0.25, 0.35, 0.5, 0.7}
