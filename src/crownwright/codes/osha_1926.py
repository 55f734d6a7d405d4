"""29 CFR 1926, construction: limits as data, and the few that are computed (ladder angle, dust collector, line clearance)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import acos, atan
from types import MappingProxyType

from crownwright.quantity.units import FOOT, INCH, LB, LBF, MPH, celsius
from crownwright.quantity.working import Cite
from crownwright.sources.tables import MARKS, pick, rows

FT3_A_MINUTE = FOOT**3 / 60
_TO_SI: Mapping[str, tuple[float, str]] = {
    "ft": (FOOT, "m"),
    "in": (INCH, "m"),
    "in/ft": (1 / 12, "1"),
    "lbf": (LBF, "N"),
    "lb": (LB, "kg"),
    "mph": (MPH, "m/s"),
    "cfm/in": (FT3_A_MINUTE / INCH, "m2/s"),
    "kg/m3": (1.0, "kg/m3"),
    "1": (1.0, "1"),
}


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit in SI: its value and unit, the rule in plain words, and where it stands."""

    key: str
    value: float
    unit: str
    says: str
    cite: Cite


@cache
def limits() -> Mapping[str, Limit]:
    """Return every limit in the table by name."""
    return MappingProxyType({row["key"]: _limit(row) for row in rows(__package__, "osha_1926.csv")})


def limit(key: str) -> Limit:
    """Return one limit; KeyError lists those there are.

    >>> round(limit("wind_material").value / MPH)
    30
    """
    return pick(limits(), key, "limit")


def ladder_angle() -> float:
    """Setting of a ladder by the rule, rad: the foot out a quarter of the working length ALONG it, acos(1/4).

    >>> from math import degrees
    >>> round(degrees(ladder_angle()), 2)
    75.52
    """
    return acos(limit("ladder_foot").value)


def ladder_angle_by_height() -> float:
    """The same as many trade pages tell it, a quarter of the HEIGHT: atan 4, rad; 0.4 degrees steeper.

    >>> from math import degrees
    >>> round(degrees(ladder_angle_by_height()), 2)
    75.96
    """
    return atan(4)


def ladder_duty(grade: str) -> float:
    """Duty rating of a portable ladder, kg: person, clothes, tools and load together.

    >>> round(ladder_duty("IA") / LB)
    300
    """
    return pick(ladder_grades(), grade, "ladder grade")


@cache
def ladder_grades() -> Mapping[str, float]:
    """Every duty grade of a portable ladder with its rating, kg.

    >>> list(ladder_grades())
    ['IAA', 'IA', 'I', 'II', 'III']
    """
    return MappingProxyType({row["grade"]: float(row["limit_lb"]) * LB for row in rows(__package__, "ladder_duty.csv")})


def line_clearance(volts: float) -> float:
    """Clearance of ladders and tools from a power line, m: 10 ft to 50 kV, 4 in. more for each further 10 kV or part.

    >>> round(line_clearance(7200.0) / FOOT, 6), round(line_clearance(69e3) / FOOT, 3)
    (10.0, 10.667)
    """
    steps = max(0.0, -(-(volts - 50e3) // 10e3))
    return limit("line_clearance").value + 4 * INCH * steps


def collector_flow(wheel: float) -> float:
    """Air a dust collector must draw on a mortar-removal grinder, m3/s: 25 cfm per in. of wheel diameter (m) (1926.1153 Table 1).

    >>> round(collector_flow(5 * INCH) / FT3_A_MINUTE)
    125
    """
    return limit("silica_cfm_per_inch").value * wheel


def respirator_factor(hours: float) -> int:
    """Assigned protection factor of the respirator for grinding out mortar: 10 up to 4 h a shift, 25 beyond, outdoors too.

    >>> respirator_factor(3.0), respirator_factor(6.0)
    (10, 25)
    """
    return 10 if hours <= 4 else 25


def _limit(row: Mapping[str, str]) -> Limit:
    cite = Cite(row["document"], row["clause"], MARKS[row["mark"]])
    if row["unit"] == "degF":
        return Limit(row["key"], celsius(float(row["value"])), "degC", row["says"], cite)
    size, unit = _TO_SI[row["unit"]]
    return Limit(row["key"], float(row["value"]) * size, unit, row["says"], cite)
