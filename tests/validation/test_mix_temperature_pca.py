"""Portland Cement Association, Design and Control of Concrete Mixtures: temperature of a mix, with and without ice.
Everything here is from memory.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from crownwright.codes.aci_305r_2010 import (
    Ingredients,
    frozen_moisture,
    heat_capacity,
    mix_temperature,
    solids_needed,
    water_needed,
)
from crownwright.concrete.bags import bag
from crownwright.concrete.temperature import bag_mix
from crownwright.quantity.units import LB, celsius, fahrenheit

PLAIN = Ingredients(564, 3100, 282, celsius(150), celsius(80), celsius(80))
ICED = replace(PLAIN, water=282 - 75, ice=75)
GRADE = "from memory"


def test_without_and_with_ice(theirs: Callable[..., None]) -> None:
    theirs("564 lb cement at 150 F, the rest at 80 F", 88.0, fahrenheit(mix_temperature(PLAIN)), unit="F", tol=0.05, grade=GRADE)
    theirs("75 lb of the water as ice", 74.8, fahrenheit(mix_temperature(ICED)), unit="F", tol=0.06, grade=GRADE)
    theirs("denominator", 1088, heat_capacity(PLAIN), tol=0.5, grade=GRADE)


def test_what_each_ingredient_must_fall_for_one_degree(theirs: Callable[..., None]) -> None:
    cooler = mix_temperature(PLAIN) - 1.0
    water = PLAIN.water_temperature - water_needed(PLAIN, cooler)
    theirs("water", 3.9, water, unit="degrees", tol=0.05, grade=GRADE)
    for name, expected in (("cement", 8.8), ("aggregate", 1.6)):
        field = f"{name}_temperature"
        fall = 1.0 / (mix_temperature(PLAIN) - mix_temperature(replace(PLAIN, **{field: getattr(PLAIN, field) - 1.0})))
        theirs(name, expected, fall, unit="degrees", tol=0.05, grade=GRADE)
    both = solids_needed(PLAIN, cooler)
    moved = replace(PLAIN, cement_temperature=both, aggregate_temperature=both)
    assert mix_temperature(moved) == pytest.approx(cooler)


@pytest.mark.parametrize(("bags", "water", "mix"), [(40, 140, 66.2), (30, 140, 58.9), (95, 60, 85.8), (95, 33, 78.7)])
def test_one_bag(theirs: Callable[..., None], bags: float, water: float, mix: float) -> None:
    ours = bag_mix(bag("80 lb"), 6.26 * LB / 998.0, celsius(bags), celsius(water))
    what = f"80 lb bag at {bags} F, 6.26 lb water at {water} F"
    theirs(what, mix, fahrenheit(mix_temperature(ours)), unit="F", tol=0.06, grade="derived")


def test_frozen_moisture_counts_as_the_guide_says(theirs: Callable[..., None]) -> None:
    theirs("frozen free moisture at 20 F", 0.5 * 20 - 128, fahrenheit(frozen_moisture(celsius(20))), unit="F", tol=1e-9,
           place="ACI 306R eq. 3-2", grade=GRADE)  # fmt: skip
