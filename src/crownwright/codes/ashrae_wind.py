"""ASHRAE Handbook, Fundamentals (2017), chapter 24: wind at another height and over other ground than the weather station's."""

from __future__ import annotations

from functools import cache

from crownwright.quantity.arrays import Numbers, same_kind
from crownwright.sources.tables import pick, rows


@cache
def terrain() -> dict[str, tuple[float, float]]:
    """Return exponent and boundary layer height (m) by kind of ground (Table 1)."""
    return {row["terrain"]: (float(row["exponent"]), float(row["layer_m"])) for row in rows(__package__, "ashrae_wind.csv")}


def wind_at_height(measured: Numbers, height: float, ground: str, *, measured_at: float = 10.0) -> Numbers:
    """Wind, m/s, at ``height`` m over ``ground``, from the wind at a station in the open, ``measured_at`` m up (eq. 4).

    V = V_met (layer_met / z_met)^a_met (z / layer)^a. Valid from about twice the height of what stands round it; raises
    KeyError naming the kinds of ground for another kind.

    >>> round(wind_at_height(1.0, 8.0, "open"), 3), round(wind_at_height(1.0, 8.0, "wooded or suburb"), 3)
    (0.969, 0.682)
    """
    a_met, layer_met = terrain()["open"]
    a, layer = pick(terrain(), ground, "kind of ground")
    return same_kind(measured, measured * ((layer_met / measured_at) ** a_met * (height / layer) ** a))
