"""Plowman (1956): strength against the logarithm of maturity, textbook example (from memory)."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.codes.plowman_1956 import BANDS, FULL, strength_share
from crownwright.quantity.units import HOUR


def test_seven_days_of_warm_days_and_cool_nights(theirs: Callable[..., None]) -> None:
    """Fully matured 40 MPa; 84 h at 20 degC and 84 h at 10 degC, datum -11: M = 84 x 31 + 84 x 21 = 4368 degC h."""
    maturity = (84 * 31 + 84 * 21) * HOUR
    share = strength_share(maturity, 40e6)
    theirs("share of full strength", 66.6, 100 * share, unit="%", tol=0.05, grade="from memory")
    theirs("strength", 26.6, 40 * share, unit="MPa", tol=0.06, grade="from memory")  # printed from the rounded share


@pytest.mark.parametrize("limit", [band[0] for band in BANDS])
def test_full_maturity_is_all_of_it(theirs: Callable[..., None], limit: float) -> None:
    ours = 100 * strength_share(FULL * HOUR, limit)
    theirs(f"share at 19,800 degC h, to {limit / 1e6} MPa", 100, ours, unit="%", tol=2.5, grade="derived")  # the rows are rounded


def test_above_the_table_is_refused() -> None:
    with pytest.raises(ValueError, match="70 MPa"):
        strength_share(FULL * HOUR, 80e6)
