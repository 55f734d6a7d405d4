"""A few numbers by hand - high, low, wind, humidity, rain chance, sky - turned into hours, for where no forecast can be had."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

import numpy as np

from crownwright.codes.ashrae_moist_air import saturation_pressure
from crownwright.codes.nrel_spa import sun_position
from crownwright.quantity.problems import Problem
from crownwright.weather.columns import Place, Read, assemble
from crownwright.weather.hours import Floats, Stamps, moment, stamp, zone_of

WHERE = "day"
SKIES = {
    "clear": 0.0,
    "mostly clear": 0.25,
    "partly cloudy": 0.4,
    "half": 0.5,
    "mostly cloudy": 0.75,
    "cloudy": 0.95,
    "overcast": 1.0,
}
"""Share of the sky covered, by the word for it (eighths of the weather services' terms, rounded)."""
CALM_NIGHT = 0.6
"""Wind by night as a share of the afternoon's (judgement)."""


@dataclass(frozen=True, slots=True)
class Day:
    """One day as he hears it: high and low degC, wind m/s in the afternoon, humidity 0 to 1 as the day's mean, rain chance 0 to 1
    with the mm it would bring, the word for the sky.
    """

    on: date
    high: float
    low: float
    wind: float
    humidity: float
    rain_chance: float = 0.0
    rain: float = 0.0
    sky: str = "half"


def _problems(days: Sequence[Day]) -> list[Problem]:
    found = []
    for i, day in enumerate(days):
        where = f"{WHERE}[{i}]"
        if day.low > day.high:
            found.append(Problem(where, f"the low {day.low:g} is over the high {day.high:g} degC", "Swap them."))
        if day.sky not in SKIES:
            found.append(Problem(f"{where}.sky", f"{day.sky!r} is no word for the sky known here", f"Known: {', '.join(SKIES)}."))
        if i and day.on != days[i - 1].on + timedelta(days=1):
            found.append(Problem(f"{where}.on", f"{day.on} does not follow {days[i - 1].on}", "Give the days in a row."))
        if not 0 < day.humidity <= 1:
            found.append(Problem(f"{where}.humidity", f"{day.humidity:g} is not a humidity", "Between 1 and 100 %."))
    return found


def _hours_of(days: Sequence[Day], zone_name: str) -> Stamps:
    """Return the UTC hours from the first local midnight to the last: 23 or 25 in a day when the clocks change."""
    zone = zone_of(zone_name)
    first = datetime.combine(days[0].on, datetime.min.time(), zone).astimezone(UTC)
    last = datetime.combine(days[-1].on + timedelta(days=1), datetime.min.time(), zone).astimezone(UTC)
    return stamp(first) + np.arange(int((last - first) // timedelta(hours=1))) * np.timedelta64(1, "h")


def _swing(solar: Floats, sunrise: float, days: Sequence[Day]) -> Floats:
    """Return air temperature at ``solar`` hours since the first midnight: each day's low at sunrise, its high at 3 p.m., half a
    cosine wave between one and the next; before the first low and after the last high as if the next days were the same.
    """
    highs = np.array([days[0].high, *(day.high for day in days)])
    lows = np.array([*(day.low for day in days), days[-1].low])
    times = np.array([t for i in range(len(days) + 1) for t in (24.0 * i - 9.0, 24.0 * i + sunrise)])
    values = np.column_stack([highs, lows]).ravel()
    k = np.clip(np.searchsorted(times, solar, side="right") - 1, 0, len(times) - 2)
    way = np.clip((solar - times[k]) / (times[k + 1] - times[k]), 0.0, 1.0)
    air: Floats = values[k] + (values[k + 1] - values[k]) * (0.5 - 0.5 * np.cos(np.pi * way))
    return air


def hours_by_hand(days: Sequence[Day], *, place: Place) -> Read:
    """Turn a few days' numbers into `Hours`.

    The temperature swings between low at sunrise and high at 3 p.m. solar time; the vapour in the air is held through each day
    (so that humidity is high at dawn and low in the afternoon, and its mean is near what was given); the wind eases by night;
    rain, if any, is spread over the day.
    """
    try:
        zone_of(place.zone)
        found = _problems(days) if days else [Problem(WHERE, "no day was given", "Type at least one day.")]
    except ValueError as fault:
        found = [Problem("place.zone", str(fault), "Name the local time of the job.")]
    if found:
        return None, tuple(found)
    utc = _hours_of(days, place.zone)
    middle = utc + np.timedelta64(30, "m")
    zone = zone_of(place.zone)
    which = np.array([(moment(t).astimezone(zone).date() - days[0].on).days for t in utc])
    start = np.datetime64(days[0].on.isoformat())
    solar = (middle - start).astype(np.int64) / 3600.0 + place.longitude / 15.0
    light = sun_position(middle[:24], place.latitude, place.longitude).elevation > 0
    up = np.flatnonzero(light[1:] & ~light[:-1])
    sunrise = min(float(solar[up[0] + 1] % 24.0) - 0.5, 12.0) if up.size else 6.0
    air = _swing(solar, sunrise, days)
    high, low, wind, humidity, chance, rain = (
        np.array([getattr(days[i], name) for i in which]) for name in ("high", "low", "wind", "humidity", "rain_chance", "rain")
    )
    share = np.clip((air - low) / np.where(high > low, high - low, 1.0), 0.0, 1.0)
    vapour = humidity * saturation_pressure((high + low) / 2)
    columns: dict[str, Floats] = {
        "air": air,
        "humidity": np.clip(vapour / saturation_pressure(air), 0.05, 1.0),
        "wind": wind * (CALM_NIGHT + (1 - CALM_NIGHT) * share),
        "cloud": np.array([SKIES[days[i].sky] for i in which]),
        "rain_chance": chance,
        "rain": rain / 24.0,
        "snow": np.zeros(len(utc)),
    }
    return assemble(WHERE, utc, columns, place, source="numbers by hand", least=1)
