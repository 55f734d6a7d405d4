"""What own finished jobs say, put in the words of the plan: what a bag gives and how far that wanders; hours and their spread."""

from __future__ import annotations

from dataclasses import replace
from math import exp, log, log1p, sqrt

from scipy.special import ndtri

from crownwright.concrete.choices import ConcreteChoices
from crownwright.concrete.model import ConcretePlan
from crownwright.price.hours import HoursChoices
from crownwright.price.learning import PRIORS, Learned, weight_of
from crownwright.quantity.uncertain import Uncertain

LEAST_SD = 0.005
"""A pour's yield is never taken as surer than this (judgement)."""
FAR = 0.25
"""Where the risk lies above this, the spread is read off here: nearer the middle a quantile says little of it."""


def own_concrete(choices: ConcreteChoices, pour: ConcretePlan, volume: Uncertain, learned: Learned) -> ConcreteChoices:
    """Return the choices by which the same pour is counted as own jobs say: `own_yield` and ``yield_sd``.

    ``pour`` is the plan by the defaults, ``volume`` m3 what it fills. The belief about actual / forecast is Student's t; the
    count knows a log-normal M. The two are made to agree in the middle, and in the bags that are gone over with the risk chosen.
    """
    forecast, risk = pour.count.needed, min(choices.risk, FAR)
    weight = weight_of(PRIORS["bags"], forecast.sd / forecast.mean)
    middle, far = learned.belief.at(0.5, weight), learned.belief.at(risk, weight)
    whole = (log(far) - log(middle)) / -float(ndtri(risk))
    from_volume, from_spill = volume.sd / volume.mean, choices.spill_sd / (1.0 - choices.spill)
    sd = max(sqrt(max(whole**2 - from_volume**2 - from_spill**2, 0.0)), LEAST_SD)
    return replace(choices, own_yield=_own(choices, sd, middle), yield_sd=sd)


def _own(choices: ConcreteChoices, sd: float, middle: float) -> float:
    """What a bag gives of what is reckoned without own jobs, so that the middle of the need is the forecast times ``middle``.

    The mean need by the defaults is V/(y e^mu) e^(tau^2/2) with ln M of mean mu and sd tau; the middle by own jobs V/(y e^mu' o).
    """
    tau = sqrt(log1p(choices.yield_sd**2) + log1p((choices.spill_sd / (1 - choices.spill)) ** 2))
    shift = (log1p(sd**2) - log1p(choices.yield_sd**2)) / 2  # a wider yield of the same mean has a lower middle
    return exp(shift - tau**2 / 2) / middle * choices.own_yield


def own_hours(choices: HoursChoices, learned: Learned) -> HoursChoices:
    """Return the choices by which hours are reckoned as own jobs say."""
    return replace(choices, factor=learned.factor, spread=learned.belief.scale()) if learned.jobs else choices
