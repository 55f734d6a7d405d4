"""Cells that fill a region: all of it, and exact for planes."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from crownwright.geometry.cells import cells


def star(seed: int) -> shapely.Geometry:
    """A ragged outline with a hole."""
    rng = np.random.default_rng(seed)
    t = np.linspace(0, 2 * np.pi, 40, endpoint=False)
    ring = rng.uniform(0.5, 1.0, 40)[:, None] * np.column_stack([np.cos(t), np.sin(t)])
    return shapely.Polygon(ring).difference(shapely.box(-0.2, -0.1, 0.25, 0.2))


@given(st.integers(0, 10_000), st.floats(0.03, 3.0))
def test_cells_have_the_region_s_area_and_centre(seed: int, step: float) -> None:
    region = star(seed)
    x, y, area = cells(region, step)
    centre = region.centroid
    assert area.sum() == pytest.approx(region.area, rel=1e-12)
    assert area @ x == pytest.approx(region.area * centre.x, abs=1e-12)
    assert area @ y == pytest.approx(region.area * centre.y, abs=1e-12)


def test_a_curved_integrand_closes_in_with_the_square_of_the_step() -> None:
    box = shapely.box(0, 0, 2, 1)
    off = []
    for step in (0.2, 0.1, 0.05):
        x, y, area = cells(box, step)
        off.append(abs(area @ (x**2 * y) - 8 / 3 / 2))  # int x^2 y = (2^3/3)(1/2)
    assert off[0] / off[1] == pytest.approx(4, rel=0.02)
    assert off[1] / off[2] == pytest.approx(4, rel=0.02)
