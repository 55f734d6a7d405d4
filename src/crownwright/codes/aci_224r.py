"""ACI 224R, Control of Cracking in Concrete Structures, Table 4.1: crack widths held reasonable by exposure (a guide only)."""

from __future__ import annotations

from crownwright.quantity.units import INCH
from crownwright.sources.grids import Grid, read_grids


def table() -> Grid:
    """Return Table 4.1, in inches."""
    return read_grids(__package__, "aci_224r.toml")["tolerable"]


def tolerable_width(exposure: str) -> float:
    """Return the crack width held reasonable, m; KeyError lists the exposures there are.

    >>> round(tolerable_width("moist air or soil") / INCH, 3)
    0.012
    """
    return table().number(exposure, "width") * INCH
