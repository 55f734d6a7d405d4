"""ASTM C387: what a bag of dry concrete must reach, at least, mixed as its label says."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from crownwright.quantity.units import PSI
from crownwright.sources.grids import Grid, read_grids

Kind = Literal["normal", "high early", "high-strength mortar"]
Age = Literal["3 d", "7 d", "28 d"]


def tables() -> Mapping[str, Grid]:
    """Return the table of strengths, psi."""
    return read_grids(__package__, "astm_c387.toml")


def least_strength(kind: Kind = "normal", age: Age = "28 d") -> float:
    """Least compressive strength, Pa (from memory); KeyError where the standard gives none for that age.

    >>> round(least_strength() / PSI)
    3500
    """
    return tables()["strength"].number(kind, age) * PSI
