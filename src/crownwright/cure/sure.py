"""How sure: the same hours judged in forecasts that might as well have been issued."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from crownwright.cure.forcing import forcing, together
from crownwright.cure.heat import DT, History, run
from crownwright.cure.inputs import CapInWeather, CureChoices, MixInCure
from crownwright.cure.measures import judge, struck_after
from crownwright.cure.milestones import milestones
from crownwright.cure.window import Search, Window, prepared, ranked, with_bed
from crownwright.quantity.units import HOUR
from crownwright.weather.hours import Hours
from crownwright.weather.sky import sun_over

Floats = NDArray[np.float64]

AIR_NOW, AIR_A_DAY = 1.2, 0.25
"""Standard error of forecast air temperature, K: at once, and more for each day ahead (judgement, after published verification:
about 1.5 K the first day, 3 K at a week)."""
WIND_NOW, WIND_A_DAY = 0.20, 0.03
"""The same for the logarithm of wind and gust."""
HUMIDITY_ERROR, CLOUD_ERROR = 0.07, 0.20
MEMORY = 18.0
"""Hours over which an error of the forecast lasts (judgement); rain: a third of that."""
LEAST_RAIN = 0.4
"""mm in an hour that rains with no amount told."""


def _drift(rng: np.random.Generator, n: int, memory: float) -> Floats:
    """Return ``n`` hourly values of standard normal noise that forgets itself over ``memory`` hours (first-order)."""
    keep = float(np.exp(-1.0 / memory))
    shocks = rng.standard_normal(n) * np.sqrt(1 - keep**2)
    z = np.empty(n)
    z[0] = rng.standard_normal()
    for i in range(1, n):
        z[i] = keep * z[i - 1] + shocks[i]
    return z


def perturbed(hours: Hours, rng: np.random.Generator) -> Hours:
    """Return a forecast that might as well have been issued: errors that grow with the days ahead, rain that falls or does not.

    Rain falls in an hour with its chance, in spells; where it does, the amount is what the forecast gave over its chance.
    """
    n = len(hours)
    days = np.arange(n) / 24.0
    air = hours.air + (AIR_NOW + AIR_A_DAY * np.minimum(days, 10.0)) * _drift(rng, n, MEMORY)
    blow = np.exp((WIND_NOW + WIND_A_DAY * np.minimum(days, 10.0)) * _drift(rng, n, MEMORY))
    wet = ndtr(_drift(rng, n, MEMORY / 3)) < hours.rain_chance
    told = hours.rain / np.maximum(hours.rain_chance, 0.05)
    snow = hours.snow / np.maximum(hours.rain_chance, 0.05)
    return replace(
        hours,
        air=air,
        humidity=np.clip(hours.humidity + HUMIDITY_ERROR * _drift(rng, n, MEMORY), 0.05, 1.0),
        wind=hours.wind * blow,
        gust=hours.gust * blow,
        cloud=np.clip(hours.cloud + CLOUD_ERROR * _drift(rng, n, MEMORY), 0.0, 1.0),
        rain_chance=wet.astype(float),
        rain=np.where(wet, np.maximum(told, LEAST_RAIN), 0.0),
        snow=np.where(wet, snow, 0.0),
    )


def picked(windows: Sequence[Window], best: Sequence[int], most: int, a_day: int) -> tuple[int, ...]:
    """Return the best places, no more than ``a_day`` of one local day, so that the choice is of days and not of minutes."""
    days: dict[str, int] = {}
    chosen: list[int] = []
    for i in best:
        day = windows[i].at.date().isoformat()
        if days.get(day, 0) < a_day and len(chosen) < most:
            days[day] = days.get(day, 0) + 1
            chosen.append(i)
    return tuple(chosen)


def only(history: History, pours: NDArray[np.intp]) -> History:
    """Return the history of some of the pours."""
    cut = {name: getattr(history, name)[..., pours] for name in History.__slots__ if name not in {"age", "curve"}}
    return replace(history, **cut)


def with_sureness(
    found: Search,
    cap: CapInWeather,
    hours: Hours,
    mix: MixInCure,
    choices: CureChoices,
    rng: np.random.Generator,
    *,
    most: int = 12,
    a_day: int = 2,
) -> Search:
    """Return the search with the best windows' `Window.sure` filled in, ranked anew by it.

    ``hours`` as given to `search`; ``rng`` the chance that perturbs forecasts, so that the same one gives the same answer.
    """
    picks = np.array(picked(found.windows, found.best, most, a_day), dtype=np.intp)
    if not picks.size or choices.members < 1:
        return found
    top = prepared(cap, hours, choices)
    members = [perturbed(top, rng) for _ in range(choices.members)]
    sun = sun_over(top)
    force = together([forcing(member, cap, DT, sun) for member in members])
    steps = (picks + struck_after(choices)) * round(HOUR / DT)
    starts = (np.arange(len(members))[:, None] * force.length + steps).ravel()
    history = run(cap, mix, choices.care, force, starts, choices.cure_days)
    held = np.zeros(len(picks))
    for m, member in enumerate(members):
        mine = only(history, np.arange(m * len(picks), (m + 1) * len(picks)))
        judged = judge(member, picks, mine, milestones(mine, mix, choices), choices, mix)
        broken = with_bed(judged, member, picks, choices)[0].broken()
        held += ~np.any(list(broken.values()), axis=0)
    windows = list(found.windows)
    for place, share in zip(picks, held / len(members), strict=True):
        windows[place] = replace(windows[place], sure=float(share))
    made = tuple(windows)
    return replace(found, windows=made, best=ranked(made))
