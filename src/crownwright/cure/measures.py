"""What each starting hour is judged by: for every pour, the worst of each thing over the time in which it matters."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.codes.nws_heat_index import heat_index
from crownwright.cure.heat import History
from crownwright.cure.inputs import CureChoices, Limits, MixInCure
from crownwright.cure.milestones import Milestones
from crownwright.cure.rules import RULES
from crownwright.quantity.units import HOUR
from crownwright.weather.hours import Hours, local_hours
from crownwright.weather.sky import light_enough

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Steps = NDArray[np.intp]

LONGEST = 48
"""Hours looked ahead of a start; a set that takes longer is no set."""


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """For each rule the measure of every pour and its limit, (pours,)."""

    measure: dict[str, Floats]
    limit: dict[str, float]

    def broken(self) -> dict[str, Flags]:
        """Tell for each rule which pours break it."""
        return {
            key: (value > self.limit[key] + 1e-9 if RULES[key].most else value < self.limit[key] - 1e-9)
            for key, value in self.measure.items()
        }

    def cost(self) -> Floats:
        """How near the limits a pour comes: 0 with every margin comfortable, one for each limit just met (squares added)."""
        total = np.zeros(len(next(iter(self.measure.values()))))
        for key, value in self.measure.items():
            rule = RULES[key]
            if rule.comfort > 0:
                margin = self.limit[key] - value if rule.most else value - self.limit[key]
                total += np.clip(1.0 - margin / rule.comfort, 0.0, 3.0) ** 2
        return total

    def with_rule(self, key: str, measure: Floats, limit: float) -> Judged:
        """Return the same with one rule more."""
        return Judged({**self.measure, key: measure}, {**self.limit, key: limit})


def worst(values: Floats, first: Steps, last: Steps, *, least: bool = False) -> Floats:
    """Return the greatest (or least) of an hourly column over hours ``first`` to ``last`` of each pour, both counted."""
    ahead = np.minimum(first[:, None] + np.arange(LONGEST), len(values) - 1)
    inside = np.arange(LONGEST) <= (last - first)[:, None]
    filled = np.where(inside, values[ahead], np.inf if least else -np.inf)
    result: Floats = filled.min(axis=1) if least else filled.max(axis=1)
    return result


def count(flags: Flags, first: Steps, last: Steps) -> Floats:
    """Return how many of the hours ``first`` to ``last`` are flagged."""
    ahead = np.minimum(first[:, None] + np.arange(LONGEST), len(flags) - 1)
    inside = np.arange(LONGEST) <= (last - first)[:, None]
    return np.asarray((flags[ahead] & inside).sum(axis=1), float)


def until(history: History, values: Floats, ages: Floats, *, least: bool = False) -> Floats:
    """Return the worst over both columns of ``values`` (ages, columns, pours) up to each pour's age of ``ages``."""
    inside = (history.age[:, None] <= ages)[:, None, :]
    filled = np.where(inside, values, np.inf if least else -np.inf)
    result: Floats = filled.min(axis=(0, 1)) if least else filled.max(axis=(0, 1))
    return result


def outside_working_day(hours: Hours, choices: CureChoices) -> Flags:
    """Tell for each hour whether it lies outside the local hours chosen."""
    clock = np.array([when.hour for when in local_hours(hours)])
    return (clock < choices.earliest) | (clock >= choices.latest)


def struck_after(choices: CureChoices) -> int:
    """Return the whole hours from the first batch to the wash struck off, when the clock of the top starts."""
    return int(np.ceil(choices.crew_hours))


def judge(hours: Hours, first: Steps, history: History, miles: Milestones, choices: CureChoices, mix: MixInCure) -> Judged:
    """Return every measure of every pour but the bed's.

    ``hours`` at the height of the top and long enough for all that is looked at; ``first`` the hour of each pour's first batch;
    ``mix`` for its temperature as placed.
    """
    limits: Limits = choices.limits
    final = np.where(np.isfinite(miles.final), miles.final, (LONGEST - 2) * HOUR)
    final = np.maximum(final, np.where(np.isfinite(miles.final_edge), miles.final_edge, 0.0))
    struck = first + struck_after(choices)
    placed, mix_at = struck - 1, mix.placed(hours.air)
    done = np.minimum(struck + np.ceil(final / HOUR).astype(np.intp) - 1, first + LONGEST - 2)
    feels = heat_index(hours.air, hours.humidity)
    dark, off = ~light_enough(hours), outside_working_day(hours, choices)
    known = np.arange(len(hours)) >= hours.known
    hardy = np.where(np.isfinite(miles.hardy), miles.hardy, history.age[-1])
    measure = {
        "air_low": worst(hours.air, first, done, least=True),
        "air_high": worst(hours.air, first, placed),
        "mix_low": worst(mix_at, first, placed, least=True),
        "mix_high": worst(mix_at, first, placed),
        "frost": np.minimum(until(history, history.top, hardy, least=True), until(history, history.bottom, hardy, least=True)),
        "evaporation": until(history, history.drying, final),
        "rain_chance": worst(hours.rain_chance, first, done + 1),
        "rain": worst(hours.rain * (hours.rain_chance > limits.rain_chance), first, done + 1),
        "snow": worst(hours.snow, first, done + 1),
        "wind": worst(hours.wind, first, done),
        "gust": worst(hours.gust, first, done),
        "heat_index": worst(feels, first, done),
        "dark": count(dark, first, done),
        "hours": count(off, first, done),
        "beyond": count(known, first, done),
    }
    limit = {key: getattr(limits, key) for key in measure if hasattr(limits, key)} | {"dark": 0.0, "hours": 0.0, "beyond": 0.0}
    return Judged(measure, limit)
