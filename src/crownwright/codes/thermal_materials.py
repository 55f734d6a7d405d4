"""Conductivity, density and heat capacity of what a chimney top is made of, as data."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from crownwright.sources.tables import pick, rows


@dataclass(frozen=True, slots=True)
class Thermal:
    """``conductivity`` W/mK, ``density`` kg/m3, ``heat`` J/kgK."""

    conductivity: float
    density: float
    heat: float


@cache
def materials() -> dict[str, Thermal]:
    """Return the table by name of material."""
    return {
        row["material"]: Thermal(float(row["conductivity"]), float(row["density"]), float(row["heat"]))
        for row in rows(__package__, "thermal_materials.csv")
    }


def thermal(material: str) -> Thermal:
    """Return one material; KeyError names those there are.

    >>> thermal("brick").conductivity
    0.89
    """
    return pick(materials(), material, "material")
