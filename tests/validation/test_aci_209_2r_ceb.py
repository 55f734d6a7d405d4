"""ACI 209.2R-08, Appendix C: the CEB MC90-99 shrinkage example (RH 70 %, V/S 100 mm, moist 7 d, f_cm28 33.0 MPa)."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.codes import ceb_mc90_99 as ceb
from crownwright.quantity.units import DAY

STRENGTH = 33.0e6


def test_the_constants(theirs: Callable[..., None]) -> None:
    theirs("notional drying shrinkage", 444, ceb.basic_drying(STRENGTH) * 1e6, unit="1e-6", tol=0.5, place="Appendix C")
    theirs("humidity at 70 %", -1.018, ceb.humidity_factor(0.70), tol=5e-4, place="Appendix C")


@pytest.mark.parametrize(
    ("days", "progress", "strain"),
    [(14, 0.071, -32), (28, 0.122, -55), (60, 0.191, -86), (90, 0.237, -107), (180, 0.332, -150), (365, 0.451, -204)],
)
def test_the_table(theirs: Callable[..., None], days: int, progress: float, strain: int) -> None:
    theirs(f"beta_ds at {days} d", progress, ceb.drying_progress((days - 7) * DAY, 0.100), tol=5e-4, place="Appendix C")
    ours = ceb.drying(STRENGTH, 0.70, (days - 7) * DAY, 0.100) * 1e6
    theirs(f"drying shrinkage at {days} d", strain, ours, unit="1e-6", tol=0.6, place="Appendix C")  # the inch table: -87, -205
