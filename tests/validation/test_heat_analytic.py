"""Exact solutions of conduction (Carslaw & Jaeger; Incropera & DeWitt ch. 5)."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import erfc

from crownwright.cure.conduction import Layer, column, even, graded, stack, step
from crownwright.quantity.units import DAY, HOUR

K, RHO, C = 1.7, 2300.0, 900.0
DIFFUSIVITY = K / (RHO * C)
GOAL = 0.05  # K, the goal set


def march(layers, start, faces, hours, dt, gain=0.0, keep=None):
    """Temperatures of one column after ``hours``; ``faces(t)`` gives the two exchanges at time t; ``gain`` W/m3."""
    col = column(layers)
    stacks = {order: stack([col], dt, order) for order in (1, 2)}
    now = np.broadcast_to(np.asarray(start, float), (len(col.depth),))[None, :, None].copy()
    before = now
    for j in range(round(hours * HOUR / dt)):
        top, bottom = (tuple(np.full((1, 1), v) for v in face) for face in faces((j + 1) * dt))
        heat = gain * stacks[2].hydrating if gain else np.zeros_like(now)
        now, before = step(stacks[1 if j == 0 else 2], now, before, heat, top, bottom), now
        if keep:
            keep(col.depth, now[0, :, 0])
    return col.depth, now[0, :, 0]


def slab(n=20, half=0.05):
    return [Layer(even(2 * half, n), K, RHO * C, hydrates=True)]


def deep(n=60, depth=2.0, growth=1.06):
    return [Layer(graded(depth, n, growth), K, RHO * C)]


def air(h, t=0.0):
    return (h * t, h)


CLOSED = (0.0, 0.0)


@pytest.mark.parametrize(("h", "centre", "surface"), [(10.0, 11.0954, 9.6446), (20.0, 6.7940, 5.1993)])
def test_slab_cooling_by_both_faces(theirs, h, centre, surface):
    depth, t = march(slab(), 20.0, lambda _: (air(h), air(h)), 2, 60.0)
    theirs(f"slab centre after 2 h, h {h:g}", centre, t[len(depth) // 2], unit="degC", tol=GOAL, grade="derived")
    theirs(f"slab surface after 2 h, h {h:g}", surface, t[0], unit="degC", tol=GOAL, grade="derived")


HALF_SPACE = {
    0.0: (12.5242, 9.5717, 7.6813, 5.9390),
    0.05: (16.8881, 13.3571, 10.8584, 8.4649),
    0.10: (19.0406, 16.1609, 13.5361, 10.7619),
}


@pytest.mark.parametrize("place", HALF_SPACE)
def test_half_space_with_convection(theirs, place):
    for hours, told in zip((1, 3, 6, 12), HALF_SPACE[place], strict=True):
        depth, t = march(deep(), 20.0, lambda _: (air(15.0), CLOSED), hours, 60.0)
        theirs(
            f"half-space {place:g} m deep after {hours} h",
            told,
            float(np.interp(place, depth, t)),
            unit="degC",
            tol=GOAL,
            grade="derived",
        )


def test_half_space_under_steady_flux(theirs):
    hours, q = 6.0, 200.0
    reach = np.sqrt(DIFFUSIVITY * hours * HOUR)
    depth, t = march(deep(), 10.0, lambda _: ((q, 0.0), CLOSED), hours, 60.0)
    for place in (0.0, 0.05, 0.10):
        told = (
            10.0
            + 2 * q * reach / K / np.sqrt(np.pi) * np.exp(-((place / 2 / reach) ** 2))
            - q * place / K * erfc(place / 2 / reach)
        )
        theirs(
            f"under 200 W/m2, {place:g} m deep after 6 h",
            float(told),
            float(np.interp(place, depth, t)),
            unit="degC",
            tol=GOAL,
            grade="derived",
        )


def test_heat_made_inside(theirs):
    depth, t = march(slab(), 0.0, lambda _: (air(10.0), air(10.0)), 48, 300.0, gain=1000.0)
    theirs("surface over air, 1000 W/m3 made inside", 5.000, t[0], unit="K", tol=GOAL, grade="derived")
    theirs("centre over surface", 0.7353, t[len(depth) // 2] - t[0], unit="K", tol=GOAL, grade="derived")


def test_a_day_s_wave(theirs):
    w = 2 * np.pi / DAY
    held = 1e7  # a surface held at a temperature: the exchange is made overwhelming
    seen = []
    march(
        deep(),
        0.0,
        lambda s: ((held * np.sin(w * s), held), CLOSED),
        24 * 6,
        600.0,
        keep=lambda d, t: seen.append(np.interp(0.10, d, t)),
    )
    seen = seen[24 * 6 * 5 - 1 : 24 * 6 * 6 - 1 : 6]  # the sixth day, hour by hour
    spectrum = np.fft.rfft(seen)[1] / 12
    lag = (-np.angle(spectrum) - np.pi / 2) % (2 * np.pi) / w / HOUR
    theirs("amplitude 0.10 m deep of a wave of 1 K", 0.5141, abs(spectrum), unit="K", tol=0.01, grade="derived")
    theirs("its lag", 2.5416, lag, unit="h", tol=0.05, grade="derived")


def test_contact_of_fresh_concrete_and_granite(theirs):
    effusivity = 2389.0
    k_stone = 2.79
    layers = [Layer(graded(0.5, 60, 1.06)[::-1], K, RHO * C), Layer(graded(0.5, 60, 1.06), k_stone, effusivity**2 / k_stone)]
    start = np.where(np.arange(121) < 60, 25.0, 5.0)
    start[60] = 15.0  # the shared node: forgotten within minutes
    depth, t = march(layers, start, lambda _: (CLOSED, CLOSED), 1, 10.0)
    theirs(
        "contact temperature, concrete 25 on granite 5 degC",
        13.797,
        float(np.interp(0.5, depth, t)),
        unit="degC",
        tol=GOAL,
        grade="derived",
    )


def test_incropera_steel_wall(theirs):
    layer = [Layer(even(0.080, 40), 63.9, 7832.0 * 434.0)]
    _, t = march(layer, -20.0, lambda _: (air(500.0, 60.0), air(500.0, 60.0)), 8 / 60, 2.0)
    # the book solves with the first term of the series and three-digit coefficients
    theirs("steel wall, middle after 8 min", 42.9, t[20], unit="degC", tol=0.2, place="example 5.5", grade="from memory")
    theirs("steel wall, surface after 8 min", 45.2, t[0], unit="degC", tol=0.2, place="example 5.5", grade="from memory")


def test_incropera_frozen_ground(theirs):
    layer = [Layer(graded(12.0, 80, 1.05), 0.52, 2050.0 * 1840.0)]
    depth, t = march(layer, 20.0, lambda _: ((-15.0e7, 1e7), CLOSED), 60 * 24, 3600.0)
    # printed to the centimetre
    theirs(
        "depth of frost after 60 days",
        0.68,
        float(np.interp(0.0, t, depth)),
        unit="m",
        tol=0.005,
        place="example 5.6",
        grade="from memory",
    )


def test_order_of_convergence_in_time_and_space():
    exact = 11.095442
    fine = [abs(march(slab(80), 20.0, lambda _: (air(10.0), air(10.0)), 2, dt)[1][40] - exact) for dt in (720.0, 360.0, 180.0)]
    assert fine[0] / fine[1] > 2.5, fine  # second order but for the first step, which is of first
    assert fine[1] / fine[2] > 2.5, fine
    coarse = [abs(march(slab(n), 20.0, lambda _: (air(10.0), air(10.0)), 2, 5.0)[1][n // 2] - exact) for n in (2, 4, 8)]
    assert coarse[0] / coarse[1] > 3.5, coarse
    assert coarse[1] / coarse[2] > 3.5, coarse
