"""How warm the mix comes out, and what to do about it: shade the bags, cool or warm the water, ice, or wait. All computed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from crownwright.codes.aci_305r_2010 import (
    DISCHARGE,
    FLASH,
    ICE_SHARE,
    MIX_CAP,
    WATER_CAP,
    Ingredients,
    mix_temperature,
    solids_needed,
    water_needed,
)
from crownwright.codes.aci_306r_2010 import COLD, PLACING_OVER, least_temperatures
from crownwright.concrete.bags import WATER_DENSITY, Bag
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.working import Cite, Figure, Term

MIXING_CITE = Cite("aci_305r_2010", "Appendix A; ACI 306R eq. 3-1, 3-2")
COLD_TAP = 4.0
"""Coldest water to be had without ice, degC (judgement)."""
ICE_CAUTIOUS = 0.20
"""Share of the water as ice beyond which the equation has been seen to under-predict."""
Kind = Literal["shade the bags", "cool the water", "ice", "warm the water", "warm the bags"]


@dataclass(frozen=True, slots=True)
class Advice:
    """One thing to do, alone: bring the bags or the water to ``value`` degC, or put ``value`` kg of each bag's water in as ice.

    ``brings`` is what the mix then comes to, degC; ``enough`` whether that is the target; ``doubtful`` when the equation has
    been seen to promise too much there. ``with_water`` degC is the water that goes with it where one thing alone will not do.
    """

    kind: Kind
    value: float
    brings: float
    enough: bool
    doubtful: bool = False
    with_water: float | None = None

    def words(self, degrees: Callable[[float], str], kilos: Callable[[float], str]) -> str:
        """The advice as a sentence; the caller says how a temperature (degC) and a mass (kg) are shown."""
        how = (
            f"put {kilos(self.value)} of each bag's water in as ice"
            if self.kind == "ice"
            else f"{self.kind}: {degrees(self.value)}"
        )
        also = f" with the water at {degrees(self.with_water)}" if self.with_water is not None else ""
        doubt = ", more than the equation is good for" if self.doubtful else ""
        short = "" if self.enough else ", not enough alone"
        return f"{how}{also} brings the mix to {degrees(self.brings)}{short}{doubt}"


@dataclass(frozen=True, slots=True)
class MixWarmth:
    """The mix as it would come out, degC, the window it should lie in, findings, what to do (best first), and its figures."""

    temperature: float
    least: float
    most: float
    findings: tuple[Finding, ...]
    advice: tuple[Advice, ...]
    figures: tuple[Figure, ...]


def bag_mix(
    bag: Bag, water: float, bags_at: float, water_at: float, *, portland: float = 0.0, ice: float = 0.0, moisture: float = 0.0
) -> Ingredients:
    """Return one bag as ingredients: ``water`` m3, of which ``ice`` kg is ice; temperatures degC; ``moisture`` kg in the bag.

    Dry cement and aggregate share one specific heat, so the bag counts as one. A frozen damp bag counts its moisture as ice.
    """
    solids = bag.mass + portland - moisture
    return Ingredients(0.0, solids, water * WATER_DENSITY - ice, bags_at, bags_at, water_at, moisture, bags_at < 0, ice)


def warmth(mix: Ingredients, air: float, thickness: float) -> MixWarmth:
    """Return how warm the mix comes out and what to do; ``air`` degC at mixing and placing, ``thickness`` m of the cap.

    The window: as mixed not under ACI 306R where the air is or will be under 40 F, else not under what it asks as placed;
    never over 95 F, and in cold weather no more than 20 F over the least, so that the warmth is not lost with the water.
    """
    limits = least_temperatures(thickness, air)
    cold = air < COLD
    least = limits.mixed if cold else limits.placed
    most = min(least + PLACING_OVER, DISCHARGE) if cold else DISCHARGE
    if mix.water_temperature > FLASH:
        most = min(most, MIX_CAP)
    comes_out = mix_temperature(mix)
    findings = _findings(mix, comes_out, least, most, cold)
    advice = cooler(mix, most, air) if comes_out > most else warmer(mix, least)
    return MixWarmth(comes_out, least, most, findings, advice, _figures(mix, comes_out, least, most, air, thickness))


def cooler(mix: Ingredients, target: float, air: float) -> tuple[Advice, ...]:
    """Return what would bring the mix down to ``target`` degC, best first; empty when it is cool enough.

    Shade brings the bags down to the air (degC) and no lower; water without ice to `COLD_TAP` and no lower.
    """
    if mix_temperature(mix) <= target:
        return ()
    bags, water = solids_needed(mix, target), water_needed(mix, target)
    shaded, chilled = max(bags, min(air, mix.aggregate_temperature)), max(water, COLD_TAP)
    advice = [
        _advice("shade the bags", shaded, replace(mix, aggregate_temperature=shaded, cement_temperature=shaded), target),
        _advice("cool the water", chilled, replace(mix, water_temperature=chilled), target),
    ]
    if water < COLD_TAP:
        advice.append(_ice(mix, target))
    if not any(a.enough for a in advice):
        advice.append(_shade_and_cold_water(mix, target, air))
    return tuple(sorted(advice, key=lambda a: (not a.enough, a.doubtful)))


def _shade_and_cold_water(mix: Ingredients, target: float, air: float) -> Advice:
    cold = replace(mix, water_temperature=min(COLD_TAP, mix.water_temperature))
    bags = max(solids_needed(cold, target), min(air, mix.aggregate_temperature))
    both = replace(cold, aggregate_temperature=bags, cement_temperature=bags)
    return replace(_advice("shade the bags", bags, both, target), with_water=cold.water_temperature)


def warmer(mix: Ingredients, target: float) -> tuple[Advice, ...]:
    """Return what would bring the mix up to ``target`` degC, best first; empty when it is warm enough.

    Water is never warmer than `WATER_CAP`; where that is not enough, how warm the bags must be with it.
    """
    if mix_temperature(mix) >= target:
        return ()
    hot = min(water_needed(mix, target), WATER_CAP)
    water = _advice("warm the water", hot, replace(mix, water_temperature=hot), target)
    bags = solids_needed(mix, target)
    alone = Advice("warm the bags", bags, target, True)
    if water.enough:
        return (water, alone)
    rest = solids_needed(replace(mix, water_temperature=WATER_CAP), target)
    both = Advice("warm the bags", rest, target, True, with_water=WATER_CAP)
    return (both, alone, water) if mix.water_temperature < WATER_CAP else (alone,)


def _advice(kind: Kind, value: float, then: Ingredients, target: float) -> Advice:
    brings = mix_temperature(then)
    return Advice(kind, value, brings, abs(brings - target) < 0.05)  # K; far under what a thermometer shows


def _ice(mix: Ingredients, target: float) -> Advice:
    """Swap water for ice, kg for kg, up to the share where the equation fails; a kg takes the water's warmth and its melting."""
    water = mix.water + mix.ice
    swapped = replace(mix, water=mix.water - 0.01, ice=mix.ice + 0.01)
    wanted = mix.ice + 0.01 * (mix_temperature(mix) - target) / (mix_temperature(mix) - mix_temperature(swapped))
    ice = min(wanted, ICE_SHARE * water)
    advice = _advice("ice", ice, replace(mix, water=water - ice, ice=ice), target)
    return replace(advice, doubtful=ice > ICE_CAUTIOUS * water)


def _findings(mix: Ingredients, comes_out: float, least: float, most: float, cold: bool) -> tuple[Finding, ...]:
    flash = Cite("aci_305r_2010", "hotter water risks a flash set where cement meets it first")
    window = Cite("aci_306r_2010", "Table 3.1") if cold or comes_out < least else Cite("aci_301_2020", "discharge temperature")
    return (
        compare(
            "concrete.mix_temperature",
            "temperature of the mix",
            window,
            "mix as it comes out",
            comes_out,
            at_least=least,
            at_most=most,
            unit="degC",
            action="See the advice: water, bags or another hour.",
        ),
        compare(
            "concrete.mix_water",
            "hottest mixing water for a bagged mix",
            flash,
            "mixing water",
            mix.water_temperature,
            at_most=WATER_CAP,
            unit="degC",
            action="Let the water cool: bagged cement cannot be kept from it.",
        ),
        *_ice_findings(mix),
    )


def _ice_findings(mix: Ingredients) -> tuple[Finding, ...]:
    if not mix.ice:
        return ()
    cite = Cite("aci_305r_2010", "a paper of 2017 finds the equation fails above one half")
    rule, share = "share of the water as ice within which the equation holds", mix.ice / (mix.ice + mix.water)
    return (compare("concrete.mix_ice", rule, cite, "ice", share, at_most=ICE_SHARE, action="Use less ice and cooler bags."),)


def _figures(mix: Ingredients, comes_out: float, least: float, most: float, air: float, thickness: float) -> tuple[Figure, ...]:
    terms = (
        Term("S", "dry mix", mix.aggregate, "kg"),
        Term("Ts", "temperature of the bags", mix.aggregate_temperature, "degC"),
        Term("W", "mixing water", mix.water, "kg"),
        Term("Tw", "temperature of the water", mix.water_temperature, "degC"),
        Term("F", "moisture in the bag", mix.free_water, "kg"),
        Term("I", "ice", mix.ice, "kg"),
    )
    formula = "(0.22 S Ts + W Tw + F Ts - 80 I) / (0.22 S + W + F + I)"
    holds = "ice under half of the water"
    window = Cite("aci_306r_2010", "Table 3.1; ACI 301-20 for the upper end")
    by = Term("t", "thickness of the cap", thickness, "m"), Term("a", "air at mixing and placing", air, "degC")
    limits = (
        Term("least", "least temperature", least, "degC"),
        Term("over", "most above that, in cold air", PLACING_OVER, "K"),
        Term("discharge", "limit at discharge", DISCHARGE, "degC"),
        by[1],
    )
    return (
        Figure("concrete.mix_temperature", "temperature of the mix", comes_out, "degC", formula, terms, MIXING_CITE, holds),
        Figure("concrete.mix_least", "least temperature of the mix", least, "degC", "table by thickness and air", by, window),
        Figure(
            "concrete.mix_most", "greatest temperature of the mix", most, "degC", "least of the limits that apply", limits, window
        ),
    )
