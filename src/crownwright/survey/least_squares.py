"""Least squares with weights: estimate, covariance, redundancy numbers, w-tests. Knows nothing of chimneys.

Readings L with standard errors s, a model f(x): the estimate makes v'Pv least, v = f(x) - L, P = diag(1/s^2); solved by
Gauss-Newton steps dx = (A'PA)^-1 A'P(L - f(x)), A the model's slope (Mikhail and Ackermann 1976, ch. 9).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Model = Callable[[Array], tuple[Array, Array]]
"""From parameters (p,) to predicted readings (n,) and their slopes (n,p)."""

_LOOSE = 1e-9  # share of the stiffest direction's weight under which a direction counts as not held by any reading
_STILL = 1e-9  # step, as a share of the size of the parameters, at which the estimate has settled


@dataclass(frozen=True, slots=True)
class Fit:
    """An adjusted set of readings.

    ``estimate`` (p,) with ``covariance`` (p,p), taking the standard errors as given; ``residual`` (n,) adjusted minus read;
    ``slope`` (n,p) and ``sd`` (n,) as used last; ``redundancy`` (n,) 0..1, summing to ``freedom``; ``w`` (n,) Baarda's test
    values, 0 where nothing checks the reading; ``statistic`` v'Pv; ``settled`` false when the steps did not come to rest.
    """

    estimate: Array
    covariance: Array
    residual: Array
    slope: Array
    sd: Array
    redundancy: Array
    w: Array
    freedom: int
    statistic: float
    settled: bool
    steps: int

    @property
    def unit_sd(self) -> float:
        """Standard error of unit weight after the adjustment, sqrt(v'Pv / freedom); 0 without freedom."""
        return float(np.sqrt(self.statistic / self.freedom)) if self.freedom else 0.0


class LooseError(ArithmeticError):
    """The readings do not hold the parameters: ``direction`` (p,) can move freely."""

    def __init__(self, direction: Array) -> None:
        super().__init__("the readings leave a direction free")
        self.direction = direction


def fit(
    model: Model,
    start: Array,
    reads: Array,
    sd: Array,
    inner: Callable[[Array], Array] | None = None,
    most_steps: int = 60,
) -> Fit:
    """Adjust readings to a model.

    Args:
        model: see `Model`.
        start: (p,) parameters near the answer.
        reads: (n,) readings.
        sd: (n,) their standard errors.
        inner: for a free network, gives at x the orthonormal directions (p,d) that no reading holds; the estimate then moves
            least from ``start`` in them (inner constraints), and d is the datum defect.
        most_steps: steps after which to give up.

    Returns:
        The `Fit`; ``settled`` tells whether it came to rest.

    Raises:
        LooseError: a direction other than those of ``inner`` is not held by the readings.
    """
    x, weight = np.array(start, dtype=float), 1.0 / np.square(sd)
    settled, steps = False, 0
    values, slope = model(x)
    cost = float(weight @ np.square(values - reads))
    damping = 0.0
    for step_number in range(1, most_steps + 1):
        steps = step_number
        free = inner(x) if inner else None
        normal = _stiffness(slope, weight, free)
        pull = slope.T @ (weight * (reads - values))
        if damping:
            normal = normal + damping * np.diag(np.diag(normal))
        try:
            step = np.linalg.solve(normal, pull)
        except np.linalg.LinAlgError:
            _normal(slope, weight, free)
            raise
        if free is not None:
            step -= free @ (free.T @ step)
        still = float(np.abs(step).max(initial=0.0)) <= _STILL * (1.0 + float(np.ptp(x)) if len(x) else 1.0)
        tried_values, tried_slope = model(x + step)
        tried = float(weight @ np.square(tried_values - reads))
        if tried > cost * (1 + 1e-9) + 1e-12 and not still:
            damping = max(4 * damping, 1e-3)
            if damping > 1e9:
                break
            continue
        x, values, slope, cost = x + step, tried_values, tried_slope, tried
        # once the damping is off and the step is nothing, this is the answer
        if still and damping == 0.0:
            settled = True
            break
        damping = damping / 8 if damping > 1e-6 else 0.0
    return _describe(x, values, slope, reads, sd, inner(x) if inner else None, settled, steps)


def _stiffness(slope: Array, weight: Array, free: Array | None) -> Array:
    """Normal matrix, made regular in the free directions of the datum."""
    normal = np.asarray(slope.T @ (slope * weight[:, None]))
    if free is not None:
        normal += float(np.trace(normal)) / max(len(normal), 1) * (free @ free.T)
    return normal


def _normal(slope: Array, weight: Array, free: Array | None) -> Array:
    """Normal matrix; raises where a direction other than those of the datum is loose."""
    normal = _stiffness(slope, weight, free)
    scale = np.sqrt(np.maximum(np.diag(normal), 1e-300))
    try:
        np.linalg.cholesky(normal / np.outer(scale, scale) - _LOOSE * np.eye(len(normal)))
    except np.linalg.LinAlgError:
        vectors = np.linalg.eigh(normal)[1]
        raise LooseError(vectors[:, 0]) from None
    return normal


def _describe(
    x: Array, values: Array, slope: Array, reads: Array, sd: Array, free: Array | None, settled: bool, steps: int
) -> Fit:
    weight = 1.0 / np.square(sd)
    normal = _normal(slope, weight, free)
    covariance = np.linalg.inv(normal)
    defect = 0
    if free is not None:
        # what the made-up stiffness of the datum put in is taken out again: this is the pseudo-inverse
        defect = free.shape[1]
        away = np.eye(len(x)) - free @ free.T
        covariance = away @ covariance @ away
    covariance = (covariance + covariance.T) / 2
    residual = values - reads
    checked = 1.0 - ((slope @ covariance) * slope).sum(axis=1) * weight
    redundancy = np.clip(np.where(np.abs(checked) < 1e-9, 0.0, checked), 0.0, 1.0)
    w = np.where(redundancy > 0, residual / (sd * np.sqrt(np.where(redundancy > 0, redundancy, 1.0))), 0.0)
    freedom = len(reads) - len(x) + defect
    return Fit(
        x, covariance, residual, slope, np.asarray(sd, dtype=float), redundancy, w, freedom,
        float(weight @ np.square(residual)), settled, steps,
    )  # fmt: skip
