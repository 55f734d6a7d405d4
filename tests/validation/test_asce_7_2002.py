"""ASCE 7-02, a published table of wind on a stack (90 mph, exposure B, Kd 0.95, importance 1)."""

from __future__ import annotations

import pytest

from crownwright.codes.asce_7_2016 import velocity_factor, velocity_pressure, wind_force
from crownwright.quantity.units import FOOT, MPH, PSF


@pytest.mark.parametrize(
    ("feet", "kz", "qz", "pressure"), [(50, 0.81, 15.97, 12.54), (80, 0.93, 18.26, 14.34), (120, 1.04, 20.51, 16.10)]
)
def test_stack_table(theirs, feet, kz, qz, pressure):
    ours = velocity_factor(feet * FOOT, "B")
    q = velocity_pressure(90 * MPH, ours, kd=0.95)
    at, place = f"{feet} ft", "stack table"
    theirs(f"Kz at {at}", kz, ours, tol=0.005, place=place)
    theirs(f"velocity pressure at {at}", qz, q / PSF, unit="psf", tol=0.005, place=place)
    # the table multiplies rounded pressures, so its last digit may be one off
    theirs(
        f"force on a round stack at {at}", pressure, wind_force(q, 0.7, 1.0, gust=1.122) / PSF, unit="psf", tol=0.012, place=place
    )
