"""Hulls and supports against an independent library and their own meaning."""

from __future__ import annotations

import numpy as np
import shapely
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from crownwright.geometry.hull import convex_hull, frame, support
from crownwright.geometry.polygon import signed_area

points = arrays(float, st.tuples(st.integers(3, 30), st.just(2)), elements=st.floats(-5, 5, width=16))


@given(points)
def test_hull_has_the_area_of_the_library_s_hull(cloud: np.ndarray) -> None:
    hull = convex_hull(cloud)
    theirs = shapely.MultiPoint(cloud).convex_hull.area
    ours = signed_area(hull) if len(hull) > 2 else 0.0
    assert abs(ours - theirs) <= 1e-9  # a few dozen products of numbers under 5


@given(points)
def test_no_point_lies_outside_the_hull(cloud: np.ndarray) -> None:
    hull = convex_hull(cloud)
    normals = np.column_stack([np.cos(t := np.linspace(0, 6.2, 40)), np.sin(t)])
    assert (np.abs(support(cloud, normals) - support(hull, normals)) < 1e-12).all()


def test_points_on_a_side_are_no_corners() -> None:
    assert len(convex_hull(np.array([(0, 0), (1, 0), (2, 0), (2, 2), (0, 2), (0, 1)]))) == 4


def test_frame_turns_and_turns_back() -> None:
    p = np.array([(1.0, 2.0), (-3.0, 0.5)])
    assert np.allclose(p @ frame(0.7).T @ frame(0.7), p, atol=1e-15)
    assert np.allclose(np.array([np.cos(0.7), np.sin(0.7)]) @ frame(0.7).T, (1, 0), atol=1e-15)
