"""ACI 318 exposure to freezing and thawing by edition, IBC 1904.2, ACI 301 over-design in UFGS, ASTM C387 and C270 strengths."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.codes.aci_301_overdesign import required_average
from crownwright.codes.aci_318_exposure import air, limits
from crownwright.codes.astm_c387 import least_strength
from crownwright.quantity.units import PSI
from crownwright.sources.grids import read_grids


@pytest.mark.parametrize(("kind", "ratio", "psi"), [("F1", 0.55, 3500), ("F2", 0.45, 4500), ("F3", 0.40, 5000)])
def test_318_19(theirs: Callable[..., None], kind: str, ratio: float, psi: int) -> None:
    ours = limits(kind, "2019")  # type: ignore[arg-type]
    assert ours.water_cement is not None
    theirs(f"{kind}, w/cm", ratio, ours.water_cement, tol=0, place="318-19 Table 19.3.2.1", grade="from memory")
    theirs(f"{kind}, f'c", psi, ours.strength / PSI, unit="psi", tol=1e-6, place="318-19 Table 19.3.2.1", grade="from memory")


def test_f1_was_harder_before_2014(theirs: Callable[..., None]) -> None:
    """Conflict by edition, carried: 0.45 and 4500 psi in 318-08 and -11."""
    old = limits("F1", "2008")
    assert old.water_cement is not None
    theirs("F1, w/cm, 318-08", 0.45, old.water_cement, tol=0, place="318-08 Table 4.3.1")
    theirs("F1, f'c, 318-08", 4500, old.strength / PSI, unit="psi", tol=1e-6, place="318-08 Table 4.3.1")


@pytest.mark.parametrize(("kind", "psi"), [("F0", 2500), ("F1", 3000), ("F2", 3500), ("F3", 3500)])
def test_the_building_codes_floor_for_what_is_not_structure(theirs: Callable[..., None], kind: str, psi: int) -> None:
    theirs(f"{kind}, non-structural", psi, limits(kind, "ibc").strength / PSI, unit="psi", tol=1e-6, place="IBC 1904.2")  # type: ignore[arg-type]


@pytest.mark.parametrize(("size", "percent"), [("3/8", 7.5), ("1/2", 7.0), ("3/4", 6.0), ("1", 6.0)])
def test_air(theirs: Callable[..., None], size: str, percent: float) -> None:
    ours = air("F2", size)
    assert ours is not None
    theirs(f"F2, {size} in.", percent, 100 * ours, unit="%", tol=1e-9, place="318-19 Table 19.3.3.1", grade="from memory")


@pytest.mark.parametrize(("specified", "aim"), [(2500, 3500), (3000, 4200), (5000, 6200), (5500, 6900)])
def test_overdesign(theirs: Callable[..., None], specified: int, aim: int) -> None:
    ours = required_average(specified * PSI) / PSI
    theirs(f"average to aim for, {specified} psi", aim, ours, unit="psi", tol=1e-6, place="ACI 301 in UFGS")


def test_bags_and_mortars(theirs: Callable[..., None]) -> None:
    theirs("normal bag, 28 d", 3500, least_strength() / PSI, unit="psi", tol=1e-6, place="C387 Table 1", grade="from memory")
    cubes = read_grids("crownwright.codes", "astm_c270_strength.toml")["cubes"]
    for kind, psi in (("M", 2500), ("S", 1800), ("N", 750)):
        theirs(f"mortar {kind}, 28 d", psi, cubes.number(kind, "28 d"), unit="psi", tol=0, place="C270 Table 2")
