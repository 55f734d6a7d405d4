"""Brick Industry Association, Technical Notes 36A (1981), and Masonry Magazine, August 1993, p. 10 (chimney caps)."""

from __future__ import annotations

from math import tan

import pytest

from crownwright.codes.cap_rules import conflicts, rule
from crownwright.quantity.units import INCH


@pytest.mark.parametrize(("name", "printed"), [("edge_thickness", 2), ("overhang", 2.5), ("drip_from_wall", 1)])
def test_lengths(theirs, name, printed):
    one = rule("bia_tn36a", name)
    theirs(one.says, printed, one.at_least / INCH, unit="in.", tol=1e-9, place=one.cite.clause)


def test_slope(theirs):
    theirs("fall", 3, 12 * tan(rule("bia_tn36a", "slope").at_least), unit="in/ft", tol=1e-9, place="p. 10")


def test_the_sources_do_not_agree_on_the_drip():
    distances = {which: one.at_least / INCH for which, one in conflicts("drip_from_wall")}
    assert distances["bia_tn36a"] < distances["ontario_332_12"] + 0.1 < distances["astm_c1283"] < distances["england"]
