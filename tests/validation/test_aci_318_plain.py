"""ACI 318, structural plain concrete (-14 and -19, chapter 14), strengths tabulated by hand."""

from __future__ import annotations

from math import sqrt

import pytest

from crownwright.codes.aci_318_plain import bending_stress, elasticity, punching_stress, reduction, rupture, shear_stress
from crownwright.quantity.units import PSI

ROWS = [
    (500, 168, 67.1, 17.9),
    (1000, 237, 94.9, 25.3),
    (2000, 335, 134.2, 35.8),
    (3000, 411, 164.3, 43.8),
    (4000, 474, 189.7, 50.6),
]


@pytest.mark.parametrize(("strength", "cracks", "bends", "shears"), ROWS)
def test_strengths(theirs, strength, cracks, bends, shears):
    f, phi = strength * PSI, reduction("2019")
    at = f"f'c {strength} psi"
    theirs(f"modulus of rupture, {at}", cracks, rupture(f) / PSI, unit="psi", tol=0.5, place="19.2.3.1", grade="read")
    theirs(f"bending, {at}", bends, phi * bending_stress(f) / PSI, unit="psi", tol=0.05, place="14.5.2.1", grade="from memory")
    theirs(
        f"one-way shear, {at}", shears, phi * shear_stress(f) / PSI, unit="psi", tol=0.05, place="14.5.5.1", grade="from memory"
    )


@pytest.mark.parametrize(
    ("what", "coefficient", "ours"),
    [("modulus of rupture", 0.62, rupture), ("bending", 0.42, bending_stress), ("one-way shear", 0.11, shear_stress)],
)
def test_metric_coefficients(theirs, what, coefficient, ours):
    """The metric edition prints the coefficients of sqrt(f'c) in MPa, to two places."""
    theirs(
        f"{what}, of sqrt(MPa)", coefficient, ours(25e6) / 1e6 / sqrt(25), tol=0.005, place="metric edition", grade="from memory"
    )


def test_two_way_shear_is_capped(theirs):
    theirs(
        "square area, of sqrt(psi)", 2.66, punching_stress(1 * PSI, 1.0) / PSI, tol=1e-9, place="14.5.5.1", grade="from memory"
    )


def test_elasticity(theirs):
    theirs("Ec at 4,000 psi", 3.6e6, elasticity(4000 * PSI) / PSI, unit="psi", tol=6e3, place="19.2.2.1", grade="read")


@pytest.mark.parametrize(("edition", "phi"), [("1999", 0.65), ("2002", 0.55), ("2005", 0.55), ("2008", 0.60), ("2019", 0.60)])
def test_strength_reduction_by_edition(theirs, edition, phi):
    theirs(f"phi of ACI 318-{edition[2:]}", phi, reduction(edition), tol=0.0, place="strength reduction", grade="from memory")
