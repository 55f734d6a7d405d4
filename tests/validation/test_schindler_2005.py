"""Schindler & Folliard (2005), heat of hydration; setting by Schindler (2004) against the trade's table of set times."""

from __future__ import annotations

import numpy as np
import pytest

from crownwright.codes import schindler_folliard_2005 as s
from crownwright.codes.set_times import set_time
from crownwright.cure.heat import clock_rate
from crownwright.quantity.units import HOUR, celsius

TYPE_I = s.hydration(s.TYPE_I, 0.45)
TYPE_III = s.hydration(s.TYPE_III, 0.45)


def test_typical_cements(theirs):
    # worked from the published equations, digits as carried
    theirs("ultimate heat, type I", 485.1, TYPE_I.heat / 1000, unit="J/g", tol=0.05, grade="derived")
    theirs("tau, type I", 14.35, TYPE_I.tau / HOUR, unit="h", tol=0.005, grade="derived")
    theirs("beta, type I", 0.672, TYPE_I.beta, tol=5e-4, grade="derived")
    theirs("activation energy, type I", 45561, TYPE_I.energy, unit="J/mol", tol=1.0, grade="derived")
    theirs("tau, type III", 9.57, TYPE_III.tau / HOUR, unit="h", tol=0.005, grade="derived")
    theirs("beta, type III", 0.607, TYPE_III.beta, tol=5e-4, grade="derived")
    theirs("activation energy, type III", 51615, TYPE_III.energy, unit="J/mol", tol=1.0, grade="derived")
    theirs("degree in the end, w/c 0.50", 0.743, s.ultimate_degree(0.50), tol=5e-4, grade="derived")


@pytest.mark.parametrize(("hours", "degree"), [(12, 0.233), (24, 0.355), (72, 0.514), (168, 0.595)])
def test_degree_of_hydration(theirs, hours, degree):
    theirs(
        f"degree of hydration after {hours} h, type I, w/c 0.45",
        degree,
        s.degree(TYPE_I, hours * HOUR),
        tol=6e-4,
        grade="derived",
    )


HALD = """7 26 6 60 78.5 | 1 29 15 52 74.3 | 11 56 8 20 104.3 | 11 31 8 47 87.6 | 7 52 6 33 95.9 | 11 55 9 22 109.2 | 3 71 17 6
102.7 | 1 31 22 44 72.5 | 2 54 18 22 93.1 | 21 47 4 26 115.9 | 1 40 23 34 83.8 | 11 66 9 12 113.3 | 10 68 8 12 109.4"""


def test_heat_of_the_minerals_against_calorimetry_of_1932(theirs):
    rows = [[float(x) for x in row.split()] for row in HALD.split("|")]
    shares = []
    for c3a, c3s, c4af, c2s, cal in rows:
        whole = s.ultimate_heat(s.Cement(c3s / 100, c2s / 100, c3a / 100, c4af / 100, 0.0, 0.0, 0.0)) / 1000
        shares.append(cal * 4.1868 / whole)
    # 180 days, not for ever: the measured heat is a little less than the ultimate, and never more
    theirs(
        "measured heat over computed ultimate, mean of 13 cements",
        0.919,
        float(np.mean(shares)),
        tol=0.002,
        place="Woods, Steinour & Starke",
    )
    assert all(0.8 < share <= 1.0 for share in shares)


@pytest.mark.parametrize("f", [50, 60, 70, 80, 90])
def test_set_times_within_fifteen_per_cent(theirs, f):
    told = set_time(celsius(f)) / HOUR
    final = s.set_ages(TYPE_I, 0.45)[1] / float(clock_rate(TYPE_I, np.array(celsius(f)))) / HOUR
    # the goal set for the model; the table is itself a rule of thumb
    theirs(f"set at {f} F", told, final, unit="h", tol=0.15 * told, place="table of set times", grade="read")


def test_set_time_at_forty_within_thirty_per_cent(theirs):
    told = set_time(celsius(40.0)) / HOUR
    final = s.set_ages(TYPE_I, 0.45)[1] / float(clock_rate(TYPE_I, np.array(celsius(40.0)))) / HOUR
    theirs("set at 40 F", told, final, unit="h", tol=0.30 * told, place="table of set times", grade="from memory")
