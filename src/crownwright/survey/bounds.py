"""Heights given drops and given bounds between places: the highest hump is above all others, a lowest edge below its side.

A place that was looked for is not a fair sample: taken as one it would pull the whole top up, or an edge down. But what was
seen in looking, that nothing stands higher, is worth as much again, and the two together are fair. The bounds are taken in by
expectation propagation: each becomes one Gaussian reading of a difference, chosen so that mean and spread of that difference
come out right (Minka 2001; Rasmussen and Williams 2006, section 3.6), all together and damped.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.survey.least_squares import Array
from crownwright.survey.lumps import hazard

_SWEEPS = 8
_DAMP = 0.8
_STILL = 0.02  # change of the precisions, as a share of the greatest, at which the sweeps may stop


@dataclass(frozen=True, slots=True)
class Bounds:
    """Place ``above`` (s,) stands no lower than place ``below`` (s,), give or take ``slack`` (m)."""

    above: NDArray[np.intp]
    below: NDArray[np.intp]
    slack: float


@dataclass(frozen=True, slots=True)
class Conditioned:
    """For each of g priors: heights at the places, ``mean`` (g,a) and ``covariance`` (g,a,a), the prior's inverse ``stiff``
    (g,a,a), and the logarithm of how well that prior explains what was read, ``evidence`` (g,), up to one constant.
    """

    mean: Array
    covariance: Array
    stiff: Array
    evidence: Array


@dataclass(frozen=True, slots=True)
class _Sites:
    """The Gaussian that stands for each bound, (g,s): ``precision`` and ``shift`` (precision times mean) of its difference."""

    precision: Array
    shift: Array


def condition(mean: Array, prior: Array, reads: Array, weight: Array, bounds: Bounds) -> Conditioned:
    """Take readings and bounds in.

    Args:
        mean: (a,) prior heights at the places.
        prior: (g,a,a) prior covariances, one for each value of what is left open.
        reads: (a,) readings; anything where ``weight`` is 0.
        weight: (a,) one over the variance of each reading, 0 where a place was not read.
        bounds: between places.

    Returns:
        The heights given all of it.
    """
    stiff = _inverse(prior)
    pull = stiff @ mean + weight * np.where(weight > 0, reads, 0.0)
    fixed: Array = stiff + np.diag(weight)
    covariance = _inverse(fixed)
    where = _times(covariance, pull)
    bounds = _that_bind(where, covariance, bounds)
    none = np.zeros((len(prior), len(bounds.above)))
    sites = _Sites(none, none)
    whole = fixed
    for _ in range(_SWEEPS if len(bounds.above) else 0):
        new = _matched(*_cavity(where, covariance, bounds, sites), bounds.slack)
        change = np.abs(new.precision - sites.precision).max() / new.precision.max()
        sites = _Sites(
            sites.precision + _DAMP * (new.precision - sites.precision), sites.shift + _DAMP * (new.shift - sites.shift)
        )
        whole = fixed + _matrices(sites.precision, bounds, len(mean))
        covariance = _inverse(whole)
        where = _times(covariance, pull + _vectors(sites.shift, bounds, len(mean)))
        if change < _STILL:
            break
    evidence = _gaussian_evidence(mean, stiff, whole, where, covariance, prior)
    if len(bounds.above):
        evidence = evidence + _corrections(where, covariance, bounds, sites)
    return Conditioned(where, covariance, stiff, evidence)


def _inverse(matrices: Array) -> Array:
    return np.asarray(np.linalg.inv(matrices), dtype=float)


def _times(matrices: Array, vectors: Array) -> Array:
    return np.asarray((matrices @ vectors[..., None])[..., 0])


def _that_bind(where: Array, covariance: Array, bounds: Bounds) -> Bounds:
    """Leave out bounds that the readings alone make sure of under every prior."""
    if not len(bounds.above):
        return bounds
    m, v = _differences(where, covariance, bounds)
    binds = (m < 3.5 * np.sqrt(v + bounds.slack**2)).any(axis=0)
    return Bounds(bounds.above[binds], bounds.below[binds], bounds.slack)


def _cavity(where: Array, covariance: Array, bounds: Bounds, sites: _Sites) -> tuple[Array, Array]:
    """Mean and variance (g,s) of each difference without its own bound."""
    m, v = _differences(where, covariance, bounds)
    variance = 1.0 / np.maximum(1.0 / v - sites.precision, 1e-3 / v)
    return variance * (m / v - sites.shift), variance


def _differences(where: Array, covariance: Array, bounds: Bounds) -> tuple[Array, Array]:
    """Mean and variance (g,s) of height above less height below."""
    above, below = bounds.above, bounds.below
    diagonal = np.diagonal(covariance, axis1=1, axis2=2)
    variance = diagonal[:, above] + diagonal[:, below] - 2 * covariance[:, above, below]
    return where[:, above] - where[:, below], np.maximum(variance, 1e-12)


def _matched(mean: Array, variance: Array, slack: float) -> _Sites:
    """The Gaussian that turns a cavity into what it is given that the difference is not negative."""
    spread = np.sqrt(variance + slack**2)
    z = mean / spread
    rate, _ = hazard(z)
    cut = rate * (z + rate) / spread**2
    new_mean = mean + variance * rate / spread
    new_variance = np.maximum(variance - variance**2 * cut, 1e-3 * variance)
    precision = np.maximum(1.0 / new_variance - 1.0 / variance, 0.0)
    return _Sites(precision, new_mean / new_variance - mean / variance)


def _matrices(precision: Array, bounds: Bounds, places: int) -> Array:
    """Precisions (g,s) of differences as matrices (g,a,a) over the places."""
    above, below = bounds.above, bounds.below
    cells = np.concatenate([above * places + above, below * places + below, above * places + below, below * places + above])
    rows = np.concatenate([precision, precision, -precision, -precision], axis=1)
    flat = [np.bincount(cells, weights=row, minlength=places * places) for row in rows]
    return np.array(flat, dtype=float).reshape(len(precision), places, places)


def _vectors(shift: Array, bounds: Bounds, places: int) -> Array:
    cells = np.concatenate([bounds.above, bounds.below])
    return np.array([np.bincount(cells, weights=row, minlength=places) for row in np.concatenate([shift, -shift], axis=1)])


def _gaussian_evidence(mean: Array, stiff: Array, whole: Array, where: Array, covariance: Array, prior: Array) -> Array:
    """Logarithm (g,) of the integral over all places of prior, readings and the bounds' Gaussians."""
    square = (_times(whole, where) * where).sum(axis=1) - (stiff @ mean) @ mean
    return np.asarray(0.5 * (square + np.linalg.slogdet(covariance)[1] - np.linalg.slogdet(prior)[1]))


def _corrections(where: Array, covariance: Array, bounds: Bounds, sites: _Sites) -> Array:
    """What the bounds add (g,) to the evidence over the Gaussians that stand for them."""
    m, v = _cavity(where, covariance, bounds, sites)
    log_true = hazard(m / np.sqrt(v + bounds.slack**2))[1]
    both = 1 / v + sites.precision
    log_site = -0.5 * np.log(v * both) + 0.5 * ((m / v + sites.shift) ** 2 / both - m**2 / v)
    return np.asarray((log_true - log_site).sum(axis=1))
