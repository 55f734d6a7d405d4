"""ASCE 7-16, 4.8.2: live load of an ordinary roof by its pitch (from memory)."""

from __future__ import annotations

from math import atan

import pytest

from crownwright.codes.asce_7_roof_live import roof_live_load
from crownwright.quantity.units import FT2, PSF


@pytest.mark.parametrize(("rise", "psf"), [(0, 20), (4, 20), (6, 18), (8, 16), (10, 14), (12, 12), (18, 12)])
def test_by_pitch(theirs, rise, psf):
    ours = roof_live_load(atan(rise / 12)) / PSF
    theirs(f"{rise} in 12, to 200 ft2", psf, ours, unit="psf", tol=1e-9, place="eq. 4.8-1", grade="from memory")


@pytest.mark.parametrize(("area", "psf"), [(200, 20), (400, 16), (600, 12), (900, 12)])
def test_by_area(theirs, area, psf):
    ours = roof_live_load(0.0, area * FT2) / PSF
    theirs(f"flat, {area} ft2", psf, ours, unit="psf", tol=1e-9, place="eq. 4.8-1", grade="from memory")
