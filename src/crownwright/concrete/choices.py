"""What the mason may decide about the concrete."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Slump = Literal["1-2", "3-4", "6-7"]


@dataclass(frozen=True, slots=True)
class ConcreteChoices:
    """``bag`` names a row of the bag table ("80 lb"); ``risk`` the chance he accepts of running short (0..1), ``promise`` whether
    on every single one, or over many pours (whole bags are rounded with that in mind; none above four times it);
    ``yield_sd`` relative standard error of a pour's yield; ``own_yield`` what a bag has given in his own finished jobs, of what
    is reckoned without them; ``spill`` share lost on the way and its standard error;
    ``portland`` kg added to each bag; ``mortar_bag`` for the bed, ``mortar_waste`` share of it lost.

    ``water`` m3 for one bag (None: by slump, on the label's range); ``lower_slump`` and ``upper_slump``, in., of the two lifts;
    ``cement_share`` and its standard error, a guess that no label gives; ``air_entrained`` when the label says so; ``exposure``
    class for freezing and ``edition`` of the code asked.
    """

    bag: str = "80 lb"
    risk: float = 0.02
    promise: Literal["every pour", "over many pours"] = "every pour"
    yield_sd: float = 0.03
    own_yield: float = 1.0
    spill: float = 0.02
    spill_sd: float = 0.01
    portland: float = 0.0
    mortar_bag: str = "80 lb"
    mortar_waste: float = 0.10
    water: float | None = None
    lower_slump: Slump = "6-7"
    upper_slump: Slump = "1-2"
    cement_share: float = 0.16
    cement_share_sd: float = 0.012
    air_entrained: bool = False
    exposure: Literal["F0", "F1", "F2", "F3"] = "F2"
    edition: Literal["2019", "2008"] = "2019"


METRIC = ConcreteChoices(bag="25 kg", mortar_bag="25 kg")
"""The usual choices where bags are sold by the kilogram."""


def usual_concrete(units: Literal["us", "metric"]) -> ConcreteChoices:
    """The choices of a job that says nothing of its concrete.

    >>> usual_concrete("metric").bag
    '25 kg'
    """
    return METRIC if units == "metric" else ConcreteChoices()
