"""Concrete for a planned cap from raw sand and stone, in place of bags."""

from __future__ import annotations

from typing import get_args

from crownwright.codes.aci_211_1_1991 import Size, Slump
from crownwright.concrete.proportion import Aggregates, RawMix, exposure_ratio, raw_mix
from crownwright.plan.model import Plan
from crownwright.quantity.problems import Problem

SIZES: tuple[str, ...] = get_args(Size)
SLUMPS: tuple[str, ...] = get_args(Slump)


def mix_from_piles(plan: Plan, strength: float, slump: Slump, piles: Aggregates) -> RawMix | Problem:
    """Return what to weigh out for a plan's cap, air-entrained for severe frost; ``strength`` Pa at 28 days.

    The volume is what the bags are counted for: the cap at the risk accepted of running short, spill taken in.
    """
    if plan.cap is None or plan.concrete is None:
        return Problem("plan", "there is no cap to pour yet", "Put right what stops the plan first: crownwright plan JOB")
    choices = plan.concrete.choices
    volume = plan.cap.volume.all.quantile(1 - choices.risk) / (1 - choices.spill)
    try:
        return raw_mix(volume, strength, slump, "severe", piles, ratio_most=exposure_ratio())
    except ValueError as error:
        return Problem("mix", str(error), "Stay inside the tables: fineness 2.4 to 3.0, at most 5000 psi with entrained air")
