"""Area by coordinates: exercise H of a coordinate-geometry course (five-sided traverse), and a surveying fundamentals guide."""

from __future__ import annotations

import numpy as np

from crownwright.geometry.polygon import signed_area

# corner: northing, easting in feet
TRAVERSE = {
    "C": (406.31, 1259.97), "D": (235.12, 1489.47), "E": (65.81, 1126.40), "A": (317.89, 942.04), "B": (675.32, 1282.54),
}  # fmt: skip


def test_traverse(theirs) -> None:
    ring = np.array([(e, n) for n, e in TRAVERSE.values()])
    # the printed sums 2,190,612 and 1,909,624 are each rounded product by product: half their difference is good to 2 ft2
    theirs("area of the traverse", 140_494, abs(signed_area(ring)), unit="ft2", tol=2.0, place="exercise H")
    # one product is printed 264,489 there; it is 264,839, and the sums were made with that
    theirs("product 235.12 x 1126.40", 264_839, TRAVERSE["D"][0] * TRAVERSE["E"][1], unit="ft2", tol=0.5, place="exercise H")


def test_rectangle(theirs) -> None:
    ring = np.array([(0.0, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0)])
    theirs("area of a lot of 200 by 300 ft", 60_000, signed_area(ring), unit="ft2", tol=0.0, place="coordinate method")
