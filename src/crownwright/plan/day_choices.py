"""What the mason decides about the days: crew and mixer, care, limits, stripping, how warm bags and water are."""

from __future__ import annotations

from dataclasses import dataclass, field

from crownwright.concrete.batches import Site
from crownwright.concrete.strip import Stripping
from crownwright.cure.inputs import CureChoices


@dataclass(frozen=True, slots=True)
class DayChoices:
    """What the mason decides about the days. ``water`` degC of the mixing water (None: that of the air, within 10
    to 20 degC, as a hose gives it); ``bags`` degC of the bags (None: that of the air); ``ice`` kg in a bag's water.
    """

    cure: CureChoices = field(default_factory=CureChoices)
    site: Site = field(default_factory=Site)
    stripping: Stripping = field(default_factory=Stripping)
    water: float | None = None
    bags: float | None = None
    ice: float = 0.0
