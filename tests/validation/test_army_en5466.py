"""US Army Engineer School subcourse EN5466A: free moisture on the aggregates taken off the mixing water."""

from __future__ import annotations

from collections.abc import Callable

from crownwright.codes.aci_211_1_1991 import Proportions, moisture_correction
from crownwright.quantity.units import GALLON, LB


def test_the_worked_example(theirs: Callable[..., None]) -> None:
    """1768 lb stone at 2 %, 1083 lb sand at 6 %, 38.6 gal of water, 7.05 sacks."""
    gallon = 8.34  # lb, as the course has it
    dry = Proportions(water=38.6 * gallon, cement=7.05 * 94, coarse=1768.0, sand=1083.0, air=0.05)
    damp = moisture_correction(dry, sand_free=0.06, coarse_free=0.02)
    theirs("free water on stone", 35.36, damp.coarse - dry.coarse, unit="lb", tol=0.005)
    theirs("free water on sand", 64.98, damp.sand - dry.sand, unit="lb", tol=0.005)
    theirs("free water in all", 100.34, dry.water - damp.water, unit="lb", tol=0.005)
    theirs("water to add", 26.6, damp.water / gallon, unit="gal", tol=0.05)
    theirs("a gallon of water", 8.34, GALLON * 998.0 / LB, unit="lb", tol=0.015)  # water at 20 degC against 62.4 lb/ft3
