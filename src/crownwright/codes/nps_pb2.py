"""National Park Service, Preservation Brief 2 (1998), Repointing Mortar Joints in Historic Masonry Buildings, and what is said
beside it of the same work.
"""

from __future__ import annotations

from crownwright.quantity.units import INCH, celsius
from crownwright.sources.grids import Grid, read_grids
from crownwright.sources.tables import pick

RAKE_LEAST, RAKE_MOST = 2.0, 2.5
"""Depth raked out over the width of the joint."""
RAKE_FLOOR = 0.75 * INCH
"""Least depth raked out in brick, m (a trade paper on preparing joints)."""
SPOT_MOST, WHOLE_FROM = 0.25, 0.50
"""Share of a wall that needs repointing from which all of it may be repointed (25 to 50 % or more)."""
WALL_COLDEST, WALL_HOTTEST = celsius(40.0), celsius(95.0)
"""Temperature of the wall, degC. (A metric copy prints 8 to 38 degC: 40 degF is 4 degC.)"""
LIFT = 0.25 * INCH
"""Thickness of one layer of pointing, m (from memory)."""
OPEN = 0.25 * INCH
"""A joint open deeper than this is repointed; the least of what the sources say."""


def table(name: str) -> Grid:
    """Return a table by name: when, exposures."""
    return pick(read_grids(__package__, "repointing.toml"), name, "table on repointing")


def rake_depth(width: float, *, ratio: float = RAKE_MOST, floor: float = RAKE_FLOOR) -> float:
    """Depth to rake a joint out to, m: ratio x width, but not less than the floor.

    ``width`` of the joint, m; ``ratio`` 2 to 2.5 (the brief); ``floor`` m, 3/4 in. for brick (0 for none).

    >>> round(rake_depth(0.5 * INCH) / INCH, 3), round(rake_depth(0.25 * INCH) / INCH, 3)
    (1.25, 0.75)
    """
    return max(ratio * width, floor)


def joint_volume(length: float, width: float, depth: float) -> float:
    """Mortar in a raked joint, m3: length x width x depth, all m.

    >>> from crownwright.quantity.units import FOOT, FT3
    >>> round(FT3 / joint_volume(FOOT, 0.5 * INCH, 1.25 * INCH), 1)  # feet of joint to the cubic foot
    230.4
    """
    return length * width * depth


def lifts(depth: float, lift: float = LIFT) -> int:
    """Layers that a joint is filled in, each left till it takes a thumb print; the last is tooled.

    >>> lifts(1.25 * INCH)
    5
    """
    return max(-int(-(depth / lift - 1e-9) // 1), 1)


def suggested(hardness: str, exposure: str) -> str:
    """Return the mortar type the brief suggests; KeyError lists what there is. (From memory; L is lime and sand alone.)

    >>> suggested("medium", "severe")
    'N'
    """
    return str(table("exposures").cell(hardness, exposure))
