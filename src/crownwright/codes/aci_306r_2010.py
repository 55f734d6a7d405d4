"""ACI 306R, Guide to Cold Weather Concreting: when weather is cold, how warm the concrete must be, how long to protect it.

The 1988 edition defines cold weather otherwise than those of 2010 and 2016; both definitions are here, the later is stricter.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from crownwright.quantity.units import DAY, HOUR, INCH, PSI, celsius
from crownwright.sources.grids import Grid, read_grids

COLD = celsius(40.0)
"""Air temperature that makes cold weather, degC (40 F)."""
ONE_FREEZE = 500 * PSI
"""Strength, Pa, from which one or two freezings do no serious harm. Not the 500 psi of penetration that marks initial set."""
MANY_FREEZES = 3500 * PSI
"""Strength, Pa, before repeated freezing while saturated, air-entrained (from memory)."""
ALARM = celsius(31.0)
DAMAGE = celsius(28.0)
"""Fresh concrete freezes between about 25 and 29 F in the sources; 31 F is taken as alarm and 28 F as damage (judgement)."""
COOLING = 5 / 1.8 / HOUR
"""Fastest cooling after protection ends, K/s (5 F an hour)."""
COOLING_DAY = 50 / 1.8
"""Most cooling in the first 24 h after protection, K (50 F), sections under 12 in."""
PLACING_OVER = 20 / 1.8
"""K (20 F) above the least placing temperature: no warmer, so that the concrete does not lose its heat and water (2016 note)."""

Service = Literal["not exposed", "exposed, not loaded", "exposed, partly loaded"]
Mix = Literal["normal", "high early"]
Purpose = Literal["survive_freezing", "strip"]
CAP_SERVICE: Service = "exposed, not loaded"
"""A chimney cap by our reading of the table: out in the weather, carrying nothing while it gains strength."""


def tables() -> Mapping[str, Grid]:
    """Return the tables of the guide, in the source's units."""
    return read_grids(__package__, "aci_306r.toml")


@dataclass(frozen=True, slots=True)
class Temperatures:
    """Concrete temperatures for a section, degC: least as placed and as mixed; ``drop`` most cooling in a day after, K."""

    placed: float
    mixed: float
    drop: float


def least_temperatures(thickness: float, air: float) -> Temperatures:
    """Least concrete temperatures for a section's least dimension (m) and the air temperature while mixing (degC), Table 3.1.

    >>> cap = least_temperatures(0.1, -5.0)
    >>> round(cap.placed, 1), round(cap.mixed, 1)
    (12.8, 18.3)
    """
    row = tables()["temperatures"].row(_section(thickness))
    column = "mixed_above_30" if air > celsius(30.0) else "mixed_below_0" if air < celsius(0.0) else "mixed_0_to_30"
    placed, mixed, drop = (float(row[c]) for c in ("placed", column, "drop_24h"))  # type: ignore[arg-type]
    return Temperatures(celsius(placed), celsius(mixed), drop / 1.8)


def protection(
    service: Service = CAP_SERVICE, mix: Mix = "normal", purpose: Literal["survive_freezing", "strip"] = "strip"
) -> float:
    """Length of protection, s, against damage by one freezing or until forms may go (Table 5.1).

    >>> protection() / DAY, protection(mix="high early") / DAY
    (3.0, 2.0)
    """
    return tables()[purpose].number(service, mix) * DAY


def is_cold_1988(daily_means: Sequence[float], half_day_highs: Sequence[float]) -> bool:
    """Cold weather by the 1988 edition: over three days running with a mean under 40 F, none half above 50 F.

    ``daily_means`` degC, day by day; ``half_day_highs`` degC, the temperature exceeded for half of each day.

    >>> is_cold_1988([3.0, 2.0, 4.0, 1.0], [5.0, 5.0, 5.0, 5.0]), is_cold_1988([3.0, 2.0, 4.0], [5.0, 5.0, 5.0])
    (True, False)
    """
    run = 0
    for mean, high in zip(daily_means, half_day_highs, strict=True):
        run = run + 1 if mean < COLD and high <= celsius(50.0) else 0
        if run > 3:
            return True
    return False


def is_cold_2010(air: Sequence[float]) -> bool:
    """Cold weather by the 2010 and 2016 editions: air under 40 F at any time of the protection; ``air`` degC (from memory).

    >>> is_cold_2010([8.0, 4.0, 9.0])
    True
    """
    return min(air) < COLD


def transit_drop(concrete: float, air: float, way: Literal["revolving", "covered", "open"], time: float) -> float:
    """Temperature lost on the way, K: 0.25, 0.10 or 0.20 x (concrete - air) x hours (from memory); ``time`` s, degC.

    >>> transit_drop(20.0, 0.0, "open", 3600.0)
    4.0
    """
    share = {"revolving": 0.25, "covered": 0.10, "open": 0.20}[way]
    return share * (concrete - air) * time / HOUR


def _section(thickness: float) -> str:
    inches = thickness / INCH
    return "under 12" if inches < 12 else "12-36" if inches <= 36 else "36-72" if inches <= 72 else "over 72"
