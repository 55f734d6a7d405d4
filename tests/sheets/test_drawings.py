"""Drawings of the example jobs: each fits its page at its scale, says what it measures, and agrees with its plan."""

import io
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import ezdxf
import manifold3d
import numpy as np
import pytest
import shapely

from crownwright.cap.solid import cap_solid
from crownwright.quantity.lengths import Reading, parse_length
from crownwright.sheets.draw import ink
from crownwright.sheets.draw.dxf import dxf
from crownwright.sheets.draw.layers import CAP_CUT
from crownwright.sheets.draw.marks import Words
from crownwright.sheets.draw.shapes import Dimension, Drawing, Polygon
from crownwright.sheets.draw.svg import size_mm, svg
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.bars import cut_bars
from crownwright.sheets.drawings.capplan import cap_plan
from crownwright.sheets.drawings.formplan import form_plan, set_out
from crownwright.sheets.drawings.frame import cap_frame, profile
from crownwright.sheets.drawings.pieces import alike, piece_sheets
from crownwright.sheets.drawings.readings import readings_plan
from crownwright.sheets.drawings.sections import sections
from crownwright.sheets.drawings.top import points_of
from crownwright.sheets.everything import drawings_of
from crownwright.survey.model import Suspect

SVG = "{http://www.w3.org/2000/svg}"


def words(drawing: Drawing) -> list[str]:
    return [mark.text for mark in ink.ink(drawing) if isinstance(mark, Words)]


def drawn_metres(drawing: Drawing) -> list[tuple[Dimension, float]]:
    """Every dimension with what its ends measure, m."""
    found = []
    for shape in drawing.shapes:
        if isinstance(shape, Dimension):
            run = np.subtract(shape.end, shape.start)
            turn = np.arctan2(run[1], run[0]) if shape.along is None else np.radians(shape.along)
            found.append((shape, abs(float(run @ (np.cos(turn), np.sin(turn))))))
    return found


def test_every_drawing_of_every_example_fits_its_page_and_is_sound(example):
    drawings = example.drawings
    assert len({drawing.name for drawing in drawings}) == len(drawings) >= 10
    for drawing in drawings:
        wide, high = size_mm(drawing)
        if drawing.name != "cut-bars":  # these stand on a portrait page
            assert wide <= 251.0, drawing.name
            assert high <= 156.0, drawing.name
        root = ET.fromstring(svg(drawing))
        assert root.find(f"{SVG}title").text == drawing.title
        sizes = [float(t.get("font-size")) for t in root.iter(f"{SVG}text")]
        assert not sizes or min(sizes) >= 2.7, drawing.name  # mm: under that nobody reads it at arm's length


HALF_A_STEP = {"elevation": 0.0064, "stack-faces": 0.0032}  # m: of 1/2 in., of 1/4 in.


def test_every_dimension_says_what_its_ends_measure(example):
    """The number written is the number drawn, to the sixteenth it is rounded to (readings excepted: they say what was read)."""
    bare = "in" if example.plan.job.units == "us" else "mm"
    checked = 0
    for drawing in example.drawings:
        if drawing.name in ("readings", "edge") or drawing.name.startswith("pieces"):
            continue
        rounding = HALF_A_STEP.get(drawing.name, 0.00081)  # half of 1/16 in.
        for shape, metres in drawn_metres(drawing):
            said = parse_length(shape.text.replace(" inside", ""), bare)
            assert isinstance(said, Reading), shape.text
            assert said.metres == pytest.approx(metres, abs=rounding), (drawing.name, shape.text)
            checked += 1
    assert checked >= 12


def test_dxf_of_every_drawing_of_the_demo_is_audited_clean(demo):
    for drawing in drawings_of(demo):
        auditor = ezdxf.read(io.StringIO(dxf(drawing))).audit()
        assert (auditor.errors, auditor.fixes) == ([], []), drawing.name


def test_the_plan_of_readings_shows_every_reading_as_typed(example):
    plan = example.plan
    readings = plan.job.readings
    shown = " ".join(words(example.drawings[0]))
    taped = (readings.length, readings.width) if plan.survey.quick else [tape.reads for tape in readings.tapes]
    for read in (*taped, *(offset.out for offset in getattr(readings, "offsets", ()))):
        assert read.typed in shown
    for drop in getattr(readings, "drops", ()):
        assert drop.below.typed.lstrip("+-") in shown
    for i, wanted in enumerate(plan.survey.next_readings):
        assert f"{i + 1} {wanted.ask.split()[0]}" in re.sub(r"\s+", " ", shown)


def assert_apart(drawing: Drawing) -> None:
    """No text covers a tenth of another."""
    rooms = [shapely.Polygon(mark.corners()) for mark in ink.ink(drawing) if isinstance(mark, Words)]
    for i, a in enumerate(rooms):
        for b in rooms[:i]:
            assert shapely.area(shapely.intersection(a, b)) < 0.1 * min(a.area, b.area)


def test_texts_of_the_plans_do_not_lie_on_one_another(example):
    """Two labels may touch where lines crowd, but none may hide another: a dimension under a label would be read wrongly."""
    for drawing in example.drawings:
        if drawing.name in ("readings", "cap-plan", "section-a", "section-b", "elevation"):
            assert_apart(drawing)


def test_readings_with_no_room_on_the_plan_are_told_beside_it(demo):
    """One short tie read again and again: no more of them than can be read are set on its line, and none is lost."""
    readings = demo.survey.readings
    tie = next(tape for tape in readings.tapes if (tape.start, tape.end) == ("A", "F1a"))
    again = tuple(replace(tie, reads=replace(tie.reads, typed=f"12 {k}/64")) for k in range(1, 40, 2))
    crowded = replace(demo, survey=replace(demo.survey, readings=replace(readings, tapes=(*readings.tapes, *again))))
    drawing = readings_plan(crowded)
    assert_apart(drawing)
    shown = " ".join(words(drawing))
    assert "No room for these on the plan" in shown
    assert all(tape.reads.typed in shown for tape in again)


def test_a_slip_is_told_on_the_drawing(demo):
    suspect = Suspect("tape DA", 3, 0.98, 0.9546, "one inch", 0.0016, True)
    shown = " ".join(words(readings_plan(replace(demo, survey=replace(demo.survey, suspects=(suspect,))))))
    assert "Tape DA reads" in shown
    assert "(one inch?)" in shown
    assert " ?" in shown  # the reading itself is marked


def test_the_section_cuts_the_modelled_cap(demo):
    """Concrete drawn in a section has the area of a slice of the solid, which is made and sliced by other code."""
    cap, survey = demo.cap, demo.survey
    frame = cap_frame(cap)
    largest = max(survey.flues, key=lambda flue: flue.size[0] * flue.size[-1])
    solid = cap_solid(cap, survey)[0]
    u, v = frame.of(solid.points).T
    turned = np.column_stack((u, solid.points[:, 2], -v))  # so that the cut is level
    mesh = manifold3d.Manifold(manifold3d.Mesh64(turned, solid.triangles.astype(np.uint64)))
    sliced = mesh.slice(-frame.point(largest.centre)[1]).area()
    cuts = [shape for shape in sections(demo)[0].shapes if isinstance(shape, Polygon) and shape.layer is CAP_CUT]
    drawn = sum(shapely.Polygon(shape.outer).area for shape in cuts)
    assert drawn == pytest.approx(sliced, rel=0.015)  # the stone's heights are asked at other places


def test_a_profile_through_a_surface_has_no_gaps_but_the_flues(demo):
    runs = profile(demo.cap.top, cap_frame(demo.cap), 1, demo.cap.width * 0.03)
    assert len(runs) == 1
    assert runs[0][0][0] == pytest.approx(0.0, abs=1e-6)
    assert runs[0][-1][0] == pytest.approx(demo.cap.length, abs=1e-6)


def test_the_set_out_is_square_from_each_corner_to_the_two_nearest_sidewalls(demo):
    rows = set_out(demo.survey, demo.cap, demo.form.pieces, "us")
    assert [row[0] for row in rows] == list(demo.survey.names)
    x, y = cap_frame(demo.cap).of(demo.survey.corners)[0]
    parts = [part.split(" to ") for part in rows[0][3:].split(", ")]
    assert [parse_length(said, "in").metres for said, _ in parts] == pytest.approx([x, y], abs=0.0008)
    assert {wall for _, wall in parts} == {"AB", "DA"}


def test_every_piece_is_drawn_and_every_board_has_a_bar(demo):
    assert sum(len(group) for group in alike(demo.form.pieces)) == len(demo.form.pieces)
    shown = "\n".join(words(cut_bars(demo.form, "us")))
    for i, board in enumerate(demo.form.cut.boards):
        assert f"{i + 1} · {board.section}" in shown
    said = [parse_length(text, "in") for sheet in piece_sheets(demo) for text in words(sheet)]
    lengths = np.array([read.metres for read in said if isinstance(read, Reading)])
    for piece in demo.form.pieces:
        assert np.abs(lengths - piece.length).min() < 0.00081, piece.name


def test_points_are_named_as_the_readings_name_them(demo):
    named = points_of(demo.survey)
    for tape in demo.job.readings.tapes:
        assert {tape.start, tape.end} <= set(named)


@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_scale_is_the_largest_usual_one_that_fits(units):
    scale = scales.fit(1.4, 1.2, units, (150.0, 110.0))
    assert 1400 / scale.by <= 150
    assert 1200 / scale.by <= 110
    assert scales.fit(1000.0, 1.0, units) == scales.fit(2000.0, 1.0, units)  # nothing fits: the smallest there is


def test_what_cannot_be_drawn_says_so(demo):
    bare = replace(demo, survey=None, cap=None, form=None)
    for draw in (readings_plan, cap_plan, sections, form_plan, piece_sheets):
        with pytest.raises(ValueError, match="see its problems"):
            draw(bare)
    assert drawings_of(bare) == ()
