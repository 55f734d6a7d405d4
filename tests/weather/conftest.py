"""Small forecasts made for tests: the shape of the government's answer, any number of hours, any layer altered."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from crownwright.weather.columns import Read
from crownwright.weather.gridpoint import parse_gridpoint

NOW = datetime(2026, 4, 1, 6, tzinfo=UTC)


def layer(uom: str, values: list[float | None], *, every: int = 1, start: datetime = NOW) -> dict[str, Any]:
    rows = [
        {"validTime": f"{(start + timedelta(hours=every * i)).isoformat()}/PT{every}H", "value": value}
        for i, value in enumerate(values)
    ]
    return {"uom": uom, "values": rows}


def gridpoint(n: int = 48, **altered: Any) -> str:
    """A forecast of ``n`` hours; ``altered`` replaces a layer (None takes it out)."""
    properties: dict[str, Any] = {
        "elevation": {"unitCode": "wmoUnit:m", "value": 250.0},
        "temperature": layer("wmoUnit:degC", [10.0 + (i % 24) / 2 for i in range(n)]),
        "dewpoint": layer("wmoUnit:degC", [5.0] * n),
        "relativeHumidity": layer("wmoUnit:percent", [60.0] * n),
        "windSpeed": layer("wmoUnit:km_h-1", [18.0] * n),
        "windGust": layer("wmoUnit:km_h-1", [36.0] * n),
        "skyCover": layer("wmoUnit:percent", [25.0] * n),
        "probabilityOfPrecipitation": layer("wmoUnit:percent", [10.0] * n),
        "quantitativePrecipitation": layer("wmoUnit:mm", [6.0] * (n // 6), every=6),
        "snowfallAmount": layer("wmoUnit:mm", [0.0] * (n // 6), every=6),
    }
    properties.update(altered)
    return json.dumps({"properties": {name: value for name, value in properties.items() if value is not None}})


@pytest.fixture(scope="session")
def forecast() -> Callable[..., str]:
    """The text of a forecast: `gridpoint`."""
    return gridpoint


@pytest.fixture(scope="session")
def strip() -> Callable[..., dict[str, Any]]:
    """One layer of a forecast: `layer`."""
    return layer


@pytest.fixture(scope="session")
def read() -> Callable[..., Read]:
    """Read a forecast for a place in the Carolinas."""

    def run(text: str | bytes) -> Read:
        return parse_gridpoint(text, latitude=36.1, longitude=-79.95, zone="America/New_York", now=NOW)

    return run
