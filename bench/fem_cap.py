"""An independent model of one column of the cap: quadratic finite elements in space (scikit-fem), trapezoidal steps of two
minutes, Newton on the faces, hydration at the quadrature points. It shares with the product the physics as written in its
documentation and the cap's data, not a line of its solver; moist air comes from psychrolib, sunshine from the weather file.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log

import numpy as np
import psychrolib
from scipy.linalg import solve_banded
from skfem import Basis, BilinearForm, ElementLineP2, LinearForm, MeshLine, asm
from skfem.helpers import dot, grad

psychrolib.SetUnitSystem(psychrolib.SI)
SIGMA, LATENT, K0 = 5.670374419e-8, 2.45e6, 273.15


@dataclass(frozen=True)
class Case:
    """One column: ``layers`` as (thickness, k, rho c, cells), concrete first; ``side`` W/m3K of the concrete; curve (ultimate,
    tau, beta, E, J/m3), reference degC; ``foot`` True where the bottom lets nothing pass; ``perimeter_area`` for convection.
    """

    layers: tuple[tuple[float, float, float, int], ...]
    side: float
    curve: tuple[float, float, float, float, float]
    reference: float
    foot: bool
    perimeter_area: float
    final: float
    moist: float
    emissivity: float = 0.94


@dataclass(frozen=True)
class Weather:
    """Hourly means from ``t0`` s before placing: air, humidity, wind (at the top), sun, sky."""

    lead: float
    air: np.ndarray
    humidity: np.ndarray
    wind: np.ndarray
    sun: np.ndarray
    sky: np.ndarray

    def at(self, t):
        """Air, vapour, wind and its root, sun and sky at ``t`` s after placing."""
        hour = (t + self.lead) / 3600 - 0.5
        i = int(np.clip(np.floor(hour), 0, len(self.air) - 2))
        f = min(max(hour - i, 0.0), 1.0)
        mix = lambda row: row[i] * (1 - f) + row[i + 1] * f  # noqa: E731
        vapour = [self.humidity[j] * psychrolib.GetSatVapPres(self.air[j]) for j in (i, i + 1)]
        root = [self.wind[j] ** 0.5 for j in (i, i + 1)]
        return {
            "air": mix(self.air),
            "vapour": vapour[0] * (1 - f) + vapour[1] * f,
            "wind": mix(self.wind),
            "root": root[0] * (1 - f) + root[1] * f,
            "sun": mix(self.sun),
            "sky": mix(self.sky),
        }


class Column:
    """The semi-discrete system of one column."""

    def __init__(self, case: Case, refine: int = 1) -> None:
        self.case = case
        points, marks = [0.0], []
        for i, (thick, _, _, cells) in enumerate(case.layers):
            n = cells * refine
            grow = 1.0 if i == 0 else 1.35
            widths = grow ** np.arange(n)
            widths = widths / widths.sum() * thick
            points += list(points[-1] + np.cumsum(widths))
            marks += [i] * n
        mesh = MeshLine(np.array(points))
        self.basis = Basis(mesh, ElementLineP2(), intorder=4)
        marks = np.array(marks)
        k, rc = (np.array([layer[j] for layer in case.layers])[marks][:, None] for j in (1, 2))
        wet = (marks == 0).astype(float)[:, None]
        ones = np.ones_like(self.basis.dx)
        self.mass = asm(BilinearForm(lambda u, v, w: w["c"] * u * v), self.basis, c=rc * ones).tolil()
        self.stiff = asm(BilinearForm(lambda u, v, w: w["k"] * dot(grad(u), grad(v))), self.basis, k=k * ones).tolil()
        self.loss = asm(BilinearForm(lambda u, v, w: w["s"] * u * v), self.basis, s=case.side * wet * ones).tolil()
        self.loss_air = asm(LinearForm(lambda v, w: w["s"] * v), self.basis, s=case.side * wet * ones)
        self.wet = wet * ones
        x = self.basis.doflocs[0]
        self.order = np.argsort(x)
        self.x = x[self.order]
        self.top, self.bottom = 0, len(x) - 1
        self.interface = int(np.argmin(abs(self.x - case.layers[0][0])))
        self.middle = int(np.argmin(abs(self.x - case.layers[0][0] / 2)))
        p = np.ix_(self.order, self.order)
        self.mass, self.stiff, self.loss = (m.toarray()[p] for m in (self.mass, self.stiff, self.loss))

        units = np.eye(len(x))
        self.to_points = np.array([np.asarray(self.basis.interpolate(unit)).ravel() for unit in units])[self.order].T
        self.to_load = self.to_points.T * self.basis.dx.ravel() * self.wet.ravel()
        self.loss_air = self.loss_air[self.order]


def banded(a, width=2):
    n = len(a)
    ab = np.zeros((2 * width + 1, n))
    for d in range(-width, width + 1):
        diag = np.diagonal(a, d)
        ab[width - d, max(d, 0) : max(d, 0) + len(diag)] = diag
    return ab


def top_flux(ts, w, case: Case, hard: bool, damp: bool):
    """Heat into the top face, W/m2, and evaporation."""
    h = 2.537 * 1.52 * case.perimeter_area**0.5 * w["root"]
    d = ts - w["air"]
    h += abs(d) ** (1 / 3) * (9.482 / 6.283 if d > 0 else 1.810 / 2.382)
    wet, absorbs = (1.0, 0.80) if not hard else ((0.0, 0.30) if damp else (0.15, 0.65))
    drive = max(psychrolib.GetSatVapPres(ts) - w["vapour"], 0.0) / 1000
    drying = wet * 0.315 * drive * (0.253 + 0.060 * 3.6 * w["wind"]) / 3600
    return h * (-d) + absorbs * w["sun"] + case.emissivity * (w["sky"] - SIGMA * (ts + K0) ** 4) - LATENT * drying, drying


def under_flux(tb, w, case: Case):
    """Heat into the underside, W/m2."""
    if case.foot:
        return 0.0
    h = 0.5 * 2.537 * 1.52 * case.perimeter_area**0.5 * w["root"]
    d = w["air"] - tb
    h += abs(d) ** (1 / 3) * (9.482 / 6.283 if d > 0 else 1.810 / 2.382)
    return h * d + case.emissivity * SIGMA * ((w["air"] + K0) ** 4 - (tb + K0) ** 4)


def march(column: Column, t, clock, weather: Weather, hours: float, *, dt=120.0, every=3600.0):
    """Step for ``hours`` from placing; return rows of time s, top, middle and bottom face degC, evaporation - and ``t``,
    ``clock``.

    ``clock`` equivalent age at the quadrature points, s, changed on the way.
    """
    case = column.case
    ultimate, tau, beta, energy, heat = case.curve
    rate = lambda temp: np.exp(energy / 8.314 * (1 / (case.reference + K0) - 1 / (temp + K0)))  # noqa: E731
    grown = lambda te: ultimate * np.exp(-((tau / te) ** beta))  # noqa: E731
    top_clock = 1.0
    kept = []
    n = round(hours * 3600 / dt)
    w0 = weather.at(0.0)
    matrix = column.stiff + column.loss
    for j in range(n):
        theta = 1.0 if j < 4 else 0.5
        time = (j + 1) * dt
        w1 = weather.at(time)
        hard, damp = top_clock >= case.final, time < case.moist
        new = t.copy()
        left = column.mass / dt + theta * matrix
        fixed = column.mass @ t / dt - (1 - theta) * matrix @ t
        fixed += column.loss_air * (theta * w1["air"] + (1 - theta) * w0["air"])
        old_top = top_flux(t[0], w0, case, hard, damp)[0]
        old_bottom = under_flux(t[-1], w0, case)
        points = column.to_points @ t
        for _ in range(8):
            middle = 0.5 * (column.to_points @ new + points)
            grew = clock + dt * rate(middle)
            source = column.to_load @ (heat * (grown(grew) - grown(clock)) / dt)
            q1, drying = top_flux(new[0], w1, case, hard, damp)
            slope = (top_flux(new[0] + 1e-4, w1, case, hard, damp)[0] - q1) / 1e-4
            b1 = under_flux(new[-1], w1, case)
            b_slope = (under_flux(new[-1] + 1e-4, w1, case) - b1) / 1e-4
            residual = fixed + source - left @ new
            residual[0] += theta * q1 + (1 - theta) * old_top
            residual[-1] += theta * b1 + (1 - theta) * old_bottom
            jac = left.copy()
            jac[0, 0] -= theta * slope
            jac[-1, -1] -= theta * b_slope
            change = solve_banded((2, 2), banded(jac), residual)
            new += change
            if abs(change).max() < 1e-7:
                break
        clock[...] = clock + dt * rate(0.5 * (column.to_points @ new + points))
        top_clock += dt * float(rate(0.5 * (new[0] + t[0])))
        t, w0 = new, w1
        if round(time) % round(every) == 0:
            kept.append((time, t[column.top], t[column.middle], t[column.interface], drying))
    return np.array(kept), t, clock


def final_age(ultimate, tau, beta, water_cement):
    """Equivalent age at final set, s."""
    return tau * log(ultimate / (0.26 * water_cement)) ** (-1 / beta)


__all__ = ["Case", "Column", "Weather", "final_age", "march"]
