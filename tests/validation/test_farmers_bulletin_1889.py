"""USDA Farmers' Bulletin 1889 (1941), Fireplaces and Chimneys."""

from __future__ import annotations

from crownwright.codes.irc_2018 import flue_ratio as by_code
from crownwright.codes.irc_2018 import net_area
from crownwright.codes.usda_fb_1889 import flue_ratio
from crownwright.quantity.units import FOOT, IN2

OPENING = 7.5 * FOOT**2


def test_the_bulletins_example(theirs):
    theirs("7.5 ft2 at 22 ft and more, lined", 90, OPENING * flue_ratio(22 * FOOT) / IN2, unit="in2", tol=1e-6, place="p. 33")
    theirs("7.5 ft2, unlined", 108, OPENING * flue_ratio(30 * FOOT, lined=False) / IN2, unit="in2", tol=1e-6, place="p. 33")


def test_what_the_bulletin_picks_by_the_residential_code(theirs):
    """It picks 8 1/2 x 18, 12 round or 13x13; by the code of today the first falls short for its shape."""
    narrow = OPENING * by_code("rectangular", 18 / 8.5) / IN2
    theirs("8.5x18 would need", 135, narrow, unit="in2", tol=1e-6, place="p. 33 and R1003.15.1", grade="derived")
    assert net_area("8.5x18") / IN2 < narrow
    assert net_area("13x13") >= OPENING * by_code("square")
    assert net_area("round 12") >= OPENING * by_code("round")


def test_two_grates_on_one_flue(theirs):
    together = (3 + 1.5) * 0.85
    theirs("3 and 1.5 ft2 less 15 %", 3.8, together, unit="ft2", tol=0.05, place="p. 4")
