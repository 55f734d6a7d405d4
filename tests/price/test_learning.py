"""Learning from finished jobs: prior, own data, slips set aside, stated risks that hold."""

from __future__ import annotations

from math import exp, log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm as normal
from scipy.stats import t as student

from crownwright.price.belief import USUAL, after, first, usual_way
from crownwright.price.learning import PRIORS, Belief, Finished, bags_by, held, kept, learn, update, weight_of

RATIOS = st.lists(st.floats(0.6, 1.6), min_size=1, max_size=12)


def jobs(ratios: list[float]) -> list[Finished]:
    return [Finished(f"job {n}", 10.0, 10.0 * ratio) for n, ratio in enumerate(ratios)]


def test_without_own_jobs_the_default_stands() -> None:
    learned = learn("bags", [])
    assert (learned.belief, learned.own, learned.jobs, learned.factor) == (first(PRIORS["bags"]), 0.0, 0, 1.0)
    assert learned.belief.factor() == pytest.approx(1.0, abs=1e-9)  # right on average, whichever way he works


@given(RATIOS, RATIOS)
def test_learning_at_once_or_one_by_one_is_the_same(first: list[float], second: list[float]) -> None:
    prior = PRIORS["hours"]
    a, b = [log(r) for r in first], [log(r) for r in second]
    once, twice = update(prior, a + b), update(update(prior, a), b)
    for field in Belief.__slots__:
        assert getattr(once, field) == pytest.approx(getattr(twice, field), rel=1e-9, abs=1e-12)


@given(RATIOS)
def test_the_factor_lies_between_prior_and_own_data(ratios: list[float]) -> None:
    after = update(PRIORS["bags"], [log(r) for r in ratios])
    low, high = sorted((PRIORS["bags"].mean, float(np.mean(np.log(ratios)))))
    assert low - 1e-12 <= after.mean <= high + 1e-12


def test_a_rougher_survey_weighs_less_by_its_variance() -> None:
    prior = PRIORS["bags"]
    assert weight_of(prior, 2 * prior.sd) == pytest.approx(0.25)
    sharp = update(prior, [0.1], [weight_of(prior, prior.sd)])
    rough = update(prior, [0.1], [weight_of(prior, 3 * prior.sd)])
    assert 0 < rough.mean < sharp.mean


def test_a_slip_of_the_pen_is_set_aside_with_a_word_and_the_rest_is_as_if_it_were_not_there() -> None:
    rng = np.random.default_rng(7)
    ratios = [float(r) for r in np.exp(0.06 + 0.04 * rng.standard_normal(12))]
    clean, dirty = learn("bags", jobs(ratios)), learn("bags", [*jobs(ratios), Finished("Mill Row", 12.0, 126.0)])
    assert [a.job for a in dirty.aside] == ["Mill Row"]
    assert "slip of the pen" in dirty.aside[0].says
    assert dirty.belief.own.mean == pytest.approx(clean.belief.own.mean)
    assert dirty.jobs == 12


def test_a_mason_who_always_takes_twice_as_long_is_believed_not_set_aside() -> None:
    learned = learn("hours", jobs([2.0, 2.1, 1.9, 2.05, 1.95, 2.0]))
    assert learned.aside == ()
    assert 1.7 < learned.factor < 2.1


def test_each_job_is_judged_by_the_others_as_if_learned_afresh_without_it() -> None:
    prior, y = PRIORS["hours"], np.array([0.1, 0.0, -0.2, 0.15, 1.9])
    keep, seldom = kept(prior, y, np.ones(5))
    others = update(prior, y[:4].tolist())
    by_hand = 2 * student.sf(abs(y[4] - others.mean) / others.scale(), others.freedom)
    assert list(keep) == [True] * 4 + [False]
    assert seldom[4] == pytest.approx(by_hand, rel=1e-9)


def test_the_bags_bought_keep_the_risk_and_one_fewer_would_not() -> None:
    prior = PRIORS["bags"]
    learned = learn("bags", jobs([1.05, 1.08, 1.02, 1.07, 1.06, 1.04]))
    bags, chance = bags_by(learned.belief, 12.4, 0.05, prior, 0.02)
    assert chance <= 0.02 < learned.belief.over((bags - 1) / 12.4, weight_of(prior, 0.05))
    rng = np.random.default_rng(3)
    w, n = weight_of(prior, 0.05), 200_000
    usual = rng.random(n) < learned.belief.usual
    drawn = 12.4 * np.exp(np.where(usual, *(b.mean + b.scale(w) * rng.standard_t(b.freedom, n)
                                            for b in (learned.belief.plain, learned.belief.own))))  # fmt: skip
    assert float((drawn > bags).mean()) == pytest.approx(chance, abs=4 * (0.02 / 200_000) ** 0.5)


@given(RATIOS, st.floats(0.005, 0.9))
def test_what_is_gone_over_with_a_chance_is_gone_over_with_that_chance(ratios: list[float], chance: float) -> None:
    belief = learn("hours", jobs(ratios)).belief
    assert belief.over(belief.at(chance)) == pytest.approx(chance, abs=1e-6)
    assert belief.plain.at(chance) <= belief.at(chance) <= belief.own.at(chance) or (
        belief.own.at(chance) <= belief.at(chance) <= belief.plain.at(chance)
    )


def test_the_odds_of_the_two_ways_are_those_of_their_likelihoods() -> None:
    """The Bayes factor against the integral done by brute force over mu and sigma^2."""
    from scipy.stats import invgamma

    prior, y = PRIORS["hours"], np.array([0.05, -0.2, 0.1, 0.3])
    belief = after(prior, y, np.ones(4), np.ones(4, bool))
    q = (np.arange(4000) + 0.5) / 4000
    sd = np.sqrt(invgamma(prior.freedom / 2, scale=prior.freedom * prior.sd**2 / 2).ppf(q))
    usual = np.prod(normal(usual_way(prior), sd[:, None]).pdf(y), axis=1).mean()
    z = normal.ppf((np.arange(400) + 0.5) / 400)
    mu = prior.mean + sd[:, None] / np.sqrt(prior.weight) * z
    own = np.prod(normal(mu[..., None], sd[:, None, None]).pdf(y), axis=-1).mean()
    assert belief.usual == pytest.approx(USUAL * usual / (USUAL * usual + (1 - USUAL) * own), abs=2e-3)


def test_one_who_works_by_the_defaults_is_told_so() -> None:
    even = 0.2 * normal.ppf((np.arange(40) + 0.5) / 40)
    at, off = (learn("hours", jobs(np.exp(shift + even).tolist())) for shift in (-0.02, 0.3))
    assert at.belief.usual > 0.6
    assert abs(at.factor - 1) < 0.02
    assert off.belief.usual < 0.01
    assert off.own > 0.9


def test_stated_chances_are_held_to_their_binomial_limits() -> None:
    fair, poor = held("short", 0.02, [False] * 99 + [True]), held("short", 0.02, [True] * 10 + [False] * 90)
    assert fair.holds
    assert not poor.holds
    assert (poor.times, poor.came) == (100, 10)


def test_what_cannot_be_learned_is_refused() -> None:
    with pytest.raises(KeyError, match="there are: bags"):
        learn("colour", jobs([1.0]))
    with pytest.raises(ValueError, match="above nothing"):
        learn("bags", [Finished("x", 10.0, 0.0)])


@pytest.mark.parametrize(("what", "shift"), [("bags", 0.08), ("hours", 0.30), ("hours", -0.25)])
def test_after_ten_jobs_forecasts_are_unbiased_within_three_per_cent(what: str, shift: float) -> None:
    """The bench in small: 400 seasons; the standard error of the mean is under 0.7 %."""
    rng, prior = np.random.default_rng(11), PRIORS[what]
    y = shift + prior.sd * rng.standard_normal((400, 11))
    factors = [learn(what, jobs([exp(v) for v in season[:10]])).factor for season in y]
    assert float(np.mean(factors)) / exp(shift + prior.sd**2 / 2) == pytest.approx(1.0, abs=0.03)
