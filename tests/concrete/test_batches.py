"""Batches and the clock: a schedule worked by hand, and what must hold for any crew."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from crownwright.cap.model import CapDesign
from crownwright.concrete.batches import BatchPlan, Site, plan_batches
from crownwright.concrete.choices import ConcreteChoices
from crownwright.concrete.pour import pour_for
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import LB
from crownwright.sources.bibliography import spell

Build = Callable[..., CapDesign]
MINUTE = 60.0


def batches(cap: CapDesign, site: Site, temperature: float = 20.0) -> BatchPlan:
    plan = pour_for(cap, ConcreteChoices())
    return plan_batches(plan.lifts, plan.count, plan.bag, plan.mix, temperature, site)


def test_a_morning_worked_by_hand(cap: Build) -> None:
    """4.2 ft3, 60 % lower: 7.1 bags expected, 8 mixed, 5 lower (4.3 rounded up) and 3 upper; mixer of two, two men.

    A bag fills 0.60 / 0.4456 = 1.35 buckets two thirds full: two bags 3 buckets, one bag 2. Trips of 150 s: 450 s for two bags,
    300 s for one. Mixing 360 s. Lower 2, 2, 1; upper 2, 1 with 600 s between.
    wet 0, mixed 360, placed 810; the next is tipped no sooner than 810: wet 450, mixed 810, placed 1260; wet 900, mixed 1260,
    placed 1560; pause to 2160: wet 1800, mixed 2160, placed 2610; wet 2250, mixed 2610, placed 2910.
    Oldest: batch 1 (2 of 5 bags, 0.4 of the way) is covered 0.4 / (2/3) of the way through the first of the wash, at
    2160 + 0.6 x 450 = 2430, age 2430; batch 2 (0.8): 0.1333 / 0.3333 of the second, 2610 + 0.4 x 300 = 2730 - 450 = 2280.
    """
    plan = batches(cap(4.2, lower=0.6), Site(start=0.0))
    assert [(b.bags, b.buckets, b.wet, b.mixed, b.placed) for b in plan.batches] == [
        (2, 3, 0.0, 360.0, 810.0),
        (2, 3, 450.0, 810.0, 1260.0),
        (1, 2, 900.0, 1260.0, 1560.0),
        (2, 3, 1800.0, 2160.0, 2610.0),
        (1, 2, 2250.0, 2610.0, 2910.0),
    ]
    assert plan.oldest == pytest.approx(2430.0)
    assert plan.done == 2910.0
    assert plan.trips == 13


def test_a_bucket_two_thirds_full_weighs_what_the_sum_says(cap: Build) -> None:
    plan = batches(cap(), Site())
    assert plan.bucket_weight / LB == pytest.approx(2 + 0.6684 * 2 / 3 * 143.7, abs=0.5)  # 64.6 lb at 145 lb/ft3 and the pail


def test_slow_work_in_the_heat_is_a_cold_joint(cap: Build) -> None:
    slow = replace(Site(), mixer=1, mixing=15 * MINUTE, people=1, trip=6 * MINUTE)
    hot = batches(cap(8.0), slow, 35.0)
    assert hot.findings[0].verdict is Verdict.SHORT
    assert hot.findings[0].short_by == pytest.approx(hot.oldest - hot.open)
    assert batches(cap(3.0), Site(), 15.0).findings[0].verdict is Verdict.OK


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.floats(1.0, 12.0), st.floats(0.05, 1.0), st.integers(1, 6), st.integers(1, 5), st.floats(60, 1200), st.floats(20, 600))
def test_the_clock_never_runs_back_and_every_bag_is_mixed(
    cap: Build, cubic_feet: float, lower: float, mixer: int, people: int, mixing: float, trip: float
) -> None:
    site = Site(mixer=mixer, people=people, mixing=mixing, trip=trip)
    plan = batches(cap(cubic_feet, lower=lower), site)
    pour = pour_for(cap(cubic_feet, lower=lower), ConcreteChoices())
    assert sum(b.bags for b in plan.batches) + plan.reserve == pour.count.bags
    for before, after in zip(plan.batches, plan.batches[1:], strict=False):
        assert before.wet < before.mixed < before.placed
        assert after.mixed >= before.placed - 1e-6  # nothing is tipped on top of a batch still being carried
        assert after.wet >= before.mixed - 1e-6  # one drum
    assert all(b.bags <= mixer and b.buckets * site.bucket * site.fill >= b.bags * pour.mix.yields - 1e-9 for b in plan.batches)
    assert 0.0 <= plan.oldest <= plan.done - site.start
    one_more = batches(cap(cubic_feet, lower=lower), replace(site, people=people + 1))
    assert one_more.done <= plan.done + 1e-6


def test_figures_open_to_sources(cap: Build) -> None:
    for figure in batches(cap(3 * 1.2), Site()).figures:
        assert spell(figure.cite)


@pytest.mark.parametrize(("field", "value"), [("mixer", 0), ("people", 0), ("trip", 0.0), ("fill", 1.5)])
def test_an_impossible_site_is_refused_by_name(cap: Build, field: str, value: float) -> None:
    with pytest.raises(ValueError, match="fill" if field == "fill" else field):
        batches(cap(), replace(Site(), **{field: value}))
