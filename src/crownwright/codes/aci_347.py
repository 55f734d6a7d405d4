"""ACI 347R: hours of warm air before forms may be taken off, where the engineer gives nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.units import HOUR, celsius
from crownwright.sources.grids import Grid, read_grids

Member = Literal["walls, columns, beam sides", "slab soffit, under 10 ft", "slab soffit, 10 to 20 ft"]
WARM = celsius(50.0)
"""Air temperature, degC (50 F), above which time counts."""
OVERHANG: Member = "slab soffit, under 10 ft"
"""The overhang's soffit boards carry fresh concrete as a slab's soffit does: our reading, the stricter one."""


def tables() -> Mapping[str, Grid]:
    """Return the table of hours."""
    return read_grids(__package__, "aci_347.toml")


def warm_time_needed(member: Member, *, live_over_dead: bool = False) -> float:
    """Cumulative time with the air over 50 F before the form goes, s.

    >>> warm_time_needed("slab soffit, under 10 ft") / 86400
    4.0
    """
    return tables()["hours"].number(member, "more" if live_over_dead else "less") * HOUR


def warm_time(air: NDArray[np.float64], intervals: NDArray[np.float64]) -> float:
    """Time with the air over 50 F, s; ``air`` degC the mean of each interval (s), need not be on end.

    >>> warm_time(np.array([12.0, 5.0, 15.0]), np.array([3600.0, 3600.0, 7200.0])) / HOUR
    3.0
    """
    return float(np.sum(intervals[air > WARM]))
