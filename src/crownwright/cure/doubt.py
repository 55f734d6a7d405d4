"""How far what a pour comes to may be off: the heat balance run again with what it is least sure of, one thing at a time."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from crownwright.codes.walton_1983 import SPREAD as CONVECTION_SPREAD
from crownwright.cure.forcing import AIR, CONVECTION, UNDER, Forcing, together
from crownwright.cure.heat import run
from crownwright.cure.inputs import CapInWeather, CureChoices, MixInCure
from crownwright.cure.measures import until
from crownwright.cure.milestones import milestones
from crownwright.cure.sure import AIR_A_DAY, AIR_NOW
from crownwright.quantity.units import DAY


@dataclass(frozen=True, slots=True)
class Doubt:
    """Standard errors: of the coldest and hottest concrete, K; of the age at final set, s."""

    coldest: float
    hottest: float
    final: float


def _changed(force: Forcing, factor: float, air: float) -> Forcing:
    """Return the weather with convection times ``factor`` and the air ``air`` K warmer, the vapour in it the same."""
    values = force.values.copy()
    values[[CONVECTION, UNDER]] *= factor
    values[AIR] += air
    return Forcing(values, force.dt, force.length)


def doubt(cap: CapInWeather, mix: MixInCure, force: Forcing, start: int, choices: CureChoices) -> Doubt:
    """Return the standard errors of one pour, from convection (published formulas differ by 35 %) and from the forecast of the
    air.

    Each is moved one standard error up and down; half the differences add as squares. Rain, cloud and wind are left to the
    ensemble of `crownwright.cure.sure`.
    """
    half = CONVECTION_SPREAD / 2
    ahead = AIR_NOW + AIR_A_DAY * min(start * force.dt / DAY, 10.0)
    changes = [(1 - half, 0.0), (1 + half, 0.0), (1.0, -ahead), (1.0, ahead)]
    members = together([_changed(force, factor, air) for factor, air in changes])
    starts = start + np.arange(len(changes)) * force.length
    history = run(cap, mix, choices.care, members, starts, choices.cure_days)
    miles = milestones(history, mix, choices)
    hardy = np.where(np.isfinite(miles.hardy), miles.hardy, history.age[-1])
    coldest = np.minimum(until(history, history.top, hardy, least=True), until(history, history.bottom, hardy, least=True))
    hottest = np.max([line.max(axis=(0, 1)) for line in (history.top, history.middle, history.bottom)], axis=0)
    final = np.where(np.isfinite(miles.final), miles.final, history.age[-1])
    errors = [float(np.hypot((x[1] - x[0]) / 2, (x[3] - x[2]) / 2)) for x in (coldest, hottest, final)]
    return Doubt(*errors)
