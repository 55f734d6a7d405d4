"""What the mason may decide about the concrete."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ConcreteChoices:
    """``bag`` names a row of the bag table ("80 lb"); ``risk`` the chance he accepts of running short (0..1);
    ``yield_sd`` relative standard error of a pour's yield; ``spill`` share lost on the way and its standard error;
    ``portland`` kg added to each bag; ``mortar_bag`` for the bed.
    """

    bag: str = "80 lb"
    risk: float = 0.02
    yield_sd: float = 0.03
    spill: float = 0.02
    spill_sd: float = 0.01
    portland: float = 0.0
    mortar_bag: str = "80 lb"
