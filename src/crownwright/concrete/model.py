"""The pour as planned: bags, lifts, mix, weight and the mortar for the bed. Metres, m3, kg."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.concrete.bags import Bag, MortarBag
from crownwright.concrete.choices import ConcreteChoices
from crownwright.concrete.count import BagCount, Need
from crownwright.concrete.lifts import Lift
from crownwright.concrete.mix import Enrichment, Mix
from crownwright.concrete.savings import Saving
from crownwright.quantity.findings import Finding
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import Figure


@dataclass(frozen=True, slots=True)
class ConcretePlan:
    """What goes into the mixer and onto the chimney.

    ``need`` is what the pour takes and ``count`` the bags for it; ``lifts`` lower and upper; ``mix`` one bag as placed, over
    both lifts, and ``enrichment`` where to stop adding portland; ``portland`` kg for the whole pour. ``weight`` wet, as placed,
    and ``weight_dry`` at the lightest. ``mortar`` bags for the bed (None: a handful does). ``box_rule_bags`` is what greatest
    length by width by one average depth, 0.60 ft3 a bag and one bag spare would have bought; ``savings`` what more drops would
    take off, where the survey was asked.
    """

    choices: ConcreteChoices
    bag: Bag
    need: Need
    count: BagCount
    lifts: tuple[Lift, Lift]
    mix: Mix
    enrichment: Enrichment
    portland: float
    weight: Uncertain
    weight_dry: Uncertain
    mortar_bag: MortarBag | None
    mortar: BagCount | None
    box_rule_bags: int
    savings: tuple[Saving, ...]
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
