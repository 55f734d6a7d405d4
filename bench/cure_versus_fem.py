"""The product's heat balance against the finite-element model, week by week of a real year: rms difference, and how long each
took.

Run `python bench/cure_versus_fem.py` for twenty weeks spread over the year (about a minute and a half).
"""

from __future__ import annotations

import time
from pathlib import Path

import numpy as np
import pvlib

import fem_cap
from crownwright.cure import columns, heat
from crownwright.cure.forcing import forcing
from crownwright.cure.inputs import CapInWeather, Care, MixInCure
from crownwright.quantity.units import DAY, HOUR
from crownwright.weather.hours import at_top, between
from crownwright.weather.sky import sky_over
from crownwright.weather.tmy3 import parse_tmy3

YEAR, _ = parse_tmy3((Path(pvlib.__file__).parent / "data" / "723170TYA.CSV").read_bytes())
CAP = CapInWeather(0.09, 0.16, 0.10, 1.2, 0.9, masonry="brick")
MIX = MixInCure(335.0, 0.50, 27.6e6, temperature=20.0)
CARE = Care(strip_days=99.0)
LEAD = 48
NAMES = {0: "edge", 1: "middle column"}
PLACES = {1: "top", 2: "middle", 3: "bottom"}


def weather(hour: int, days: int):
    """The hours of a week at the height of the top, two days of lead before it."""
    return at_top(between(YEAR, hour - LEAD, hour + 24 * days + 4), CAP.height, CAP.ground)


def reference(hour: int, column: int, *, days: int, fem_step: float, refine: int = 1) -> np.ndarray:
    """The element model's hourly rows (time, top, middle, bottom, evaporation) of one column."""
    hours = weather(hour, days)
    sky = sky_over(hours)
    curve = heat.curve_of(MIX)
    told = (curve.ultimate, curve.tau, curve.beta, curve.energy, curve.heat * MIX.cement)
    if column == 0:
        layers = ((CAP.edge_thickness, 1.95, 2300 * 900.0, 8), (CAP.board, 0.15, 608 * 1630.0, 6))
        side = columns.side_loss(CAP, True)
    else:
        layers = ((CAP.middle_thickness, 1.95, 2300 * 900.0, 8), (columns.MASONRY_DEPTH, 0.89, 1920 * 790.0, 12))
        side = 0.0
    final = fem_cap.final_age(*told[:3], MIX.water_cement)
    case = fem_cap.Case(layers, side, told, curve.reference, column == 1, CAP.perimeter / CAP.area, final, CARE.moist_days * DAY)
    model = fem_cap.Column(case, refine)
    start = np.full(len(model.x), MIX.temperature)
    below = model.x > layers[0][0] + 1e-9
    force = forcing(hours, CAP, heat.DT)
    first = np.array([round(LEAD * HOUR / heat.DT)])
    if column == 0:
        start[below] = force.values[0, first[0]]
    else:
        depth = columns.masonry_column(CAP).depth
        start[below] = np.interp(model.x[below] - layers[0][0], depth, heat.masonry_before(CAP, force, first)[:, 0])
    line = fem_cap.Weather(LEAD * HOUR, hours.air, hours.humidity, hours.wind, sky.sun, sky.infrared)
    return fem_cap.march(model, start, np.ones(model.wet.size), line, 24.0 * days, dt=fem_step)[0]


def product(hour: int, *, days: int, dt: float = heat.DT) -> heat.History:
    """The product's history of the same week."""
    return heat.run(CAP, MIX, CARE, forcing(weather(hour, days), CAP, dt), np.array([round(LEAD * HOUR / dt)]), days)


def week(hour: int, *, fem_step: float = 120.0, days: int = 7, dt: float = heat.DT) -> dict[tuple[str, str], float]:
    """Rms difference, K, by column and place."""
    history = product(hour, days=days, dt=dt)
    errors = {}
    for column, name in NAMES.items():
        rows = reference(hour, column, days=days, fem_step=fem_step)
        at = np.round(rows[:, 0] / dt).astype(int)
        for place, word in PLACES.items():
            ours = getattr(history, word)[at, column, 0]
            errors[name, word] = float(np.sqrt(np.mean((ours - rows[:, place]) ** 2)))
    return errors


def main() -> None:
    """Twenty weeks."""
    worst: dict[tuple[str, str], float] = {}
    total = []
    began = time.perf_counter()
    starts = [24 * 9 + 8 + round(i * (8760 - 24 * 20) / 20) for i in range(20)]
    for hour in starts:
        errors = week(hour)
        total.append(list(errors.values()))
        worst = {key: max(worst.get(key, 0.0), value) for key, value in errors.items()}
        print(f"from hour {hour:5d}  " + "  ".join(f"{c[:4]} {p} {e:.3f}" for (c, p), e in errors.items()))
    rms = np.sqrt(np.mean(np.square(total), axis=0))
    print("all 20 weeks, rms K:   " + "  ".join(f"{c[:4]} {p} {e:.3f}" for (c, p), e in zip(worst, rms, strict=True)))
    print("worst week, rms K:     " + "  ".join(f"{c[:4]} {p} {e:.3f}" for (c, p), e in worst.items()))
    print(f"{time.perf_counter() - began:.0f} s")


if __name__ == "__main__":
    main()
