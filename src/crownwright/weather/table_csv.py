"""Hourly weather in a comma-separated table with a header of column names and units, such as ``time, air [F], wind [mph]``."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta, tzinfo

import numpy as np

from crownwright.quantity.problems import Problem
from crownwright.weather.columns import Place, Read, assemble
from crownwright.weather.hours import Floats, Stamps, zone_of
from crownwright.weather.tables import as_text, column, split_rows
from crownwright.weather.units import BY_COLUMN, to_ours

WHERE = "weather table"
NAMES = {
    "air": "air",
    "temperature": "air",
    "dew point": "dew_point",
    "humidity": "humidity",
    "wind": "wind",
    "gust": "gust",
    "cloud": "cloud",
    "sky": "cloud",
    "rain chance": "rain_chance",
    "rain": "rain",
    "snow": "snow",
    "pressure": "pressure",
    "sun": "sun",
    "infrared": "infrared",
}
"""Names a header may use, and what they are here."""
_HEADER = re.compile(r"\s*([A-Za-z][A-Za-z _]*?)\s*[\[(]\s*([^\])]*?)\s*[\])]\s*")
ISO_REMEDY = "Write times as 2026-05-01 06:00, or with their offset: 2026-05-01T06:00-07:00."


def _header(fields: Sequence[str]) -> tuple[dict[int, tuple[str, str]], int | None, list[Problem]]:
    """Return {column: (our name, unit)}, the column of times, and what is wrong with the header."""
    known: dict[int, tuple[str, str]] = {}
    problems: list[Problem] = []
    times = None
    for i, text in enumerate(fields):
        if text.strip().lower() == "time":
            times = i
            continue
        found = _HEADER.fullmatch(text)
        name = found[1].lower().replace("_", " ") if found else text.strip().lower()
        if name not in NAMES:
            problems.append(
                Problem(
                    f"{WHERE}.header", f"column {text[:30]!r} is not known; not read", f"Known: {', '.join(NAMES)}.", stops=False
                )
            )
        elif not found:
            units = ", ".join(BY_COLUMN[NAMES[name]])
            problems.append(
                Problem(f"{WHERE}.header", f"column {text[:30]!r} has no unit", f"Write {name} [unit], with one of {units}.")
            )
        elif NAMES[name] in {ours for ours, _ in known.values()}:
            problems.append(Problem(f"{WHERE}.header", f"column {text[:30]!r} comes twice", "Keep one of them."))
        else:
            known[i] = (NAMES[name], found[2])
    if times is None:
        problems.append(Problem(f"{WHERE}.header", "no column 'time'", ISO_REMEDY))
    return known, times, problems


def _fold(when: datetime, before: datetime | None, zone: tzinfo) -> datetime:
    """Place a local time in its zone; the second time round of an hour that clocks repeat in autumn is the later one."""
    local = when.replace(tzinfo=zone)
    if before is not None and local.astimezone(UTC) <= before:
        later = local.replace(fold=1)
        if later.astimezone(UTC) > before:
            return later
    return local


def utc_stamps(texts: Sequence[str], zone: tzinfo) -> Stamps:
    """Return UTC stamps for written times, each with its offset or all in local time.

    Raises ValueError naming the row: not a time, not a whole hour, or a local time that clocks skip in spring.
    """
    stamps = np.empty(len(texts), "datetime64[s]")
    before: datetime | None = None
    for i, text in enumerate(texts):
        try:
            when = datetime.fromisoformat(text.strip())
            aware = when if when.tzinfo else _fold(when, before, zone)
            utc = aware.astimezone(UTC)
        except (ValueError, OverflowError):
            raise ValueError(f"{text[:30]!r} in data row {i + 1} is not a time") from None
        if when.tzinfo is None and utc.astimezone(zone).replace(tzinfo=None, fold=0) != when.replace(fold=0):
            raise ValueError(f"{text[:30]!r} in data row {i + 1} does not exist: clocks skip that hour")
        if when.minute or when.second or when.microsecond:
            raise ValueError(f"{text[:30]!r} in data row {i + 1} is not a whole hour")
        stamps[i] = np.datetime64((utc - _EPOCH) // timedelta(seconds=1), "s")
        before = utc
    return stamps


_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def parse_csv(data: str | bytes, *, place: Place, wind_height: float = 10.0) -> Read:
    """Read an hourly table into `Hours`.

    Args:
        data: The file's content. First row: ``time`` and named columns with their unit in brackets, of those in `NAMES`.
        place: Where it is, and the local time that times without an offset are in.
        wind_height: m above ground at which its wind was measured.
    """
    text, problems = as_text(data, WHERE)
    if text is None:
        return None, problems
    try:
        rows = split_rows(text)
        zone = zone_of(place.zone)
    except ValueError as fault:
        return None, (Problem(WHERE, str(fault), "Nothing of it was used; export it again."),)
    if len(rows) < 2:
        return None, (Problem(WHERE, "it has no rows of weather", "Give it a header and one row an hour."),)
    known, times, found = _header(rows[0])
    columns: dict[str, Floats] = {}
    for i, (name, unit) in known.items():
        try:
            columns[name] = to_ours(name, unit, column(rows[1:], i))
        except (ValueError, KeyError) as fault:
            found.append(
                Problem(f"{WHERE}.{rows[0][i].strip()[:30]}", str(fault.args[0]), "Correct it; nothing of the table was used.")
            )
    stamps: Stamps | None = None
    if times is not None:
        try:
            stamps = utc_stamps([row[times] if times < len(row) else "" for row in rows[1:]], zone)
        except ValueError as fault:
            found.append(Problem(f"{WHERE}.time", str(fault), ISO_REMEDY))
    if stamps is None or any(problem.stops for problem in found):
        return None, tuple(found)
    hours, more = assemble(WHERE, stamps, columns, place, wind_height=wind_height, source="hourly table")
    return hours, (*found, *more)
