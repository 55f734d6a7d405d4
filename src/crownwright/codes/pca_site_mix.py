"""The handbook's job-site mixes: pounds of cement, wet sand, gravel and water for a cubic foot, and what damp sand changes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from crownwright.quantity.units import FT3, LB
from crownwright.sources.grids import Grid, read_grids

Air = Literal["plain", "entrained"]
Sand = Literal["damp", "wet", "very wet"]
CEMENT_GRAVITY = 3.15
AGGREGATE_GRAVITY = 2.65


def tables() -> Mapping[str, Grid]:
    """Return the tables, lb for 1 ft3."""
    return read_grids(__package__, "pca_site_mix.toml")


@dataclass(frozen=True, slots=True)
class SiteMix:
    """What goes into a volume of concrete, kg/m3; the sand is weighed with its water."""

    cement: float
    sand: float
    gravel: float
    water: float

    @property
    def density(self) -> float:
        """Fresh density, kg/m3."""
        return self.cement + self.sand + self.gravel + self.water

    def water_cement(self, sand_moisture: float = 0.05) -> float:
        """Water/cement ratio counting the free water in the sand (a share of its wet weight). Leaving it out flatters the mix."""
        return (self.water + sand_moisture * self.sand) / self.cement

    def air(self, water_density: float = 1000.0) -> float:
        """Air left by absolute volumes, a fraction of volume, all weights taken as printed."""
        solids = self.cement / CEMENT_GRAVITY + (self.sand + self.gravel) / AGGREGATE_GRAVITY
        return 1.0 - (solids + self.water) / water_density


def site_mix(size: str, air: Air, sand: Sand = "wet", *, crushed: bool = False) -> SiteMix:
    """The mix for an aggregate size; damp sand, very wet sand and crushed stone move a few pounds, as the handbook says.

    >>> mix = site_mix("3/8", "entrained")
    >>> round(mix.cement / (LB / FT3)), round(mix.density / (LB / FT3))
    (29, 138)
    """
    row = {k: float(v) for k, v in tables()[air].row(size).items() if isinstance(v, (int, float))}
    shift = {"damp": -1.0, "wet": 0.0, "very wet": 1.0}[sand]
    stone = 3.0 if crushed else 0.0
    pounds = (row["cement"], row["sand"] + shift + stone, row["gravel"] - stone, row["water"] - shift)
    return SiteMix(*(p * LB / FT3 for p in pounds))
