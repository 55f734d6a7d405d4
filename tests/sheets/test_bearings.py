"""North and ridge beside the plans: told in the job file, drawn the right way, nothing where nobody told."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.sheets.draw.shapes import Symbol, Text
from crownwright.sheets.drawings.bearings import bearings, north, outward
from crownwright.sheets.drawings.capplan import cap_plan
from crownwright.sheets.drawings.formplan import form_plan
from crownwright.sheets.drawings.frame import cap_frame


def told(plan, **around):
    return replace(plan, job=replace(plan.job, surroundings=replace(plan.job.surroundings, **around)))


@given(st.floats(0, 2 * pi))
def test_north_lies_as_far_back_from_where_the_side_looks_as_it_looks_away_from_north(faces):
    """Turned clockwise by what was told, north comes to lie on the outward normal of AB, which is (0, -1)."""
    x, y = north(faces)
    turned = (x * cos(-faces) - y * sin(-faces), x * sin(-faces) + y * cos(-faces))
    assert turned == (pytest.approx(0.0, abs=1e-9), pytest.approx(-1.0))


def test_each_side_looks_out():
    square = np.array([(0, 0), (4, 0), (4, 3), (0, 3.0)])
    assert [outward(square, k).tolist() for k in range(4)] == [[0, -1], [1, 0], [0, 1], [-1, 0]]


def test_arrows_stand_beside_both_plans_when_told_and_not_else(demo):
    both = told(demo, ab_faces=radians(180), ridge_side="CD")
    for draw in (cap_plan, form_plan):
        names = {shape.text for shape in draw(both).shapes if isinstance(shape, Text)}
        assert {"N", "ridge"} <= names
        assert not {"N", "ridge"} & {shape.text for shape in draw(demo).shapes if isinstance(shape, Text)}


def test_both_arrows_point_one_way_where_the_ridge_lies_north(demo):
    """AB looks south, so north lies behind it, where CD looks; the stone is a few degrees out of square."""
    both = told(demo, ab_faces=radians(180), ridge_side="CD")
    arrows = [one for one in bearings(both, cap_frame(demo.cap), (0.0, 0.0), (0.0, 0.0)) if isinstance(one, Symbol)]
    assert len(arrows) == 2
    assert arrows[0].turn == pytest.approx(arrows[1].turn, abs=8.0)
