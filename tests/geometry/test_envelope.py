"""The lower envelope of planes: its facets tile the plan, and each is the least there."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from crownwright.geometry.envelope import clip, facets, heights, profile
from crownwright.geometry.polygon import signed_area

BOX = np.array([(0.0, 0), (3, 0), (3, 2), (0, 2)])
some_planes = arrays(float, st.tuples(st.integers(1, 9), st.just(3)), elements=st.floats(-2, 2, width=32))


@given(some_planes)
def test_facets_tile_the_plan(planes: np.ndarray) -> None:
    planes = np.unique(planes, axis=0)
    total = sum(signed_area(region) for _, region in facets(planes, BOX))
    # planes that agree to the last digits may share a strip, or leave a sliver under the least area, between them
    assert total >= 6 - 1e-8 * len(planes)


@given(some_planes)
def test_each_plane_is_least_over_its_facet(planes: np.ndarray) -> None:
    for k, region in facets(planes, BOX):
        own = region @ planes[k, :2] + planes[k, 2]
        assert (own <= heights(planes, region) + 1e-9).all()


def test_a_hip_roof_has_two_triangles_and_two_trapezoids() -> None:
    planes = np.array([(1.0, 0, 0), (-1, 0, 3), (0, 1, 0), (0, -1, 2)])
    found = facets(planes, BOX)
    assert sorted(len(region) for _, region in found) == [3, 3, 4, 4]
    assert [round(signed_area(region), 12) for _, region in found] == [1.0, 1.0, 2.0, 2.0]


def test_clip_leaves_nothing_where_nothing_is() -> None:
    assert len(clip(BOX.tolist(), 1.0, 0.0, -1.0)) < 3


@given(st.lists(st.tuples(st.floats(0.1, 9.9), st.floats(-3, 3)), max_size=6))
def test_profile_is_concave_and_over_every_point(inner: list[tuple[float, float]]) -> None:
    points = [(0.0, 0.0), *inner, (10.0, 0.0)]
    lines = profile(points)
    slopes = [slope for slope, _ in lines]
    assert slopes == sorted(slopes, reverse=True)
    for x, z in points:
        assert all(slope * x + start >= z - 1e-6 for slope, start in lines)
