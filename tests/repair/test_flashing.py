"""Flashing pieces, cricket, repellent: geometry against itself in space, limits, and everything missing told at once."""

from __future__ import annotations

import random
from math import atan, cos, degrees, hypot, tan

import numpy as np
import pytest
import shapely
import shapely.affinity
from hypothesis import given
from hypothesis import strategies as st

from crownwright.quantity.findings import Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FT2, GALLON, INCH
from crownwright.repair.choices import FlashingChoices, RepellentChoices, Sheet
from crownwright.repair.cricket import Cricket, wants_cricket
from crownwright.repair.flashing import plan_flashing
from crownwright.repair.flashing_pieces import (
    Roof,
    courses_a_step,
    in_lengths,
    joint_length,
    step_count,
    stepped_count,
    stepped_size,
)
from crownwright.repair.nest import Effort
from crownwright.repair.repellent import plan_repellent

COURSE = 8 * INCH / 3
SIX_IN_TWELVE = atan(6 / 12)
FEW = Effort(starts=5, rounds=1, layouts=10, nodes=5)
pitches = st.floats(2 / 12, 18 / 12).map(atan)
widths = st.floats(0.5, 2.5)


def planned(width=40 * INCH, depth=27 * INCH, pitch=SIX_IN_TWELVE, *, course=COURSE, meets_ridge=False, **choices):
    chosen = FlashingChoices(**choices)
    rng = random.Random(1)
    return plan_flashing(width, depth, pitch, course=course, meets_ridge=meets_ridge, choices=chosen, rng=rng, effort=FEW)


def finding(plan, key):
    return next(f for f in plan.findings if f.key == f"repair.flashing.{key}")


@given(widths, pitches)
def test_cricket_lies_on_the_roof_where_its_ridge_ends(width, pitch):
    """Corner, apex and ridge end as points in space: the ridge end is on the roof; both planes slope as the roof does."""
    made = Cricket(width, pitch)
    corner = np.array([width / 2, 0.0, 0.0])
    apex, end = np.array([0.0, 0.0, made.height]), np.array([0.0, made.ridge, made.height])
    assert end[2] == pytest.approx(end[1] * tan(pitch))
    assert np.linalg.norm(end - corner) == pytest.approx(made.valley)
    assert np.linalg.norm(apex - corner) == pytest.approx(made.slope)
    across = np.cross(corner - apex, end - apex)
    assert np.linalg.norm(across) == pytest.approx(made.area), "two triangles, each half of the cross product"
    steep = hypot(across[0], across[1]) / abs(across[2])
    assert steep == pytest.approx(tan(pitch))


@given(widths, pitches, st.floats(0.05, 0.15), st.floats(0.05, 0.2))
def test_half_a_cricket_comes_out_of_its_blank(width, pitch, up, over):
    """The unfolded half: a right triangle with a strip ``over`` wide along its long edge, ``up`` along the wall."""
    made = Cricket(width, pitch)
    along, back = made.blank(up, over, 0.0)
    e, ridge, v = made.slope, made.ridge, made.valley
    # long edge from (e, 0) to (0, l), moved out along its normal (l, e)/v
    out = np.array([ridge, e]) / v * over
    on_wall = e + out[0] + out[1] * e / ridge  # where the moved edge meets the wall's line y = 0
    on_ridge = ridge + out[1] + out[0] * ridge / e
    assert along == pytest.approx(on_wall)
    assert back == pytest.approx(on_ridge + up)


@given(widths, pitches, st.floats(0.05, 0.15), st.floats(0.05, 0.2))
def test_both_halves_come_out_of_one_rectangle_apart_from_each_other(width, pitch, up, over):
    """Each half as a polygon: the triangle that the roof strip has lengthened, its upstand and its seam; one of them turned over.

    They meet in the parting line only, lie in the rectangle, and are mirror images of each other, as left and right are.
    """
    made, seam = Cricket(width, pitch), INCH
    wide, long = made.pair(up, over, seam)
    x, y = (a - b for a, b in zip(made.blank(up, over, seam), (seam, up), strict=True))
    half = shapely.Polygon([(-seam, -up), (x, -up), (x, 0), (0, y), (-seam, y)])
    one = shapely.affinity.translate(half, seam, up)
    other = shapely.affinity.translate(shapely.affinity.rotate(half, 180, origin=(0, 0)), wide - seam, long - up)
    whole = shapely.box(0, 0, wide, long).buffer(1e-9)
    assert one.intersection(other).area == pytest.approx(0.0, abs=1e-9)
    assert whole.contains(one)
    assert whole.contains(other)
    line = shapely.LineString(made.parting(up, over, seam))
    for point in (line.interpolate(share, normalized=True) for share in np.linspace(0, 1, 9)):
        assert min(one.boundary.distance(point), other.boundary.distance(point)) < 1e-9
    assert one.distance(other) < 1e-9
    assert wide * long < 2 * np.prod(made.blank(up, over, seam))


def test_who_needs_a_cricket():
    assert not wants_cricket(30 * INCH, False)
    assert wants_cricket(30.5 * INCH, False)
    assert not wants_cricket(60 * INCH, True)


@given(st.floats(0.3, 2.0), pitches, st.floats(0.1, 0.25))
def test_step_pieces_reach_along_the_wall(run, pitch, exposure):
    count = step_count(run, pitch, exposure)
    assert (count - 1) * exposure >= run / cos(pitch) - 1e-9
    assert (count - 2) * exposure < run / cos(pitch)


@given(pitches, st.floats(0.05, 0.2))
def test_a_stepped_piece_reaches_its_joint_and_the_step_flashing(pitch, course):
    """At the low end of a piece the roof lies deepest under the joint; the blank still covers down to its foot."""
    chosen = FlashingChoices()
    k = courses_a_step(pitch, course, chosen.least_step)
    run = k * course / tan(pitch)
    assert run >= chosen.least_step - 1e-9
    _, high = stepped_size(pitch, course, chosen)
    top = chosen.up / cos(pitch)
    for luck in (0.0, 0.5, 0.999):  # where the first joint at or above the step flashing's top happens to lie
        joint = top + luck * course  # over the roof at the piece's high end
        deepest = joint + run * tan(pitch)  # over the roof at its low end
        assert chosen.turn_in + deepest - chosen.clear <= high + 1e-9


@given(st.floats(0.3, 2.0), pitches)
def test_stepped_pieces_cover_the_run(run, pitch):
    chosen = FlashingChoices()
    size, _ = stepped_size(pitch, COURSE, chosen)
    assert stepped_count(run, pitch, COURSE, chosen) * (size - chosen.lap) >= run - 1e-9


@given(st.floats(0.2, 12.0), st.floats(0.5, 3.0), st.floats(0.02, 0.2))
def test_pieces_of_a_strip_cover_it_with_their_laps(whole, longest, lap):
    count, long = in_lengths(whole, longest, lap)
    assert long <= longest + 1e-9 or count == 1
    assert count * long - (count - 1) * lap == pytest.approx(whole)


def test_a_wide_chimney_gets_a_cricket_and_no_back_pan():
    plan, problems = planned()
    assert not problems
    parts = {part for part, _, _ in plan.grouped}
    assert {"apron", "step", "counter front", "counter", "cricket halves"} == parts
    assert plan.cricket is not None
    assert degrees(plan.cricket.pitch) == pytest.approx(26.565, abs=1e-3)


def test_halves_too_large_for_one_sheet_are_cut_each_for_itself():
    plan, problems = planned(width=51 * INCH)
    assert not problems
    assert {"cricket left", "cricket right"} <= {part for part, _, _ in plan.grouped}


def test_a_narrow_one_gets_a_back_pan():
    plan, _ = planned(width=24 * INCH)
    assert plan.cricket is None
    assert "back pan" in {part for part, _, _ in plan.grouped}


def test_in_the_ridge_two_aprons_and_four_runs():
    plan, _ = planned(meets_ridge=True)
    counts = {part: n for part, n, _ in plan.grouped}
    assert counts["apron"] == 2
    assert len(plan.roof.runs) == 4
    assert plan.cricket is None


def test_stone_without_courses_is_sawn():
    plan, _ = planned(course=None)
    assert plan.joint == "sawn"
    roof = Roof(40 * INCH, 27 * INCH, atan(6 / 12), None)
    expected = 40 * INCH + (2 * 27 * INCH + 40 * INCH) / cos(atan(6 / 12))
    assert joint_length(roof, "sawn", cricket=True) == pytest.approx(expected)


def test_aluminum_in_mortar_and_thin_steps_are_short():
    plan, _ = planned(metal="aluminum 0.019", up=3 * INCH, turn_in=INCH / 2)
    assert finding(plan, "metal").verdict is Verdict.SHORT
    assert finding(plan, "up").verdict is Verdict.SHORT
    assert finding(plan, "turn_in").verdict is Verdict.SHORT
    assert finding(planned()[0], "metal").verdict is Verdict.OK


def test_a_cricket_left_out_where_the_code_wants_one_is_told():
    plan, _ = planned(cricket=False)
    assert finding(plan, "cricket").verdict is Verdict.SHORT


def test_everything_missing_is_told_at_once():
    plan, problems = planned(width=None, depth=None, pitch=None, metal="gold", lap=0.0, longest=-1.0)
    assert plan is None
    told = " ".join(map(str, problems))
    assert all(
        word in told for word in ("width along", "depth up", "pitch", "gold", "repair.flashing.lap", "repair.flashing.longest")
    )
    flat, problems = planned(pitch=0.0)
    assert flat is None
    assert "membrane" in problems[0].remedy


def test_blanks_cut_is_blanks_wanted():
    stock = (Sheet("3 x 8 ft", 36 * INCH, 96 * INCH, "128.40"),)
    plan, _ = planned(stock=stock)
    cut = sorted(p.name for s in plan.sheets.sheets for p in s.blanks)
    assert cut == sorted(b.name for b in plan.blanks)
    assert plan.materials[0].amount == pytest.approx(len(plan.sheets.sheets) * 36 * 96 * INCH**2)


def test_repellent_by_hand():
    """10 ft round, 4 ft high: 40 ft2; at 100 ft2 a gallon and a tenth lost, 0.44 gallon."""
    foot = 12 * INCH
    made = plan_repellent(Uncertain(10 * foot), 4 * foot, "brick", RepellentChoices(coverage=100 * FT2 / GALLON))
    assert made.volume.mean / GALLON == pytest.approx(0.44)
    assert made.tasks[0].after[0].wait == 28 * 86400


def test_a_film_a_crack_and_damp_faces_are_told():
    chosen = RepellentChoices(kind="film")
    made = plan_repellent(Uncertain(3.0), 1.0, "stone", chosen, widest_crack=INCH / 16, wet=True)
    assert {f.verdict for f in made.findings} == {Verdict.SHORT}
    assert len(made.findings) == 3
    breathes = plan_repellent(Uncertain(3.0), 1.0, "stone", RepellentChoices(permeability=1.0))
    assert breathes.findings[0].verdict is Verdict.OK
    assert plan_repellent(Uncertain(3.0), 1.0, "stone", RepellentChoices()).findings[0].verdict is Verdict.CANNOT_TELL


def test_an_unknown_surface_names_those_there_are():
    with pytest.raises(KeyError, match="soft brick"):
        plan_repellent(Uncertain(3.0), 1.0, "straw", RepellentChoices())
