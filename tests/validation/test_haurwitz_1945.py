"""Haurwitz (1945), clear-sky sunshine on the level: values as printed in the tests of an open solar library."""

from __future__ import annotations

import pytest

from crownwright.codes.haurwitz_1945 import clear_sky
from crownwright.codes.kasten_czeplak_1980 import cloud_factor

ORACLE = {5: 48.6299, 10: 135.7417, 30: 487.8941, 50: 778.7667, 90: 1035.0920}


@pytest.mark.parametrize("elevation", ORACLE)
def test_clear_sky(theirs, elevation):
    # printed to 1e-4 W/m2
    theirs(f"sun {elevation} degrees up", ORACLE[elevation], clear_sky(90.0 - elevation), unit="W/m2", tol=6e-5)


@pytest.mark.parametrize(("okta", "factor"), [(2, 0.993), (4, 0.929), (6, 0.718), (8, 0.25)])
def test_clouds(theirs, okta, factor):
    # three digits
    theirs(
        f"share let through, {okta} eighths of cloud",
        factor,
        cloud_factor(okta / 8),
        tol=5e-4,
        place="Kasten & Czeplak",
        grade="from memory",
    )
