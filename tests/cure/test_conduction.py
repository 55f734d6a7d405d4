"""The stepping scheme: the corrected inverse is the solution of the whole matrix, heat is neither made nor lost."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import solve_banded

from crownwright.cure.conduction import Layer, column, even, graded, inner_matrix, stack, step

LAYERS = st.lists(
    st.builds(
        lambda n, t, k, c: Layer(even(t, n), k, c * 1e6),
        st.integers(1, 5),
        st.floats(0.01, 0.2),
        st.floats(0.03, 4.0),
        st.floats(0.05, 3.0),
    ),
    min_size=1,
    max_size=3,
)


@settings(max_examples=60, deadline=None)
@given(LAYERS, st.floats(0, 500), st.floats(0, 500), st.floats(-40, 60), st.sampled_from([1, 2]), st.integers(0, 2**32 - 1))
def test_a_step_solves_the_whole_matrix(layers, b0, bn, air, order, seed):
    rng = np.random.default_rng(seed)
    col = column(layers)
    n, dt = len(col.depth), 900.0
    now, before = rng.uniform(-20, 60, (2, 1, n, 1))
    gain = rng.uniform(0, 50, (1, n, 1))
    faces = [(np.full((1, 1), b * air), np.full((1, 1), b)) for b in (b0, bn)]
    got = step(stack([col], dt, order), now, before, gain, *faces)[0, :, 0]
    a = inner_matrix(col, dt, 1.5 if order == 2 else 1.0)
    a[0, 0] += b0
    a[-1, -1] += bn
    past = now if order == 1 else 2 * now - 0.5 * before
    rhs = col.capacity / dt * past[0, :, 0] + gain[0, :, 0]
    rhs[0] += b0 * air
    rhs[-1] += bn * air
    band = np.zeros((3, n))
    band[0, 1:], band[1], band[2, :-1] = np.diagonal(a, 1), np.diagonal(a), np.diagonal(a, -1)
    assert got == pytest.approx(solve_banded((1, 1), band, rhs), abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(LAYERS, st.integers(0, 2**32 - 1))
def test_closed_faces_keep_the_heat(layers, seed):
    col = column(layers)
    closed = (np.zeros((1, 1)), np.zeros((1, 1)))
    now = np.random.default_rng(seed).uniform(-20, 60, (1, len(col.depth), 1))
    held = float(col.capacity @ now[0, :, 0])
    after = step(stack([col], 900.0, 1), now, now, np.zeros_like(now), closed, closed)
    assert float(col.capacity @ after[0, :, 0]) == pytest.approx(held, rel=1e-9, abs=1e-3)
    assert after.min() >= now.min() - 1e-9
    assert after.max() <= now.max() + 1e-9


def test_idle_layers_take_no_part():
    slab, board = Layer(even(0.1, 4), 1.9, 2e6), Layer(even(0.04, 3), 0.15, 1e6)
    with_idle, alone = column([slab], idle=[board]), column([slab])
    assert with_idle.bottom == alone.bottom == 4
    assert with_idle.capacity[:5] == pytest.approx(alone.capacity)
    assert with_idle.between[4] == 0.0
    closed = (np.zeros((1, 1)), np.zeros((1, 1)))
    now = np.where(np.arange(8) < 5, 30.0, -10.0)[None, :, None]
    after = step(stack([with_idle], 900.0, 1), now, now, np.zeros_like(now), closed, closed)
    assert after[0, :5, 0] == pytest.approx(np.full(5, 30.0))
    assert after[0, 5:, 0] == pytest.approx(np.full(3, -10.0))


def test_cells_fill_the_thickness():
    assert sum(graded(0.6, 7, 1.7)) == pytest.approx(0.6)
    assert sum(even(0.09, 8)) == pytest.approx(0.09)
