"""Vose, Handbook of Railroad Construction (1857), sec. 108: a cutting by end areas and by the prismoidal formula.

Read. Base 20 ft, side slopes 1 1/2 to 1, cuts of 0, 5, 10, 15 and 0 ft at stations 50 ft apart. Our number is the volume of the
cutting as a closed mesh, by the divergence theorem, and the integral of its depth over the plan: neither uses the formula.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest

from crownwright.geometry.solid import Solid
from crownwright.geometry.surface import integral, plan_mesh

CUTS = (0.0, 5.0, 10.0, 15.0, 0.0)
STATION, HALF_BASE, SLOPE = 50.0, 10.0, 1.5


def cutting() -> float:
    """Volume (ft3) of the cutting: depth over its plan, a surface of flat facets, integrated triangle by triangle."""
    x = np.arange(5) * STATION
    bank = HALF_BASE + SLOPE * np.array(CUTS)
    outer = np.vstack([np.column_stack([x, -bank]), np.column_stack([x, bank])[::-1]])
    foot = [np.array([(0.0, side * HALF_BASE), (200.0, side * HALF_BASE)]) for side in (-1, 1)]
    stations = [np.array([(s, -40.0), (s, 40.0)]) for s in x[1:-1]]
    plan, triangles = plan_mesh(outer, [*foot, *stations], ())
    depth = np.minimum(np.interp(plan[:, 0], x, CUTS), np.maximum(0, (bank_at(plan[:, 0]) - np.abs(plan[:, 1])) / SLOPE))
    return integral(np.column_stack([plan, depth]), triangles)


def bank_at(x: np.ndarray) -> np.ndarray:
    return HALF_BASE + SLOPE * np.interp(x, np.arange(5) * STATION, CUTS)


def closed_mesh() -> float:
    """The same by the divergence theorem, a closed mesh lofted from section to section."""
    total = 0.0
    for k, (a, b) in enumerate(pairwise(CUTS)):
        rings = [section(k * STATION, a), section((k + 1) * STATION, b)]
        points = np.vstack(rings)
        sides = [t for i in range(4) for t in ((i, (i + 1) % 4, i + 4), ((i + 1) % 4, (i + 1) % 4 + 4, i + 4))]
        caps = [(0, 2, 1), (0, 3, 2), (4, 5, 6), (4, 6, 7)]
        total += abs(Solid("stretch", points, np.array(sides + caps)).volume)
    return total


def section(x: float, cut: float) -> np.ndarray:
    top = HALF_BASE + SLOPE * cut
    return np.array([(x, -HALF_BASE, -cut), (x, HALF_BASE, -cut), (x, top, 0.0), (x, -top, 0.0)])


def section_area(cut: float) -> float:
    return 2 * HALF_BASE * cut + SLOPE * cut**2


@pytest.mark.parametrize("way", [cutting, closed_mesh])
def test_volume_of_the_cutting(way: Callable[[], float], theirs: Callable[..., None]) -> None:
    # he prints mid areas 59, 236, 483, 236 for 59.375, 234.375, 484.375, 234.375: that is 33 cubic ft in all
    theirs("cutting, prismoidal, his printed mid areas", 52_533, way(), unit="cu ft", tol=34.0, place="sec. 108")
    theirs("cutting, prismoidal, exact mid areas", 52_500, way(), unit="cu ft", tol=0.01, place="sec. 108", grade="derived")


def test_end_areas_say_more(theirs: Callable[..., None]) -> None:
    areas = [section_area(cut) for cut in CUTS]
    for printed, ours in zip((0, 137, 350, 637, 0), areas, strict=True):
        theirs("section", printed, ours, unit="sq ft", tol=0.5 + 1e-9, place="sec. 108")  # he drops the half foot
    ends = sum((a + b) / 2 * STATION for a, b in pairwise(areas))
    theirs("cutting by averaging end areas", 56_200, ends, unit="cu ft", tol=51, place="sec. 108")  # he drops two halves: 50 ft3
    assert ends > cutting()
