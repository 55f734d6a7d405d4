"""Care in heat and cold, computed: what shade, a damp cover or a blanket does to this cap on this day."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from crownwright.codes import aci_306r_2010, mcneese_1952, uno_1998
from crownwright.codes.ashrae_moist_air import saturation_pressure
from crownwright.cure.forcing import AIR, VAPOUR, WIND, Forcing
from crownwright.cure.heat import History, clock_rate, run
from crownwright.cure.inputs import CapInWeather, Care, CureChoices, MixInCure
from crownwright.cure.measures import until
from crownwright.cure.milestones import milestones
from crownwright.cure.model import CareOption
from crownwright.quantity.units import BTU, FT2, HOUR

R_UNIT = 1.8**-1 * HOUR * FT2 / BTU
"""One h ft2 F/Btu, the R-value of the trade, in m2K/W."""
BLANKETS: Mapping[str, float] = MappingProxyType({f"blanket R-{r}": r * R_UNIT for r in (1, 2, 4, 8)})


def option(
    name: str, cap: CapInWeather, mix: MixInCure, care: Care, force: Forcing, start: int, choices: CureChoices
) -> tuple[CareOption, History]:
    """Return one way of caring and its history, for a pour struck off at column ``start`` of the weather."""
    history = run(cap, mix, care, force, np.array([start]), choices.cure_days)
    miles = milestones(history, mix, choices)
    hardy = np.where(np.isfinite(miles.hardy), miles.hardy, history.age[-1])
    final = np.where(np.isfinite(miles.final), miles.final, history.age[-1])
    coldest = np.minimum(until(history, history.top, hardy, least=True), until(history, history.bottom, hardy, least=True))
    hottest = max(float(history.top.max()), float(history.middle.max()), float(history.bottom.max()))
    made = CareOption(
        name,
        care,
        float(coldest[0]),
        hottest,
        float(until(history, history.drying, final)[0]),
        _by_uno(history, force, start, float(final[0])),
        float(miles.final[0]),
        float(miles.hardy[0]),
        _frozen(history, float(hardy[0])),
    )
    return made, history


def _by_uno(history: History, force: Forcing, start: int, final: float) -> float:
    """Return what Uno's formula says of the hour of greatest evaporation before ``final`` (s), kg/(m2 s)."""
    before = np.where((history.age <= final)[:, None], history.drying[:, :, 0], -1.0)
    step, column = np.unravel_index(int(before.argmax()), before.shape)
    w = force.values[:, start + int(step)]
    humidity = float(w[VAPOUR] / saturation_pressure(float(w[AIR])))
    return uno_1998.rate(float(history.top[step, column, 0]), float(w[AIR]), humidity, float(w[WIND]))


def _frozen(history: History, hardy: float) -> float | None:
    """Return the clock at 72 F (s) of the first surface to meet the damage temperature before ``hardy`` (s); None if none
    does."""
    cold = np.minimum(history.top[:, :, 0], history.bottom[:, :, 0]) <= aci_306r_2010.DAMAGE
    met = np.flatnonzero(cold.any(axis=1) & (history.age <= hardy))
    if not met.size:
        return None
    warm = float(clock_rate(history.curve, np.array(mcneese_1952.REFERENCE)))
    return float(history.clock_least[met[0], :, 0].min()) / warm


def ways(care: Care, *, cold: bool, dry: bool) -> dict[str, Care]:
    """Return other ways of caring worth computing: blankets in the cold, shade in heat and drying wind."""
    chosen: dict[str, Care] = {}
    if cold:
        chosen |= {name: replace(care, blanket=r) for name, r in BLANKETS.items()}
    if dry:
        chosen["shade over it"] = replace(care, shade=0.8)
    return chosen


def mist_interval(drying: float, film: float = 0.15) -> float:
    """Return how often to mist, s, so that a film of ``film`` kg/m2 (0.15 mm, as a fine nozzle lays: judgement) is made good.

    ``drying`` kg/(m2 s); infinite where nothing dries.

    >>> round(mist_interval(1.0 / 3600) / 60)
    9
    """
    return film / drying if drying > 0 else float("inf")
