"""ASTM C1472 form of joint widths for a liner that grows past the cap, worked by hand (expansion 3.3e-6 per F)."""

from __future__ import annotations

import pytest

from crownwright.codes.astm_c1472 import CLASSES, butt_width, growth, sealant_depth, shear_width
from crownwright.quantity.units import FOOT, INCH

CLAY = 3.3e-6 * 1.8  # per K


@pytest.mark.parametrize(("feet", "rise", "inches"), [(15, 300, 0.178), (25, 400, 0.396), (25, 1000, 0.990)])
def test_growth(theirs, feet, rise, inches):
    ours = growth(CLAY, feet * FOOT, rise / 1.8) / INCH
    theirs(f"{feet} ft of flue, {rise} F", inches, ours, unit="in.", tol=0.0005, place="growth", grade="derived")


@pytest.mark.parametrize(
    ("movement", "name", "inches"),
    [
        (0.396, "25", 0.528),
        (0.396, "50", 0.354),
        (0.396, "100/50", 0.229),
        (0.990, "25", 1.32),
        (0.990, "50", 0.885),
        (0.990, "100/50", 0.572),
    ],
)
def test_shear_width(theirs, movement, name, inches):
    ours = shear_width(movement, CLASSES[name])
    theirs(
        f"{movement} in., class {name}",
        inches,
        ours,
        unit="in.",
        tol=0.0006 if inches < 1 else 0.005,
        place="shear",
        grade="derived",
    )


@pytest.mark.parametrize(("width", "depth"), [(0.25, 0.25), (0.625, 0.3125), (2.0, 0.5)])
def test_sealant_depth(theirs, width, depth):
    theirs(
        f"{width} in. wide", depth, sealant_depth(width * INCH) / INCH, unit="in.", tol=1e-9, place="half the width, 1/4 to 1/2"
    )


def test_butt_width(theirs):
    theirs("a quarter inch at class 25", 1.0, butt_width(0.25, CLASSES["25"]), unit="in.", tol=1e-12, place="butt")


@pytest.mark.parametrize(
    ("what", "length", "rise", "inches"), [("13 in. of clay", 13, 400, 0.017), ("48 in. of concrete", 48, 100, 0.026)]
)
def test_sideways_growth_is_small(theirs, what, length, rise, inches):
    per_f = 3.3e-6 if "clay" in what else 5.5e-6
    ours = growth(per_f * 1.8, length * INCH, rise / 1.8) / INCH
    theirs(f"{what}, {rise} F", inches, ours, unit="in.", tol=0.0005, place="sideways", grade="derived")
