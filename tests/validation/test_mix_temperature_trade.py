"""Trade magazine, questions and answers: temperature of a mix from its ingredients."""

from __future__ import annotations

from collections.abc import Callable

from crownwright.codes.aci_305r_2010 import Ingredients, mix_temperature
from crownwright.quantity.units import celsius, fahrenheit


def test_the_worked_example(theirs: Callable[..., None]) -> None:
    mix = Ingredients(470, 3300, 260, celsius(150), celsius(70), celsius(70))
    theirs("cement 470 lb at 150 F, the rest at 70 F", 77.6, fahrenheit(mix_temperature(mix)), unit="F", tol=0.05)
