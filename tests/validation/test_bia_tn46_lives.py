"""Brick Industry Association, Technical Notes 46: estimated times to repair, read in a mason's public page.

Sealant joints 5 to 20 years, metal coping and flashing 20 to 75, water repellents 5 to 10. Ours are the middle, and nineteen
cases in twenty within the range (a judgement): middle and quarter of the width, exact.
"""

from __future__ import annotations

import pytest

from crownwright.repair.years import lives


@pytest.mark.parametrize(("part", "low", "high"), [("sealant", 5, 20), ("flashing", 20, 75), ("repellent", 5, 10)])
def test_range(theirs, part, low, high):
    life = lives()[part].years
    theirs(f"{part}: shortest", low, life.mean - 2 * life.sd, unit="years", tol=1e-9, place="table of times to repair")
    theirs(f"{part}: longest", high, life.mean + 2 * life.sd, unit="years", tol=1e-9, place="table of times to repair")
