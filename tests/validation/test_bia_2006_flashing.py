"""Brick Industry Association, chimney flashing, Masonry Magazine, October 2006, p. 23.

Stainless steel Type 304 at least 0.01 in.; copper in mortar is fine; galvanized steel is not recommended; no aluminium in mortar.
Printed values: tolerance 0.
"""

from __future__ import annotations

import pytest

from crownwright.codes.flashing_metals import metal
from crownwright.quantity.units import INCH


def test_thinnest_stainless_steel(theirs):
    ours = metal("stainless steel 28 ga").least / INCH
    theirs("stainless steel, at least", 0.01, ours, unit="in.", tol=1e-12, place="flashing materials")


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("copper 16 oz", "yes"),
        ("stainless steel 26 ga", "yes"),
        ("galvanized steel 26 ga", "not recommended"),
        ("aluminum 0.019", "no"),
    ],
)
def test_what_may_lie_in_mortar(name, said):
    assert metal(name).in_mortar == said
