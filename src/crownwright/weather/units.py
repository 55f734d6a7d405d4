"""Units that weather files use, by their spelling, as a factor and a step to what `Hours` holds."""

from __future__ import annotations

import numpy as np

from crownwright.quantity.units import INCH, MPH, ZERO_CELSIUS
from crownwright.weather.hours import Floats

KNOT = 1852 / 3600  # m/s, exact (international nautical mile)

TEMPERATURE = {
    "degC": (1.0, 0.0),
    "C": (1.0, 0.0),
    "degF": (1 / 1.8, -32 / 1.8),
    "F": (1 / 1.8, -32 / 1.8),
    "K": (1.0, -ZERO_CELSIUS),
}
SHARE = {
    "percent": (0.01, 0.0),
    "%": (0.01, 0.0),
    "pct": (0.01, 0.0),
    "share": (1.0, 0.0),
    "tenths": (0.1, 0.0),
    "oktas": (0.125, 0.0),
}
SPEED = {
    "m_s-1": (1.0, 0.0),
    "m/s": (1.0, 0.0),
    "km_h-1": (1 / 3.6, 0.0),
    "km/h": (1 / 3.6, 0.0),
    "kph": (1 / 3.6, 0.0),
    "mi_h-1": (MPH, 0.0),
    "mph": (MPH, 0.0),
    "kt": (KNOT, 0.0),
    "kn": (KNOT, 0.0),
}
DEPTH = {"mm": (1.0, 0.0), "cm": (10.0, 0.0), "m": (1000.0, 0.0), "in": (INCH * 1000, 0.0), "kg_m-2": (1.0, 0.0)}
PRESSURE = {"Pa": (1.0, 0.0), "hPa": (100.0, 0.0), "mb": (100.0, 0.0), "kPa": (1000.0, 0.0), "inHg": (3386.389, 0.0)}
FLUX = {"W_m-2": (1.0, 0.0), "W/m2": (1.0, 0.0)}

BY_COLUMN = {
    "air": TEMPERATURE,
    "dew_point": TEMPERATURE,
    "humidity": SHARE,
    "wind": SPEED,
    "gust": SPEED,
    "cloud": SHARE,
    "rain_chance": SHARE,
    "rain": DEPTH,
    "snow": DEPTH,
    "pressure": PRESSURE,
    "sun": FLUX,
    "infrared": FLUX,
}


def suffix(unit: str) -> str:
    """Return the unit without its namespace.

    >>> suffix("wmoUnit:km_h-1")
    'km_h-1'
    """
    return unit.rsplit(":", 1)[-1].strip()


def to_ours(column: str, unit: str, values: Floats) -> Floats:
    """Return values in the unit of the `Hours` column.

    Raises KeyError, naming the unit and those allowed, for a unit that does not belong to the column.
    """
    known = BY_COLUMN[column]
    name = suffix(unit)
    if name not in known:
        raise KeyError(f"unit {name[:20]!r} for {column.replace('_', ' ')}; known are {', '.join(known)}")
    factor, step = known[name]
    return np.asarray(values, float) * factor + step
