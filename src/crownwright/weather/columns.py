"""From whatever columns a reader found to `Hours`, or to the list of what is wrong with them. Every reader ends here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from crownwright.codes.ashrae_moist_air import humidity_from_dew_point, pressure_at_elevation
from crownwright.quantity.problems import Problem
from crownwright.weather.hours import Floats, Hours, Stamps, joined

Read = tuple[Hours | None, tuple[Problem, ...]]
"""What every reader returns: the hours, or None when something stops; and all problems."""

BOUNDS: dict[str, tuple[float, float, str]] = {
    "air": (-70.0, 60.0, "degC"),
    "dew_point": (-90.0, 40.0, "degC"),
    "humidity": (0.0, 1.1, "share"),
    "wind": (0.0, 75.0, "m/s"),
    "gust": (0.0, 115.0, "m/s"),
    "cloud": (0.0, 1.0, "share"),
    "rain_chance": (0.0, 1.0, "share"),
    "rain": (0.0, 310.0, "mm in an hour"),
    "snow": (0.0, 310.0, "mm in an hour"),
    "pressure": (50_000.0, 110_000.0, "Pa"),
    "sun": (0.0, 1500.0, "W/m2"),
    "infrared": (50.0, 700.0, "W/m2"),
}
"""Outside these a value is a slip, not weather: the world's records of each, rounded out."""

NEEDED = ("air", "humidity", "wind")
LONGEST_BRIDGE = 3  # hours; longer holes are not guessed
GUST_FACTOR = 1.5  # judgement: an hour's gust over its mean wind, where the source has none


@dataclass(frozen=True, slots=True)
class Place:
    """Where the weather is: degrees north and east, m above sea, name of local time."""

    latitude: float
    longitude: float
    elevation: float
    zone: str


def absurd(where: str, columns: Mapping[str, Floats], utc: Stamps) -> list[Problem]:
    """Return one stopping problem for each column with values that no weather gives."""
    problems = []
    for name, (low, high, unit) in BOUNDS.items():
        values = columns.get(name)
        if values is None:
            continue
        bad = np.flatnonzero((values < low) | (values > high) | np.isinf(values))
        if bad.size:
            first = bad[0]
            what = f"{name} of {values[first]:g} {unit} at {utc[first]}Z ({bad.size} such hours) is outside {low:g} to {high:g}"
            problems.append(Problem(f"{where}.{name}", what, "Check the unit and the file; nothing of it was used."))
    return problems


def out_of_order(where: str, utc: Stamps) -> list[Problem]:
    """Return problems for hours that are doubled, go backwards or leave a gap."""
    steps = np.diff(utc).astype("timedelta64[s]").astype(np.int64)
    kinds = (
        (steps == 0, "the same hour comes twice", "Delete one of the two rows."),
        (steps < 0, "the hours go backwards", "Put the rows in order of time; check day and month are not swapped."),
        (steps > 3600, "hours are missing", "Export the series again without holes."),
        ((steps > 0) & (steps < 3600), "rows come more often than hourly", "Export hourly values."),
    )
    return [
        Problem(where, f"{what} after {utc[np.flatnonzero(bad)[0]]}Z ({int(bad.sum())} times)", remedy)
        for bad, what, remedy in kinds
        if bad.any()
    ]


def bridged(values: Floats) -> tuple[Floats, int]:
    """Fill holes of up to `LONGEST_BRIDGE` hours on a straight line; return the column and how many hours were filled."""
    holes = np.isnan(values)
    if not holes.any() or holes.all():
        return values, 0
    index = np.arange(len(values))
    run = np.diff(np.concatenate([[0], holes.astype(np.int8), [0]]))
    filled = values.copy()
    count = 0
    for start, stop in zip(np.flatnonzero(run == 1), np.flatnonzero(run == -1), strict=True):
        if start > 0 and stop < len(values) and stop - start <= LONGEST_BRIDGE:
            filled[start:stop] = np.interp(index[start:stop], index[~holes], values[~holes])
            count += int(stop - start)
    return filled, count


def _needed(where: str, columns: dict[str, Floats]) -> list[Problem]:
    """Bridge short holes in what the heat balance cannot do without; report what was done and what could not be."""
    problems = []
    for name in NEEDED:
        columns[name], count = bridged(columns[name])
        if count:
            what = f"{name} was missing in {count} hours, filled from its neighbours"
            problems.append(Problem(f"{where}.{name}", what, "No need to act unless it matters to the day chosen.", stops=False))
    return problems


def _first_whole_run(columns: Mapping[str, Floats]) -> slice:
    """Return the longest run of hours in which all that is needed is there (the first of equals)."""
    whole = ~np.any([np.isnan(columns[name]) for name in NEEDED], axis=0)
    edges = np.diff(np.concatenate([[0], whole.astype(np.int8), [0]]))
    starts, stops = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    if not starts.size:
        return slice(0, 0)
    best = int(np.argmax(stops - starts))
    return slice(int(starts[best]), int(stops[best]))


def _optional(where: str, columns: dict[str, Floats], n: int, place: Place) -> list[Problem]:
    """Fill what can be done without, saying what was assumed."""
    problems = []
    fill: dict[str, tuple[Floats, str]] = {
        "gust": (columns["wind"] * GUST_FACTOR, f"gusts taken as {GUST_FACTOR:g} times the wind"),
        "cloud": (np.full(n, 0.5), "half the sky taken as covered"),
        "rain": (np.zeros(n), "no rain amounts assumed"),
        "snow": (np.zeros(n), "no snow assumed"),
        "pressure": (np.full(n, pressure_at_elevation(place.elevation)), "standard air pressure for the height above sea"),
    }
    fill["rain_chance"] = (
        np.where(np.nan_to_num(columns.get("rain", np.zeros(n))) > 0, 1.0, 0.0),
        "rain taken as certain where an amount is given",
    )
    for name, (instead, said) in fill.items():
        have = columns.get(name, np.full(n, np.nan))
        missing = np.isnan(have)
        columns[name] = np.where(missing, instead, have)
        if missing.any() and name != "pressure":
            what = f"{name.replace('_', ' ')} missing in {int(missing.sum())} of {n} hours: {said}"
            problems.append(
                Problem(f"{where}.{name}", what, "Watch the sky yourself for what the file does not tell.", stops=False)
            )
    for name in ("sun", "infrared"):
        have = columns.get(name, np.full(n, np.nan))
        columns[name] = have if not np.isnan(have).any() else np.full(n, np.nan)
    return problems


def assemble(
    where: str,
    utc: Stamps,
    found: Mapping[str, Floats],
    place: Place,
    *,
    wind_height: float = 10.0,
    source: str = "",
    least: int = 24,
) -> Read:
    """Return `Hours` from the columns found (NaN where a value is missing), or every reason why not.

    ``found`` holds SI columns by the names of `Hours` (and ``dew_point``, used where humidity is missing). ``least`` is the
    fewest whole hours worth having. Nothing is half-read: one stopping problem and there are no hours.
    """
    utc = utc.astype("datetime64[s]")
    problems = out_of_order(where, utc) + absurd(where, found, utc)
    if not -90 <= place.latitude <= 90 or not -180 <= place.longitude <= 180:
        what = f"latitude {place.latitude:g}, longitude {place.longitude:g} is no place"
        problems.append(Problem(f"{where}.place", what, "Latitude -90 to 90, longitude -180 to 180, west negative."))
    if problems:
        return None, tuple(problems)
    columns = {name: np.asarray(values, float).copy() for name, values in found.items()}
    if "dew_point" in columns and "air" in columns:
        have = columns.get("humidity", np.full(len(utc), np.nan))
        from_dew = humidity_from_dew_point(columns["air"], columns.pop("dew_point"))
        columns["humidity"] = np.where(np.isnan(have), from_dew, have)
    lacking = [name for name in NEEDED if name not in columns or np.isnan(columns[name]).all()]
    if lacking:
        return None, (
            Problem(
                where, f"no {joined(lacking)} in it", "The heat balance needs air temperature, humidity (or dew point) and wind."
            ),
        )
    columns["humidity"] = np.clip(columns["humidity"], 0.0, 1.0)
    problems = _needed(where, columns)
    run = _first_whole_run(columns)
    n = run.stop - run.start
    if n < least:
        what = f"only {n} whole hours of air, humidity and wind together"
        return None, (*problems, Problem(where, what, f"At least {least} hours in a row are needed."))
    if n < len(utc):
        what = f"{len(utc) - n} of {len(utc)} hours lack air, humidity or wind and were left out"
        problems.append(Problem(where, what, "The plan ends earlier; fetch the forecast again nearer the day.", stops=False))
    kept = {name: values[run] for name, values in columns.items()}
    problems += _optional(where, kept, n, place)
    hours = Hours(
        utc[run],
        place.zone,
        place.latitude,
        place.longitude,
        place.elevation,
        **kept,
        wind_height=wind_height,
        sources=(source or where,),
        known=n,
    )
    return hours, tuple(problems)
