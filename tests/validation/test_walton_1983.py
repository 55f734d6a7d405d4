"""Walton (1983), NBSIR 83-2655: convection and sky radiation, values from an open program's engineering reference."""

from __future__ import annotations

from crownwright.codes import walton_1983 as walton


def test_sky_radiation(theirs):
    # the example takes 0 degC as 273 K and rounds the emissivity to 0.815 before it multiplies
    theirs("sky emissivity, dew point 10 degC, clear", 0.815, walton.sky_emissivity(10.0, 0.0), tol=5e-4)
    theirs(
        "sky radiation, air 20 degC, dew point 10 degC, clear", 340.6, walton.sky_radiation(20.0, 10.0, 0.0), unit="W/m2", tol=0.7
    )
    theirs("the same, half covered", 361.5, walton.sky_radiation(20.0, 10.0, 0.5), unit="W/m2", tol=0.1, grade="derived")
    theirs("the same, overcast", 393.8, walton.sky_radiation(20.0, 10.0, 1.0), unit="W/m2", tol=0.1, grade="derived")


def test_convection(theirs):
    # arithmetic of the printed formulas, two to four digits
    theirs(
        "by wind of 3 m/s on a 1.2 x 0.9 m cap", 13.17, walton.forced(3.0, 4.2, 1.08), unit="W/m2K", tol=0.005, grade="derived"
    )
    theirs("by buoyancy, warm level face, 10 K", 3.251, walton.natural_level(10.0), unit="W/m2K", tol=1e-3, grade="derived")
    theirs("by buoyancy, cool level face, 10 K", 1.637, walton.natural_level(-10.0), unit="W/m2K", tol=1e-3, grade="derived")
    theirs("by buoyancy, upright face, 10 K", 2.822, walton.natural_upright(10.0), unit="W/m2K", tol=1e-3, grade="derived")
