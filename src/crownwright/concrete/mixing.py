"""The mixing of one day: temperature of the mix and its advice, batches and clock, cautions; the card that goes to the mixer."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.concrete.batches import BatchPlan, Site, plan_batches
from crownwright.concrete.care import Caution, cautions
from crownwright.concrete.model import ConcretePlan
from crownwright.concrete.temperature import MixWarmth, bag_mix, warmth
from crownwright.quantity.findings import Finding
from crownwright.quantity.working import Figure


@dataclass(frozen=True, slots=True)
class Conditions:
    """What the thermometer says, degC: the bags, the water, the air while mixing and the highest of the day.

    ``ice`` kg put in with each bag in place of water; ``moisture`` kg of water in a bag that has drawn damp.
    """

    bags: float
    water: float
    air: float
    air_high: float | None = None
    ice: float = 0.0
    moisture: float = 0.0


@dataclass(frozen=True, slots=True)
class MixingPlan:
    """The day's mixing: how warm it comes out and what to do, the batches, what to take care of."""

    conditions: Conditions
    warmth: MixWarmth
    batches: BatchPlan
    cautions: tuple[Caution, ...]
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]


def mixing_for(pour: ConcretePlan, conditions: Conditions, thickness: float, site: Site | None = None) -> MixingPlan:
    """Return the mixing of a planned pour; ``thickness`` m of the cap at its edge. Pure.

    The open time is judged at the warmer of mix and air: a thin lift takes on the air's warmth within the hour.
    """
    made = bag_mix(
        pour.bag,
        pour.mix.water,
        conditions.bags,
        conditions.water,
        portland=pour.mix.portland,
        ice=conditions.ice,
        moisture=conditions.moisture,
    )
    warm = warmth(made, conditions.air, thickness)
    at = max(warm.temperature, conditions.air)
    batches = plan_batches(pour.lifts, pour.count, pour.bag, pour.mix, at, site or Site())
    high = conditions.air if conditions.air_high is None else conditions.air_high
    return MixingPlan(
        conditions,
        warm,
        batches,
        cautions(pour.bag, high),
        (*warm.findings, *batches.findings),
        (*warm.figures, *batches.figures),
    )
