"""The trade's table of setting times by temperature, and the rate laws that make a band round it.

Interpolating the table (the logarithm of time along temperature) is the default. The Arrhenius band shows how far sources differ.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import exp, log

import numpy as np

from crownwright.codes.astm_c1074 import ENERGY_BAND, rate_factor
from crownwright.quantity.arrays import Numbers
from crownwright.quantity.units import HOUR, celsius, fahrenheit
from crownwright.sources.grids import Grid, read_grids

HOLDS = (celsius(30.0), celsius(100.0))
"""Temperatures (degC) of the table's ends; outside it the end slope is carried on."""
ANCHOR = celsius(70.0)
"""Temperature (degC) at which the rate laws are tied to the table."""

OPEN = ((0.0, 10 * HOUR), (10.0, 6 * HOUR), (20.0, 4 * HOUR))
"""degC and open time, s."""


def tables() -> Mapping[str, Grid]:
    """Return the table, hours by degrees Fahrenheit."""
    return read_grids(__package__, "set_times.toml")


def set_time(temperature: float) -> float:
    """Time of setting, s, by log-linear interpolation of the table; ``temperature`` of the concrete, degC.

    >>> round(set_time(celsius(75.0)) / HOUR, 2)
    4.9
    """
    f, hours = _curve()
    t = fahrenheit(temperature)
    low, high = (0, 1) if t < f[1] else (len(f) - 2, len(f) - 1) if t > f[-2] else (0, 0)
    if low != high:  # on, or beyond, an end span
        slope = (hours[high] - hours[low]) / (f[high] - f[low])
        return float(exp(hours[low] + slope * (t - f[low]))) * HOUR
    return float(exp(np.interp(t, f, hours))) * HOUR


def set_band(temperature: float) -> tuple[float, float]:
    """Earliest and latest time of setting, s, over the table and the rate laws of `ENERGY_BAND` tied to it at 70 F.

    >>> early, late = set_band(celsius(40.0))
    >>> round(early / HOUR, 1), round(late / HOUR, 1)
    (13.7, 18.1)
    """
    times = [set_time(temperature), *(arrhenius(temperature, energy) for energy in ENERGY_BAND)]
    return min(times), max(times)


def arrhenius(temperature: Numbers, energy: float) -> Numbers:
    """Time of setting, s, from the table's 70 F value by one activation energy (J/mol); ``temperature`` degC.

    >>> round(arrhenius(celsius(50.0), 40_000.0) / HOUR, 1)
    11.4
    """
    return set_time(ANCHOR) / rate_factor(temperature, energy, ANCHOR)


def doubling(temperature: float) -> float:
    """Time of setting, s, by the rule that 20 F more or less halves or doubles it, from the table's 70 F value.

    >>> round(doubling(celsius(90.0)) / HOUR, 1)
    3.0
    """
    return set_time(ANCHOR) * float(2.0 ** ((70.0 - fahrenheit(temperature)) / 20.0))


def open_time(temperature: float) -> float:
    """Time from adding water in which fresh concrete still takes the next lift without a cold joint, s; ``temperature`` degC.

    The Nordic rule, 4 h at 20 degC, 6 h at 10 and about 10 h at 0, by the logarithm; above 20 degC it is halved every 20 F,
    the harsher of the rules read. It ends near initial set: the trade's table of set times is nearer final set.

    >>> [round(open_time(t) / HOUR, 2) for t in (0.0, 10.0, 20.0, 31.11)]
    [10.0, 6.0, 4.0, 2.0]
    """
    if temperature > OPEN[-1][0]:
        return OPEN[-1][1] * float(2.0 ** (-(temperature - OPEN[-1][0]) * 1.8 / 20.0))
    (t0, h0), (t1, h1), (t2, h2) = OPEN
    (ta, ha), (tb, hb) = ((t0, h0), (t1, h1)) if temperature < t1 else ((t1, h1), (t2, h2))
    return exp(log(ha) + (temperature - ta) / (tb - ta) * log(hb / ha))


def _curve() -> tuple[list[float], list[float]]:
    pairs = sorted((float(k), log(float(v))) for k, v in tables()["hours"].column("hours").items() if isinstance(v, float))
    return [p[0] for p in pairs], [p[1] for p in pairs]
