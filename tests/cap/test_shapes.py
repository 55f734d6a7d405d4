"""The wash: no facet flatter than it should be, no water standing, no higher than it must be."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from crownwright.cap.shapes import neighbours, washes
from crownwright.cap.wash import Wash
from crownwright.geometry.polygon import signed_area
from crownwright.geometry.shedding import gutters, standing_water
from crownwright.geometry.surface import plan_mesh, slopes
from crownwright.quantity.units import INCH


def box(x: float, y: float, a: float, b: float, turn: float = 0.0) -> np.ndarray:
    """A joint's ring, inches in, metres out."""
    c, s = np.cos(turn), np.sin(turn)
    corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * np.array([a, b]) / 2
    return (np.array([x, y]) + corners @ np.array([[c, s], [-s, c]])) * INCH


def proof(wash: Wash, length: float, width: float, rings: list[np.ndarray]) -> tuple[float, int, float]:
    """Flattest facet, low places, and least fall along a foot or valley."""
    outer = np.array([(0.0, 0), (length, 0), (length, width), (0, width)])
    plan, triangles = plan_mesh(outer, [np.vstack([r, r[:1]]) for r in wash.regions(outer)], rings)
    points = np.column_stack([plan, wash.run(plan)])
    edge = (plan < 1e-6).any(1) | (plan > np.array([length, width]) - 1e-6).any(1)
    _, along = gutters(points, triangles, edge)
    return float(np.nanmin(slopes(points, triangles))), len(standing_water(points, triangles, edge)), min(along, default=1.0)


def test_a_flue_in_the_middle_has_a_level_ring_as_high_as_its_farthest_edge() -> None:
    ring = box(24, 20, 14.25, 14.25)
    level = washes(48 * INCH, 40 * INCH, [ring])[0]
    assert level.bench == pytest.approx((24 - 7.125) * INCH)
    assert level.low[0] == pytest.approx(level.bench)
    assert level.high[0] == pytest.approx(level.bench)


def test_drawn_out_hips_keep_a_far_off_end_from_lifting_the_wash() -> None:
    ring = box(13, 20, 14.25, 14.25)
    level, drawn = washes(72 * INCH, 40 * INCH, [ring])[:2]
    assert level.high[0] == pytest.approx((72 - 13 - 7.125) * INCH)
    assert drawn.bench == pytest.approx((20 - 7.125) * INCH)
    assert drawn.high[0] == pytest.approx(20 * INCH)  # half the width: an ordinary hipped roof
    assert proof(drawn, 72 * INCH, 40 * INCH, [ring])[1] == 0


def test_no_flue_at_all_gives_a_plain_hip_roof() -> None:
    for wash in washes(60 * INCH, 40 * INCH, [])[1:2]:  # the one drawn out
        at = np.array([(30, 20), (5, 20), (30, 7), (57, 38)]) * INCH
        assert np.allclose(wash.run(at) / INCH, (20, 5, 7, 2))


def test_between_two_flues_the_ridge_is_half_the_bench_high() -> None:
    rings = [box(20, 20, 14, 14), box(40, 20, 14, 14)]
    wash = washes(60 * INCH, 40 * INCH, rings)[0]
    assert wash.crest - wash.bench == pytest.approx(7 * INCH)
    assert wash.run(np.array([(30.0, 20.0)]) * INCH)[0] == pytest.approx(wash.crest)


rows = st.tuples(st.integers(0, 10**6), st.integers(1, 3))


@given(rows)
def test_flues_in_a_row_always_shed(case: tuple[int, int]) -> None:
    rng, count = np.random.default_rng(case[0]), case[1]
    sizes = rng.choice([9.75, 14.25, 19.25], (count, 2))
    length, width = sizes[:, 0].sum() + 3 * (count - 1) + rng.uniform(14, 40), sizes[:, 1].max() + rng.uniform(14, 40)
    x, rings = rng.uniform(7, length - sizes[:, 0].sum() - 3 * (count - 1) - 7), []
    for a, b in sizes:
        rings.append(box(x + a / 2, width / 2 + rng.uniform(-2, 2), a, b, rng.normal(0, 0.02)))
        x += a + 3
    made = washes(length * INCH, width * INCH, rings)
    for wash in made:
        assert len(wash.roofs) == 1
        flattest, standing, foot = proof(wash, length * INCH, width * INCH, rings)
        assert flattest >= 1 - 1e-4
        assert standing == 0
        assert foot >= 0.5


@given(st.integers(0, 10**6))
def test_two_flues_anywhere_shed(seed: int) -> None:
    rng = np.random.default_rng(seed)
    length, width = rng.uniform(48, 80, 2)
    while True:
        places = rng.uniform(15, np.array([length, width]) - 15, (2, 2))
        rings = [box(*p, *rng.choice([9.75, 14.25], 2), rng.normal(0, 0.1)) for p in places]
        if shapely.distance(*map(shapely.Polygon, rings)) > INCH:
            break
    for wash in washes(length * INCH, width * INCH, rings):
        flattest, standing, foot = proof(wash, length * INCH, width * INCH, rings)
        assert flattest >= 1 - 1e-4
        assert standing == 0
        assert foot >= 0.1


def test_regions_of_several_roofs_tile_the_plan() -> None:
    rings = [box(18, 15, 14, 14), box(40, 32, 14, 14), box(62, 16, 10, 10)]
    wash = washes(80 * INCH, 48 * INCH, rings)[0]
    outer = np.array([(0.0, 0), (80, 0), (80, 48), (0, 48)]) * INCH
    assert len(wash.roofs) == 2
    assert sum(map(signed_area, wash.regions(outer))) == pytest.approx(80 * 48 * INCH**2, rel=1e-6)


def test_where_it_meets_a_flue_is_measured_on_the_flue() -> None:
    ring = box(13, 20, 14.25, 14.25, 0.2)
    for wash in washes(72 * INCH, 40 * INCH, [ring]):
        share = np.linspace(0, 1, 400)[:, None, None]
        along = wash.run((ring + share * (np.roll(ring, -1, axis=0) - ring)).reshape(-1, 2))
        assert wash.low[0] == pytest.approx(along.min(), abs=1e-9)
        assert wash.high[0] == pytest.approx(along.max(), abs=2e-4)  # 400 places a side miss the top by under 0.2 mm
        assert wash.high[0] >= along.max() - 1e-12


def test_neighbours_join_all_and_no_more() -> None:
    points = list(np.random.default_rng(3).uniform(0, 1, (6, 2)))
    pairs = neighbours(points)
    assert len(pairs) == 5
    assert {i for pair in pairs for i in pair} == set(range(6))
