"""Hours of weather for a job: from a file of any kind that is known, from a few numbers by hand, or fetched when asked."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any

from crownwright.plan.job import Job
from crownwright.quantity.lengths import Reading, parse_length
from crownwright.quantity.measures import Dimension, parse_measure
from crownwright.quantity.problems import Problem
from crownwright.weather.by_hand import SKIES, Day, hours_by_hand
from crownwright.weather.columns import Place, Read
from crownwright.weather.epw import parse_epw
from crownwright.weather.fetch import fetch_forecast
from crownwright.weather.gridpoint import parse_gridpoint
from crownwright.weather.table_csv import parse_csv
from crownwright.weather.tmy3 import parse_tmy3

Fetch = Callable[..., Read]
BIGGEST = 30_000_000  # bytes; a year of hours is a tenth of this
MEASURES: Mapping[str, Dimension] = {
    "high": "temperature", "low": "temperature", "wind": "speed", "humidity": "share", "rain_chance": "share",
}  # fmt: skip


def read_weather(data: bytes, name: str, job: Job, zone: str, now: datetime) -> Read:
    """Read a weather file, told apart by what stands in it: forecast JSON, days by hand (TOML), EPW, TMY3 or an hourly table.

    ``zone`` is the local time for tables and days by hand; ``now`` (aware) drops what a forecast tells of hours gone by.
    """
    if len(data) > BIGGEST:
        return None, (Problem(name, f"is {len(data) / 1e6:.0f} MB big", "A forecast or a year of hours is far smaller"),)
    head = data[:4000].lstrip(b"\xef\xbb\xbf \r\n\t")
    if head.startswith(b"LOCATION,"):
        return parse_epw(data)
    if head[:1].isdigit() and b"Date (MM/DD/YYYY)" in head:
        return parse_tmy3(data)
    place = place_of(job, zone)
    if isinstance(place, Problem):
        return None, (place,)
    if head.startswith(b"{"):
        return parse_gridpoint(data, latitude=place.latitude, longitude=place.longitude, zone=zone, now=now)
    if b"[[day]]" in data:
        return _by_hand(data, name, place)
    return parse_csv(data, place=place)


def ask_for_weather(job: Job, now: datetime, fetch: Fetch = fetch_forecast) -> Read:
    """Fetch the forecast for the job's latitude and longitude; a clear problem when offline."""
    place = place_of(job, "UTC")
    if isinstance(place, Problem):
        return None, (place,)
    return fetch(place.latitude, place.longitude, now=now)


def place_of(job: Job, zone: str) -> Place | Problem:
    """Return where the job is, or what is missing of it."""
    around = job.surroundings
    if around.latitude is None or around.longitude is None:
        remedy = "Put latitude and longitude in [surroundings] of the job file; the sun and the forecast need them"
        return Problem("surroundings.latitude", "where the chimney stands is not told", remedy)
    return Place(around.latitude, around.longitude, around.elevation or 0.0, zone)


def _by_hand(data: bytes, name: str, place: Place) -> Read:
    try:
        rows = tomllib.loads(data.decode("utf-8-sig")).get("day")
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        return None, (Problem(name, f"it cannot be read: {error}", "Look at that line; nothing of it was used"),)
    if not isinstance(rows, list):
        return None, (Problem(name, "it has no days", "Give each day a table [[day]] with on, high, low, wind, humidity"),)
    problems: list[Problem] = []
    days = [day for i, row in enumerate(rows, 1) if (day := _day(f"day[{i}]", row, problems)) is not None]
    return (None, tuple(problems)) if problems else hours_by_hand(days, place=place)


def _day(where: str, row: Any, problems: list[Problem]) -> Day | None:
    """One day as typed: on = 2026-05-11, high = "64 F", low = "46 F", wind = "10 mph", humidity = "60 %", sky = "half"."""
    known = {"on", "sky", "rain", *MEASURES}
    if not isinstance(row, Mapping):
        problems.append(Problem(where, "it is not a table", "Write it below a line [[day]]"))
        return None
    before = len(problems)
    problems += [Problem(f"{where}.{key}", "not known", f"Known: {', '.join(sorted(known))}") for key in set(row) - known]
    on = row.get("on")
    if not isinstance(on, date):
        problems.append(Problem(f"{where}.on", f"“{on}” is not a date", "Write it like 2026-05-11, without quotes"))
    values: dict[str, float] = {}
    for key, kind in MEASURES.items():
        if key in row or key not in {"rain_chance"}:
            found = parse_measure(str(row.get(key, "")), kind, f"{where}.{key}")
            problems.extend([found] if isinstance(found, Problem) else [])
            values |= {} if isinstance(found, Problem) else {key: found}
    rain = parse_length(str(row["rain"]), "mm") if "rain" in row else None
    if isinstance(rain, Problem):
        problems.append(Problem(f"{where}.rain", rain.what, "Write it like 0.2 in or 5 mm"))
    sky = str(row.get("sky", "half"))
    if sky not in SKIES:
        problems.append(Problem(f"{where}.sky", f"“{sky}” is not known", f"Known: {', '.join(SKIES)}"))
    if len(problems) > before or not isinstance(on, date):
        return None
    wet = rain.metres * 1000 if isinstance(rain, Reading) else 0.0
    return Day(on, values["high"], values["low"], values["wind"], values["humidity"], values.get("rain_chance", 0.0), wet, sky)
