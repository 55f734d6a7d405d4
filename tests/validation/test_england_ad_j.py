"""Approved Document J (England), diagram 17 and 2.8, with the coping distance of PD 6697."""

from __future__ import annotations

from math import radians, tan

import pytest

from crownwright.codes.cap_rules import rule
from crownwright.codes.england_ad_j import outlet_height


@pytest.mark.parametrize(
    ("what", "printed", "ours"),
    [
        ("on the ridge, above it", 600, outlet_height(radians(40), 0.0)),
        ("600 mm from the ridge, above it", 600, outlet_height(radians(40), 0.6) - 0.6 * tan(radians(40))),
        ("shallow roof, above the surface", 1000, outlet_height(radians(15), 6.0)),
        ("steep roof, horizontally to the surface", 2300, outlet_height(radians(35), 6.0) / tan(radians(35))),
        ("drip from the wall", 40, rule("england", "drip_from_wall").at_least),
        ("flue length", 4500, rule("england", "flue_length").at_least),
    ],
)
def test_outlet(theirs, what, printed, ours):
    theirs(what, printed, 1000 * ours, unit="mm", tol=1e-6, place="diagram 17")
