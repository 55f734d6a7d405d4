"""EN 1992-1-1:2004, 3.1 and Annex B: shrinkage, temperature-adjusted age, strength ratio.

Shrinkage and age as published with the tests of an open library of code clauses; another such library, structuralcodes, is run
beside ours on a grid as an independent program.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import structuralcodes.codes.ec2_2004 as independent

from crownwright.codes import en_1992_1_1_2004 as en
from crownwright.quantity.units import DAY

SHRINKAGE = [  # h0 mm, f_cm MPa, class, RH %, t_s d, t d -> strain
    (138.5, 43, "R", 50, 28, 18263, 0.0006560211272528516),
    (600, 43, "N", 50, 28, 18263, 0.0003704813729755042),
    (136.8, 38, "N", 55, 28, 18263, 0.0004825589169449677),
    (100, 38, "N", 55, 28, 18263, 0.000508432488714812),
    (136.8, 28, "N", 55, 28, 18263, 0.0005127088169780931),
]


@pytest.mark.parametrize(("size", "strength", "cement", "humidity", "cured", "age", "strain"), SHRINKAGE)
def test_total_shrinkage(
    theirs: Callable[..., None], size: float, strength: float, cement: str, humidity: int, cured: int, age: int, strain: float
) -> None:
    ours = en.shrinkage(size / 1000, strength * 1e6, humidity / 100, cured * DAY, age * DAY, cement)  # type: ignore[arg-type]
    theirs(f"h0 {size} mm, f_cm {strength}, class {cement}, RH {humidity} %", strain, ours, tol=1e-15, place="3.1.4, Annex B")


def test_temperature_adjusted_age(theirs: Callable[..., None]) -> None:
    temperatures, days = np.array([19.0, 20, 20, 21, 22, 23]), np.array([1.0, 2, 1, 1, 1, 2])
    ours = en.adjusted_age(temperatures, days * DAY) / DAY
    theirs("six steps of 19 to 23 degC", 8.37986781, ours, unit="d", tol=5e-9, place="eq. B.10")
    theirs("factor at 20 degC", 0.9981, en.adjusted_age(np.array([20.0]), np.array([1.0])), tol=5e-5, place="eq. B.10")


def test_notional_size(theirs: Callable[..., None]) -> None:
    theirs("250 x 350 mm", 145.8333, en.notional_size(0.25 * 0.35, 1.2) * 1000, unit="mm", tol=5e-5, place="3.1.4")


@pytest.mark.parametrize(
    ("days", "rapid", "normal", "slow"),
    [
        (1, 0.424, 0.342, 0.196), (2, 0.578, 0.504, 0.353), (3, 0.663, 0.598, 0.458), (5, 0.761, 0.711, 0.595),
        (7, 0.819, 0.779, 0.684), (14, 0.920, 0.902, 0.854), (28, 1, 1, 1), (56, 1.060, 1.076, 1.118), (90, 1.092, 1.117, 1.183),
    ],
)  # fmt: skip
def test_strength_ratio(theirs: Callable[..., None], days: int, rapid: float, normal: float, slow: float) -> None:
    for cement, expected in (("R", rapid), ("N", normal), ("S", slow)):
        ours = en.strength_ratio(days * DAY, cement)  # type: ignore[arg-type]
        theirs(f"beta_cc, {days} d, class {cement}", expected, ours, tol=6e-4, place="eq. 3.2", grade="derived")


def test_tensile_strength(theirs: Callable[..., None]) -> None:
    theirs("f_ctm of C25", 2.56, en.mean_tensile(25e6) / 1e6, unit="MPa", tol=0.005, place="Table 3.1")


@pytest.mark.parametrize("cement", ["S", "N", "R"])
@pytest.mark.parametrize("humidity", [40, 65, 90])
def test_an_independent_program_agrees(theirs: Callable[..., None], cement: str, humidity: int) -> None:
    size, strength, cured, age = 120.0, 34.0, 7.0, 400.0
    basic = independent.eps_cd_0(
        independent.alpha_ds1(cement),
        independent.alpha_ds2(cement),
        strength,
        independent.beta_RH(humidity),  # type: ignore[arg-type]
    )
    drying = independent.eps_cd(independent.beta_ds(age, cured, size), independent.k_h(size), basic)
    basis = independent.eps_ca(independent.beta_as(age), independent.eps_ca_inf(strength - 8))
    ours = en.shrinkage(size / 1000, strength * 1e6, humidity / 100, cured * DAY, age * DAY, cement)  # type: ignore[arg-type]
    what = f"class {cement}, RH {humidity} %"
    theirs(what, float(independent.eps_cs(drying, basis)), ours, tol=1e-12, grade="independent program")
