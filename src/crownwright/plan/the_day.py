"""What is kept for the days and of the pour day, as it was typed: weather by hand, the hour chosen, batches and temperatures.

Nothing here is read by `plan_job`: the days are planned from it apart (`plan_days`, `revise`), so a slip in a temperature never
stops a plan.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WeatherTold:
    """One day of weather told by hand: "2026-05-11", "64 F", "46 F", "10 mph", "60 %" ..., each as typed."""

    on: str
    high: str
    low: str
    wind: str
    humidity: str
    rain_chance: str = ""
    rain: str = ""
    sky: str = ""


@dataclass(frozen=True, slots=True)
class BatchLogged:
    """A batch into the form: its local time, bags, the water it took and its temperature as placed, as typed."""

    at: str
    bags: str
    water: str = ""
    temperature: str = ""


@dataclass(frozen=True, slots=True)
class TemperatureLogged:
    """A temperature taken: of the air, of the mix, on the top, in the middle, at the edge; as typed."""

    at: str
    place: str
    temperature: str


@dataclass(frozen=True, slots=True)
class EventLogged:
    """What happened: "first batch", "struck off", "floated" ..., with a word on it."""

    at: str
    what: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class TheDay:
    """``zone`` of the job's local time (America/New_York); ``begins`` the hour chosen for the first batch, local
    (2026-05-16T12:00), "" for the best there is; the weather told by hand; and the log of the day.
    """

    zone: str = ""
    begins: str = ""
    weather: tuple[WeatherTold, ...] = ()
    batches: tuple[BatchLogged, ...] = ()
    temperatures: tuple[TemperatureLogged, ...] = ()
    events: tuple[EventLogged, ...] = ()
