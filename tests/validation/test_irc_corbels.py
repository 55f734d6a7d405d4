"""International Residential Code, first draft 1998, 1001.2 (later R1003.5): corbels."""

from __future__ import annotations

import pytest

from crownwright.codes.irc_corbels import TOTAL_OVER_WALL, course_most, total_most
from crownwright.quantity.units import INCH


@pytest.mark.parametrize(
    ("says", "high", "deep", "most"),
    [
        ("modular brick laid flat", 2.25, 3.625, 1.125),
        ("stone 6 in. high, 9 in. deep", 6, 9, 3.0),
        ("stone 8 in. high, 9 in. deep", 8, 9, 3.0),
    ],
)
def test_one_course(theirs, says, high, deep, most):
    """Half the unit's height or a third of its bed depth, the lesser."""
    ours = course_most(high * INCH, deep * INCH) / INCH
    theirs(f"one course, {says}", most, ours, unit="in.", tol=1e-9, place="1001.2", grade="derived")


def test_all_courses(theirs):
    theirs("total over the wall's thickness", 0.5, TOTAL_OVER_WALL, tol=0, place="1001.2")
    theirs("12 in. wall", 6, total_most(12 * INCH) / INCH, unit="in.", tol=1e-9, place="1001.2", grade="derived")
