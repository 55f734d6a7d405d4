"""International Residential Code 2018, Table R1003.20: height of a cricket for the roof's slope.

W/2 at 12 in 12, W/3 at 8, W/4 at 6, W/6 at 4, W/8 at 3 (the table from memory but for its 12 in 12 row), at W = 36 in. as worked in
the facts: 18, 12, 9, 6 and 4.5 in. Exact rows: tolerance of the arithmetic.
"""

from __future__ import annotations

from math import atan

import pytest

from crownwright.quantity.units import INCH
from crownwright.repair.cricket import Cricket


@pytest.mark.parametrize(
    ("rise", "height", "grade"),
    [
        (12, 18.0, "read"),
        (8, 12.0, "from memory"),
        (6, 9.0, "from memory"),
        (4, 6.0, "from memory"),
        (3, 4.5, "from memory"),
    ],
)
def test_height(theirs, rise, height, grade):
    ours = Cricket(36 * INCH, atan(rise / 12)).height / INCH
    theirs(f"cricket of a 36 in. chimney, {rise} in 12", height, ours, unit="in.", tol=1e-9, place="Table R1003.20", grade=grade)
