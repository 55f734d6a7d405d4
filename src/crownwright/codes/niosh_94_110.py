"""NIOSH 94-110 (rev. 2021), revised lifting equation.

Not valid on ladders, for unstable loads (buckets of liquid are named), one hand, carrying, restricted space or outside
66 to 79 F: a floor on caution, never a permit.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import degrees
from typing import Literal

from crownwright.quantity.units import INCH, LB
from crownwright.sources.tables import rows

Coupling = Literal["good", "fair", "poor"]
LOAD_CONSTANT = 51 * LB
"""LC, kg (the manual says 51 lb or 23 kg)."""


@dataclass(frozen=True, slots=True)
class Lift:
    """One end of a lift: hands ``out`` from the ankles (H) and ``up`` from the floor (V), ``travel`` between the ends (D), m;
    ``turn`` of the trunk (A), rad; ``rate`` lifts a minute, up to an hour a day; how the hands hold it.
    """

    out: float
    up: float
    travel: float
    turn: float = 0.0
    rate: float = 0.2
    coupling: Coupling = "good"


def horizontal_multiplier(out: float) -> float:
    """HM = 10/H in., 1 under 10 in., 0 past 25 in.

    >>> horizontal_multiplier(20 * INCH)
    0.5
    """
    inches = round(out / INCH, 9)
    return 0.0 if inches > 25 else 10 / max(inches, 10.0)


def vertical_multiplier(up: float) -> float:
    """VM = 1 - 0.0075 |V - 30| in., 0 past 70 in.

    >>> round(vertical_multiplier(22 * INCH), 3)
    0.94
    """
    inches = round(up / INCH, 9)
    return 0.0 if inches > 70 else 1 - 0.0075 * abs(inches - 30)


def distance_multiplier(travel: float) -> float:
    """DM = 0.82 + 1.8/D in., D taken as 10 at least; 0 past 70 in.

    >>> round(distance_multiplier(10 * INCH), 6)
    1.0
    """
    inches = round(travel / INCH, 9)
    return 0.0 if inches > 70 else 0.82 + 1.8 / max(inches, 10.0)


def turn_multiplier(turn: float) -> float:
    """AM = 1 - 0.0032 A degrees, 0 past 135.

    >>> turn_multiplier(0.0)
    1.0
    """
    angle = degrees(turn)
    return 0.0 if angle > 135 else 1 - 0.0032 * angle


def frequency_multiplier(rate: float) -> float:
    """FM for work up to an hour (Table 5), ``rate`` in lifts a minute; the next higher row; 0 above 12.

    >>> frequency_multiplier(3), frequency_multiplier(2.4), frequency_multiplier(13)
    (0.88, 0.88, 0.0)
    """
    return next((multiplier for lifts, multiplier in _frequencies() if rate <= lifts + 1e-9), 0.0)


def coupling_multiplier(coupling: Coupling, up: float) -> float:
    """CM: good 1, fair 0.95 (1 with the hands at 30 in. or more), poor 0.90.

    >>> coupling_multiplier("fair", 22 * INCH)
    0.95
    """
    low = up < 30 * INCH
    return {"good": 1.0, "fair": 0.95 if low else 1.0, "poor": 0.90}[coupling]


def weight_limit(lift: Lift) -> float:
    """Recommended weight limit at one end of a lift, kg: RWL = LC HM VM DM AM FM CM.

    The manual rounds each multiplier to two places; this keeps full precision.

    >>> example_4 = Lift(10 * INCH, 22 * INCH, 37 * INCH, rate=3, coupling="fair")
    >>> round(weight_limit(example_4) / LB, 2)  # the manual prints 34.9
    34.81
    """
    held = coupling_multiplier(lift.coupling, lift.up) * frequency_multiplier(lift.rate) * turn_multiplier(lift.turn)
    placed = horizontal_multiplier(lift.out) * vertical_multiplier(lift.up) * distance_multiplier(lift.travel)
    return LOAD_CONSTANT * placed * held


def lifting_index(load: float, limit: float) -> float:
    """Lifting index LI = load over limit: the goal is 1 or less; over 3 nearly everybody is at risk. Infinite at a limit of 0.

    >>> lifting_index(20.0, 10.0)
    2.0
    """
    return load / limit if limit > 0 else float("inf")


@cache
def _frequencies() -> tuple[tuple[float, float], ...]:
    table = rows(__package__, "niosh_94_110_frequency.csv")
    return tuple((float(row["lifts_a_minute"]), float(row["multiplier"])) for row in table)
