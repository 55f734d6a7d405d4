"""International Residential Code, R1003.5: how far masonry may step out over what is below it (corbels)."""

from __future__ import annotations

TOTAL_OVER_WALL = 0.5
"""All steps together over the thickness of the wall. A wall under 12 in. is stepped out only if equally on both sides."""


def course_most(unit_height: float, bed_depth: float) -> float:
    """Furthest one course may step out, m: half the unit's height or a third of its bed depth, the lesser. Both m.

    >>> from crownwright.quantity.units import INCH
    >>> round(course_most(2.25 * INCH, 3.625 * INCH) / INCH, 3)
    1.125
    """
    return min(unit_height / 2, bed_depth / 3)


def total_most(wall: float) -> float:
    """Furthest all courses together may step out, m: half the wall's thickness, m.

    >>> total_most(0.2)
    0.1
    """
    return TOTAL_OVER_WALL * wall
