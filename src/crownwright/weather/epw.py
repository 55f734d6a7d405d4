"""EPW: a year of hourly weather with eight header lines and 35 fields a row."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from crownwright.quantity.problems import Problem
from crownwright.weather.columns import Place, Read, assemble
from crownwright.weather.hours import Floats
from crownwright.weather.tables import as_text, column, number, split_rows
from crownwright.weather.typical_year import YEAR, calendar_fault, offset_name, year_stamps

WHERE = "EPW file"
FIELDS: dict[str, tuple[int, tuple[float, ...], float]] = {
    "air": (6, (99.9,), 1.0),
    "dew_point": (7, (99.9,), 1.0),
    "humidity": (8, (999.0,), 0.01),
    "pressure": (9, (999999.0,), 1.0),
    "infrared": (12, (9999.0,), 1.0),
    "sun": (13, (9999.0,), 1.0),
    "wind": (21, (999.0,), 1.0),
    "cloud": (23, (99.0,), 0.1),
    "rain": (33, (999.0,), 1.0),
}
"""Our column: (field counted from 0, marks of a missing value, factor to our unit)."""
SNOW_DEPTH = 30  # cm, 999 missing
HEADERS = 8


def parse_epw(data: str | bytes, *, year: int = YEAR) -> Read:
    """Read an EPW file into `Hours`, laid on ``year`` (not a leap year).

    Hour 1 runs from 00:00 to 01:00 local standard time. Cloud is opaque cover. Snowfall is the rise of the snow depth.
    """
    text, problems = as_text(data, WHERE)
    if text is None:
        return None, problems
    try:
        rows = split_rows(text)
        place, offset = _place(rows)
        body = rows[HEADERS:]
        fault = calendar_fault(*(column(body, i) for i in (1, 2, 3)))
        if fault:
            raise ValueError(fault)
        columns = {name: column(body, i, missing) * factor for name, (i, missing, factor) in FIELDS.items()}
        columns["snow"] = _snowfall(column(body, SNOW_DEPTH, (999.0,)))
    except ValueError as fault:
        return None, (Problem(WHERE, str(fault), "Nothing of it was used; get the file again."),)
    return assemble(WHERE, year_stamps(year, offset), columns, place, source="EPW typical year")


def _place(rows: Sequence[Sequence[str]]) -> tuple[Place, float]:
    """Return where the file is for and its offset from UTC in hours; raise ValueError where the first line does not tell."""
    if len(rows) <= HEADERS or rows[0][0].strip().upper() != "LOCATION" or len(rows[0]) < 10:
        raise ValueError("it does not begin with a LOCATION line and eight header lines")
    latitude, longitude, offset, elevation = (number(field) for field in rows[0][6:10])
    if not np.isfinite([latitude, longitude, offset, elevation]).all() or abs(offset) > 14:
        raise ValueError("its LOCATION line does not tell place and time zone")
    return Place(latitude, longitude, elevation, offset_name(offset)), offset


def _snowfall(depth_cm: Floats) -> Floats:
    """Return snowfall, mm of depth in each hour, from the depth lying: what it rose."""
    rise = np.diff(depth_cm, prepend=depth_cm[:1]) * 10.0
    return np.where(np.isnan(rise), np.nan, np.maximum(rise, 0.0))
