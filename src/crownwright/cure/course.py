"""One pour followed: from the history of the heat balance to its course and the moments that matter."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from crownwright.codes.astm_c1074 import ENERGY_BAND
from crownwright.cure.columns import EDGE, MIDDLE
from crownwright.cure.heat import History
from crownwright.cure.inputs import CureChoices, MixInCure
from crownwright.cure.model import Course, Moment
from crownwright.cure.strength import SET_SPREAD, clock_band, clock_for, other_clock, set_clocks, strength, when
from crownwright.cure.window import after
from crownwright.quantity.units import DAY, HOUR

Floats = NDArray[np.float64]

COVER_TIME = 0.5 * HOUR
"""To lay cover and clean up after trowelling (common practice)."""


@dataclass(frozen=True, slots=True, eq=False)
class Clocks:
    """Clocks of one pour, (ages,) s: of the top over the middle, and of the youngest concrete at the edge, each as computed and
    the slowest and fastest of the activation energies in print.
    """

    top: Floats
    top_slow: Floats
    top_fast: Floats
    edge: Floats
    edge_slow: Floats
    edge_fast: Floats


def clocks_of(history: History, pour: int = 0) -> Clocks:
    """Return the clocks of one pour of a history."""
    top = history.clock_top[:, MIDDLE, pour]
    slow, fast = clock_band(history, history.top[:, MIDDLE, pour], top)
    edge = history.clock_least[:, EDGE, pour]
    places = np.stack([history.top[:, EDGE, pour], history.middle[:, EDGE, pour], history.bottom[:, EDGE, pour]], axis=1)
    others = [other_clock(history, places, energy).min(axis=1) for energy in ENERGY_BAND]
    edges = np.array([edge, *others])
    return Clocks(top, slow, fast, edge, edges.min(axis=0), edges.max(axis=0))


def course_of(history: History, clocks: Clocks, mix: MixInCure, choices: CureChoices, pour: int = 0) -> Course:
    """Return the course of one pour of a history."""
    low, high = choices.low, 1.0 - choices.low
    coldest = np.minimum(history.top[:, :, pour].min(axis=1), history.bottom[:, :, pour].min(axis=1))
    return Course(
        history.age,
        history.air[:, pour],
        history.top[:, EDGE, pour],
        history.top[:, MIDDLE, pour],
        coldest,
        strength(mix, history.curve, clocks.edge_slow, low),
        strength(mix, history.curve, clocks.edge, 0.5),
        strength(mix, history.curve, clocks.edge_fast, high),
        history.drying[:, :, pour].max(axis=1),
    )


def reached(age: Floats, clocks: tuple[Floats, Floats, Floats], target: float, spread: float = 0.0) -> tuple[float, float, float]:
    """Return the age (s) at which a clock passes ``target``, and the earliest and latest: by fastest and slowest clock, the
    target known to ``spread``. Infinite where not reached.
    """
    typical, slow, fast = clocks
    return (
        float(when(age, typical, target)),
        float(when(age, fast, target * (1 - spread))),
        float(when(age, slow, target * (1 + spread))),
    )


def set_ages_of(age: Floats, clocks: Clocks, mix: MixInCure) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """Return initial and final set of the top, each with earliest and latest, s."""
    initial, final = set_clocks(mix)
    top = (clocks.top, clocks.top_slow, clocks.top_fast)
    return reached(age, top, initial, SET_SPREAD), reached(age, top, final, SET_SPREAD)


def strong_ages(
    age: Floats, clocks: Clocks, history: History, mix: MixInCure, choices: CureChoices, needed: float
) -> tuple[float, float, float]:
    """Return the ages (s) at which the edge reaches ``needed`` Pa: with the chance taken (that is what counts); typically; and by
    the slow clock with the same chance.
    """
    sure = clock_for(mix, history.curve, needed, choices.low)
    typical = clock_for(mix, history.curve, needed, 0.5)
    return (
        float(when(age, clocks.edge, sure)),
        float(when(age, clocks.edge, typical)),
        float(when(age, clocks.edge_slow, sure)),
    )


def moments_of(
    struck: datetime, age: Floats, clocks: Clocks, history: History, mix: MixInCure, choices: CureChoices
) -> tuple[Moment, ...]:
    """Return the moments of one pour in order of time; ``struck`` local time at which the wash was struck off."""
    initial, final = set_ages_of(age, clocks, mix)
    half = tuple(0.5 * (i + f) for i, f in zip(initial, final, strict=True))
    hardy = strong_ages(age, clocks, history, mix, choices, choices.limits.frost_strength)
    ready = strong_ages(age, clocks, history, mix, choices, choices.strip_strength)
    strip = tuple(max(a, choices.strip_floor) for a in ready)
    moist = choices.care.moist_days * DAY
    rows: tuple[tuple[str, str, tuple[float, ...]], ...] = (
        ("struck", "wash struck off", (0.0, 0.0, 0.0)),
        ("float", "float: bleed water gone, initial set", initial),
        ("trowel", "trowel or broom: half way to final set", half),
        ("final", "final set: cover it damp", final),
        ("leave", "leave it covered", tuple(a + COVER_TIME for a in final)),
        ("hardy", "stands one freezing", hardy),
        ("ready", "strong enough to strip", ready),
        ("strip", "strip the form", strip),
        ("uncover", "end of the damp cure", (moist, moist, moist)),
    )
    made = [Moment(key, label, *(after(struck, a) for a in ages)) for key, label, ages in rows]
    return tuple(sorted(made, key=lambda m: (m.at is None, m.at or struck)))
