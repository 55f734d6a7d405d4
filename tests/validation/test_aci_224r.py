"""ACI 224R, Control of Cracking in Concrete Structures, Table 4.1: reasonable crack widths."""

from __future__ import annotations

import pytest

from crownwright.codes.aci_224r import tolerable_width
from crownwright.quantity.units import INCH
from crownwright.repair.defects import defect


@pytest.mark.parametrize(
    ("exposure", "width"),
    [("dry air", 0.016), ("moist air or soil", 0.012), ("deicing chemicals", 0.007), ("sea water, wetting and drying", 0.006),
     ("water retaining", 0.004)],
)  # fmt: skip
def test_widths(theirs, exposure, width):
    theirs(exposure, width, tolerable_width(exposure) / INCH, unit="in.", tol=1e-9, place="Table 4.1")


def test_a_cap_is_judged_by_moist_air(theirs):
    crack = defect("cap crack")
    theirs(
        "cap crack to be sealed from", 0.012, crack.grades[1].begins / INCH, unit="in.", tol=1e-9, place="Table 4.1, moist air"
    )
    assert crack.grade(0.0119 * INCH).fine
    assert crack.grade(tolerable_width("moist air or soil")).call == "seal"
