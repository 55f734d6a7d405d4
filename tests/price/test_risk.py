"""The spread of a cost: exact cases, and a Monte Carlo of the same model."""

from __future__ import annotations

from decimal import Decimal
from math import exp, log, sqrt

import numpy as np
import pytest
from scipy.stats import lognorm, norm

from crownwright.price.hours import log_spread
from crownwright.price.risk import Chancy, CostSpread, Part, price_for
from crownwright.quantity.money import Rounding


def test_one_log_normal_part_is_exact() -> None:
    cost = CostSpread(100.0, (Part(50.0, 10.0, shared=False),))
    s = log_spread(0.2)
    for amount in (130.0, 150.0, 165.0, 190.0):
        assert cost.over(amount) == pytest.approx(lognorm.sf(amount - 100, s, scale=50 * exp(-(s**2) / 2)), abs=2e-5)


def test_what_hours_share_times_what_they_do_not_is_exact() -> None:
    """A product of two log-normals is log-normal: variances of the logarithms add."""
    cost = CostSpread(0.0, (Part(100.0, 20.0),), 0.15)
    s = sqrt(log_spread(0.2) ** 2 + log_spread(0.15) ** 2)
    for amount in (70.0, 100.0, 130.0):
        assert cost.over(amount) == pytest.approx(norm.sf((log(amount / 100) + s**2 / 2) / s), abs=3e-5)


def test_many_parts_against_a_monte_carlo_of_a_million() -> None:
    parts = tuple(Part(m, m * r, on) for m, r, on in ((170, 0.25, True), (110, 0.3, True), (60, 0.15, True), (90, 0.4, False)))
    cost = CostSpread(400.0, parts, 0.2, (Chancy(0.05, 250.0), Chancy(0.01, 900.0)))
    rng = np.random.default_rng(5)

    def drawn(mean: float, relative: float) -> np.ndarray:
        s = log_spread(relative)
        return mean * np.exp(s * rng.standard_normal(1_000_000) - s**2 / 2)

    shared = drawn(1.0, 0.2)
    draws = 400.0 + sum(drawn(p.mean, p.sd / p.mean) * (shared if p.shared else 1.0) for p in parts)
    for c in cost.chancy:
        draws = draws + c.cost * (rng.random(1_000_000) < c.chance)
    assert cost.mean == pytest.approx(float(draws.mean()), rel=1e-3)
    assert cost.sd == pytest.approx(float(draws.std()), rel=5e-3)
    for quantile in (0.05, 0.5, 0.9, 0.98):
        amount = float(np.quantile(draws, quantile))
        assert cost.over(amount) == pytest.approx(1 - quantile, abs=4 * sqrt(quantile * (1 - quantile) / 1e6) + 1e-4)
    assert cost.at(0.1) == pytest.approx(float(np.quantile(draws, 0.9)), rel=2e-3)


def test_the_price_for_a_chance_keeps_it_and_is_rounded_up() -> None:
    cost = CostSpread(400.0, (Part(300.0, 60.0),), 0.1)
    price = price_for(cost, 0.05, "USD", Rounding("up", Decimal(5)))
    assert price.amount % 5 == 0
    assert cost.over(float(price.amount)) <= 0.05 < cost.over(float(price.amount) - 5)


def test_nothing_uncertain_is_a_step() -> None:
    cost = CostSpread(100.0, ())
    assert (cost.over(99.0), cost.over(101.0)) == (1.0, 0.0)
    with pytest.raises(ValueError, match="between 0 and 1"):
        cost.at(0.0)
