"""International Residential Code 2018, chapter 10: height above the roof, crickets, flue sizes, free areas."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from math import ceil, tan
from types import MappingProxyType
from typing import Literal

from crownwright.quantity.units import FOOT, IN2, INCH
from crownwright.sources.tables import pick, rows

ABOVE_ROOF = 3 * FOOT
ABOVE_NEAR = 2 * FOOT
REACH = 10 * FOOT


def height_above_roof(
    pitch: float, ridge_away: float, *, above_roof: float = ABOVE_ROOF, above_near: float = ABOVE_NEAR, reach: float = REACH
) -> float:
    """Least height of the outlet above the uphill roof line at the chimney, m.

    max(above_roof, above_near + tan(pitch) min(d, reach)).
    ``pitch`` of the roof, rad (0 to under pi/2); ``ridge_away`` d, horizontal from the nearest chimney face to the ridge, m. The
    roof past the ridge falls away, so the highest roof within reach is at d or at the reach, whichever is nearer.

    R1003.9 (3 ft, 2 ft, 10 ft; the text does not say that the 10 ft are horizontal, local ordinances do).

    >>> from math import atan
    >>> round(height_above_roof(atan(4 / 12), 7 * FOOT) / INCH, 3)  # 28 in. of rise and 24 in.
    52.0
    """
    return max(above_roof, above_near + tan(pitch) * min(ridge_away, reach))


def cricket_height(width: float, pitch: float) -> float:
    """Height of a cricket at the chimney, m: H = W tan(pitch) / 2, which is every row of Table R1003.20.

    ``width`` W of the chimney parallel to the ridge, m; ``pitch`` of the roof, rad. A cricket is wanted over `CRICKET_WIDTH`
    where the chimney does not meet the ridge (R1003.20; the table from memory but for its 12:12 row).

    >>> from math import atan
    >>> round(cricket_height(36 * INCH, atan(8 / 12)) / INCH, 6)
    12.0
    """
    return width * tan(pitch) / 2


CRICKET_WIDTH = 30 * INCH
"""Width parallel to the ridge, m, above which R1003.20 wants a cricket."""

FlueShape = Literal["round", "square", "rectangular"]


def flue_ratio(shape: FlueShape, aspect: float = 1.0) -> float:
    """Least net flue area over fireplace opening: round 1/12, square or aspect under 2 1/10, aspect 2 or more 1/8.

    ``aspect`` is the longer outside side over the shorter (at least 1). R1003.15.1 (from memory; 1/12 and 1/10 also read in a
    local ordinance).

    >>> flue_ratio("rectangular", 18 / 8.5)
    0.125
    """
    if shape == "round":
        return 1 / 12
    return 1 / 10 if aspect < 2 else 1 / 8


@cache
def net_areas() -> Mapping[str, float]:
    """Return the net flue area of every size in Tables R1003.14(1) and (2), m2, by trade name ("13x13", "round 12")."""
    return MappingProxyType({row["name"]: float(row["net_in2"]) * IN2 for row in rows(__package__, "irc_2018_flues.csv")})


def net_area(name: str) -> float:
    """Return the net area of one flue size, m2; KeyError lists the sizes there are. Measured inside sizes go before it.

    >>> round(net_area("13x13") / IN2, 6)
    127.0
    """
    return pick(net_areas(), name, "flue size")


def open_side_height(flue_area: float, perimeter: float, ratio: float = 4.0) -> float:
    """Clear height under a rain cap, m, so that its open sides add to ``ratio`` times the flue: h = ratio A / perimeter.

    ``flue_area`` A net, m2; ``perimeter`` of the opening all round under the cap, m. For a square or a round flue with
    ratio 4 that is its side or its diameter. Ratio: R1003.9.3 (from memory), R1003.9.2 for spark arrestors.

    >>> round(open_side_height(0.3**2, 4 * 0.3), 6)
    0.3
    """
    return ratio * flue_area / perimeter


SEISMIC_REINFORCED = frozenset({"D0", "D1", "D2", "D"})
SEISMIC_ENGINEERED = frozenset({"E", "F"})


def vertical_bars(width: float) -> int:
    """No. 4 bars a reinforced chimney needs: four up to 40 in. wide, two more for each further 40 in. or part.

    ``width`` in m. For seismic design categories D0 to D2 (R1003.3; the New York City code asks for it in C and D).

    >>> vertical_bars(48 * INCH)
    6
    """
    beyond = max(0.0, round(width / INCH - 40, 6))
    return 4 + 2 * ceil(beyond / 40)
