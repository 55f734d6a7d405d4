"""Michigan Residential Code 2015, R 408.30547b (R1003.9.1 as amended)."""

from __future__ import annotations

from math import degrees

import pytest

from crownwright.codes.cap_rules import rule, rule_set
from crownwright.quantity.units import INCH


@pytest.mark.parametrize(("name", "printed"), [("edge_thickness", 2), ("overhang", 2), ("drip_from_wall", 1.5)])
def test_lengths(theirs, name, printed):
    one = rule("michigan_2015", name)
    theirs(one.says, printed, one.at_least / INCH, unit="in.", tol=1e-9, place="R1003.9.1")


def test_slope_and_sealant(theirs):
    theirs("slope", 10, degrees(rule("michigan_2015", "slope").at_least), unit="deg", tol=1e-9, place="R1003.9.1")
    theirs("sealant class", 25, 100 * rule("michigan_2015", "sealant_class").at_least, tol=1e-9, place="R1003.9.1")


def test_it_alone_of_the_model_code_family_wants_a_slip_under_the_cap():
    assert rule_set("michigan_2015").asks("wall_break")
    assert not rule_set("us-model").asks("wall_break")
