"""Home inspection guides: chimney crowns, masonry cracks, bulges; policies on cap cracks stand beside them."""

from __future__ import annotations

from crownwright.quantity.units import INCH
from crownwright.repair.defects import defect
from crownwright.repair.thresholds import CRACKS_TOGETHER


def test_cracks_in_masonry(theirs):
    crack = defect("masonry crack")
    theirs(
        "crack that an engineer sees, from", 1 / 8, crack.grades[1].begins / INCH, unit="in.", tol=1e-9, place="wall crack sizes"
    )
    theirs("small cracks together, from", 1 / 4, CRACKS_TOGETHER / INCH, unit="in.", tol=1e-9, place="wall crack sizes")
    assert not crack.grade(0.12 * INCH).blocks
    assert crack.grade(0.125 * INCH).blocks
    assert crack.grade(0.01 * INCH, offset=0.01 * INCH).blocks  # any step between the sides


def test_any_bulge_or_lean_is_movement():
    assert defect("bulge").grade(0.01 * INCH).blocks
    assert defect("bulge").grade(None).blocks
    assert defect("lean").grade(0.5 * INCH).see == "structural engineer"


def test_a_step_or_a_sixteenth_in_a_cap_is_the_end_of_it(theirs):
    crack = defect("cap crack")
    theirs("cap cast anew from", 1 / 16, crack.grades[2].begins / INCH, unit="in.", tol=1e-9, place="policy", grade="derived")
    assert crack.grade(0.001 * INCH, offset=0.001).call == "recast"
