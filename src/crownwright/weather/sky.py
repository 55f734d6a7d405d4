"""Light and heat from the sky for `Hours`: measured where the source has it, else from the sun's height and the clouds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from crownwright.codes import haurwitz_1945, kasten_czeplak_1980, walton_1983
from crownwright.codes.ashrae_moist_air import dew_point, vapour_pressure
from crownwright.codes.nrel_spa import Sun, sun_position
from crownwright.weather.hours import Floats, Hours, local_hours

HORIZON = -0.8333
"""Elevation without refraction, degrees, at which the sun's upper edge shows or goes (standard sunrise)."""
TWILIGHT = -6.0
"""Civil twilight: light enough to work outside without lamps (common definition)."""


@dataclass(frozen=True, slots=True, eq=False)
class Sky:
    """One value an hour, at mid-hour: elevation of the sun (degrees), sunshine on the level and radiation from the sky (W/m2)."""

    elevation: Floats
    sun: Floats
    infrared: Floats


def sun_over(hours: Hours) -> Sun:
    """Return where the sun stands in the middle of each hour."""
    middle = hours.utc + np.timedelta64(30, "m")
    pressure, air = float(hours.pressure.mean()), float(hours.air.mean())
    return sun_position(middle, hours.latitude, hours.longitude, elevation=hours.elevation, pressure=pressure, temperature=air)


def sky_over(hours: Hours, sun: Sun | None = None) -> Sky:
    """Return light and heat from the sky for each hour; ``sun`` where `sun_over` was asked before, for other skies over it."""
    sun = sun or sun_over(hours)
    clear = haurwitz_1945.clear_sky(90.0 - sun.apparent)
    shine = clear * kasten_czeplak_1980.cloud_factor(np.clip(hours.cloud, 0.0, 1.0))
    vapour = np.maximum(vapour_pressure(hours.air, hours.humidity), 1.0)
    infrared = walton_1983.sky_radiation(hours.air, dew_point(vapour), hours.cloud)
    return Sky(
        sun.elevation,
        np.where(np.isnan(hours.sun), shine, hours.sun),
        np.where(np.isnan(hours.infrared), infrared, hours.infrared),
    )


def light_enough(hours: Hours) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Tell for each hour whether the whole of it is between dawn and dusk (civil twilight)."""
    ends = np.concatenate([hours.utc, hours.utc[-1:] + np.timedelta64(1, "h")])
    up = sun_position(ends, hours.latitude, hours.longitude).elevation >= TWILIGHT
    lit: np.ndarray[tuple[int], np.dtype[np.bool_]] = up[:-1] & up[1:]
    return lit


def day_length(hours: Hours) -> timedelta:
    """Return the time between sunrise and sunset on the first local day of the series."""
    first = local_hours(hours)[0].date()
    index = [i for i, when in enumerate(local_hours(hours)) if when.date() == first]
    minutes = hours.utc[index[0]] + np.arange(24 * 60) * np.timedelta64(1, "m")
    up = sun_position(minutes, hours.latitude, hours.longitude).elevation > HORIZON
    return timedelta(minutes=int(up.sum()))
