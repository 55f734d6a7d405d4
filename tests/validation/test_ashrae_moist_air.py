"""ASHRAE Handbook, Fundamentals, chapter 1 (moist air): published test values, and psychrolib as an independent program."""

from __future__ import annotations

import numpy as np
import psychrolib
import pytest

from crownwright.codes import ashrae_moist_air as air
from crownwright.codes.ashrae_wind import wind_at_height

psychrolib.SetUnitSystem(psychrolib.SI)
SATURATION = {-20: 103.24, -5: 401.74, 5: 872.6, 25: 3169.7, 50: 12351.3, 100: 101418.0}


@pytest.mark.parametrize("t", SATURATION)
def test_saturation_pressure(theirs, t):
    told = SATURATION[t]
    # the tables' own tolerance, 0.03 %
    theirs(
        f"saturation pressure at {t} degC", told, air.saturation_pressure(float(t)), unit="Pa", tol=3e-4 * told, place="Table 3"
    )


@pytest.mark.parametrize(("z", "p"), [(-500, 107478), (500, 95461), (1000, 89875), (4000, 61640)])
def test_pressure_by_height(theirs, z, p):
    # printed to 1 Pa
    theirs(f"standard pressure at {z} m", p, air.pressure_at_elevation(float(z)), unit="Pa", tol=0.6, place="Table 1")


def test_the_handbook_s_example(theirs):
    w = air.ratio_from_wet_bulb(40.0, 20.0)
    pw = w * 101325.0 / (air.MOLAR_RATIO + w)
    # read off a chart in the book: tolerances are those of its print
    theirs("humidity ratio, 40 degC dry, 20 degC wet bulb", 0.0065, w, unit="kg/kg", tol=1e-4, place="example 1")
    theirs("relative humidity", 0.14, pw / air.saturation_pressure(40.0), tol=0.005, place="example 1")
    theirs("dew point", 7.0, air.dew_point(pw), unit="degC", tol=0.5, place="example 1")
    theirs("enthalpy", 56.7, air.enthalpy(40.0, w) / 1000, unit="kJ/kg", tol=0.1, place="example 1")
    theirs("specific volume", 0.896, air.specific_volume(40.0, w), unit="m3/kg", tol=0.001, place="example 1")


def test_wet_bulb(theirs):
    # the printed value carries more digits than its solver's tolerance of 1e-3 K
    theirs("wet bulb of 7 degC, 61 %, 100 kPa", 3.92667, air.wet_bulb(7.0, 0.61, 100_000.0), unit="degC", tol=1e-3)


def test_against_psychrolib(theirs):
    rng = np.random.default_rng(3)
    pressure, dew, wet = 0.0, 0.0, 0.0
    for t, rh in zip(rng.uniform(-30, 45, 200), rng.uniform(0.05, 1.0, 200), strict=True):
        pressure = max(pressure, abs(air.saturation_pressure(t) / psychrolib.GetSatVapPres(t) - 1))
        dew = max(dew, abs(air.dew_point(rh * air.saturation_pressure(t)) - psychrolib.GetTDewPointFromRelHum(t, rh)))
        bulb = psychrolib.GetTWetBulbFromRelHum(t, rh, 101325.0)
        if abs(bulb) > 0.5:  # within half a kelvin of freezing a wet and an iced bulb both satisfy the equations
            wet = max(wet, abs(air.wet_bulb(t, rh) - bulb))
    what = "greatest difference over 200 random states"
    theirs(f"{what}: saturation pressure, relative", 0.0, pressure, tol=1e-9, grade="independent program")
    # the program solves both to 1e-3 K
    theirs(f"{what}: dew point", 0.0, dew, unit="K", tol=2e-3, grade="independent program")
    theirs(f"{what}: wet bulb", 0.0, wet, unit="K", tol=2e-3, grade="independent program")


@pytest.mark.parametrize(("ground", "share"), [("open", 0.969), ("wooded or suburb", 0.682), ("town centre", 0.417)])
def test_wind_at_a_chimney_top(theirs, ground, share):
    # three digits worked by hand from the table's constants
    theirs(
        f"wind at 8 m, {ground}, over the station's",
        share,
        wind_at_height(1.0, 8.0, ground),
        tol=5e-4,
        place="ch. 24 eq. 4",
        grade="derived",
    )
