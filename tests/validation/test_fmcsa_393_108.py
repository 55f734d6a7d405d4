"""49 CFR 393.108, working load limits of tiedowns."""

from __future__ import annotations

import pytest

from crownwright.codes.fmcsa_393_108 import webbing_limit
from crownwright.quantity.units import G0, INCH, LBF


@pytest.mark.parametrize(("width", "pounds", "kilograms"), [(1.75, 1750, 790), (2, 2000, 910), (3, 3000, 1360), (4, 4000, 1810)])
def test_unmarked_synthetic_webbing(theirs, width, pounds, kilograms):
    limit = webbing_limit(width * INCH)
    theirs(f"webbing {width} in.", pounds, limit / LBF, unit="lb", tol=1e-6, place="table, synthetic webbing")
    theirs(f"webbing {width} in., metric column", kilograms, limit / G0, unit="kg", tol=5, place="table")  # printed to 10 kg
