"""Which input matters most for when the form may go, so that the mason knows what to find out."""

from __future__ import annotations

from collections.abc import Mapping
from math import exp, hypot, log, sqrt

import numpy as np

from crownwright.checks.sensitivity import Sensitivity, sensitivity
from crownwright.codes.astm_c1074 import ENERGY_BAND, rate_factor
from crownwright.concrete.strip import StripRule
from crownwright.cure.model import Course, CurePlan
from crownwright.cure.strength import SPREAD
from crownwright.cure.sure import AIR_A_DAY, AIR_NOW
from crownwright.quantity.uncertain import Uncertain

ENERGY = sum(ENERGY_BAND) / len(ENERGY_BAND)
"""J/mol, the middle of the activation energies in print: how the clock of the cement answers to warmth."""


def strip_sensitivity(cure: CurePlan, strip: StripRule, days_ahead: float) -> Sensitivity | None:
    """Return what moves the age (s) at which the strength for stripping is there; None where the models do not see it.

    Moved, each by its standard error: the 28-day strength of this mix, the share of it that comes early (other cements), how fast
    the cement's clock runs (what is left of the spread of the strength), and the air forecast ``days_ahead``.
    """
    course = cure.course
    if course is None or strip.earliest is None or course.typical[-1] <= strip.needed:
        return None
    ready = _age(course, strip.needed)
    total = cure.strength_at(ready).sd / strip.needed
    known = hypot(cure.mix.strength_sd, SPREAD)
    air = AIR_NOW + AIR_A_DAY * min(max(days_ahead, 0.0), 10.0)
    inputs = {
        "28-day strength of the mix": Uncertain(0.0, cure.mix.strength_sd),
        "share of it that comes early": Uncertain(0.0, SPREAD),
        "pace of the cement": Uncertain(0.0, sqrt(max(total**2 - known**2, 0.0))),
        "air as it will be": Uncertain(0.0, air),
    }
    warmth = float(course.air[: int(np.searchsorted(course.age, ready)) + 1].mean())

    def age(at: Mapping[str, float]) -> float:
        stronger = exp(sum(by for name, by in at.items() if name != "air as it will be"))
        pace = rate_factor(warmth + at["air as it will be"], ENERGY, warmth)
        return _age(course, strip.needed / stronger) / pace

    label = "age when the strength for stripping is there"
    return sensitivity("concrete.strip.earliest", label, "s", age, inputs)


def _age(course: Course, strength: float) -> float:
    """Age (s) at which the typical strength is reached, in the logarithm of both; the last age where it never is."""
    grown = np.maximum.accumulate(np.maximum(course.typical, 1.0))
    ages = np.log(np.maximum(course.age, 60.0))
    return exp(float(np.interp(log(max(strength, 1.0)), np.log(grown), ages)))
