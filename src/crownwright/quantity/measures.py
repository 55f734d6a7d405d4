"""Measures other than lengths as they are typed: roof pitch, load, wind, density, weight, a share. Each in SI, or a problem.

A unit is always asked for where two are in use: 30 may be psf or kg/m2, and a guess would be an invented number.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from math import atan, degrees, isfinite, pi, radians, tan
from types import MappingProxyType
from typing import Literal

from crownwright.quantity.lengths import MOST_LETTERS, Reading, parse_length
from crownwright.quantity.problems import Problem
from crownwright.quantity.tape_words import plain
from crownwright.quantity.units import (
    BTU,
    DAY,
    FOOT,
    FT2,
    FT3,
    GALLON,
    HOUR,
    IN2,
    LB,
    LBF,
    MPH,
    PCF,
    PSF,
    PSI,
    QUART,
    YD3,
    celsius,
)

Dimension = Literal["angle", "pressure", "speed", "density", "mass", "volume", "temperature", "warming", "share", "force", "area",
                    "time", "insulation", "drying", "rain"]  # fmt: skip

_UNITS: Mapping[Dimension, Mapping[str, float]] = MappingProxyType(
    {
        "angle": {"deg": radians(1), "°": radians(1), "degrees": radians(1), "degree": radians(1), "rad": 1.0},
        "pressure": {"psf": PSF, "lb/ft2": PSF, "psi": PSI, "pa": 1.0, "kpa": 1e3, "kn/m2": 1e3, "n/m2": 1.0, "mpa": 1e6},
        "speed": {"mph": MPH, "m/s": 1.0, "km/h": 1 / 3.6, "kph": 1 / 3.6},
        "density": {"lb/ft3": PCF, "pcf": PCF, "lb/cu ft": PCF, "kg/m3": 1.0},
        "mass": {"lb": LB, "lbs": LB, "pounds": LB, "pound": LB, "oz": LB / 16, "kg": 1.0, "g": 1e-3},
        "volume": {
            "qt": QUART,
            "quart": QUART,
            "quarts": QUART,
            "gal": GALLON,
            "l": 1e-3,
            "litre": 1e-3,
            "liter": 1e-3,
            "ml": 1e-6,
            "ft3": FT3,
            "cu ft": FT3,
            "yd3": YD3,
            "cu yd": YD3,
            "m3": 1.0,
        },
        "warming": {"f": 1 / 1.8, "°f": 1 / 1.8, "k": 1.0, "c": 1.0, "°c": 1.0},
        "temperature": {"f": 1.0, "°f": 1.0, "c": 1.0, "°c": 1.0},
        "share": {"": 1.0, "%": 0.01, "percent": 0.01},
        "force": {"lbf": LBF, "lb": LBF, "lbs": LBF, "n": 1.0, "dan": 10.0, "kn": 1e3},
        "area": {"ft2": FT2, "sq ft": FT2, "in2": IN2, "sq in": IN2, "m2": 1.0, "cm2": 1e-4},
        "time": {"s": 1.0, "sec": 1.0, "min": 60.0, "minutes": 60.0, "h": HOUR, "hours": HOUR, "d": DAY, "days": DAY},
        "insulation": {"r": HOUR * FT2 / BTU / 1.8, "h ft2 f/btu": HOUR * FT2 / BTU / 1.8, "m2k/w": 1.0, "m2 k/w": 1.0},
        "drying": {"lb/ft2/h": LB / FT2 / HOUR, "kg/m2/h": 1 / HOUR, "kg/m2/s": 1.0},
        "rain": {"mm": 1.0, "in": 25.4, "in.": 25.4, "inch": 25.4, "inches": 25.4},
    }
)
_LIKE: Mapping[Dimension, str] = MappingProxyType(
    {
        "angle": "Type it like 8 in 12, 3 in. per ft, 1:4 or 34 deg",
        "pressure": "Type it like 30 psf or 1.44 kPa",
        "speed": "Type it like 115 mph or 51 m/s",
        "density": "Type it like 145 lb/ft3 or 2320 kg/m3",
        "mass": "Type it like 10 lb or 4.5 kg",
        "volume": "Type it like 3 qt or 2.8 L",
        "temperature": "Type it like 65 F or 18 C",
        "warming": "Type it like 400 F or 220 K",
        "share": "Type it like 2 % or 0.02",
        "force": "Type it like 300 lbf or 1300 N",
        "area": "Type it like 32 ft2 or 3 m2",
        "time": "Type it like 6 min, 2 h or 3 d",
        "insulation": "Type it like 4 R or 0.7 m2K/W",
        "drying": "Type it like 0.2 lb/ft2/h or 1 kg/m2/h",
        "rain": "Type it like 0.1 in or 2 mm",
    }
)
_NUMBER = re.compile(r"([+-]?(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+))\s*(.*)")
_FRACTION = re.compile(r"(?:([0-9]+)[ -]+)?([0-9]+)\s*/\s*([1-9][0-9]*)(?![0-9.,])\s*(.*)")
_PER_FOOT = re.compile(r"(.+?)\s*(?:per|/|to the|a)\s*(?:ft\.?|foot|')")
_RISE_IN_RUN = re.compile(r"([0-9.,]+)\s*(?::|/|in|on|to)\s*([0-9.,]+)")


def parse_measure(text: str, dimension: Dimension, where: str = "measure") -> float | Problem:
    """Read a measure with its unit. Never raises on text.

    Returns SI (rad, Pa, m/s, kg/m3, kg, m3, degC, K of warming, a share of one) or a `Problem` with what to type instead.

    >>> round(parse_measure("8 in 12", "angle"), 4), parse_measure("2 %", "share"), parse_measure("68 F", "temperature")
    (0.588, 0.02, 20.0)
    >>> parse_measure("6 1/4 qt", "volume") == parse_measure("6.25 qt", "volume")
    True
    >>> print(parse_measure("30", "pressure", "around.ground_snow"))
    around.ground_snow: “30” has no unit. Type it like 30 psf or 1.44 kPa
    """
    if len(text) > MOST_LETTERS:
        return Problem(where, f"“{text[:20]}...” is {len(text)} letters long", _LIKE[dimension])
    flat = plain(text).lower().replace("²", "2").replace("³", "3").strip()
    if dimension == "angle" and (angle := _slope(flat)) is not None:
        return angle
    read = _number(flat)
    if read is None:
        return Problem(where, f"“{text}” does not begin with a number", _LIKE[dimension])
    value, unit = read
    if unit not in _UNITS[dimension]:
        return Problem(
            where, f"“{text}” has no unit" if not unit else f"“{text}”: “{unit}” is not a unit for this", _LIKE[dimension]
        )
    return _in_si(value, unit, dimension)


def _number(flat: str) -> tuple[Decimal, str] | None:
    """A number, whole, decimal or with a fraction as a jug is marked, and what follows it."""
    if part := _FRACTION.fullmatch(flat):
        return Decimal(part[1] or 0) + Decimal(part[2]) / Decimal(part[3]), part[4]
    match = _NUMBER.fullmatch(flat)
    return (Decimal(match[1].replace(",", ".")), match[2]) if match else None


STRENGTH = 1e5
"""From here up, Pa, a pressure is the strength of something, not a load on a roof."""


def print_measure(value: float, dimension: Dimension, system: Literal["us", "metric"] = "us") -> str:
    """Write a measure (SI) so that `parse_measure` gives the same number back to the last bit: the plainest text that does.

    >>> print_measure(radians(10.0), "angle"), print_measure(atan(8 / 12), "angle"), print_measure(0.02, "share")
    ('10 deg', '8 in 12', '2 %')
    """
    si = _WRITTEN[dimension][1]
    names = _units_for(value, dimension, system)
    tries = [_plainly(_out_of_si(value, name, dimension)) + f" {name}" for name in names if name]
    if dimension == "angle" and abs(value) < pi / 2:
        tries = [f"{_plainly(tan(value) * 12)} in 12", *tries] if system == "us" else tries
    exact = format(Decimal(repr(value)), "f") + f" {si}"
    return next((text for text in tries if parse_measure(text, dimension) == value), exact.strip())


_WRITTEN: Mapping[Dimension, tuple[str, str]] = MappingProxyType(
    {
        "angle": ("deg", "rad"),
        "pressure": ("psf", "Pa"),
        "speed": ("mph", "m/s"),
        "density": ("lb/ft3", "kg/m3"),
        "mass": ("lb", "kg"),
        "volume": ("qt", "m3"),
        "temperature": ("F", "C"),
        "warming": ("F", "K"),
        "share": ("%", ""),
        "force": ("lbf", "N"),
        "area": ("ft2", "m2"),
        "time": ("min", "s"),
        "insulation": ("R", "m2K/W"),
        "drying": ("lb/ft2/h", "kg/m2/s"),
        "rain": ("in", "mm"),
    }
)


def _units_for(value: float, dimension: Dimension, system: Literal["us", "metric"]) -> list[str]:
    """Units to try, the likeliest first; of time, from the greatest that the value fills."""
    first, si = _WRITTEN[dimension]
    if dimension == "time":
        return [name for name in ("d", "h", "min") if abs(value) >= _UNITS["time"][name]] + [si]
    if dimension == "pressure" and abs(value) >= STRENGTH:  # nobody tells a strength in psf
        return ["psi", first, si] if system == "us" else ["MPa", si, first]
    metric = ["kg/m2/h", si] if dimension == "drying" else [si]
    return [first, *metric] if system == "us" else [*metric, first]


def _slope(flat: str) -> float | None:
    """The angle of a rise: 3 in. per ft, 8 in 12, 1:4; None where the text is no rise."""
    if match := _PER_FOOT.fullmatch(flat):
        rise = parse_length(match[1], "in")
        return atan(rise.metres / FOOT) if isinstance(rise, Reading) else None
    if match := _RISE_IN_RUN.fullmatch(flat):
        try:
            up, along = (float(part.replace(",", ".")) for part in match.groups())
        except ValueError:
            return None
        return atan(up / along) if along > 0 else None
    return None


def _in_si(value: Decimal, unit: str, dimension: Dimension) -> float:
    if dimension == "temperature":
        return celsius(float(value)) if "f" in unit else float(value)
    if dimension == "share":
        return float(value / 100 if unit else value)
    return float(value) * _UNITS[dimension][unit]


def _out_of_si(value: float, unit: str, dimension: Dimension) -> float:
    if dimension == "temperature":
        return value * 1.8 + 32 if unit == "F" else value
    return degrees(value) if unit == "deg" else value / _UNITS[dimension][unit.lower()]


def _plainly(value: float) -> str:
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return text if isfinite(value) else "0"
