"""Learned yields in the plan's own count: the bags that are gone over with the risk are those the belief says."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from crownwright.concrete.count import short_chance
from crownwright.concrete.pour import need_for, pour_for
from crownwright.plan.model import Plan
from crownwright.price.hours import HoursChoices
from crownwright.price.learning import PRIORS, Finished, learn, weight_of
from crownwright.price.own_way import own_concrete, own_hours


@pytest.mark.parametrize("shift", [-0.08, 0.0, 0.09])
@pytest.mark.parametrize("risk", [0.01, 0.02, 0.2])
def test_the_count_keeps_the_risk_that_own_jobs_state(plan: Plan, shift: float, risk: float) -> None:
    assert plan.concrete is not None
    assert plan.cap is not None
    rng = np.random.default_rng(4)
    jobs = [Finished(f"{n}", 10.0, 10 * float(np.exp(shift + 0.04 * rng.standard_normal()))) for n in range(15)]
    learned = learn("bags", jobs)
    choices = replace(plan.job.concrete, risk=risk)
    volume, pour = plan.cap.volume.all, plan.concrete
    mine = own_concrete(choices, pour, volume, learned)
    need = need_for(volume, mine, volume.mean / pour.count.needed.mean * _default_middle(plan))
    forecast = pour.count.needed
    weight = weight_of(PRIORS["bags"], forecast.sd / forecast.mean)
    stated = forecast.mean * learned.belief.at(risk, weight)
    # V is normal here and Student's t is matched at two points only: a tenth of the risk is what that may cost.
    assert float(short_chance(need, np.array([stated]))[0]) == pytest.approx(risk, rel=0.1)
    assert float(short_chance(need, np.array([forecast.mean * learned.belief.at(0.5, weight)]))[0]) == pytest.approx(
        0.5, abs=0.01
    )


def _default_middle(plan: Plan) -> float:
    """Label yield of a bag is V / mean need x what the mean need is of V / y by the defaults."""
    need = need_for(plan.cap.volume.all, plan.job.concrete, 1.0)  # type: ignore[union-attr]
    return need.bags.mean / plan.cap.volume.all.mean  # type: ignore[union-attr]


def test_more_bags_used_than_forecast_means_more_bags_bought(plan: Plan) -> None:
    assert plan.concrete is not None
    assert plan.cap is not None
    spends, saves = (learn("bags", [Finished(str(n), 10.0, 10.0 * r) for n in range(12)]) for r in (1.15, 0.88))
    counts = [pour_for(plan.cap, own_concrete(plan.job.concrete, plan.concrete, plan.cap.volume.all, x)) for x in (saves, spends)]
    assert counts[0].count.bags < plan.concrete.count.bags < counts[1].count.bags
    assert all(any(t.symbol == "o" for t in p.figures[0].inputs) for p in counts)
    assert not any(t.symbol == "o" for t in plan.concrete.figures[0].inputs)


def test_hours_take_factor_and_spread(plan: Plan) -> None:
    learned = learn("hours", [Finished(str(n), 10.0, 13.0) for n in range(12)])
    mine = own_hours(HoursChoices(), learned)
    assert mine.factor == pytest.approx(1.3, abs=0.05)
    assert mine.spread == learned.belief.scale()
    assert own_hours(HoursChoices(), learn("hours", [])) == HoursChoices()
