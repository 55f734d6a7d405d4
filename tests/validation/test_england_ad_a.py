"""Approved Document A (England), masonry chimneys."""

from __future__ import annotations

from crownwright.codes.cap_rules import rule
from crownwright.codes.england_ad_a import greatest_height
from crownwright.quantity.units import FOOT, INCH


def test_four_and_a_half_widths(theirs):
    theirs("600 mm least width", 2.70, greatest_height(0.600), unit="m", tol=0.0005, place="chimneys", grade="derived")
    theirs("32 in. least width", 12, greatest_height(32 * INCH) / FOOT, unit="ft", tol=1e-9, place="chimneys", grade="derived")
    theirs("the ratio", 4.5, rule("england", "slenderness").at_most, tol=0.0, place="chimneys")
