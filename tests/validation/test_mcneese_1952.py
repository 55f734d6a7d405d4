"""McNeese (1952): strength lost to one early freezing, as quoted later."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.codes.astm_c1074 import rate_factor
from crownwright.codes.mcneese_1952 import REFERENCE, WORST, freezings, loss_band
from crownwright.quantity.units import HOUR


@pytest.mark.parametrize("test", freezings(), ids=str)
def test_every_test_lies_in_the_band_at_its_age(theirs: Callable[..., None], test) -> None:  # type: ignore[no-untyped-def]
    """Age taken at 72 F; the two cast at 40 F were frozen at once, so their age is nothing either way."""
    age = test.delay * rate_factor(test.cast, reference=REFERENCE)
    low, high = loss_band(age)
    what = f"cast {test.cast:.0f} degC, {test.delay / HOUR:.0f} h, frozen at {test.frozen:.0f} degC: share lost"
    theirs(what, test.loss, min(max(test.loss, low), high), tol=1e-9)


def test_the_band_is_about_half_at_once_and_little_after_six_hours(theirs: Callable[..., None]) -> None:
    low, high = loss_band(0.0)
    assert low <= WORST <= high
    theirs("retained after 6 h at 72 F, at least", 0.85, 1 - loss_band(6 * HOUR)[1], tol=1e-9)
    assert loss_band(3 * HOUR)[1] < high
    assert loss_band(100 * HOUR) == loss_band(6 * HOUR)
