"""ACI 308R and the handbooks: how long to keep concrete moist, and what is lost when that stops early.

The sources differ by a factor of two on concrete never kept moist: a quarter lost in standard cylinders, whose core stays moist,
against a half in thin or long-dried concrete. A cap's skin is thin: the harsher end is the default, the band is shown.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import numpy as np

from crownwright.quantity.units import DAY
from crownwright.sources.grids import Grid, read_grids

Cement = Literal["type I", "type II", "type III", "type IV, V or blended"]
CODE_MOIST = 7 * DAY
"""ACI 318 26.5.3.2: above 50 F and moist for 7 days (3 with high-early-strength); from memory."""
CYLINDER_LOSS = 0.25
"""Share lost by standard cylinders kept in air all along: the mild end of the conflict."""


def tables() -> Mapping[str, Grid]:
    """Return the tables of moist curing."""
    return read_grids(__package__, "aci_308r.toml")


def least_moist(cement: Cement = "type I") -> float:
    """Least moist curing by cement, s (from memory).

    >>> least_moist("type III") / DAY
    3.0
    """
    return tables()["least_days"].number(cement, "days") * DAY


def moist_share(moist: float) -> float:
    """Eventual strength as a share of the 28-day moist-cured strength, by how long it was kept moist (s), between rows by line.

    This, and not strength at three days, is what "80 per cent in three days" says. Held level past 28 days.

    >>> moist_share(3 * DAY), moist_share(0.0)
    (0.8, 0.5)
    """
    rows = {float(k): float(v) for k, v in tables()["moist_share"].column("share").items() if isinstance(v, (int, float))}
    return float(np.interp(moist / DAY, list(rows), list(rows.values())))


def moist_share_band(moist: float) -> tuple[float, float]:
    """Harsh and mild share for a length of moist curing (s): the handbook's, and one that starts from the cylinders' loss.

    >>> moist_share_band(0.0), moist_share_band(7 * DAY)
    ((0.5, 0.75), (1.0, 1.0))
    """
    harsh = moist_share(moist)
    mild = float(np.interp(moist / DAY, (0.0, 7.0, 28.0), (1.0 - CYLINDER_LOSS, 1.0, moist_share(28 * DAY))))
    return min(harsh, mild), max(harsh, mild)
