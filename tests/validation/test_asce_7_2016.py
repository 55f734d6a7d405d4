"""ASCE 7-16, wind on chimneys and snow."""

from __future__ import annotations

import pytest

from crownwright.codes.asce_7_2016 import elevation_factor, flat_roof_snow, force_coefficient, velocity_factor, velocity_pressure
from crownwright.quantity.units import PSF


def test_velocity_pressure_of_a_public_copy(theirs):
    kz, ke = velocity_factor(5.0, "C"), elevation_factor(110.0)
    place = "26.10, exposure C at 5 m, 110 m above the sea, 52 m/s"
    theirs("Kz", 0.86503, kz, tol=0.000005, place=place)
    theirs("Ke", 0.98700, ke, tol=0.000025, place=place)  # theirs by the metric exponent, ours by the one in feet
    q = velocity_pressure(52.0, kz, kd=0.85, ke=ke, air=0.613)
    theirs("velocity pressure", 1202.9, q, unit="Pa", tol=0.1, place=place)


def test_flat_roof_snow(theirs):
    theirs("30 psf ground snow, all factors 1", 21.0, flat_roof_snow(30 * PSF) / PSF, unit="psf", tol=1e-9, place="7.3-1")


ROWS = {
    "square, wind on a face": (1.3, 1.4, 2.0),
    "square, wind on a corner": (1.0, 1.1, 1.5),
    "round, smooth": (0.5, 0.6, 0.7),
    "round, rough": (0.7, 0.8, 0.9),
    "round, very rough": (0.8, 1.0, 1.2),
}


@pytest.mark.parametrize("shape", ROWS)
def test_force_coefficients(theirs, shape):
    for slender, printed in zip((1, 7, 25), ROWS[shape], strict=True):
        ours = force_coefficient(shape, slender, 1.0, 1000.0)
        theirs(f"Cf, {shape}, h/D {slender}", printed, ours, tol=1e-12, place="Fig. 29.4-1")


def test_small_round_stacks_take_one_row_for_all_surfaces(theirs):
    for slender, printed in ((1, 0.7), (7, 0.8), (25, 1.2)):
        ours = force_coefficient("round, smooth", slender, 0.1, 1000.0)
        theirs(f"Cf, small round, h/D {slender}", printed, ours, tol=1e-12, place="Fig. 29.4-1")
