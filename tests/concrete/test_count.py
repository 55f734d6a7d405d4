"""The number of bags: against sampling and against an independent quadrature, and how it moves."""

from __future__ import annotations

from math import exp, inf, log, log1p, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from crownwright.concrete.count import WORST, Need, bags_for, pour_need, short_chance, what_follows
from crownwright.quantity.uncertain import Uncertain

EIGHTY = 0.60 * 0.3048**3
needs = st.builds(
    lambda mean, rel, ysd, spill, ssd: pour_need(Uncertain(mean, rel * mean), EIGHTY, yield_sd=ysd, spill=spill, spill_sd=ssd),
    st.floats(0.02, 1.0),
    st.floats(0.0, 0.30),
    st.floats(0.0, 0.08),
    st.floats(0.0, 0.10),
    st.floats(0.0, 0.03),
)


def sample(mean: float, sd: float, yield_sd: float, spill: float, spill_sd: float, n: int) -> np.ndarray:
    """Bags needed by pours drawn straight from the story, not from the module's formulas."""
    rng = np.random.default_rng(20_240_601)
    volume = rng.normal(mean, sd, n)
    ysd = sqrt(log1p(yield_sd**2))
    gives = rng.lognormal(-(ysd**2) / 2, ysd, n)
    kept = 1.0 - spill
    ksd = sqrt(log1p((spill_sd / kept) ** 2))
    return volume / (EIGHTY * gives * rng.lognormal(log(kept) - ksd**2 / 2, ksd, n))


@pytest.mark.parametrize(("mean", "rel"), [(0.17, 0.01), (0.17, 0.045), (0.12, 0.15), (0.30, 0.30)])
def test_chances_left_over_and_missing_agree_with_sampling(mean: float, rel: float) -> None:
    n = 400_000
    drawn = sample(mean, rel * mean, 0.03, 0.02, 0.01, n)
    count = bags_for(pour_need(Uncertain(mean, rel * mean), EIGHTY), 0.02)

    def close(ours: float, values: np.ndarray) -> bool:
        return abs(ours - values.mean()) < 5 * values.std() / sqrt(len(values)) + 1e-12  # five standard errors of the sampling

    assert close(count.chance_short, drawn > count.bags)
    assert close(count.one_fewer, drawn > count.bags - 1)
    assert close(count.needed.mean, drawn)
    assert close(count.left_over, np.maximum(count.bags - drawn, 0.0))
    assert close(count.unopened, np.clip(count.bags - np.ceil(np.maximum(drawn, 0.0)), 0.0, None))
    missing = drawn[drawn > count.bags] - count.bags
    assert close(count.missing, missing)


@settings(max_examples=40, deadline=None)
@given(needs, st.floats(0.5, 1.6))
def test_chance_agrees_with_adaptive_quadrature(need: Need, share: float) -> None:
    bags = share * need.bags.mean
    mean, sd = need.volume.mean, need.volume.sd
    if min(sd / mean, need.log_sd) < 1e-3:
        return  # the adaptive rule, not ours, fails on a near step

    def both(z: float) -> float:
        return stats.norm.pdf(z) * stats.norm.sf((bags * need.per_bag * exp(need.log_mean + need.log_sd * z) - mean) / sd)

    expected, _ = integrate.quad(both, -9, 9, points=[0.0], limit=400, epsabs=1e-11)
    assert short_chance(need, np.array([bags]))[0] == pytest.approx(expected, abs=2e-7)  # 64 nodes on a smooth integrand


@settings(max_examples=60, deadline=None)
@given(needs, st.floats(0.001, 0.4))
def test_on_every_pour_it_is_the_fewest_that_keep_the_risk(need: Need, risk: float) -> None:
    count = bags_for(need, risk, "every pour")
    assert count.one_more <= count.chance_short <= risk < count.one_fewer
    assert count.bags - 1 - 1e-3 <= count.amount <= count.bags + 1e-3
    assert 0.0 <= count.unopened <= count.left_over + 1e-6 <= count.bags + 1e-6


@settings(max_examples=60, deadline=None)
@given(needs, st.floats(0.001, 0.2))
def test_over_many_pours_it_never_buys_more_and_never_passes_the_worst(need: Need, risk: float) -> None:
    every, many = bags_for(need, risk), bags_for(need, risk, "over many pours")
    assert every.bags - 1 <= many.bags <= every.bags
    assert many.chance_short <= min(WORST * risk, (1 + risk) / 2) + 1e-12


@pytest.mark.parametrize("rel", [0.03, 0.05, 0.08])
def test_over_many_pours_the_chances_average_to_the_risk_but_for_the_worst(rel: float) -> None:
    """Volumes anywhere over four bags: the stated 2 % less what the cap on a single pour takes off, which is under half of it."""
    needs = [pour_need(Uncertain(v, rel * v), EIGHTY) for v in np.linspace(6, 10, 161) * EIGHTY]
    chances = [bags_for(need, 0.02, "over many pours").chance_short for need in needs]
    assert 0.01 <= float(np.mean(chances)) <= 0.021
    each = [bags_for(need).chance_short for need in needs]
    assert float(np.mean(each)) < 0.01


@settings(max_examples=40, deadline=None)
@given(needs)
def test_more_bags_never_raise_the_chance_and_less_risk_never_takes_fewer(need: Need) -> None:
    chances = short_chance(need, np.linspace(0.0, 2.5 * need.bags.mean, 60))
    assert chances[0] == pytest.approx(1.0, abs=1e-3)  # a normal volume at 30 % spread is below nothing once in 2,300
    assert np.all(np.diff(chances) <= 1e-9)
    assert bags_for(need, 0.01).bags >= bags_for(need, 0.05).bags


def test_without_any_spread_it_is_plain_division() -> None:
    need = pour_need(Uncertain(10 * EIGHTY * 0.98, 0.0), EIGHTY, yield_sd=0.0, spill=0.02, spill_sd=0.0)
    for count in (bags_for(need), bags_for(need, 0.02, "over many pours")):
        assert (count.bags, count.chance_short, count.one_fewer) == (10, 0.0, 1.0)
    assert what_follows(need, 13, 0.02).unopened == pytest.approx(3.0)


def test_a_smaller_spread_saves_bags_on_the_way_to_none() -> None:
    counts = [bags_for(pour_need(Uncertain(0.17, rel * 0.17), EIGHTY)).bags for rel in (0.30, 0.15, 0.08, 0.04, 0.0)]
    assert counts == sorted(counts, reverse=True)
    assert counts[0] - counts[-1] >= 5


@pytest.mark.parametrize("risk", [0.0, 1.0, -0.1, inf])
def test_an_impossible_risk_is_refused_by_name(risk: float) -> None:
    with pytest.raises(ValueError, match="risk of running short"):
        bags_for(pour_need(Uncertain(0.17, 0.01), EIGHTY), risk)


def test_an_impossible_volume_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="volume must be above 0"):
        pour_need(Uncertain(0.0, 0.01), EIGHTY)
