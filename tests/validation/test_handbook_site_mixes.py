"""Trade handbook of 2004, Fig. 3-3 A: Portland Cement Association job-site mixes, lb for 1 ft3 of concrete, sand weighed wet."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.codes.pca_site_mix import site_mix
from crownwright.quantity.units import FT3, LB, PCF

SIZES = ["3/8", "1/2", "3/4", "1", "1-1/2"]


@pytest.mark.parametrize(
    ("size", "air", "cement", "sand", "gravel", "water"),
    [("3/8", "entrained", 29, 53, 46, 10), ("3/4", "entrained", 25, 42, 65, 10), ("1/2", "plain", 27, 53, 55, 11)],
)
def test_rows_as_printed(
    theirs: Callable[..., None], size: str, air: str, cement: int, sand: int, gravel: int, water: int
) -> None:
    mix = site_mix(size, air)  # type: ignore[arg-type]
    for name, value in (("cement", cement), ("sand", sand), ("gravel", gravel), ("water", water)):
        theirs(f"{size} in., {air}: {name}", value, getattr(mix, name) / LB * FT3, unit="lb", tol=1e-9, place="Fig. 3-3 A")


@pytest.mark.parametrize("size", SIZES)
def test_totals_and_air_are_those_of_concrete(size: str) -> None:
    """Derived: with air 138 to 145 lb/ft3 and 5.5 to 9.4 % left by absolute volume; without, 145 to 150 and 2.2 to 4.1 %."""
    entrained, plain = site_mix(size, "entrained"), site_mix(size, "plain")
    assert 138 - 1e-9 <= entrained.density / PCF <= 145 + 1e-9
    assert 145 - 1e-9 <= plain.density / PCF <= 150 + 1e-9
    assert 0.055 - 0.0005 <= entrained.air(62.4 * PCF) <= 0.094 + 0.0005  # printed to a tenth of a per cent
    assert 0.022 - 0.0005 <= plain.air(62.4 * PCF) <= 0.041 + 0.0005


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("air", ["entrained", "plain"])
def test_the_water_in_the_sand_must_be_counted(size: str, air: str) -> None:
    """Derived: nominal w/c 0.35 to 0.42; with 5 % free water in the wet sand 0.43 to 0.51."""
    mix = site_mix(size, air)  # type: ignore[arg-type]
    assert 0.34 <= mix.water_cement(0.0) <= 0.425
    assert 0.42 <= mix.water_cement(0.05) <= 0.515


def test_damp_sand_and_crushed_stone_move_pounds(theirs: Callable[..., None]) -> None:
    wet, damp, very = (site_mix("3/8", "plain", s) for s in ("wet", "damp", "very wet"))  # type: ignore[arg-type]
    crushed = site_mix("3/8", "plain", crushed=True)
    theirs("damp sand: less sand", -1, (damp.sand - wet.sand) / LB * FT3, unit="lb", tol=1e-9)
    theirs("damp sand: more water", 1, (damp.water - wet.water) / LB * FT3, unit="lb", tol=1e-9)
    theirs("very wet sand: less water", -1, (very.water - wet.water) / LB * FT3, unit="lb", tol=1e-9)
    theirs("crushed stone: more sand", 3, (crushed.sand - wet.sand) / LB * FT3, unit="lb", tol=1e-9)
    theirs("crushed stone: less stone", -3, (crushed.gravel - wet.gravel) / LB * FT3, unit="lb", tol=1e-9)
