"""Meshes over plans with holes: every square inch is there once, every edge shared."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from crownwright.geometry.polygon import signed_area
from crownwright.geometry.shedding import edges
from crownwright.geometry.surface import areas, integral, plan_mesh, slopes

BOX = np.array([(0.0, 0), (3, 0), (3, 2), (0, 2)])
HOLE = np.array([(1.0, 0.5), (2, 0.5), (2, 1.5), (1, 1.5)])
CROSS = [np.array([(0.0, 1.0), (3.0, 1.0)]), np.array([(1.5, -1.0), (1.5, 3.0)])]


def test_area_is_the_plan_less_its_holes() -> None:
    assert areas(*plan_mesh(BOX, CROSS, [HOLE])).sum() == pytest.approx(5.0, abs=1e-9)


def test_edges_are_shared_by_two_or_lie_on_a_rim() -> None:
    points, triangles = plan_mesh(BOX, CROSS, [HOLE])
    pairs, count = edges(triangles)
    rim = shapely.union_all([shapely.LinearRing(BOX), shapely.LinearRing(HOLE)])
    middles = shapely.points(points[pairs].mean(1))
    assert set(count) == {1, 2}
    assert (shapely.distance(rim, middles[count == 1]) < 1e-7).all()


def test_lines_are_kept_as_edges() -> None:
    points, triangles = plan_mesh(BOX, CROSS, [HOLE])
    sides = np.sign(np.round(points[triangles] - [1.5, 1.0], 9))
    assert not (np.ptp(sides, axis=1) == 2).any()  # no triangle reaches from one side of a line to the other


def test_turned_clockwise_rings_do_not_matter() -> None:
    points, triangles = plan_mesh(BOX[::-1], (), [HOLE[::-1]])
    assert all(signed_area(points[rows]) > 0 for rows in triangles)


def test_overlapping_and_crossing_holes_are_left_out_once() -> None:
    other = HOLE + 0.5
    outside = HOLE + np.array([2.5, 0.0])  # half outside the plan
    left = areas(*plan_mesh(BOX, (), [HOLE, other, outside])).sum()
    gone = shapely.union_all([shapely.Polygon(r) for r in (HOLE, other, outside)])
    assert left == pytest.approx(shapely.Polygon(BOX).difference(gone).area, abs=1e-7)


def test_a_plane_is_integrated_exactly() -> None:
    plan, triangles = plan_mesh(BOX, CROSS, [HOLE])
    points = np.column_stack([plan, 2 + 0.5 * plan[:, 0] - 0.25 * plan[:, 1]])
    # over the box 6 (2 + 0.75 - 0.25) less the hole 1 (2 + 0.75 - 0.25)
    assert integral(points, triangles) == pytest.approx(12.5, abs=1e-7)


def test_slope_of_a_plane_and_of_a_sliver() -> None:
    points = np.array([(0.0, 0, 0), (1, 0, 0.3), (0, 1, 0.4), (1e-5, 1e-5, 5.0)])
    found = slopes(points, np.array([(0, 1, 2), (0, 1, 3)]))
    assert found[0] == pytest.approx(0.5)
    assert np.isnan(found[1])
