"""The weather as the heat balance meets it: hourly means turned into a smooth line, and into what acts on a face."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.codes import menzel_1954, walton_1983
from crownwright.codes.ashrae_moist_air import vapour_pressure
from crownwright.codes.nrel_spa import Sun
from crownwright.cure.inputs import CapInWeather
from crownwright.quantity.units import HOUR
from crownwright.weather.hours import Hours
from crownwright.weather.sky import sky_over

Floats = NDArray[np.float64]

AIR, VAPOUR, WETNESS, CONVECTION, UNDER, SUN, SKY, SNOWFALL, WIND = range(9)
"""Rows of `Forcing.values`: air degC; vapour pressure Pa; evaporation per Pa of pressure difference kg/(m2 s Pa); convection by
wind on top, and under the overhang, W/m2K; sun and sky on the level W/m2; snow mm/s; wind m/s."""


@dataclass(frozen=True, slots=True, eq=False)
class Forcing:
    """``values`` (9, times) at the ends of steps of ``dt`` s from the start of the hours; several ensemble members one after the
    other, ``length`` times each.
    """

    values: Floats
    dt: float
    length: int


def forcing(hours: Hours, cap: CapInWeather, dt: float, sun: Sun | None = None) -> Forcing:
    """Return the weather on the cap at every step; ``hours`` already brought to the height of the top.

    An hourly mean holds for the middle of its hour; between middles the line is straight. Wind half a metre above the cap is
    taken as that of the free stream: the cap stands up in it.
    """
    sky = sky_over(hours, sun)
    wind = np.maximum(hours.wind, 0.0)
    still, windy = menzel_1954.rate(1.0, 0.0, 0.0), menzel_1954.rate(1.0, 0.0, 1.0)
    per_pascal = still + (windy - still) * wind
    rows = (
        hours.air,
        vapour_pressure(hours.air, hours.humidity),
        per_pascal,
        walton_1983.forced(wind, cap.perimeter, cap.area),
        walton_1983.forced(wind, cap.perimeter, cap.area, windward=False),
        sky.sun,
        sky.infrared,
        np.where(hours.air < 2.0, hours.snow, 0.0) / HOUR,
        wind,
    )
    n = round(len(hours) * HOUR / dt) + 1
    times = np.arange(n) * dt
    middles = (np.arange(len(hours)) + 0.5) * HOUR
    values = np.array([np.interp(times, middles, row) for row in rows])
    return Forcing(values, dt, n)


def together(members: list[Forcing]) -> Forcing:
    """Put the forcings of ensemble members one after the other."""
    return Forcing(np.concatenate([m.values for m in members], axis=1), members[0].dt, members[0].length)
