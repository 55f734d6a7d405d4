"""ASTM C1074: maturity by temperature-time factor and equivalent age, textbook examples and a history worked by hand."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from crownwright.codes import astm_c1074 as c1074
from crownwright.codes.en_1992_1_1_2004 import adjusted_age
from crownwright.quantity.units import DAY, HOUR

AT = np.array([0.0, 2, 4, 6, 8, 12, 16, 20, 24, 30, 36, 48])
TEMPERATURE = np.array([18.0, 17, 17, 19, 22, 24, 20, 15, 11, 14, 18, 13])
STEPS = np.diff(AT) * HOUR
MEANS = (TEMPERATURE[1:] + TEMPERATURE[:-1]) / 2


def test_28_days_at_15_degrees(theirs: Callable[..., None]) -> None:
    ours = c1074.temperature_time_factor(np.array([15.0]), np.array([28 * DAY]), datum=-11.0) / DAY
    theirs("28 d at 15 degC, datum -11", 728, ours, unit="degC d", tol=1e-9)


def test_time_to_a_maturity(theirs: Callable[..., None]) -> None:
    """4000 psi needs 3500 degC h above 0 degC: 152 h at 23 degC; in three days it wants 49 degC."""
    theirs("time at 23 degC", 152, 3500 / 23.0, unit="h", tol=0.5)
    ours = c1074.temperature_time_factor(np.array([23.0]), np.array([152 * HOUR])) / HOUR
    theirs("factor after 152 h", 3500, ours, unit="degC h", tol=5.0)
    ours = c1074.temperature_time_factor(np.array([49.0]), np.array([72 * HOUR])) / HOUR
    theirs("factor after 3 d at 49 degC", 3500, ours, unit="degC h", tol=30.0)  # 48.6 is rounded up to 49


def test_a_history_by_hand(theirs: Callable[..., None]) -> None:
    cumulative = [c1074.temperature_time_factor(MEANS[:n], STEPS[:n]) / HOUR for n in range(1, len(STEPS) + 1)]
    for hour, expected, ours in zip(AT[1:], (35, 69, 105, 146, 238, 326, 396, 448, 523, 619, 805), cumulative, strict=True):
        theirs(f"factor at {hour:.0f} h, datum 0", expected, ours, unit="degC h", tol=1e-6, grade="derived")
    old = c1074.temperature_time_factor(MEANS, STEPS, datum=-10.0) / HOUR
    theirs("factor at 48 h, datum -10", 1285, old, unit="degC h", tol=1e-6, grade="derived")
    day = c1074.equivalent_age(MEANS[:8], STEPS[:8], 40_000.0, 23.0) / HOUR
    both = c1074.equivalent_age(MEANS, STEPS, 40_000.0, 23.0) / HOUR
    theirs("equivalent age at 24 h, 40 kJ/mol", 19.149, day, unit="h", tol=5e-4, grade="derived")
    theirs("equivalent age at 48 h, 40 kJ/mol", 34.368, both, unit="h", tol=5e-4, grade="derived")


FACTORS = [  # degC, then: Nurse-Saul -10/20, 0/23, Arrhenius 33.5/20, 40/20, 40/23, 45/23, EN 1992
    (0, 0.333, 0.0, 0.366, 0.301, 0.255, 0.215, 0.367),
    (5, 0.500, 0.217, 0.477, 0.413, 0.349, 0.306, 0.478),
    (10, 0.667, 0.435, 0.615, 0.560, 0.474, 0.432, 0.616),
    (15, 0.833, 0.652, 0.788, 0.752, 0.637, 0.602, 0.788),
    (20, 1.0, 0.870, 1.0, 1.0, 0.847, 0.829, 0.998),
    (30, 1.333, 1.304, 1.574, 1.718, 1.455, 1.525, 1.566),
    (40, 1.667, 1.739, 2.406, 2.852, 2.416, 2.697, 2.388),
]


@pytest.mark.parametrize("row", FACTORS, ids=lambda r: f"{r[0]} degC")
def test_how_far_the_methods_differ(theirs: Callable[..., None], row: tuple[float, ...]) -> None:
    """Conflict carried: under 10 degC the choices differ two to three times; ours must give each its own number."""
    t, one = np.array([float(row[0])]), np.array([1.0])
    ours = (
        c1074.temperature_time_factor(t, one, -10.0) / 30.0,
        c1074.temperature_time_factor(t, one, 0.0) / 23.0,
        c1074.rate_factor(row[0], 33_500.0, 20.0),
        c1074.rate_factor(row[0], 40_000.0, 20.0),
        c1074.rate_factor(row[0], 40_000.0, 23.0),
        c1074.rate_factor(row[0], 45_000.0, 23.0),
        adjusted_age(t, one),
    )
    names = ("N-S -10/20", "N-S 0/23", "E 33.5/20", "E 40/20", "E 40/23", "E 45/23", "EN 1992 B.10")
    for name, expected, value in zip(names, row[1:], ours, strict=True):
        theirs(f"factor at {row[0]} degC, {name}", expected, value, tol=6e-4, grade="derived")


@pytest.mark.parametrize(("days", "expected"), [(1, 8.86), (3, 21.86), (7, 31.55), (28, 40.79)])
def test_hyperbola(theirs: Callable[..., None], days: int, expected: float) -> None:
    ours = c1074.hyperbolic_strength(days * DAY, 45.0, 0.35 / DAY, 0.3 * DAY)
    theirs(f"hyperbola at {days} d", expected, ours, unit="MPa", tol=0.005, place="Annex A1", grade="derived")


def test_datum_and_energy_tables(theirs: Callable[..., None]) -> None:
    theirs(
        "datum, type I without admixture", 0, c1074.tables()["datum"].number("type I, no admixture", "degC"), unit="degC", tol=0
    )
    theirs("energy, type I at w/c 0.45", 64, c1074.tables()["energy"].number("type I", "0.45") / 1000, unit="kJ/mol", tol=0,
           place="Carino and Lew (2001) Table 1", grade="from memory")  # fmt: skip
