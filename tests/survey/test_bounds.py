"""Bounds between places, against plain conditioning and against draws that keep them."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import log_ndtr

from crownwright.survey.bounds import Bounds, condition
from crownwright.survey.lumps import hazard

NO_BOUNDS = Bounds(np.zeros(0, dtype=np.intp), np.zeros(0, dtype=np.intp), 0.05)


def prior(count: int, sds: tuple[float, ...], share: float = 0.3) -> np.ndarray:
    """Heights with a level of sd 1/2 in common and own parts with ``sds`` that neighbours share."""
    at = np.arange(count)
    near = share ** np.abs(at[:, None] - at)
    return np.array([sd**2 * near + 0.25 + 1e-4 * np.eye(count) for sd in sds])


def test_without_bounds_it_is_the_normal_formula() -> None:
    """Posterior by the gain form, an independent route to the same Gaussian; evidence as the density of the readings."""
    mean, cov = np.linspace(0, 1, 6), prior(6, (0.5, 1.0))
    reads, weight = np.array([1.0, 0.0, 0.0, 2.0, 0.0, 0.5]), np.array([25.0, 0, 0, 16.0, 0, 25.0])
    given = condition(mean, cov, reads, weight, NO_BOUNDS)
    seen = np.flatnonzero(weight)
    for g in range(2):
        noisy = cov[g][np.ix_(seen, seen)] + np.diag(1 / weight[seen])
        gain = cov[g][:, seen] @ np.linalg.inv(noisy)
        assert given.mean[g] == pytest.approx(mean + gain @ (reads - mean)[seen])
        assert given.covariance[g] == pytest.approx(cov[g] - gain @ cov[g][seen])
    off = (reads - mean)[seen]
    density = []
    for g in range(2):
        noisy = cov[g][np.ix_(seen, seen)] + np.diag(1 / weight[seen])
        density.append(-0.5 * off @ np.linalg.solve(noisy, off) - 0.5 * np.linalg.slogdet(noisy)[1])
    assert given.evidence[1] - given.evidence[0] == pytest.approx(density[1] - density[0])


def drawn(mean, cov, reads, weight, bounds, rng, count=500_000):
    """Mean, spread and evidence by brute force: draws of the prior weighed by readings and bounds."""
    root = np.linalg.cholesky(cov)
    heights = mean + rng.standard_normal((count, len(mean))) @ root.T
    log_weight = -0.5 * (weight * np.square(heights - reads)).sum(axis=1)
    log_weight += log_ndtr((heights[:, bounds.above] - heights[:, bounds.below]) / bounds.slack).sum(axis=1)
    weights = np.exp(log_weight - log_weight.max())
    evidence = np.log(weights.mean()) + log_weight.max()
    weights /= weights.sum()
    at = weights @ heights
    return at, np.sqrt(weights @ np.square(heights - at)), evidence


def test_highest_and_lowest_against_draws() -> None:
    """Place 0 was found the highest of seven and place 6 the lowest; two more were read."""
    bounds = Bounds(np.array([0, 0, 0, 0, 0, 0, 1, 2, 3, 4, 5]), np.array([1, 2, 3, 4, 5, 6, 6, 6, 6, 6, 6]), 0.1)
    mean, covs = np.zeros(7), prior(7, (0.6, 1.0))
    reads = np.array([1.0, 0, 0, 0.2, 0, 0, -0.9])
    weight = np.array([25.0, 0, 0, 25.0, 0, 0, 25.0])
    given = condition(mean, covs, reads, weight, bounds)
    rng = np.random.default_rng(5)
    true = [drawn(mean, cov, reads, weight, bounds, rng) for cov in covs]
    for g, (at, sd, _) in enumerate(true):
        # expectation propagation is no exact method: means to a tenth of a spread do for a band, and spreads to a seventh
        assert given.mean[g] == pytest.approx(at, abs=0.06)
        assert np.sqrt(np.diag(given.covariance[g])) == pytest.approx(sd, rel=0.15)
    assert given.evidence[1] - given.evidence[0] == pytest.approx(true[1][2] - true[0][2], abs=0.1)


def test_a_looked_for_place_is_no_fair_sample() -> None:
    """Taken as a fair sample the highest hump pulls all places up; with its bound it does not."""
    count = 25
    cov = np.array([np.eye(count) * 0.36 + 4.0])
    reads, weight = np.zeros(count), np.zeros(count)
    reads[0], weight[0] = 1.2, 25.0
    fair = condition(np.zeros(count), cov, reads, weight, NO_BOUNDS)
    others = np.arange(1, count)
    looked = condition(np.zeros(count), cov, reads, weight, Bounds(np.zeros(count - 1, dtype=np.intp), others, 0.05))
    assert fair.mean[0, 1:].mean() > 1.0
    # the largest of 25 of sd 0.6 stands 1.965 x 0.6 above their mean (David and Nagaraja, Order Statistics, from memory)
    assert looked.mean[0, 1:].mean() == pytest.approx(1.2 - 1.965 * 0.6, abs=0.12)


def test_hazard_and_its_tail() -> None:
    z = np.array([-30.0, -8.0, -2.0, 0.0, 1.5, 6.0])
    rate, log_below = hazard(z)
    assert log_below == pytest.approx(log_ndtr(z), rel=1e-6, abs=1e-9)
    assert rate == pytest.approx(np.exp(-z * z / 2 - log_ndtr(z)) / np.sqrt(2 * np.pi), rel=2e-6)
