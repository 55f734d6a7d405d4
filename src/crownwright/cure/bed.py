"""The bed of mortar under the soffit boards and the levelling course: which hours can take it, and the best one before a pour."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from crownwright.cure.inputs import CureChoices
from crownwright.cure.measures import outside_working_day, worst
from crownwright.weather.hours import Hours
from crownwright.weather.sky import light_enough

Floats = NDArray[np.float64]
Steps = NDArray[np.intp]

MORTAR_SETS = 4
"""Hours after laying in which rain would wash a bed out (common practice)."""
MORTAR_FROST = 24
"""Hours for which fresh masonry is kept from freezing (TMS 602 article 1.8, from memory)."""
FREEZING = 0.0


def bed_hours(hours: Hours, choices: CureChoices) -> tuple[NDArray[np.bool_], Floats]:
    """Tell for each hour whether the bed can be laid from it on, and how near the limits that comes."""
    limits = choices.limits
    first = np.arange(len(hours))
    laid = first + int(np.ceil(choices.bed_hours)) - 1
    coldest = worst(hours.air, first, laid, least=True)
    frost = worst(hours.air, first, first + MORTAR_FROST, least=True)
    wind, gust = worst(hours.wind, first, laid), worst(hours.gust, first, laid)
    chance = worst(hours.rain_chance, first, laid + MORTAR_SETS)
    unfit = worst((~light_enough(hours) | outside_working_day(hours, choices)).astype(float), first, laid) > 0
    fit = (
        ~unfit
        & (coldest >= limits.bed_air_low)
        & (frost > FREEZING)
        & (wind <= limits.wind)
        & (gust <= limits.gust)
        & (chance <= limits.rain_chance)
        & (laid < hours.known)
    )
    cost = (wind / limits.wind) ** 2 + (gust / limits.gust) ** 2 + (chance / limits.rain_chance) ** 2
    return fit, cost


def best_bed(fit: NDArray[np.bool_], cost: Floats, pours: Steps, choices: CureChoices) -> Steps:
    """Return for each pour the hour to lay its bed, -1 where there is none between ``night`` and ``nights`` hours before it.

    Of hours equally good the latest: the less it stands open, the better.
    """
    chosen = np.full(len(pours), -1)
    spent = int(np.ceil(choices.bed_hours))
    for i, pour in enumerate(pours):
        low, high = max(0, int(pour - choices.nights)), int(pour - choices.night) - spent
        if high < low:
            continue
        span = np.where(fit[low : high + 1], cost[low : high + 1], np.inf)
        best = span.min()
        if np.isfinite(best):
            chosen[i] = low + np.flatnonzero(span <= best + 0.1)[-1]
    return chosen
