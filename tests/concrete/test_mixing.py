"""The day's mixing put together: only the wiring."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.cap.model import CapDesign
from crownwright.concrete.choices import ConcreteChoices
from crownwright.concrete.mixing import Conditions, mixing_for
from crownwright.concrete.pour import pour_for
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import celsius
from crownwright.sources.bibliography import spell


@pytest.mark.parametrize(("bags", "water", "air"), [(70, 60, 65), (95, 80, 98), (35, 50, 36), (20, 120, 22)])
def test_any_day_has_its_warmth_batches_and_cautions(
    cap: Callable[..., CapDesign], bags: float, water: float, air: float
) -> None:
    pour = pour_for(cap(), ConcreteChoices())
    day = mixing_for(pour, Conditions(celsius(bags), celsius(water), celsius(air)), 0.09)
    keys = [figure.key for figure in (*pour.figures, *day.figures)]
    assert len(keys) == len(set(keys))
    assert all(spell(item.cite) for item in (*day.figures, *day.findings, *day.cautions))
    assert {"wet_cement", "silica", "flues", "lifting"} <= {c.key for c in day.cautions}
    assert ("heat" in {c.key for c in day.cautions}) == (air > 80)


def test_the_open_time_is_that_of_the_warmer_of_mix_and_air(cap: Callable[..., CapDesign]) -> None:
    pour = pour_for(cap(), ConcreteChoices())
    hot_air = mixing_for(pour, Conditions(20.0, 20.0, 35.0), 0.09)
    hot_mix = mixing_for(pour, Conditions(35.0, 35.0, 20.0), 0.09)
    assert hot_air.batches.open == pytest.approx(hot_mix.batches.open)


def test_a_frozen_day_is_found_short_and_says_what_to_do(cap: Callable[..., CapDesign]) -> None:
    day = mixing_for(pour_for(cap(), ConcreteChoices()), Conditions(-5.0, 10.0, -4.0), 0.09)
    assert day.findings[0].verdict is Verdict.SHORT
    assert day.warmth.advice[0].enough
