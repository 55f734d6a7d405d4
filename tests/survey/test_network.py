"""The adjustment itself: what must hold for any network of distances."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.survey.least_squares import LooseError, fit
from crownwright.survey.network import Distances, adjust_distances

SHAPE = np.array([(0.0, 0.0), (4.0, 0.0), (4.2, 3.0), (-0.1, 3.1), (2.0, 1.4)])
START, END = np.triu_indices(5, 1)


def network(noise: np.ndarray, sd: float = 0.01) -> Distances:
    true = np.hypot(*(SHAPE[END] - SHAPE[START]).T)
    return Distances(START, END, true + noise, np.full(len(true), sd))


noises = st.lists(st.floats(-0.02, 0.02), min_size=10, max_size=10).map(np.array)


@given(noises)
@settings(max_examples=25, deadline=None)
def test_redundancy_sums_to_freedom_and_the_fit_is_least(noise: np.ndarray) -> None:
    at, found = adjust_distances(SHAPE, network(noise))
    assert found.settled
    assert found.redundancy.sum() == pytest.approx(found.freedom) == 10 - 10 + 3
    # nothing near it fits better
    rng = np.random.default_rng(0)
    for _ in range(5):
        moved = at + 1e-4 * rng.standard_normal(at.shape)
        misfit = np.hypot(*(moved[END] - moved[START]).T) - network(noise).reads
        assert float(misfit @ misfit) / 0.01**2 >= found.statistic - 1e-9


@given(noises, st.floats(-3, 3), st.floats(-50, 50), st.floats(-50, 50))
@settings(max_examples=25, deadline=None)
def test_free_network_does_not_care_where_it_starts(noise: np.ndarray, turn: float, x: float, y: float) -> None:
    c, s = np.cos(turn), np.sin(turn)
    moved = SHAPE @ np.array([[c, s], [-s, c]]) + [x, y]
    here, one = adjust_distances(SHAPE, network(noise))
    there, other = adjust_distances(moved, network(noise))
    assert other.residual == pytest.approx(one.residual, abs=1e-9)
    assert there == pytest.approx(here @ np.array([[c, s], [-s, c]]) + [x, y], abs=1e-7)


def test_free_and_held_networks_agree_on_the_shape() -> None:
    noise = 0.01 * np.random.default_rng(3).standard_normal(10)
    _, free = adjust_distances(SHAPE, network(noise))
    # holding one point and a direction takes up the datum and nothing else: fix A, and B on the x axis

    def model(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        at = np.concatenate([[0.0, 0.0, x[0], 0.0], x[1:]]).reshape(-1, 2)
        away = at[END] - at[START]
        length = np.hypot(*away.T)
        slope = np.zeros((10, 10))
        for k in range(10):
            slope[k, 2 * END[k] : 2 * END[k] + 2] += away[k] / length[k]
            slope[k, 2 * START[k] : 2 * START[k] + 2] -= away[k] / length[k]
        return length, np.delete(slope, [0, 1, 3], axis=1)

    held = fit(model, np.delete(SHAPE.ravel(), [0, 1, 3]), network(noise).reads, network(noise).sd)
    assert held.residual == pytest.approx(free.residual, abs=1e-9)
    assert held.statistic == pytest.approx(free.statistic)


def test_covariance_is_what_repeated_surveys_show() -> None:
    """A thousand surveys of one shape: the spread of the coordinates is the covariance that each of them tells."""
    rng = np.random.default_rng(8)
    held = np.array([True, True, False, False, False])
    runs = [adjust_distances(SHAPE, network(0.01 * rng.standard_normal(10)), held) for _ in range(1000)]
    seen = np.cov(np.array([r[1].estimate for r in runs]).T)
    told = runs[0][1].covariance
    # a variance from a thousand draws is good to 4.5 %; three of those
    assert np.diag(seen) == pytest.approx(np.diag(told), rel=0.14)
    # and the sum of squares follows chi-square: its mean is the freedom, sd sqrt(2 f / 1000)
    mean = np.mean([r[1].statistic for r in runs])
    assert mean == pytest.approx(runs[0][1].freedom, abs=3 * np.sqrt(2 * runs[0][1].freedom / 1000))


def test_a_bad_start_still_settles() -> None:
    rough = SHAPE + np.random.default_rng(1).normal(0, 0.6, SHAPE.shape)
    _, found = adjust_distances(rough, network(np.zeros(10)))
    assert found.settled
    assert np.abs(found.residual).max() < 1e-9


def test_what_nothing_holds_is_named() -> None:
    ends = Distances(np.array([0, 1, 2]), np.array([1, 2, 3]), np.ones(3), np.full(3, 0.01))
    with pytest.raises(LooseError) as loose:
        adjust_distances(SHAPE[:4], ends)
    assert loose.value.direction.shape == (8,)
