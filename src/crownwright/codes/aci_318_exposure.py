"""ACI 318 exposure classes for freezing and thawing, by edition, and the building code's lower floor for non-structural concrete.

F0 never freezes; F1 freezes with limited water; F2 with frequent water; F3 as F2 with de-icing chemicals. ACI 332 names elevated
and on-grade horizontal members likely to be saturated (roofs, patios) for its F2; a chimney cap is F2 by our reading.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from crownwright.quantity.units import PSI
from crownwright.quantity.working import Cite
from crownwright.sources.grids import Grid, read_grids

Exposure = Literal["F0", "F1", "F2", "F3"]
Edition = Literal["2019", "2008", "ibc"]
CAP_EXPOSURE: Exposure = "F2"
AIR_TOLERANCE = 0.015
"""Air may lie this much either side of the table (fraction of volume; from memory)."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What a class asks for: greatest water/cement ratio (None: no limit), least 28-day strength (Pa), and where it says so."""

    water_cement: float | None
    strength: float
    cite: Cite


def tables() -> Mapping[str, Grid]:
    """Return the tables by edition, in the sources' units."""
    return read_grids(__package__, "aci_318_exposure.toml")


def limits(exposure: Exposure = CAP_EXPOSURE, edition: Edition = "2019", *, plain: bool = False) -> Limits:
    """Limits for a class by edition; ``plain`` for concrete without structural steel. KeyError lists the editions and classes.

    >>> limits("F2").water_cement, round(limits("F1", "2008").strength / PSI)
    (0.45, 4500)
    """
    if edition not in tables():
        raise KeyError(f"no edition {edition!r}; allowed: 2019, 2008, ibc")
    grid = tables()[edition]
    row = grid.row(exposure)
    ratio = row.get("w_cm_plain" if plain else "w_cm")
    psi = row["psi_plain" if plain and "psi_plain" in row else "psi"]
    return Limits(float(ratio) if isinstance(ratio, (int, float)) else None, float(psi or 0.0) * PSI, grid.cite)


def air(exposure: Exposure, size: str) -> float | None:
    """Air content a class asks for with an aggregate size, fraction of volume; None for F0.

    >>> air("F2", "3/8"), air("F0", "3/8")
    (0.075, None)
    """
    return None if exposure == "F0" else tables()["air"].number(exposure, size) / 100
