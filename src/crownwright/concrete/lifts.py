"""Two lifts: a wetter one that flows round the drip and fills the edge, and a stiffer one that stands as the wash."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from crownwright.codes.aci_211_1_1991 import Slump
from crownwright.concrete.bags import WATER_DENSITY, Bag, water_for
from crownwright.concrete.count import BagCount

LOWER_SLUMP: Slump = "6-7"
UPPER_SLUMP: Slump = "1-2"
LOOKS = {
    "1-2": "stiff: a handful keeps its shape and leaves the hand damp, not wet",
    "3-4": "plastic: settles slowly off a shovel, the edge of a cut slumps",
    "6-7": "wet: flows round the drip when worked, still holds its stone",
}
"""What a slump looks like in a barrow (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Lift:
    """``volume`` m3 of best estimate; ``bags`` it takes, mean, parts of a bag counted; ``planned`` whole bags set aside for it;
    ``slump`` in. and what that looks like; ``water`` m3 for one bag, to start with and not to pass.
    """

    name: str
    volume: float
    bags: float
    planned: int
    slump: Slump
    looks: str
    water: float
    water_low: float
    water_high: float

    @property
    def water_mass(self) -> float:
        """Water for the whole lift, kg."""
        return self.bags * self.water * WATER_DENSITY


def split_lifts(
    lower: float, upper: float, bag: Bag, count: BagCount, slumps: tuple[Slump, Slump] = (LOWER_SLUMP, UPPER_SLUMP)
) -> tuple[Lift, Lift]:
    """Return the two lifts; ``lower`` and ``upper`` in m3. The lower lift gets its bags rounded up, the upper the rest; where
    that would take more from the wash than rounding down takes from the edge, rounded down (`_lower_bags`).

    The margin of the count stays with the wash: it is struck off last, so what is missing would be missing there.
    ValueError when either volume is negative or both are nothing.
    """
    whole = lower + upper
    if min(lower, upper) < 0 or whole <= 0:
        raise ValueError(f"volumes of the lifts must not be negative nor both nothing, are {lower:g} and {upper:g} m3")
    bags = [count.needed.mean * part / whole for part in (lower, upper)]
    first = _lower_bags(bags[0], bags[1], min(ceil(sum(bags) - 1e-9), count.bags))
    return (
        _lift("edge and drip", lower, bags[0], first, bag, slumps[0]),
        _lift("wash", upper, bags[1], count.bags - first, bag, slumps[1]),
    )


def _lower_bags(lower: float, upper: float, whole: int) -> int:
    """Whole bags of the lower lift, out of ``whole`` that the pour is expected to take; both lifts in bags and parts of one.

    >>> _lower_bags(6.2, 2.9, 10), _lower_bags(3.14, 0.39, 4), _lower_bags(3.9, 0.3, 5), _lower_bags(0.6, 0.2, 1)
    (7, 3, 4, 1)
    """
    up, down = min(ceil(lower - 1e-9), whole), floor(lower)
    lacks_wash, lacks_edge = upper - (whole - up), lower - down
    return down if down and lacks_wash > lacks_edge else up


def _lift(name: str, volume: float, bags: float, planned: int, bag: Bag, slump: Slump) -> Lift:
    water = water_for(bag, slump)
    return Lift(name, volume, bags, planned, slump, LOOKS[slump], water, bag.water_low, bag.water_high)
