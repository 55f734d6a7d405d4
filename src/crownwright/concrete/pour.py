"""The pour from the cap: bags for a stated risk, two lifts, weight, mortar for the bed, what the weather asks of the mix."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil

from crownwright.cap.model import CapDesign
from crownwright.codes.aci_318_exposure import limits
from crownwright.concrete.bags import Bag, MortarBag, bag, mortar_bag
from crownwright.concrete.choices import ConcreteChoices
from crownwright.concrete.count import BagCount, Need, bags_for, pour_need
from crownwright.concrete.exposure import exposure_findings
from crownwright.concrete.lifts import Lift, split_lifts
from crownwright.concrete.mix import enrich, portland_limits
from crownwright.concrete.model import ConcretePlan
from crownwright.concrete.savings import reading_savings, sd_with_drops
from crownwright.concrete.showing import (
    box_figure,
    count_figures,
    lift_figures,
    mix_figures,
    mortar_figures,
    portland_figures,
    weight_figures,
)
from crownwright.concrete.weight import cap_weight, dry_share, wet_density
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FT3
from crownwright.quantity.working import DERIVED

BOX_YIELD = 0.60 * FT3
"""What the thumb rule gives a bag, m3, whatever the bag."""
NO_BED = Uncertain(0.0)


def pour_for(
    cap: CapDesign,
    choices: ConcreteChoices,
    mortar_volume: Uncertain = NO_BED,
    spread_with: Callable[[int], float] | None = None,
) -> ConcretePlan:
    """Return the pour for a cap; ``mortar_volume`` m3 of the bed between soffit boards and stone (nothing without one).

    ``spread_with`` is the survey's word on so many more drops (`StoneSurface.spread_with`); with it the plan says what they save.
    Pure. KeyError lists the bags there are when the choice names none; ValueError for an impossible risk or volume.
    """
    sack = bag(choices.bag)
    share = Uncertain(choices.cement_share, choices.cement_share_sd)
    mix = enrich(sack, choices.portland, choices.water, "same feel", share)
    plain = enrich(sack, 0.0, choices.water, cement=share)
    need = need_for(cap.volume.all, choices, sack.yields + mix.yields - plain.yields)
    count = bags_for(need, choices.risk, choices.promise)
    lifts = split_lifts(cap.volume.lower, cap.volume.upper, sack, count, (choices.lower_slump, choices.upper_slump))
    density = wet_density(sack, mix.water, mix.portland, mix.yields)
    wet = cap_weight(cap.volume.all, density)
    dry = dry_share(sack, mix.water, mix.cement.mean - mix.portland, mix.portland)
    weight_dry = Uncertain(wet.mean * dry, wet.sd * dry)
    bed_need, bed_bag, bed = mortar_for(mortar_volume, choices)
    enrichment = portland_limits(sack, limits(choices.exposure, choices.edition).water_cement or 1.0, choices.water, share)
    volume = cap.volume
    sd_with = sd_with_drops(volume.all.sd, volume.from_top, spread_with) if spread_with else None
    savings = reading_savings(need, sd_with, choices.risk, choices.promise) if sd_with else ()
    box = box_rule_bags(cap.volume.box_rule)
    portland = choices.portland * count.needed.mean
    figures = (
        *count_figures("concrete.bags", "bags of concrete", cap.volume.all, need, count, sack.cite, choices.promise),
        *lift_figures(lifts, need),
        *mix_figures(mix, sack),
        *portland_figures(enrichment),
        *weight_figures(cap.volume.all, mix, wet, weight_dry, density),
        box_figure(cap.volume.box_rule, box),
        *mortar_figures(mortar_volume, bed_need, bed_bag, bed, choices.promise),
    )
    findings = (
        *exposure_findings(mix, air_entrained=choices.air_entrained, exposure=choices.exposure, edition=choices.edition),
        *portland_findings(choices.portland, enrichment.most),
        *water_findings(sack, lifts, choices),
    )
    return ConcretePlan(
        choices,
        sack,
        need,
        count,
        lifts,
        mix,
        enrichment,
        portland,
        wet,
        weight_dry,
        bed_bag,
        bed,
        box,
        savings,
        findings,
        figures,
    )


def need_for(volume: Uncertain, choices: ConcreteChoices, per_bag: float) -> Need:
    """Return what a volume (m3) takes with the mason's spreads; ``per_bag`` m3 a bag, enriched as chosen."""
    return pour_need(
        volume, per_bag, yield_sd=choices.yield_sd, spill=choices.spill, spill_sd=choices.spill_sd, own=choices.own_yield
    )


HANDFUL = 0.01
"""Share of a bag of mortar (a cup or so) under which no bag is bought for the bed (judgement): any mortar at hand will do."""


def mortar_for(volume: Uncertain, choices: ConcreteChoices) -> tuple[Need | None, MortarBag | None, BagCount | None]:
    """Return what the bed takes, the mortar bag and the count at the same risk; all None for no bed. ``volume`` m3.

    >>> *_, count = mortar_for(Uncertain(0.02, 0.004), ConcreteChoices())
    >>> count.bags
    2
    >>> mortar_for(Uncertain(1e-5, 2e-6), ConcreteChoices())[2]  # two teaspoons: no bag is bought for that
    """
    sack = mortar_bag(choices.mortar_bag)
    if volume.mean <= 0 or volume.mean + 2 * volume.sd < HANDFUL * sack.yields.mean:
        return None, None, None
    relative = sack.yields.sd / sack.yields.mean
    need = pour_need(volume, sack.yields.mean, yield_sd=relative, spill=choices.mortar_waste, spill_sd=choices.mortar_waste / 2)
    return need, sack, bags_for(need, choices.risk, choices.promise)


def box_rule_bags(volume: float) -> int:
    """Bags by the thumb rule for a box (m3): 0.60 ft3 a bag, rounded up, one bag spare. For comparison only.

    >>> box_rule_bags(4.3 * FT3)
    9
    """
    return ceil(volume / BOX_YIELD) + 1


def portland_findings(portland: float, most: float) -> tuple[Finding, ...]:
    """Return whether more portland is added than does good; nothing when none is added."""
    if portland <= 0:
        return ()
    rule = "portland added to a bag, the point where more does harm"
    subject = "portland added to each bag"
    action = "Stop at the most: what is over it does more harm than good."
    return (compare("concrete.portland", rule, DERIVED, subject, portland, at_most=most, unit="kg", action=action),)


def water_findings(sack: Bag, lifts: tuple[Lift, Lift], choices: ConcreteChoices) -> tuple[Finding, ...]:
    """Return whether the water chosen by hand keeps to the label; nothing when it follows the slump, which does."""
    if choices.water is None:
        return ()
    rule, action = "mixing water on the label", f"Keep between the label's least and most; for a {lifts[0].name} lift work it in."
    return (
        compare(
            "concrete.water",
            rule,
            sack.water_cite,
            "water chosen for each bag",
            choices.water,
            at_least=sack.water_low,
            at_most=sack.water_high,
            unit="m3",
            action=action,
        ),
    )
