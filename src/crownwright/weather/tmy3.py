"""TMY3: the US government's typical year, one header line of place, one of column names.

The trap: the precipitation column is headed mm, but many stations hold hundredths of an inch written in tenths of a mm
(3, 5, 8, 10 ...), and some hold junk codes and totals over 3, 6 or 24 hours. What it is, is found out from the values.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from crownwright.quantity.problems import Problem
from crownwright.weather.columns import Place, Read, assemble
from crownwright.weather.hours import Floats
from crownwright.weather.tables import as_text, column, number, split_rows
from crownwright.weather.typical_year import YEAR, calendar_fault, offset_name, year_stamps

WHERE = "TMY3 file"
COLUMNS = {
    "air": ("Dry-bulb (C)", 1.0),
    "dew_point": ("Dew-point (C)", 1.0),
    "humidity": ("RHum (%)", 0.01),
    "pressure": ("Pressure (mbar)", 100.0),
    "sun": ("GHI (W/m^2)", 1.0),
    "wind": ("Wspd (m/s)", 1.0),
    "cloud": ("OpqCld (tenths)", 0.1),
}
RAIN, RAIN_HOURS = "Lprecip depth (mm)", "Lprecip quantity (hr)"
MISSING = (-9900.0,)
JUNK = 190.0
"""In files that hold mm, values from here up (193, 232 to 255, 508 ...) are codes, not rain."""


def parse_tmy3(data: str | bytes, *, year: int = YEAR) -> Read:
    """Read a TMY3 file into `Hours`, laid on ``year`` (not a leap year). Rows are hour-ending local standard time."""
    text, problems = as_text(data, WHERE)
    if text is None:
        return None, problems
    try:
        rows = split_rows(text)
        place, offset = _place(rows)
        names = {name.strip(): i for i, name in enumerate(rows[1])}
        body = rows[2:]
        fault = calendar_fault(*_calendar(body))
        if fault:
            raise ValueError(fault)
        columns = {ours: column(body, _find(names, theirs), MISSING) * factor for ours, (theirs, factor) in COLUMNS.items()}
        columns["rain"], said = rain_mm(
            column(body, _find(names, RAIN), MISSING), column(body, _find(names, RAIN_HOURS), MISSING)
        )
    except ValueError as fault:
        return None, (Problem(WHERE, str(fault), "Nothing of it was used; get the file again."),)
    hours, more = assemble(WHERE, year_stamps(year, offset), columns, place, source="TMY3 typical year")
    return hours, (Problem(f"{WHERE}.rain", said, "Compare the year's total with what the place gets.", stops=False), *more)


def _find(names: dict[str, int], name: str) -> int:
    if name not in names:
        raise ValueError(f"it has no column {name!r}")
    return names[name]


def _place(rows: Sequence[Sequence[str]]) -> tuple[Place, float]:
    """Return where the file is for and its offset from UTC in hours; raise ValueError where the first line does not tell."""
    if len(rows) < 3 or len(rows[0]) < 7:
        raise ValueError("it does not begin with a line of station, time zone, latitude, longitude and elevation")
    offset, latitude, longitude, elevation = (number(field) for field in rows[0][3:7])
    if not np.isfinite([latitude, longitude, offset, elevation]).all() or abs(offset) > 14:
        raise ValueError("its first line does not tell place and time zone")
    return Place(latitude, longitude, elevation, offset_name(offset)), offset


def _calendar(body: Sequence[Sequence[str]]) -> tuple[Floats, Floats, Floats]:
    """Return month, day and hour (1 to 24) of each row; raise ValueError naming a row that has none."""
    parts = np.empty((len(body), 3))
    for i, row in enumerate(body):
        try:
            month, day, _ = row[0].split("/")
            parts[i] = float(month), float(day), float(row[1].split(":")[0])
        except (ValueError, IndexError):
            raise ValueError(f"data row {i + 1} has no date and hour") from None
    return parts[:, 0], parts[:, 1], parts[:, 2]


def in_tenths(depth: Floats) -> bool:
    """Tell whether depths are hundredths of an inch in tenths of a mm: nearly all are then round(2.54 k), k whole.

    Whole mm would hold as many values between those steps as on them, so 1, 2, 4 and 6 would be common.
    """
    wet = depth[depth > 0]
    steps = np.round(2.54 * np.arange(1, 2000))
    return bool(wet.size >= 20 and np.isin(wet, steps).mean() > 0.9)


def rain_mm(depth: Floats, over_hours: Floats) -> tuple[Floats, str]:
    """Return rain in mm for each hour, NaN where the file does not tell, and a sentence on how the column was read.

    ``depth`` as in the file, ``over_hours`` the hours it fell in (NaN where not told; 99 is not told either). A total over
    several hours is spread over the hours up to its row.
    """
    tenths = in_tenths(depth)
    amount = depth / 10 if tenths else np.where(depth >= JUNK, np.nan, depth)
    rain = np.full(len(depth), np.nan)
    for i in np.flatnonzero(~np.isnan(amount)):
        hours = int(over_hours[i]) if 1 <= over_hours[i] <= 24 else 1
        first = max(0, i - hours + 1)
        rain[first : i + 1] = np.fmax(rain[first : i + 1], amount[i] / hours)
    total = float(np.nansum(rain))
    unit = "tenths of a mm, whatever its heading says" if tenths else "mm, with codes from 190 up left out"
    return rain, f"the rain column was read as {unit}: {total:.0f} mm in the year"
