"""A word on the weather of each day."""

from __future__ import annotations

from datetime import date, datetime

import numpy as np

from crownwright.plan.job import Units
from crownwright.quantity.display import show
from crownwright.weather.hours import Hours, zone_of

LEAST = 12
"""Hours known of a day before a word is said on it: less than half a day says little of it."""


def weather_words(hours: Hours, units: Units) -> dict[date, str]:
    """A word on the weather of each day by its local hours: coldest and warmest, chance of rain, strongest gust."""
    zone = zone_of(hours.zone)
    local = [datetime.fromisoformat(f"{stamp}+00:00").astimezone(zone).date() for stamp in hours.utc.astype("datetime64[s]")]
    found: dict[date, str] = {}
    for on in dict.fromkeys(local[: hours.known or len(local)]):
        at = np.array([day == on for day in local])
        if at.sum() < LEAST:
            continue
        low, high = (show(float(x), "degC", units) for x in (hours.air[at].min(), hours.air[at].max()))
        rain = f"rain {hours.rain_chance[at].max():.0%}"
        found[on] = f"{low} to {high}, {rain}, gusts {show(float(np.fmax(hours.gust, hours.wind)[at].max()), 'm/s', units, 0)}"
    return found
