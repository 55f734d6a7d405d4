"""Reda & Andreas (2004, rev. 2008), Solar Position Algorithm, NREL/TP-560-34302: where the sun stands, to 0.0003 degrees.

Numbers of equations and steps are the report's. Vectorised over times; one place at a time.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from crownwright.sources.tables import rows

Floats = NDArray[np.float64]

DELTA_T = 69.2
"""Terrestrial less universal time, s, about 2020 to 2030 (IERS; drifts by under a second a decade: nothing for a mason)."""
SUN_RADIUS = 0.26667
"""Apparent radius of the sun's disc, degrees (3.11.2)."""


@dataclass(frozen=True, slots=True, eq=False)
class Sun:
    """The sun seen from a place, degrees, one value for each time: topocentric zenith and elevation without refraction,
    ``apparent`` elevation with it, azimuth clockwise from north.
    """

    zenith: Floats
    elevation: Floats
    apparent: Floats
    azimuth: Floats


@cache
def _earth() -> dict[str, tuple[tuple[Floats, Floats, Floats], ...]]:
    """Return Table A4.2: for L, B and R the columns A, B, C for each power of time."""
    table: dict[str, dict[int, list[list[float]]]] = {}
    for row in rows(__package__, "nrel_spa_earth.csv"):
        terms = table.setdefault(row["series"], {}).setdefault(int(row["power"]), [])
        terms.append([float(row["A"]), float(row["B"]), float(row["C"])])
    return {name: tuple(_columns(powers[p]) for p in sorted(powers)) for name, powers in table.items()}


def _columns(terms: list[list[float]]) -> tuple[Floats, Floats, Floats]:
    a, b, c = np.array(terms).T
    return a, b, c


@cache
def _nutation() -> tuple[Floats, Floats]:
    """Return Table A4.3: the multiples of the five arguments (63,5) and the coefficients a, b, c, d (63,4)."""
    table = rows(__package__, "nrel_spa_nutation.csv")
    multiples = np.array([[float(row[f"y{i}"]) for i in range(5)] for row in table])
    return multiples, np.array([[float(row[name]) for name in "abcd"] for row in table])


def _series(name: str, jme: Floats) -> Floats:
    """Sum the periodic terms of L, B or R (eq. 9 to 11), in rad or AU."""
    total = np.zeros_like(jme)
    for power, (a, b, c) in enumerate(_earth()[name]):
        total += (np.cos(b[:, None] + c[:, None] * jme) * a[:, None]).sum(axis=0) * jme**power
    return total / 1e8


def _nutated(jce: Floats) -> tuple[Floats, Floats]:
    """Return nutation in longitude and in obliquity, degrees (3.4, eq. 15 to 22)."""
    arguments = np.array(
        [
            297.85036 + 445267.111480 * jce - 0.0019142 * jce**2 + jce**3 / 189474,
            357.52772 + 35999.050340 * jce - 0.0001603 * jce**2 - jce**3 / 300000,
            134.96298 + 477198.867398 * jce + 0.0086972 * jce**2 + jce**3 / 56250,
            93.27191 + 483202.017538 * jce - 0.0036825 * jce**2 + jce**3 / 327270,
            125.04452 - 1934.136261 * jce + 0.0020708 * jce**2 + jce**3 / 450000,
        ]
    )
    multiples, (a, b, c, d) = _nutation()[0], _nutation()[1].T[:, :, None]
    angle = np.radians(multiples @ arguments)
    longitude = ((a + b * jce) * np.sin(angle)).sum(axis=0) / 36e6
    obliquity = ((c + d * jce) * np.cos(angle)).sum(axis=0) / 36e6
    return longitude, obliquity


def _mean_obliquity(jme: Floats) -> Floats:
    """Return the mean obliquity of the ecliptic, degrees (eq. 24)."""
    coefficients = (84381.448, -4680.93, -1.55, 1999.25, -51.38, -249.67, -39.05, 7.12, 27.87, 5.79, 2.45)
    return np.polynomial.polynomial.polyval(jme / 10, coefficients) / 3600


def julian_day(utc: NDArray[np.datetime64]) -> Floats:
    """Return Julian days of UTC times (eq. 4; days count from 4713 BC, 2000-01-01 12:00 is 2451545).

    >>> float(julian_day(np.array(["2003-10-17T19:30:30"], dtype="datetime64[s]"))[0])
    2452930.312847222
    """
    seconds: Floats = utc.astype("datetime64[s]").astype(np.int64) / 86400.0 + 2440587.5
    return seconds


def sun_position(
    utc: NDArray[np.datetime64],
    latitude: float,
    longitude: float,
    *,
    elevation: float = 0.0,
    pressure: float = 101325.0,
    temperature: float = 12.0,
    delta_t: float = DELTA_T,
) -> Sun:
    """Where the sun stands.

    Args:
        utc: Times, datetime64, UTC.
        latitude: Degrees north.
        longitude: Degrees east.
        elevation: m above sea.
        pressure: Yearly mean air pressure, Pa, for refraction.
        temperature: Yearly mean air temperature, degC, for refraction.
        delta_t: Terrestrial less universal time, s.

    Returns:
        `Sun`, one value for each time. Valid for years -2000 to 6000, error under 0.0003 degrees.

    >>> golden = np.array(["2003-10-17T19:30:30"], dtype="datetime64[s]")
    >>> sun = sun_position(golden, 39.742476, -105.1786, elevation=1830.14, pressure=82000, temperature=11, delta_t=67)
    >>> round(float(sun.azimuth[0]), 4)
    194.3402
    """
    jd = julian_day(np.atleast_1d(utc))
    jc = (jd - 2451545) / 36525
    jce = (jd + delta_t / 86400 - 2451545) / 36525  # eq. 6, 5
    jme = jce / 10  # eq. 8
    radius = _series("R", jme)
    around = np.degrees(_series("L", jme)) + 180  # eq. 13, geocentric longitude
    beta = -_series("B", jme)  # eq. 14, rad
    psi, eps = _nutated(jce)
    tilt = np.radians(_mean_obliquity(jme) + eps)  # eq. 25
    lam = np.radians(around + psi - 20.4898 / (3600 * radius))  # eq. 26, 27
    sidereal = 280.46061837 + 360.98564736629 * (jd - 2451545) + 0.000387933 * jc**2 - jc**3 / 38710000  # eq. 28
    sidereal = sidereal + psi * np.cos(tilt)  # eq. 29
    ascension = np.arctan2(np.sin(lam) * np.cos(tilt) - np.tan(beta) * np.sin(tilt), np.cos(lam))  # eq. 30
    declination = np.arcsin(np.sin(beta) * np.cos(tilt) + np.cos(beta) * np.sin(tilt) * np.sin(lam))  # eq. 31
    hour_angle = np.radians(sidereal + longitude) - ascension  # eq. 32
    return _seen(hour_angle, declination, radius, np.radians(latitude), elevation, (pressure, temperature))


def _seen(hour: Floats, declination: Floats, radius: Floats, latitude: float, height: float, air: tuple[float, float]) -> Sun:
    """From geocentric to the place: parallax, elevation, refraction, azimuth (3.12 to 3.15); angles in rad."""
    parallax = np.radians(8.794 / (3600 * radius))  # eq. 33
    u = np.arctan(0.99664719 * np.tan(latitude))  # eq. 34
    x = np.cos(u) + height / 6378140 * np.cos(latitude)  # eq. 35
    y = 0.99664719 * np.sin(u) + height / 6378140 * np.sin(latitude)  # eq. 36
    across = np.cos(declination) - x * np.sin(parallax) * np.cos(hour)
    shift = np.arctan2(-x * np.sin(parallax) * np.sin(hour), across)  # eq. 37
    dec = np.arctan2((np.sin(declination) - y * np.sin(parallax)) * np.cos(shift), across)  # eq. 39
    local = hour - shift  # eq. 40
    e0 = np.degrees(np.arcsin(np.sin(latitude) * np.sin(dec) + np.cos(latitude) * np.cos(dec) * np.cos(local)))  # eq. 41
    pressure, temperature = air
    bent = (
        (pressure / 100 / 1010) * (283 / (273 + temperature)) * 1.02 / (60 * np.tan(np.radians(e0 + 10.3 / (e0 + 5.11))))
    )  # eq. 42
    up = e0 >= -(SUN_RADIUS + 0.5667)
    apparent = e0 + np.where(up, bent, 0.0)
    azimuth = np.degrees(np.arctan2(np.sin(local), np.cos(local) * np.sin(latitude) - np.tan(dec) * np.cos(latitude)))  # eq. 45
    return Sun(90 - e0, e0, apparent, (azimuth + 180) % 360)
