"""McNeese (1952): what one early freezing costs concrete, as data. No formula: the band of the data is the answer."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from crownwright.quantity.units import HOUR, celsius
from crownwright.sources.tables import rows

WORST = 0.50
"""About the most that one freezing takes, a share of the strength."""
REFERENCE = celsius(72.0)
"""Temperature at which the delays were waited, degC."""


@dataclass(frozen=True, slots=True)
class Freezing:
    """One test: cast at (degC), waited (s), frozen at (degC), and the share of strength lost."""

    cast: float
    delay: float
    frozen: float
    loss: float


@cache
def freezings() -> tuple[Freezing, ...]:
    """Return the tests as published."""
    return tuple(
        Freezing(celsius(float(r["cast_F"])), float(r["delay_h"]) * HOUR, celsius(float(r["frozen_F"])), float(r["loss"]))
        for r in rows(__package__, "mcneese_1952.csv")
    )


def loss_band(equivalent_age: float) -> tuple[float, float]:
    """Least and greatest share of strength lost to one freezing at an age (s, equivalent at 72 F), between 0 and 6 h by line.

    From 6 h on the band of the 6 h tests holds; the data say nothing finer.

    >>> loss_band(0.0), loss_band(6 * HOUR)
    ((0.4, 0.5), (0.0, 0.15))
    """
    ages = {0.0: _span(0.0), 6 * HOUR: _span(6 * HOUR)}
    share = min(max(equivalent_age / (6 * HOUR), 0.0), 1.0)
    (low0, high0), (low6, high6) = ages[0.0], ages[6 * HOUR]
    return (1 - share) * low0 + share * low6, (1 - share) * high0 + share * high6


def _span(delay: float) -> tuple[float, float]:
    losses = [f.loss for f in freezings() if f.delay == delay]
    return min(losses), max(losses)
