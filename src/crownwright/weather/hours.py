"""`Hours`: an hourly run of weather with no holes, and the few things done to it as a whole."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, fields, replace
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from crownwright.codes.ashrae_wind import wind_at_height

Floats = NDArray[np.float64]
Stamps = NDArray[np.datetime64]

SERIES = ("air", "humidity", "wind", "gust", "cloud", "rain_chance", "rain", "snow", "pressure", "sun", "infrared")
"""The columns of `Hours` that hold one number an hour."""


@dataclass(frozen=True, slots=True, eq=False)
class Hours:
    """Weather hour by hour: whole hours, in order, none missing; every array has one value an hour.

    A value is the mean over the hour that begins at ``utc``; rain and snow are what falls in it. ``zone`` is the local time's
    name ("America/Denver", or "UTC-07:00"); ``latitude`` and ``longitude`` in degrees, north and east positive; ``elevation``
    in m. ``sun`` and ``infrared`` are measured or typical values where the source has them, else NaN all through, and are then
    computed from the sun's height and the clouds. ``known`` is how many hours came from the source: the rest were added.
    """

    utc: Stamps  # datetime64[s], start of the hour
    zone: str
    latitude: float
    longitude: float
    elevation: float
    air: Floats  # degC
    humidity: Floats  # 0-1
    wind: Floats  # m/s at wind_height
    gust: Floats  # m/s
    cloud: Floats  # 0-1, share of the sky covered
    rain_chance: Floats  # 0-1, for the interval the source gave it for
    rain: Floats  # mm in the hour
    snow: Floats  # mm of depth in the hour
    pressure: Floats  # Pa
    sun: Floats  # W/m2 on the level, or NaN
    infrared: Floats  # W/m2 down from the sky, or NaN
    wind_height: float = 10.0  # m
    sources: tuple[str, ...] = ()
    known: int = 0

    def __post_init__(self) -> None:
        """Refuse columns of another length or a series that skips an hour; the readers report such data as problems."""
        n = len(self.utc)
        odd = [name for name in SERIES if getattr(self, name).shape != (n,)]
        if odd or n == 0:
            raise ValueError(f"weather columns {odd or list(SERIES)} do not have one value for each of {n} hours")
        if n > 1 and not np.all(np.diff(self.utc) == np.timedelta64(1, "h")):
            raise ValueError("weather hours must follow each other without a gap")

    def __len__(self) -> int:
        return len(self.utc)


def zone_of(name: str) -> tzinfo:
    """Return the zone for an IANA name or a fixed offset written "UTC-07:00".

    Raises ValueError naming the zone when it is neither.

    >>> zone_of("UTC-07:00").utcoffset(None)
    datetime.timedelta(days=-1, seconds=61200)
    """
    if name == "UTC":
        return UTC
    if name.startswith("UTC") and len(name) == 9 and name[3] in "+-" and name[6] == ":":
        try:
            sign, hour, minute = (1 if name[3] == "+" else -1), int(name[4:6]), int(name[7:9])
            return timezone(sign * timedelta(hours=hour, minutes=minute))
        except ValueError:
            raise ValueError(f"no time zone {name!r}") from None
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        raise ValueError(f"no time zone {name!r}; use a name such as America/Denver or UTC-07:00") from None


def moment(stamp: np.datetime64) -> datetime:
    """Return a UTC datetime for a stamp of `Hours`.

    >>> moment(np.datetime64("2026-05-01T06:00:00"))
    datetime.datetime(2026, 5, 1, 6, 0, tzinfo=datetime.timezone.utc)
    """
    return datetime.fromtimestamp(int(stamp.astype("datetime64[s]").astype(np.int64)), tz=UTC)


def stamp(when: datetime) -> np.datetime64:
    """Return the stamp for an aware datetime, to the second.

    Raises ValueError for a datetime without a zone.
    """
    if when.tzinfo is None:
        raise ValueError(f"{when} has no time zone")
    return np.datetime64(int(when.timestamp()), "s")


def local_hours(hours: Hours) -> list[datetime]:
    """Return the start of each hour in local time."""
    zone = zone_of(hours.zone)
    return [moment(s).astimezone(zone) for s in hours.utc]


def between(hours: Hours, first: int, last: int) -> Hours:
    """Return the hours from index ``first`` up to, not with, ``last``."""
    cut: dict[str, Any] = {name: getattr(hours, name)[first:last] for name in SERIES}
    known = int(np.clip(hours.known - first, 0, last - first))
    return replace(hours, utc=hours.utc[first:last], known=known, **cut)


def at_top(hours: Hours, height: float, terrain: str) -> Hours:
    """Return the same hours with wind and gusts brought to ``height`` m over ground of the kind ``terrain``.

    The chimney top stands in the free stream, so the height is that of the top itself. Kinds: `ashrae_wind.TERRAIN`.
    """
    if hours.wind_height == height:
        return hours
    share = wind_at_height(1.0, height, terrain, measured_at=hours.wind_height)
    return replace(hours, wind=hours.wind * share, gust=hours.gust * share, wind_height=height)


def lengthened(hours: Hours, n: int) -> Hours:
    """Return at least ``n`` hours: past the end, the mean day of the last three days is repeated, with no rain or snow in it.

    `Hours.known` still says how many hours came from the source; what rests on the rest is said to be beyond the forecast.
    """
    more = n - len(hours)
    if more <= 0:
        return hours
    days = min(len(hours) // 24, 3)
    tail = days * 24 if days else len(hours)
    period = 24 if days else len(hours)
    pick = np.arange(more) % period
    new: dict[str, Any] = {}
    for name in SERIES:
        column = getattr(hours, name)
        mean_day = column[-tail:].reshape(-1, period).mean(axis=0)
        added = np.zeros(more) if name in {"rain", "snow"} else mean_day[pick]
        new[name] = np.concatenate([column, added])
    utc = hours.utc[0] + np.arange(n) * np.timedelta64(1, "h")
    return replace(hours, utc=utc.astype("datetime64[s]"), **new)


def joined(names: Iterable[str]) -> str:
    """Spell a list as a person would.

    >>> joined(["air", "wind", "sun"])
    'air, wind and sun'
    """
    *head, last = names
    return f"{', '.join(head)} and {last}" if head else last


assert set(SERIES) <= {f.name for f in fields(Hours)}
