"""The window search against the clock: ten days of hours, a seven-day cure for every one; and against SciPy's stiff solvers.

Run `python bench/cure.py`. Ratios are to the reference in the same run; seeded; nothing here is a test.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pvlib
from scipy.integrate import solve_ivp

from crownwright.codes.schindler_folliard_2005 import set_ages
from crownwright.cure import heat
from crownwright.cure.columns import CONCRETE_CELLS, cap_columns
from crownwright.cure.exchange import top_face, under_face
from crownwright.cure.forcing import AIR, forcing
from crownwright.cure.heat import Care, clock_rate, curve_of, run
from crownwright.cure.inputs import CapInWeather, CureChoices, MixInCure
from crownwright.cure.sure import with_sureness
from crownwright.cure.window import search
from crownwright.quantity.units import DAY, HOUR
from crownwright.weather.hours import at_top, between
from crownwright.weather.tmy3 import parse_tmy3

YEAR, _ = parse_tmy3((Path(pvlib.__file__).parent / "data" / "723170TYA.CSV").read_bytes())
CAP = CapInWeather(0.09, 0.16, 0.10, 1.2, 0.9)
MIX = MixInCure(335.0, 0.50, 27.6e6, temperature=20.0)
FORM = Care(strip_days=99.0)  # the same columns throughout, for the stiff solvers' sake
FIRST = 24 * 100


def best_of(work: Callable[[], object], times: int) -> tuple[float, float]:
    """Least wall and processor time, s."""
    walls, cpus = [], []
    for _ in range(times):
        wall, cpu = time.perf_counter(), time.process_time()
        work()
        walls.append(time.perf_counter() - wall)
        cpus.append(time.process_time() - cpu)
    return min(walls), min(cpus)


def stiff(start_hour: int, method: str, rtol: float, days: float = 7.0) -> tuple[np.ndarray, float]:
    """One pour by a SciPy solver on the product's own columns and faces: hourly top temperatures (n,2), and processor time, s."""
    hours = at_top(between(YEAR, FIRST, FIRST + 24 * 18), CAP.height, CAP.ground)
    force = forcing(hours, CAP, heat.DT)
    cols = cap_columns(CAP, MIX, in_form=True)
    curve, n, m = curve_of(MIX), len(cols[0].depth), CONCRETE_CELLS + 1
    final = set_ages(curve, MIX.water_cement)[1]
    capacity, between_, side, hydrating = (
        np.array([getattr(c, name) for c in cols]) for name in ("capacity", "between", "side", "hydrating")
    )
    bottom, c, sheltered = np.array([col.bottom for col in cols]), np.arange(2), np.array([[0.0], [1.0]])
    at = start_hour * round(HOUR / heat.DT)
    grid = np.arange(force.length) * heat.DT - at * heat.DT
    power = curve.heat * MIX.cement

    def weather(t: float) -> np.ndarray:
        i = min(max(int((t - grid[0]) / heat.DT), 0), force.length - 2)
        f = (t - grid[i]) / heat.DT
        return (force.values[:, i] * (1 - f) + force.values[:, i + 1] * f)[:, None]

    def rate(t: float, y: np.ndarray) -> np.ndarray:
        temperature, clock = y[: 2 * n].reshape(2, n), y[2 * n :].reshape(2, m)
        w = weather(t)
        hard = (clock[:, :1] >= final).astype(float)
        top = heat.cover(FORM, t, hard, np.zeros(1))
        (a, b), _, _ = top_face(temperature[:, :1], w, top)
        (ab, bb) = under_face(temperature[c, bottom][:, None], w, sheltered, 0.0)
        flow = side * (w[AIR] - temperature)
        q = between_ * np.diff(temperature, axis=1)
        flow[:, :-1] += q
        flow[:, 1:] -= q
        flow[:, 0] += (a - b * temperature[:, :1])[:, 0]
        flow[c, bottom] += (ab - bb * temperature[c, bottom][:, None])[:, 0]
        ticking = clock_rate(curve, temperature[:, :m])
        late = np.maximum(clock, 1.0)
        share = (curve.tau / late) ** curve.beta
        grown = curve.ultimate * np.exp(-share) * share * curve.beta / late
        flow[:, :m] += hydrating[:, :m] * power * grown * ticking
        return np.concatenate([(flow / capacity).ravel(), ticking.ravel()])

    pours = heat._start(CAP, MIX, force, np.array([at]), n)
    y0 = np.concatenate([pours.now[:, :, 0].ravel(), np.ones(2 * m)])
    began = time.process_time()
    found = solve_ivp(
        rate,
        (0.0, days * DAY),
        y0,
        method=method,
        rtol=rtol,
        atol=rtol,
        t_eval=np.arange(1, round(days * 24)) * HOUR,
        max_step=3 * HOUR,
    )
    took = time.process_time() - began
    return found.y[: 2 * n].reshape(2, n, -1)[:, 0].T, took


def rms(a: np.ndarray, b: np.ndarray) -> float:
    """Root of the mean square difference."""
    return float(np.sqrt(np.mean((a - b) ** 2)))


def against_stiff(pours: tuple[int, ...]) -> None:
    """Time for one pour at the same error against a tight solution of the same equations."""
    hours = at_top(between(YEAR, FIRST, FIRST + 24 * 18), CAP.height, CAP.ground)
    force = forcing(hours, CAP, heat.DT)
    every = np.arange(240) * 4
    _, ours_all = best_of(lambda: run(CAP, MIX, FORM, force, every, 7.0), 3)
    history = run(CAP, MIX, FORM, force, every, 7.0)
    print(f"\nheat balance alone, 240 pours of 7 days: {ours_all:.2f} s of processor time = {ours_all / 240 * 1e3:.1f} ms a pour")
    print("pour   our error K   solver   rtol    its error K   its time s   ratio")
    for pour in pours:
        exact, _ = stiff(pour, "LSODA", 1e-8)
        ours = rms(history.top[4 : 4 * 168 : 4, :, pour], exact)
        for method in ("BDF", "Radau", "LSODA"):
            for rtol in (1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 1e-5):
                theirs, took = stiff(pour, method, rtol)
                error = rms(theirs, exact)
                if error <= ours or rtol == 1e-5:
                    ratio = took / (ours_all / 240)
                    print(f"{pour:4d}   {ours:11.3f}   {method:6s}  {rtol:6.0e}   {error:11.3f}   {took:10.2f}   {ratio:5.0f} x")
                    break


def main() -> None:
    """Search, ensemble, growth, stiff solvers."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="leave the stiff solvers out")
    quick = parser.parse_args().quick
    choices = CureChoices()
    ten = between(YEAR, FIRST, FIRST + 240)
    wall, cpu = best_of(lambda: search(CAP, ten, MIX, choices), 5)
    print(f"ten-day hourly search, 240 starts, seven-day cure each: {wall:.2f} s wall, {cpu:.2f} s processor (best of 5)")
    found = search(CAP, ten, MIX, choices)
    wall, cpu = best_of(lambda: with_sureness(found, CAP, ten, MIX, choices, np.random.default_rng(1)), 3)
    print(f"how sure, 12 windows in {choices.members} forecasts: {wall:.2f} s wall, {cpu:.2f} s processor")
    print("\ngrowth (processor s, best of 3):")
    for days in (5, 10, 20, 40):
        span = between(YEAR, FIRST, FIRST + 24 * days)
        _, cpu = best_of(lambda span=span: search(CAP, span, MIX, choices), 3)
        print(f"  {24 * days:4d} starts: {cpu:.2f}   per start {cpu / 24 / days * 1e3:.2f} ms")
    for cure in (3.5, 7.0, 14.0, 28.0):
        longer = CureChoices(cure_days=cure)
        _, cpu = best_of(lambda longer=longer: search(CAP, ten, MIX, longer), 3)
        print(f"  240 starts, {cure:4.1f} days of cure: {cpu:.2f}   per day {cpu / cure * 1e3:.0f} ms")
    if not quick:
        against_stiff((10, 100, 200))


if __name__ == "__main__":
    main()
