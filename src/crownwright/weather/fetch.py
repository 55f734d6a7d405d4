"""Fetch a forecast when it is asked for. The only module that opens a connection; what opens it is an argument."""

from __future__ import annotations

import http.client
import time
import urllib.error
import urllib.request
from collections.abc import Callable
from datetime import datetime
from typing import Any

from crownwright.quantity.problems import Problem
from crownwright.weather.columns import Read
from crownwright.weather.gridpoint import LARGEST, parse_gridpoint, parse_json

SERVICE = "https://api.weather.gov"
"""The US government's open forecast service. It covers the United States and its territories only."""

AGENT = "crownwright/0.1 (chimney cap planning)"
OFFLINE = "Check the connection, or type the day's high, low, wind, humidity and rain chance by hand."

Opener = Callable[..., Any]
"""Like `urllib.request.urlopen`: (request, timeout=seconds) -> a response to read and close."""


def _get(
    url: str, opener: Opener, timeout: float, tries: int, wait: Callable[[float], None]
) -> tuple[bytes | None, tuple[Problem, ...]]:
    """Return what the address answers, trying again after failures that pass by themselves; at most `LARGEST` bytes are read."""
    request = urllib.request.Request(url, headers={"User-Agent": AGENT, "Accept": "application/geo+json"})
    said = ""
    for attempt in range(tries):
        if attempt:
            wait(min(2.0**attempt, 10.0))
        try:
            with opener(request, timeout=timeout) as answer:
                body: bytes = answer.read(LARGEST + 1)
                return body, ()
        except urllib.error.HTTPError as fault:
            said = f"the forecast service answered {fault.code}"
            fault.close()
            if fault.code == 404:
                return None, (
                    Problem(
                        "forecast",
                        "the service has no forecast for this place",
                        "It covers the United States only; " + OFFLINE.lower(),
                    ),
                )
            if fault.code < 500 and fault.code != 429:
                break
        except (TimeoutError, OSError, http.client.HTTPException) as fault:
            reason = getattr(fault, "reason", fault)
            said = f"the forecast service cannot be reached ({reason or type(fault).__name__})"
    return None, (Problem("forecast", f"{said}, tried {attempt + 1} times", OFFLINE),)


def _degrees(value: float) -> str:
    """Spell degrees with at most four decimals and no idle zeros: the service redirects any other spelling."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def fetch_forecast(
    latitude: float,
    longitude: float,
    *,
    now: datetime,
    opener: Opener = urllib.request.urlopen,
    service: str = SERVICE,
    timeout: float = 10.0,
    tries: int = 3,
    wait: Callable[[float], None] = time.sleep,
) -> Read:
    """Fetch and read the gridpoint forecast for a place: the point's grid first, then the grid's layers.

    Args:
        latitude: Degrees north; sent with four decimals, as the service asks.
        longitude: Degrees east (west is negative).
        now: The time now, aware.
        opener: What opens a request (an argument so that tests and offline use need no network).
        service: Root address of the service.
        timeout: Seconds for each answer.
        tries: How often to try each address.
        wait: Called with seconds between tries.

    Returns:
        The hours and no stopping problem, or None and the problems; never an exception for what the network does.
    """
    body, zone, problems = ask_for_layers(
        latitude, longitude, opener=opener, service=service, timeout=timeout, tries=tries, wait=wait
    )
    if body is None:
        return None, problems
    return parse_gridpoint(body, latitude=latitude, longitude=longitude, zone=zone, now=now)


def ask_for_layers(
    latitude: float,
    longitude: float,
    *,
    opener: Opener = urllib.request.urlopen,
    service: str = SERVICE,
    timeout: float = 10.0,
    tries: int = 3,
    wait: Callable[[float], None] = time.sleep,
) -> tuple[bytes | None, str, tuple[Problem, ...]]:
    """Fetch the forecast as the service sends it, unread, so that it can be kept; arguments as for `fetch_forecast`.

    Returns the layers (JSON) and the name of the local time, or None and the problems.
    """
    body, problems = _get(f"{service}/points/{_degrees(latitude)},{_degrees(longitude)}", opener, timeout, tries, wait)
    if body is None:
        return None, "", problems
    point, problems = parse_json(body, "forecast point")
    if point is None:
        return None, "", problems
    told = point.get("properties")
    grid = told.get("forecastGridData") if isinstance(told, dict) else None
    zone = told.get("timeZone") if isinstance(told, dict) else None
    if not isinstance(grid, str) or not isinstance(zone, str):
        return None, "", (Problem("forecast point", "the answer names no grid or no time zone", OFFLINE),)
    if not grid.startswith(service + "/"):  # an answer never sends us to another host
        return None, "", (Problem("forecast point", "the answer points to another service", OFFLINE),)
    body, problems = _get(grid, opener, timeout, tries, wait)
    return body, zone, problems
