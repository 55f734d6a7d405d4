"""Mix temperature advice does what it says, keeps to its caps, and says when nothing alone will do."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.codes.aci_305r_2010 import WATER_CAP, Ingredients, mix_temperature
from crownwright.concrete.bags import bag
from crownwright.concrete.temperature import COLD_TAP, Advice, bag_mix, cooler, warmer, warmth
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import LB, celsius, fahrenheit

EIGHTY = bag("80 lb")


def mixed(bags: float, water: float, **more: float) -> Ingredients:
    """A mix of one 80 lb bag, temperatures in F."""
    return bag_mix(EIGHTY, EIGHTY.water_usual, celsius(bags), celsius(water), **more)


def follow(mix: Ingredients, advice: Advice) -> float:
    """The temperature after doing as told, worked from the ingredients and not from the advice."""
    water = mix.water_temperature if advice.with_water is None else advice.with_water
    if advice.kind == "ice":
        return mix_temperature(replace(mix, water=mix.water + mix.ice - advice.value, ice=advice.value))
    if advice.kind in {"cool the water", "warm the water"}:
        return mix_temperature(replace(mix, water_temperature=advice.value))
    return mix_temperature(replace(mix, aggregate_temperature=advice.value, water_temperature=water))


@settings(max_examples=150, deadline=None)
@given(st.floats(33, 130), st.floats(33, 110), st.floats(-10, 40), st.floats(33, 110))
def test_following_the_advice_gives_what_it_promises(bags: float, water: float, target: float, air: float) -> None:
    mix = mixed(bags, water)
    for advice in (*cooler(mix, target, celsius(air)), *warmer(mix, target)):
        after = follow(mix, advice)
        assert after == pytest.approx(advice.brings, abs=1e-6)
        assert advice.enough == (abs(after - target) < 0.05)
        if "water" in advice.kind or advice.with_water is not None:
            at = advice.value if "water" in advice.kind else advice.with_water
            assert at is not None
            assert min(COLD_TAP, mix.water_temperature) - 1e-9 <= at <= WATER_CAP + 1e-9


@settings(max_examples=80, deadline=None)
@given(st.floats(60, 130), st.floats(40, 100), st.floats(60, 110))
def test_shade_never_promises_bags_cooler_than_the_air(bags: float, water: float, air: float) -> None:
    for advice in cooler(mixed(bags, water), 20.0, celsius(air)):
        if advice.kind == "shade the bags":
            assert advice.value >= min(celsius(air), celsius(bags)) - 1e-9


def test_hot_bags_left_in_the_sun_need_more_than_one_thing() -> None:
    found = warmth(mixed(140, 85), celsius(95), 0.1)
    assert found.findings[0].verdict is Verdict.SHORT
    assert found.advice[0].enough
    assert found.advice[0].with_water is not None or found.advice[0].kind == "ice" or found.advice[0].kind == "shade the bags"


def test_a_frozen_bag_damp_inside_is_colder_than_a_dry_one() -> None:
    dry = mix_temperature(mixed(25, 120))
    damp = mix_temperature(mixed(25, 120, moisture=0.5 * LB))
    assert fahrenheit(dry) - fahrenheit(damp) > 1.5  # half a pound of ice takes about 72 Btu out of some 24 Btu/F


def test_a_cold_day_asks_for_the_warmth_of_the_guide() -> None:
    at_38, at_25 = warmth(mixed(45, 60), celsius(38), 0.1), warmth(mixed(45, 60), celsius(25), 0.1)
    assert (round(fahrenheit(at_38.least)), round(fahrenheit(at_25.least))) == (60, 65)
    assert round(fahrenheit(at_38.most)) == 80


def test_water_over_the_cap_is_a_finding_even_where_the_mix_is_right() -> None:
    found = warmth(mixed(40, 160), celsius(38), 0.1)
    assert next(f for f in found.findings if f.key == "concrete.mix_water").verdict is Verdict.SHORT


def test_words_use_the_units_they_are_given() -> None:
    advice = warmer(mixed(40, 55), celsius(60))[0]
    assert advice.words(lambda t: f"{fahrenheit(t):.0f} F", lambda m: f"{m:.1f} kg").startswith("warm the water: 116 F")
