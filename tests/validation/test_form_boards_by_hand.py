"""Boards of a cap form, worked by hand from the National Design Specification and ACI 347.

Soffit board: 2x6 flat, 24 in. between corner blocks, under 4 in. of concrete at 150 lb/ft3, 50 psf of people and 5 psf of form.
Sidewall: on edge, bending flat about its weak axis, full liquid head over its height. Wet SPF No.2, E 1,260,000 psi.
"""

from __future__ import annotations

import pytest

from crownwright.codes.aci_347_04 import liquid_thrust
from crownwright.codes.beam_formulas import Rectangle, shear_stress, simple_uniform, span_for_deflection, span_for_ratio
from crownwright.codes.nds_2018 import lumber, modulus_value, shear_value
from crownwright.quantity.units import FOOT, INCH, LBF, PCF, PSF, PSI

SPF = lumber("SPF No.1/No.2")
E = modulus_value(SPF, wet=True)
PLF = LBF / FOOT


def test_soffit_board(theirs):
    board = Rectangle(5.5 * INCH, 1.5 * INCH)
    load = (150 * 4 / 12 + 50 + 5) * PSF * board.breadth
    bent = simple_uniform(load, 24 * INCH, E * board.inertia)
    for what, expected, ours, unit, tol in (
        ("load", 48.125, load / PLF, "lb/ft", 0.0005),
        ("moment", 288.75, bent.moment / (LBF * INCH), "in lb", 0.005),
        ("bending stress", 140.0, bent.moment / board.modulus / PSI, "psi", 0.05),
        ("shear", 48.1, bent.shear / LBF, "lb", 0.05),
        ("shear stress", 8.75, shear_stress(bent.shear, board.area) / PSI, "psi", 0.005),
        ("shear value", 163.7, shear_value(SPF, "seven days", wet=True) / PSI, "psi", 0.05),
        ("deflection", 0.0089, bent.deflection / INCH, "in.", 0.00005),
        ("limit L/360", 0.067, 24 / 360, "in.", 0.0005),
    ):
        theirs(f"soffit board: {what}", expected, ours, unit=unit, tol=tol, grade="derived")


@pytest.mark.parametrize(
    ("name", "height", "sags"),
    [
        ("2x6", 5.5, {36: 0.0147, 48: 0.0466, 60: 0.1137, 72: 0.2357}),
        ("2x4", 3.5, {36: 0.0094, 48: 0.0296, 60: 0.0723, 72: 0.150}),
    ],
)
def test_sidewall_sag(theirs, name, height, sags):
    board = Rectangle(height * INCH, 1.5 * INCH)
    load = liquid_thrust(150 * PCF, height * INCH)
    for inches, expected in sags.items():
        ours = simple_uniform(load, inches * INCH, E * board.inertia).deflection / INCH
        theirs(f"{name} sidewall, {inches} in.: sag", expected, ours, unit="in.", tol=0.00025, grade="derived")


@pytest.mark.parametrize(("name", "height", "by_sag", "by_ratio"), [("2x6", 5.5, 51.7, 68.2), ("2x4", 3.5, 57.9, 79.3)])
def test_sidewall_spans(theirs, name, height, by_sag, by_ratio):
    board = Rectangle(height * INCH, 1.5 * INCH)
    load, stiffness = liquid_thrust(150 * PCF, height * INCH), E * board.inertia
    sag = span_for_deflection(stiffness, load, INCH / 16) / INCH
    theirs(f"{name} sidewall: span for 1/16 in.", by_sag, sag, unit="in.", tol=0.06, grade="derived")
    ratio = span_for_ratio(stiffness, load, 360) / INCH
    theirs(f"{name} sidewall: span for L/360", by_ratio, ratio, unit="in.", tol=0.06, grade="derived")


def test_sidewall_stress_and_end_thrust(theirs):
    board = Rectangle(5.5 * INCH, 1.5 * INCH)
    load = liquid_thrust(150 * PCF, 5.5 * INCH)
    stress = simple_uniform(load, 48 * INCH, 1.0).moment / board.modulus / PSI
    # by hand: 183 psi for w L2/8 = 15.755/12 x 48^2/8 = 378 in lb over 2.0625 in3
    theirs("2x6 sidewall at 48 in.: bending stress", 183, stress, unit="psi", tol=0.5, grade="derived")
    theirs("45 in. 2x6 sidewall: thrust", 59, load * 45 * INCH / LBF, unit="lb", tol=0.1, grade="derived")
    theirs("45 in. 2x6 sidewall: thrust at an end", 29.5, load * 45 * INCH / 2 / LBF, unit="lb", tol=0.05, grade="derived")
