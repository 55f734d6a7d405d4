"""Public surveying examples of area by coordinates (a coordinate-geometry lecture; a fundamentals-of-surveying practice paper).

Read. Area = half the sum of x_i y_(i+1) - x_(i+1) y_i. In the first the page's printed cross sums are rounded to the foot and one
product (235.12 x 1126.40) is once misprinted 264,489 for 264,839; the exact figure follows from the printed coordinates.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import shapely

from crownwright.geometry.cells import cells
from crownwright.geometry.polygon import signed_area
from crownwright.geometry.surface import areas, plan_mesh

# northing, easting in ft: C, D, E, A, B
LOT = np.array([(406.31, 1259.97), (235.12, 1489.47), (65.81, 1126.40), (317.89, 942.04), (675.32, 1282.54)])
SQUARE = np.array([(0.0, 0), (0, 300), (200, 300), (200, 0)])


def test_lot_of_five_corners(theirs: Callable[..., None]) -> None:
    ours = abs(signed_area(LOT))
    theirs("area of the lot", 140_494, ours, unit="sq ft", tol=1.0, place="half of 2,190,612 - 1,909,624")  # sums to the foot
    theirs(
        "the same in acres", 3.22528, ours / 43_560, unit="acre", tol=5e-6, place="exact from the coordinates", grade="derived"
    )


def test_square_lot(theirs: Callable[..., None]) -> None:
    theirs("area of the square lot", 60_000, abs(signed_area(SQUARE)), unit="sq ft", tol=1e-9, place="practice paper")


def test_cells_and_triangles_fill_the_same_lot(theirs: Callable[..., None]) -> None:
    local = LOT - LOT.mean(0)
    by_cells = float(cells(shapely.Polygon(local), 25.0)[2].sum())
    by_triangles = float(areas(*plan_mesh(local, (), ())).sum())
    for way, ours in (("cells", by_cells), ("triangles", by_triangles)):
        theirs(f"area of the lot by {way}", 140_494, ours, unit="sq ft", tol=1.0, place="half of 2,190,612 - 1,909,624")
