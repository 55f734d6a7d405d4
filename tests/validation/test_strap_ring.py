"""A strap ratcheted round four corner blocks, worked by hand from the belt friction equation."""

from __future__ import annotations

import pytest

from crownwright.codes.capstan import clamp_force, side_tensions
from crownwright.codes.fmcsa_393_108 import webbing_limit
from crownwright.quantity.units import INCH, LBF


@pytest.mark.parametrize(("friction", "expected"), [(0.0, 8.0), (0.2, 5.989), (0.3, 5.276), (0.4, 4.703)])
def test_sum_of_normal_forces_over_ratchet_tension(theirs, friction, expected):
    theirs(f"sum of N over T at friction {friction}", expected, clamp_force(1.0, friction), tol=0.0005, grade="derived")


@pytest.mark.parametrize(("friction", "expected"), [(0.2, 53), (0.3, 39), (0.4, 28.5)])
def test_far_side_keeps(theirs, friction, expected):
    far = 100 * side_tensions(1.0, friction)[2]
    theirs(f"far side tension at friction {friction}", expected, far, unit="%", tol=0.5, grade="derived")  # printed to 1 or 0.5 %


def test_300_dan_at_the_ratchet(theirs):
    normal = clamp_force(3000.0, 0.3) / LBF
    theirs("sum of N, 674.4 lb at the ratchet, friction 0.3", 3558, normal, unit="lb", tol=0.5, grade="derived")
    theirs("holds at wood on stone 0.4", 1423, 0.4 * normal, unit="lb", tol=0.5, grade="derived")
    theirs("holds at wood on stone 0.2", 712, 0.2 * normal, unit="lb", tol=0.5, grade="derived")
    theirs("frictionless strap, 0.4", 2158, 0.4 * clamp_force(3000.0, 0.0) / LBF, unit="lb", tol=0.5, grade="derived")
    demand = 355
    theirs("factor of safety at 0.3", 3.0, 0.3 * normal / demand, tol=0.05, grade="derived")
    theirs("factor of safety at 0.2", 2.0, 0.2 * normal / demand, tol=0.05, grade="derived")
    assert webbing_limit(2 * INCH) > 3000.0
