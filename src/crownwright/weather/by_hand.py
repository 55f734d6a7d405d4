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
from crownwright.weather.hours import Floats, Stamps, stamp, zone_of

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


def _day_curve(clock: Floats, sunrise: float) -> Floats:
    """Return the share of the way from low to high through a day: a rising half wave from sunrise to 3 p.m., then falling.

    ``clock`` local solar hours 0 to 24. Lowest at sunrise, highest three hours past noon, and back to low by next sunrise.
    """
    peak = 15.0
    since = (clock - sunrise) % 24.0
    rise, fall = peak - sunrise, 24.0 - (peak - sunrise)
    up = since < rise
    phase = np.where(up, since / rise, 1.0 - (since - rise) / fall)
    share: Floats = 0.5 - 0.5 * np.cos(np.pi * phase)
    return share


def hours_by_hand(days: Sequence[Day], *, place: Place) -> Read:
    """Turn a few days' numbers into `Hours`.

    The temperature swings between low at sunrise and high at 3 p.m. solar time; the vapour in the air is held through each day
    (so that humidity is high at dawn and low in the afternoon, and its mean is near what was given), the wind eases by night;
    rain, if any, is spread over the day. The spread of such hours is that of a guess: it is widened in the window search.
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
    noon = np.arange(len(utc)) // 24
    which = np.minimum(noon, len(days) - 1)
    solar = (middle.astype("datetime64[s]").astype(np.int64) / 3600.0 + place.longitude / 15.0) % 24.0
    up = np.flatnonzero(np.diff((sun_position(middle[:24], place.latitude, place.longitude).elevation > 0).astype(int)) == 1)
    sunrise = float(solar[up[0] + 1]) - 0.5 if up.size else 6.0
    share = _day_curve(solar, min(sunrise, 12.0))
    high, low, wind, humidity, chance, rain = (
        np.array([getattr(days[i], name) for i in which]) for name in ("high", "low", "wind", "humidity", "rain_chance", "rain")
    )
    air = low + share * (high - low)
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
