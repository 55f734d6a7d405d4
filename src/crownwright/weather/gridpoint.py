"""The US government gridpoint forecast: JSON layers of values over intervals (schema of the National Weather Service API)."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any, NoReturn

import numpy as np

from crownwright.quantity.problems import Problem
from crownwright.weather.columns import Place, Read, assemble
from crownwright.weather.hours import Floats, Hours, between, stamp, zone_of
from crownwright.weather.iso8601 import interval
from crownwright.weather.units import to_ours

LAYERS = {
    "temperature": "air",
    "dewpoint": "dew_point",
    "relativeHumidity": "humidity",
    "windSpeed": "wind",
    "windGust": "gust",
    "skyCover": "cloud",
    "probabilityOfPrecipitation": "rain_chance",
    "quantitativePrecipitation": "rain",
    "snowfallAmount": "snow",
}
TOTALS = {"quantitativePrecipitation", "snowfallAmount"}
"""Layers whose value is the total over the interval: an hour gets its share of it, not the whole."""

LARGEST = 20_000_000  # bytes; a real answer is about a fiftieth of that
MOST_HOURS = 24 * 40
ASK_AGAIN = "Fetch the forecast again."
WHERE = "forecast"

Layers = dict[str, tuple[list[tuple[datetime, int, float]], str]]
"""By layer: its spans (start, whole hours, value) and its unit."""


def _refuse_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} is not a number JSON allows")


def parse_json(text: str | bytes, where: str) -> tuple[dict[str, Any] | None, tuple[Problem, ...]]:
    """Return a JSON object from text, or the one problem that stops: too long, cut off, not an object."""
    if len(text) > LARGEST:
        what = f"{len(text) / 1e6:.0f} MB is too long for a forecast (limit {LARGEST / 1e6:.0f} MB); it was not read"
        return None, (Problem(where, what, "Check that this is a forecast for one place."),)
    try:
        data = json.loads(text, parse_constant=_refuse_constant)
    except (ValueError, RecursionError) as fault:
        return None, (Problem(where, f"not readable as JSON ({str(fault)[:80]}); cut off on the way?", ASK_AGAIN),)
    if not isinstance(data, dict):
        return None, (Problem(where, "not a JSON object", ASK_AGAIN),)
    return data, ()


def _number(value: object) -> float:
    """Return a layer's value as a float, NaN for null; raise ValueError for anything that is not a number."""
    if value is None:
        return float("nan")
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(f"value {str(value)[:20]!r} is not a number")
    try:
        return float(value)
    except OverflowError:
        raise ValueError("value is too long to be a number") from None


def _spans(layer: Mapping[str, Any], now: datetime) -> list[tuple[datetime, int, float]]:
    """Return (start, whole hours, value) for each interval of a layer; raise ValueError for what is not a layer."""
    rows = layer.get("values", [])
    if not isinstance(rows, list):
        raise ValueError("its values are not a list")
    spans = []
    for row in rows:
        if not isinstance(row, dict) or not isinstance(row.get("validTime"), str):
            raise ValueError("a value has no validTime")
        start, end = interval(row["validTime"], now)
        hours, rest = divmod(end - start, timedelta(hours=1))
        if rest or start.minute or start.second or start.microsecond:
            raise ValueError(f"{row['validTime'][:60]} does not run over whole hours")
        if hours > MOST_HOURS:
            raise ValueError(f"{row['validTime'][:60]} is too long")
        spans.append((start, hours, _number(row.get("value"))))
    return spans


def _placed(spans: list[tuple[datetime, int, float]], first: datetime, n: int, total: bool) -> Floats:
    """Spread a layer's spans over ``n`` hours from ``first``; raise ValueError where two of them claim one hour."""
    column = np.full(n, np.nan)
    taken = np.zeros(n, bool)
    for start, hours, value in spans:
        i = int((start - first) // timedelta(hours=1))
        if taken[i : i + hours].any():
            raise ValueError(f"two values for the hour from {start:%Y-%m-%d %H:%M}Z")
        taken[i : i + hours] = True
        column[i : i + hours] = value / hours if total else value
    return column


def _elevation(properties: Mapping[str, Any]) -> float:
    """Return the grid's height above sea in m, 0 where it is not told."""
    told = properties.get("elevation")
    value = told.get("value") if isinstance(told, dict) else None
    return float(value) if isinstance(value, int | float) and abs(value) < 9000 else 0.0


def _read_layers(properties: Mapping[str, Any], now: datetime) -> tuple[Layers, list[Problem]]:
    """Return the spans and the unit of each layer that has values, and what is wrong with the others."""
    layers: Layers = {}
    problems = []
    for name in LAYERS:
        layer = properties.get(name)
        if layer is None:
            continue
        try:
            if not isinstance(layer, dict):
                raise ValueError("it is not a layer")
            if spans := _spans(layer, now):
                layers[name] = (spans, str(layer.get("uom", layer.get("unitCode", ""))))
        except ValueError as fault:
            problems.append(Problem(f"{WHERE}.{name}", str(fault), ASK_AGAIN))
    if not layers and not problems:
        problems.append(Problem(WHERE, "no layer of it has values", ASK_AGAIN))
    return layers, problems


def _columns(layers: Layers, first: datetime, n: int) -> tuple[dict[str, Floats], list[Problem]]:
    """Return our columns in our units over ``n`` hours from ``first``, and what could not be placed."""
    columns: dict[str, Floats] = {}
    problems = []
    for name, (spans, unit) in layers.items():
        try:
            columns[LAYERS[name]] = to_ours(LAYERS[name], unit, _placed(spans, first, n, name in TOTALS))
        except (ValueError, KeyError) as fault:
            problems.append(Problem(f"{WHERE}.{name}", str(fault.args[0]), "Check the file; nothing of it was used."))
    return columns, problems


def _from_now(hours: Hours | None, problems: tuple[Problem, ...], now: datetime) -> Read:
    """Leave out the hours that are over: an answer begins some hours before it was fetched, and nobody pours yesterday."""
    if hours is None:
        return None, problems
    over = int(np.searchsorted(hours.utc, stamp(now), side="right")) - 1
    if stamp(now) >= hours.utc[-1] + np.timedelta64(1, "h"):
        return None, (Problem(WHERE, "it lies wholly in the past", ASK_AGAIN),)
    return (between(hours, over, len(hours)) if over > 0 else hours), problems


def parse_gridpoint(text: str | bytes, *, latitude: float, longitude: float, zone: str, now: datetime) -> Read:
    """Read a gridpoint forecast into `Hours`.

    ``zone`` names the local time (the service's answer for the point has it); ``now`` (aware) stands for "NOW" in an
    interval, and hours that are over by then are left out. Units are read by their suffix, so the old and the new namespace both
    do. Totals are spread over the hours of their interval; nulls and empty layers are missing values. Pure: no clock, disk or
    network.
    """
    data, problems = parse_json(text, WHERE)
    if data is None:
        return None, problems
    properties = data.get("properties")
    if not isinstance(properties, dict):
        return None, (Problem(WHERE, "it has no 'properties'", "This is not a gridpoint forecast; " + ASK_AGAIN.lower()),)
    layers, found = _read_layers(properties, now)
    try:
        zone_of(zone)
    except ValueError as fault:
        found.append(Problem(f"{WHERE}.zone", str(fault), "Name the local time of the job."))
    if found:
        return None, tuple(found)
    first = min(start for spans, _ in layers.values() for start, _, _ in spans)
    last = max(start + timedelta(hours=hours) for spans, _ in layers.values() for start, hours, _ in spans)
    n = int((last - first) // timedelta(hours=1))
    if n > MOST_HOURS:
        what = f"it runs over {n / 24:.0f} days"
        return None, (Problem(WHERE, what, "A forecast runs a week or two; check the dates in it."),)
    columns, found = _columns(layers, first, n)
    if found:
        return None, tuple(found)
    utc = stamp(first.astimezone(UTC)) + np.arange(n) * np.timedelta64(1, "h")
    place = Place(latitude, longitude, _elevation(properties), zone)
    return _from_now(*assemble(WHERE, utc, columns, place, source="US government gridpoint forecast"), now)
