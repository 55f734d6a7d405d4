"""SI values as a mason reads them: the one place that turns a figure into text, in US or metric units. Money is not here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan, degrees, floor, isfinite, isnan, log10, tan
from types import MappingProxyType
from typing import Literal

from crownwright.quantity.lengths import print_length
from crownwright.quantity.units import DAY, FOOT, FT2, FT3, HOUR, IN2, INCH, LB, LBF, MPH, PCF, PSF, PSI, fahrenheit
from crownwright.quantity.working import Figure

System = Literal["us", "metric"]


@dataclass(frozen=True, slots=True)
class Shown:
    """How an SI unit is shown: divide by ``size`` and write ``name``. It serves from ``above`` (SI, absolute) upwards."""

    size: float
    name: str
    above: float = 0.0


# From the largest down: the first whose ``above`` the value reaches is used.
_US: Mapping[str, tuple[Shown, ...]] = MappingProxyType(
    {
        "m2": (Shown(FT2, "sq ft"),),
        "m2/m": (Shown(IN2 / FOOT, "sq in./ft"),),
        "m3": (Shown(FT3, "cu ft"),),
        "kg": (Shown(LB, "lb"),),
        "kg/m": (Shown(LB / FOOT, "lb/ft"),),
        "kg/m2": (Shown(LB / FT2, "lb/sq ft"),),
        "kg/m3": (Shown(PCF, "lb/cu ft"),),
        "kg/s": (Shown(LB / HOUR, "lb/h"),),
        "kg/(m2 s)": (Shown(LB / FT2 / HOUR, "lb/sq ft h"),),
        "Pa": (Shown(PSI, "psi", 10_000.0), Shown(PSF, "psf")),
        "N": (Shown(LBF, "lbf"),),
        "N/m": (Shown(LBF / FOOT, "lbf/ft"),),
        "N/m2": (Shown(PSF, "psf"),),
        "N m": (Shown(LBF * FOOT, "lbf ft"),),
        "m/s": (Shown(MPH, "mph"),),
        "K": (Shown(1 / 1.8, "°F"),),
        "1/K": (Shown(1.8, "per °F"),),
    }
)
_METRIC: Mapping[str, tuple[Shown, ...]] = MappingProxyType(
    {
        "m2": (Shown(1.0, "m²"),),
        "m2/m": (Shown(1e-6, "mm²/m"),),
        "m3": (Shown(1.0, "m³", 1.0), Shown(0.001, "L")),
        "kg/m2": (Shown(1.0, "kg/m²"),),
        "kg/m3": (Shown(1.0, "kg/m³"),),
        "kg/(m2 s)": (Shown(1 / HOUR, "kg/m² h"),),
        "Pa": (Shown(1e6, "MPa", 1e6), Shown(1e3, "kPa", 1e3), Shown(1.0, "Pa")),
        "N": (Shown(1e3, "kN", 1e4), Shown(1.0, "N")),
        "K": (Shown(1.0, "°C"),),
        "1/K": (Shown(1.0, "per °C"),),
    }
)
DEGREE: Mapping[System, float] = MappingProxyType({"us": 1 / 1.8, "metric": 1.0})  # K
LONG = 12 * FOOT  # from here up a length is shown in feet, or in metres: nobody reads a roof in sixteenths


_BEYOND_ANY_TAPE = 1e15
"""Past this nothing is a field measure, in any unit, and counting its digits would overflow."""
LEAST_NUMBER = 1e-6
"""The last digit that a pure number is shown to; under half of it, it says so instead of nought."""


def show(value: float, unit: str, system: System, precision: int | None = None) -> str:
    """Text for a value in an SI unit.

    Args:
        value: in ``unit``.
        unit: m, m2, m3, kg, kg/m3, Pa, N, rad, K, degC, s, share (shown in per cent), 1 ...; any other is written as it is.
        system: "us" or "metric".
        precision: decimals; for a US length, divisions of an inch (16, 8, 4, 2, 1). None: what suits the size.

    >>> show(1.3081, "m", "us"), show(0.111, "m3", "us"), show(0.111, "m3", "metric"), show(20.7e6, "Pa", "us", 0)
    ('51 1/2 in.', '3.92 cu ft', '111 L', '3,002 psi')
    """
    if not isfinite(value):
        return "not known" if isnan(value) else "no limit"
    if abs(value) >= _BEYOND_ANY_TAPE:
        return f"{value:.3g} {unit}"
    if unit in _OWN_WAY:
        return _OWN_WAY[unit](value, system, precision)
    by = _shown(value, unit, system)
    if precision is None and unit == "1" and value == round(value):
        precision = 0  # a count
    if precision is None and unit == "1" and 0 < value < LEAST_NUMBER / 2:
        return f"under {LEAST_NUMBER:f}"
    return f"{_number(value / by.size, precision, system)} {by.name}".rstrip()


EXTRAPOLATED = " (extrapolated)"
"""What stands behind a number whose inputs lie outside the range of its formula, wherever it is shown."""


def show_figure(figure: Figure, system: System, precision: int | None = None) -> str:
    """Text for a figure, with its standard error after ± where it has one; one outside the range of its formula says so.

    >>> show_figure(Figure("cap.volume", "concrete", 0.111, "m3", "", spread=0.003), "us")
    '3.92 cu ft ± 0.11'
    >>> show_figure(Figure("a", "gas at the top", 150.0, "degC", "", holds="stoves", extrapolated=True), "metric")
    '150 °C (extrapolated)'
    """
    return _figure_text(figure, system, precision) + (EXTRAPOLATED if figure.extrapolated else "")


def _figure_text(figure: Figure, system: System, precision: int | None) -> str:
    value, spread, unit = figure.value, figure.spread, figure.unit
    if spread is None or not 0 < spread < _BEYOND_ANY_TAPE or not abs(value) < _BEYOND_ANY_TAPE:
        return show(value, unit, system, precision)
    if unit == "m":
        return f"{show(value, unit, system, precision)} ± {_length_spread(spread, system, long=abs(value) >= LONG)}"
    if unit in _OWN_WAY:
        difference, digits = unit, precision
        if unit == "degC":
            difference, digits = "K", precision or int(spread < DEGREE[system])  # whole degrees, but for a spread under one
        return f"{show(value, unit, system, precision)} ± {show(spread, difference, system, digits)}"
    by = _shown(value, unit, system)
    decimals = precision if precision is not None else min(max(1 - floor(log10(spread / by.size)), 0), 4)
    parts = _number(value / by.size, decimals, system), by.name, "±", _number(spread / by.size, decimals, system)
    return " ".join(filter(None, parts))


LEAST_SIXTEENTH = INCH / 32
"""Under this a length says nothing in sixteenths."""


def in_64ths(metres: float) -> str:
    """Text for a length too small for the marks of a tape (m, above 0).

    >>> in_64ths(INCH / 30), in_64ths(INCH / 1000)
    ('1/32 in.', 'less than 1/64 in.')
    """
    return "less than 1/64 in." if metres < INCH / 128 else print_length(metres, "in.", 64)


def _length_spread(spread: float, system: System, *, long: bool) -> str:
    """A spread as a tape has marks for it: the nearest sixteenth, under 1/32 the nearest 1/64; beside a ``long`` one in feet."""
    if system == "us" and spread < LEAST_SIXTEENTH:
        return in_64ths(spread)
    if system == "us":
        return print_length(spread, "feet" if long and spread >= FOOT else "in.")
    if long and spread >= 0.01:
        return f"{_number(spread, 2, system)} m"
    tenths = int(spread < 0.0095)  # of a millimetre, under ten
    return "less than 0.1 mm" if spread < 0.00005 else f"{_number(spread * 1000, tenths, system)} mm"


def show_slope(angle: float, system: System) -> str:
    """Text for the fall of a surface (angle from level, rad): rise first, as a mason sets it out, then degrees.

    >>> show_slope(atan(3 / 12), "us"), show_slope(atan(0.25), "metric")
    ('3 in. per ft (14.0°)', '250 mm per m (14.0°)')
    """
    rise = tan(angle)
    per = f"{print_length(rise * FOOT, 'in.')} per ft" if system == "us" else f"{_number(rise * 1000, 0, 'metric')} mm per m"
    return f"{per} ({degrees(angle):.1f}°)"


def _shown(value: float, unit: str, system: System) -> Shown:
    rows = (_US if system == "us" else _METRIC).get(unit, (Shown(1.0, "" if unit == "1" else unit),))
    return next((row for row in rows if abs(value) >= row.above), rows[-1])


def _number(value: float, precision: int | None, system: System) -> str:
    """Three significant figures, but never fewer than the whole number. Metric has no comma: there it may be a decimal."""
    size = floor(log10(abs(value))) if value else 2
    decimals = precision if precision is not None else min(max(2 - size, 0), 6)
    text = f"{value:,.{decimals}f}"
    if system == "metric":
        text = text.replace(",", " " if abs(value) >= 10_000 else "")
    return text.lstrip("-") if not text.strip("-0.") else text


def _length(value: float, system: System, precision: int | None) -> str:
    if system == "metric":
        return _metric_length(value, precision)
    if precision is None and 0 < abs(value) < LEAST_SIXTEENTH:
        return f"{_number(value / INCH, None, 'us').rstrip('0')} in."  # a deflection: sixteenths would say nothing
    if abs(value) < LONG - INCH / 32:
        return print_length(value, "in.", precision or 16)
    return print_length(value, "feet", precision or 2)


def _metric_length(value: float, precision: int | None) -> str:
    if abs(value) >= LONG:
        return f"{_number(value, 2 if precision is None else precision, 'metric')} m"
    tiny = precision is None and 0 < abs(value) < 0.0005
    return f"{_number(value * 1000, None if tiny else precision or 0, 'metric')} mm"


def _angle(value: float, system: System, precision: int | None) -> str:
    return f"{_number(degrees(value), 1 if precision is None else precision, system)}°"


def _temperature(value: float, system: System, precision: int | None) -> str:
    shown, mark = (fahrenheit(value), "°F") if system == "us" else (value, "°C")
    return f"{_number(shown, precision or 0, system)} {mark}"


def _rise(value: float, system: System, _: int | None) -> str:
    return show_slope(atan(value), system)


def _time(value: float, system: System, precision: int | None) -> str:
    if 0 < abs(value) < 60:
        return f"{_number(value, precision or 0, system)} s"
    sign, minutes = "-" if value < 0 else "", round(abs(value) / 60)
    if minutes * 60 >= 2 * DAY:
        days, hours = divmod(round(minutes / 60), 24)
        return f"{sign}{days} d {hours} h" if hours else f"{sign}{days} d"
    hours, minutes = divmod(minutes, 60)
    parts = [f"{hours} h"] * bool(hours) + [f"{minutes} min"] * bool(minutes or not hours)
    return sign + " ".join(parts)


def _share(value: float, system: System, precision: int | None) -> str:
    percent = 100 * value
    if 0 < abs(percent) < 0.1:
        return "less than 0.1 %" if percent > 0 else "0 %"
    decimals = (1 if abs(percent) < 10 and round(percent, 1) != round(percent) else 0) if precision is None else precision
    return f"{_number(percent, decimals, system)} %"


_OWN_WAY = MappingProxyType({"share": _share, "m": _length, "rad": _angle, "degC": _temperature, "s": _time, "m/m": _rise})
