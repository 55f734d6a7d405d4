"""Stonework by the old estimating books and local codes: mortar in rubble, cement and sand for it, bond stones, perches."""

from __future__ import annotations

from math import ceil, floor

from crownwright.quantity.units import FOOT, FT2, FT3, INCH, YD3
from crownwright.sources.grids import Grid, read_grids
from crownwright.sources.tables import pick

BOND_APART = 3 * FOOT
"""Bond stones in rubble up to 24 in. thick stand no further apart than this, up and along (a local code)."""
BOND_THICK = 24 * INCH
BOND_AREA = 6 * FT2
"""In thicker walls one bond stone to so much face, each side (the same local code)."""
LENGTH_OVER_THICKNESS = 4.0
"""A stone is laid no longer than so many times its thickness (Building Trades Pocketbook, notes on stonework)."""
HELD_BACK = 1.0 * INCH
"""Bed mortar is held back from the face so far, and pointed after (the same)."""


def table(name: str) -> Grid:
    """Return a table by name: mortar_share, cement_and_sand, perches, labour."""
    return pick(read_grids(__package__, "rubble.toml"), name, "table on rubble")


def mortar_in(volume: float, share: float) -> float:
    """Mortar in a volume of masonry, m3: volume x share.

    >>> round(mortar_in(100.0, 1 / 3), 1)
    33.3
    """
    return volume * share


def cement_and_sand(mortar: float, parts: int) -> tuple[float, float]:
    """Barrels of portland cement and m3 of sand for so much mortar (m3) of one to ``parts``, by the book's table.

    Whole parts 0 to 6; KeyError lists them.

    >>> barrels, sand = cement_and_sand(100 * YD3 / 3, 3)
    >>> round(barrels), round(sand / YD3)
    (67, 30)
    """
    row = table("cement_and_sand")
    yards = mortar / YD3
    return yards * row.number(str(parts), "barrels"), yards * row.number(str(parts), "sand_yd3") * YD3


def perch(name: str) -> float:
    """Volume of a perch, m3, by what a perch is taken for ("25", "24 3/4", "22", "16 1/2"); KeyError lists them."""
    return table("perches").number(name, "ft3") * FT3


def bond_stones(run: float, high: float, thick: float) -> int:
    """Bond stones in a wall ``run`` long, ``high`` and ``thick``, m, one face counted.

    To 24 in. thick: rows and stones in a row no further than 3 ft apart. Thicker: one to each 6 ft2. A row at least.

    >>> bond_stones(12 * FOOT, 2 * FOOT, 1 * FOOT), bond_stones(12 * FOOT, 3 * FOOT, 3 * FOOT)
    (4, 6)
    """
    if run <= 0 or high <= 0:
        return 0
    if thick > BOND_THICK + 1e-9:
        return ceil(run * high / BOND_AREA - 1e-9)
    rows = max(ceil(high / BOND_APART - 1e-9), 1)
    return rows * ceil(run / BOND_APART - 1e-9)


def bag_lays(bag: float, share: float) -> tuple[float, float]:
    """What a bag of mortar (m3) lays: m3 of wall, and m3 of stone in it, with ``share`` of mortar in the wall.

    >>> wall, stone = bag_lays(0.70 * FT3, 0.33)
    >>> round(wall / FT3, 1), round(stone / FT3, 1)
    (2.1, 1.4)
    """
    wall = bag / share
    return wall, wall * (1 - share)


def whole_stones(volume: float, each: float) -> int:
    """Stones of about ``each`` m3 in a volume of stone, m3."""
    return floor(volume / each + 0.5) if each > 0 else 0
