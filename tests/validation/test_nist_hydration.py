"""NIST hydration data set, cements 115 and 116: activation energies and the factors to 25 degC."""

from __future__ import annotations

from collections.abc import Callable
from statistics import mean

from crownwright.codes.astm_c1074 import ENERGY_BAND, rate_factor

ENERGIES = (39.3, 41.3, 36.9, 36.5, 40.0, 35.3)  # kJ/mol


def test_factors_to_25_degrees(theirs: Callable[..., None]) -> None:
    theirs("mean energy", 38.2, mean(ENERGIES), unit="kJ/mol", tol=0.05)
    theirs("factor at 15 degC", 0.585, rate_factor(15.0, 38_200.0, 25.0), tol=0.001)  # printed to three digits; ours 0.5858
    theirs("factor at 35 degC", 1.65, rate_factor(35.0, 38_200.0, 25.0), tol=0.005)


def test_the_band_holds_every_one_of_them() -> None:
    low, high = ENERGY_BAND
    assert all(low <= 1000 * energy <= high for energy in ENERGIES)
