"""Water on a triangulated surface: basins, sills, level runs, and faces that stand in its way."""

from __future__ import annotations

import numpy as np

from crownwright.geometry.envelope import facets, heights
from crownwright.geometry.shedding import gutters, standing_water
from crownwright.geometry.surface import plan_mesh

BOX = np.array([(0.0, 0), (3, 0), (3, 2), (0, 2)])
HIP = np.array([(1.0, 0, 0), (-1, 0, 3), (0, 1, 0), (0, -1, 2)])


def roof(planes: np.ndarray, holes: list[np.ndarray]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """A roof of planes with holes: points, triangles, and which points lie on its outer edge."""
    lines = [np.vstack([region, region[:1]]) for _, region in facets(planes, BOX)]
    plan, triangles = plan_mesh(BOX, lines, holes)
    edge = (plan < 1e-6).any(1) | (plan > np.array([3, 2]) - 1e-6).any(1)
    return np.column_stack([plan, heights(planes, plan)]), triangles, edge


def level_feet(planes: np.ndarray, holes: list[np.ndarray]) -> list[np.ndarray]:
    """Feet of holes that water is driven against with next to no fall along them; no place is a closed basin."""
    points, triangles, edge = roof(planes, holes)
    assert not standing_water(points, triangles, edge)
    feet, fall = gutters(points, triangles, edge)
    return [points[rows] for rows in feet[fall < 0.02]]


def square(x: float, y: float, size: float = 0.4, turn: float = 0.0) -> np.ndarray:
    """A flue's hole round (x, y)."""
    box = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * size / 2
    c, s = np.cos(turn), np.sin(turn)
    return np.array([x, y]) + box @ np.array([[c, s], [-s, c]])


def test_a_hip_roof_sheds() -> None:
    assert not level_feet(HIP, [])


def test_a_basin_is_found_where_it_is() -> None:
    points = np.array([(0.0, 0, 1), (2, 0, 1), (2, 2, 1), (0, 2, 1), (1, 1, 0.5)])
    triangles = np.array([(0, 1, 4), (1, 2, 4), (2, 3, 4), (3, 0, 4)])
    found = standing_water(points, triangles, np.array([True] * 4 + [False]))
    assert [rows.tolist() for rows in found] == [[4]]


def test_a_flue_on_the_ridge_sheds() -> None:
    assert not level_feet(HIP, [square(1.5, 1.0)])


def test_water_stands_behind_a_flue_set_square_in_a_slope() -> None:
    found = level_feet(HIP, [square(1.5, 0.5)])
    assert found
    assert all(np.allclose(foot[:, 1], 0.7) for foot in found)  # its upper face, and no other


def test_a_turned_flue_in_a_slope_drains_along_its_faces() -> None:
    assert not level_feet(HIP, [square(1.5, 0.5, turn=0.3)])


def test_water_stands_behind_a_flue_in_the_end_hip_and_not_when_the_ridge_reaches_it() -> None:
    assert level_feet(HIP, [square(0.5, 1.0)])
    steeper = np.array([(2.0, 0, 0), (-1, 0, 3), (0, 1, 0), (0, -1, 2)])  # this end's hip now ends in the flue's middle
    assert not level_feet(steeper, [square(0.5, 1.0)])


def test_a_level_run_that_drains_at_one_end_is_no_pond() -> None:
    points = np.array([(0.0, 0, 1), (1, 0, 0.5), (2, 0, 0.5), (3, 0, 0.2), (0, 1, 1), (1, 1, 1), (2, 1, 1), (3, 1, 1)])
    triangles = np.array([(0, 1, 4), (1, 5, 4), (1, 2, 5), (2, 6, 5), (2, 3, 6), (3, 7, 6)])
    edge = np.zeros(8, dtype=bool)
    edge[3] = True
    assert not standing_water(points, triangles, edge)
    edge[3] = False
    assert [rows.tolist() for rows in standing_water(points, triangles, edge)] == [[3]]


def test_fall_along_a_foot_is_that_of_its_line() -> None:
    points, triangles, edge = roof(HIP, [square(1.5, 0.5, turn=0.3)])
    feet, fall = gutters(points, triangles, edge)
    assert len(feet)
    # the roof falls at 1 along y; a face turned by 0.3 has its foot falling at sin 0.3, the next one at cos 0.3
    assert all(min(abs(f - np.sin(0.3)), abs(f - np.cos(0.3))) < 1e-6 for f in fall)
