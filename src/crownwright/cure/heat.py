"""The cap in the weather: one heat balance through edge and middle for any number of pours at once.

Hydration, sun, sky, wind, evaporation tied to the surface's own temperature, covers, snow, boards and masonry. One clock - the
equivalent age of each node - drives heat here, and set and strength in `crownwright.cure.strength`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.codes.schindler_folliard_2005 import CEMENTS, Hydration, hydration, set_ages
from crownwright.cure.columns import CONCRETE_CELLS, EDGE, cap_columns, masonry_column
from crownwright.cure.conduction import Stack, stack, step
from crownwright.cure.exchange import DRY_SKIN, FRESH, HARD, SHEET, Top, snow_after, top_face, under_face
from crownwright.cure.forcing import AIR, Forcing
from crownwright.cure.inputs import CapInWeather, Care, MixInCure
from crownwright.quantity.units import DAY, HOUR, ZERO_CELSIUS

Floats = NDArray[np.float64]
Steps = NDArray[np.intp]

DT = 900.0
"""Step, s. Four times it or a quarter of it: see the orders of convergence in tests/validation/test_heat_analytic.py."""
GAS = 8.314


@dataclass(frozen=True, slots=True, eq=False)
class History:
    """What became of each pour, by age in s: arrays (ages, columns, pours); column `EDGE` or `MIDDLE`.

    ``top``, ``middle`` and ``bottom`` temperatures of the concrete, degC; ``clock_top`` and ``clock_least`` equivalent age of the
    top face and of the youngest node, s; ``drying`` evaporation, kg/(m2 s); ``air`` (ages, pours).
    """

    age: Floats
    top: Floats
    middle: Floats
    bottom: Floats
    clock_top: Floats
    clock_least: Floats
    drying: Floats
    air: Floats
    curve: Hydration


def curve_of(mix: MixInCure) -> Hydration:
    """Return the hydration curve of the mix's cement and water."""
    return hydration(CEMENTS[mix.kind], mix.water_cement)


def degree_of(curve: Hydration, clock: Floats) -> Floats:
    """Return the degree of hydration at equivalent ages ``clock`` (s), all of them over 0."""
    grown: Floats = curve.ultimate * np.exp(-np.exp(curve.beta * np.log(curve.tau / clock)))
    return grown


def clock_rate(curve: Hydration, temperature: Floats) -> Floats:
    """Return how fast the clock runs at a temperature, degC, against the reference temperature."""
    drive = curve.energy / GAS
    rate: Floats = np.exp(drive / (curve.reference + ZERO_CELSIUS) - drive / (temperature + ZERO_CELSIUS))
    return rate


def masonry_before(cap: CapInWeather, force: Forcing, starts: Steps) -> Floats:
    """Return the masonry's temperatures (nodes, pours) at the moment of placing: warmed and cooled by the same weather, bare.

    It starts at the mean air of the first day, so the first day or so leans on that guess. Hourly steps do: what is below the
    skin has forgotten the minutes.
    """
    stride = max(1, round(HOUR / force.dt))
    per = (force.length - 1) // stride + 1
    offsets = np.arange(force.values.shape[1] // force.length) * force.length
    first, then = (stack([masonry_column(cap)], force.dt * stride, order) for order in (1, 2))
    start = force.values[AIR, offsets[:, None] + np.arange(min(round(DAY / force.dt), force.length))].mean(axis=1)
    now = np.broadcast_to(start, (1, first.capacity.shape[1], len(offsets))).copy()
    before, none = now, np.zeros((1, len(offsets)))
    kept = np.empty((per, *now.shape[1:]))
    kept[0] = now[0]
    bare = Top(none, np.full_like(none, HARD), none, none[0])
    for j in range(1, per):
        guess = now[:, 0] if j == 1 else 2.0 * now[:, 0] - before[:, 0]
        face, _, _ = top_face(guess, force.values[:, offsets + j * stride], bare)
        now, before = step(first if j == 1 else then, now, before, np.zeros_like(now), face, (none, none)), now
        kept[j] = now[0]
    member, at = np.divmod(starts, force.length)
    low = np.minimum(at // stride, per - 2)
    part = (at / stride - low)[:, None]
    at_starts: Floats = (kept[low, :, member] * (1 - part) + kept[low + 1, :, member] * part).T
    return at_starts


@dataclass(slots=True, eq=False)
class Pours:
    """Where the pours stand: temperatures now and a step ago (c,n,s), clocks (c,concrete,s), hydration degree, heat of the last
    step, snow (s,), last guess of the cover's outer temperature.
    """

    now: Floats
    before: Floats
    clock: Floats
    degree: Floats
    heat: Floats
    snow: Floats


def _start(cap: CapInWeather, mix: MixInCure, force: Forcing, starts: Steps, nodes: int) -> Pours:
    """Return the pours at the moment of placing."""
    air = force.values[AIR, starts]
    placed = mix.placed(air)
    now = np.empty((2, nodes, len(starts)))
    concrete = CONCRETE_CELLS + 1
    now[:, :concrete] = placed
    now[EDGE, concrete:] = air
    now[1, concrete:] = masonry_before(cap, force, starts)[1:]
    now[1, concrete - 1] = placed  # the face is the concrete's: it meets the masonry within the first step
    shape = (2, concrete, len(starts))
    return Pours(now, now, np.ones(shape), np.zeros(shape), np.zeros(shape), np.zeros(len(starts)))


def cover(care: Care, age: float, hard: Floats, snow: Floats) -> Top:
    """Return the state of the top over one step: wet and open till final set, then as it is cared for.

    ``hard`` share of the step past final set, so that no pour waits for the step's end to be covered.
    """
    damp = care.damp and age < care.moist_days * DAY
    wet = 1.0 + hard * ((0.0 if damp else DRY_SKIN) - 1.0)
    absorbs = (1.0 - care.shade) * (FRESH + hard * ((SHEET if damp else HARD) - FRESH))
    blanket = hard * care.blanket if age < care.blanket_days * DAY else np.zeros_like(hard)
    return Top(wet, absorbs, blanket, snow)


def run(cap: CapInWeather, mix: MixInCure, care: Care, force: Forcing, starts: Steps, days: float) -> History:
    """Follow every pour through its cure.

    Args:
        cap: The cap.
        mix: The mix.
        care: How it is looked after; the form comes off all pours at the same age.
        force: The weather, by `forcing`.
        starts: Column of ``force.values`` at which each pour is placed, (pours,).
        days: How long to follow them.

    Raises:
        ValueError: When a pour would run past the end of the weather.
    """
    dt = force.dt
    steps = round(days * DAY / dt)
    if ((starts % force.length) + steps >= force.length).any():
        raise ValueError(f"the weather ends before a cure of {days:g} days does")
    curve = curve_of(mix)
    stages: dict[tuple[bool, float, int], Stack] = {}
    state = _start(cap, mix, force, starts, len(cap_columns(cap, mix, in_form=True)[0].depth))
    final = set_ages(curve, mix.water_cement)[1]
    keep = _Keeper(steps, len(starts))
    keep.at(0, state, np.zeros((2, len(starts))), force.values[AIR, starts])
    for j in range(1, steps + 1):
        in_form = j * dt <= care.strip_days * DAY
        wrap = care.blanket if j * dt <= care.blanket_days * DAY else 0.0
        stage = (in_form, wrap, 1 if j == 1 else 2)
        if stage not in stages:
            stages[stage] = stack(cap_columns(cap, mix, in_form=in_form, wrap=wrap), dt, stage[2])
        w = force.values[:, starts + j]
        ticks = dt * clock_rate(curve, state.now[:, 0])
        hard = np.clip((state.clock[:, 0] + ticks - final) / ticks, 0.0, 1.0)
        state.snow = snow_after(state.snow, w, dt)
        drying = advance(state, stages[stage], w, cover(care, j * dt, hard, state.snow), curve, mix, wrap)
        keep.at(j, state, drying, w[AIR])
    return keep.history(np.arange(steps + 1, dtype=np.float64) * dt, curve)


def advance(state: Pours, on: Stack, w: Floats, top: Top, curve: Hydration, mix: MixInCure, wrap: float) -> Floats:
    """Take the pours one step on, in place; return evaporation (c,s)."""
    first, dt = on.order == 1, on.dt
    c = np.arange(2)
    middle = state.now if first else 1.5 * state.now - 0.5 * state.before
    concrete = state.clock.shape[1]
    state.clock = state.clock + dt * clock_rate(curve, middle[:, :concrete])
    degree = degree_of(curve, state.clock)
    heat = (curve.heat * mix.cement / dt) * (degree - state.degree)
    at_end = heat if first else 1.5 * heat - 0.5 * state.heat
    gain = on.side * w[AIR]
    gain[:, :concrete] += on.hydrating[:, :concrete] * at_end
    guess = state.now if first else 2.0 * state.now - state.before
    face, drying = _through_cover(guess[:, 0], w, top)
    sheltered = np.array([[0.0], [1.0]])
    below = under_face(guess[c, on.bottom], w, sheltered, wrap)
    state.now, state.before = step(on, state.now, state.before, gain, face, below), state.now
    state.degree, state.heat = degree, heat
    return drying


def _through_cover(face: Floats, w: Floats, top: Top) -> tuple[tuple[Floats, Floats], Floats]:
    """Return the exchange at the concrete and its evaporation; under a cover the outer face is found by two rounds."""
    outer = face
    (a, b), vapour, resistance = top_face(outer, w, top)
    if resistance.any():
        for _ in range(2):  # the line is straight enough: the second round moves it by hundredths of a kelvin
            outer = face + resistance * (a - b * face)
            (a, b), vapour, _ = top_face(outer, w, top)
    return (a, b), vapour


class _Keeper:
    """Fills the arrays of `History` as the pours go."""

    def __init__(self, steps: int, pours: int) -> None:
        shape = (steps + 1, 2, pours)
        self.top, self.middle, self.bottom, self.clock_top, self.clock_least, self.drying = (np.empty(shape) for _ in range(6))
        self.air = np.empty((steps + 1, pours))

    def at(self, j: int, state: Pours, drying: Floats, air: Floats) -> None:
        """Keep step ``j``."""
        self.top[j], self.middle[j] = state.now[:, 0], state.now[:, CONCRETE_CELLS // 2]
        self.bottom[j] = state.now[:, CONCRETE_CELLS]
        self.clock_top[j], self.clock_least[j] = state.clock[:, 0], state.clock.min(axis=1)
        self.drying[j], self.air[j] = drying, air

    def history(self, age: Floats, curve: Hydration) -> History:
        """Return what was kept."""
        kept = (self.top, self.middle, self.bottom, self.clock_top, self.clock_least, self.drying, self.air)
        return History(age, *kept, curve)


assert HOUR % DT == 0  # hours begin on a step
