"""What the survey gives to everything after it. Datum: A at the origin, B on the x axis, y to the inside, z up from
the level string.

Lengths in metres, angles in radians. Arrays are read-only float64.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, Protocol

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.findings import Finding
from crownwright.quantity.problems import Problem
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import Figure
from crownwright.survey.readings import Place, QuickReadings, Readings

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class CheckedReading:
    """One tape (or flue size) after the adjustment.

    ``name`` as he would say it ("tape AC"); ``residual`` adjusted minus read; ``redundancy`` 0..1, the part of a
    slip that shows in this reading's own residual; ``w`` Baarda's test value (0 where redundancy is 0);
    ``findable`` the smallest slip the tests would find in it (None: none, nothing checks this reading).
    """

    name: str
    index: int
    reads: float
    sd: float
    residual: float
    redundancy: float
    w: float
    findable: float | None


@dataclass(frozen=True, slots=True)
class Suspect:
    """A reading that does not close, and the slip that would explain it.

    ``kind`` in trade words ("one inch", "one foot", "swapped digits", "does not fit"); ``likely`` the reading that
    would close (m) to within ``closes`` (m); ``named`` is true when the readings can tell this one from the others.
    """

    name: str
    index: int
    reads: float
    likely: float
    kind: str
    closes: float
    named: bool
    rivals: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NextReading:
    """A reading still wanted, in the order to take them. ``ask`` is said to the mason; ``gains`` why, in words."""

    kind: Literal["tape", "offset", "drop", "flue"]
    ask: str
    gains: str
    start: str = ""
    end: str = ""
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Closure:
    """How the tapes close: the worst misfit, degrees of freedom, sum of squares over variance, its limit, and the
    verdict.
    """

    worst: float
    freedom: int
    statistic: float
    limit: float
    closes: bool


@dataclass(frozen=True, slots=True)
class Outline:
    """The true face of the stone seen from above.

    ``face`` (m,2) best estimate, counter-clockwise from A, with ``face_sd`` (m,) outward standard errors and
    ``side`` (m,) the index of the side each point lies on; ``guard`` (k,2) points outside whose convex hull no
    stone is expected to stand, at chance ``guard_chance`` for the whole outline.
    """

    face: Array
    face_sd: Array
    side: NDArray[np.intp]
    guard: Array
    guard_chance: float
    area: Uncertain


class StoneSurface(Protocol):
    """The top of the stone, from the drops, with its spread. z in metres above the string (mostly negative)."""

    @property
    def highest(self) -> Uncertain:
        """The highest hump of the whole top."""
        ...

    @property
    def lowest_edge(self) -> tuple[Uncertain, ...]:
        """Per side, the lowest sound edge."""
        ...

    def heights(self, points: Array) -> tuple[Array, Array]:
        """Mean and standard deviation of the stone's height at ``points`` (n,2)."""
        ...

    def integral(self, x: Array, y: Array, area: Array) -> Uncertain:
        """Integral of z over a region given as cells: centres ``x``, ``y`` (n,) and ``area`` (n,) in m2; result in m3."""
        ...

    def sample(self, points: Array, rng: np.random.Generator) -> Array:
        """One draw (n,) of the stone's heights at ``points`` from the same distribution, for Monte-Carlo checks."""
        ...

    def spread_with(self, extra_drops: int) -> float:
        """Factor (0..1] on the standard error of the whole top's mean height with ``extra_drops`` well placed more."""
        ...


@dataclass(frozen=True, slots=True)
class PlacedFlue:
    """A flue in place: its outside outline ``ring`` (n,2) counter-clockwise (rectangular: a, b, c, d), centre,
    turn, top above the string, the outward standard error of its outline, and its inside size (None where not
    read).
    """

    name: str
    shape: Literal["rectangular", "round"]
    ring: Array
    centre: tuple[float, float]
    turn: float
    size: tuple[float, float]
    inside: tuple[float, float] | None
    top: Uncertain
    sd: float
    serves: str = ""


@dataclass(frozen=True, slots=True)
class Survey:
    """The adjusted survey. ``corners`` (n,2) and ``covariance`` of the parameters named in ``parameters`` ("B.x",
    "F1.turn", ...).

    ``draw`` makes one Monte-Carlo draw of (corners, flue centres and turns) as a parameter vector. ``quick`` is
    true for a doorstep survey.
    """

    readings: Readings | QuickReadings
    names: tuple[str, ...]
    corners: Array
    parameters: tuple[str, ...]
    estimate: Array
    covariance: Array
    checked: tuple[CheckedReading, ...]
    closure: Closure
    suspects: tuple[Suspect, ...]
    next_readings: tuple[NextReading, ...]
    outline: Outline
    surface: StoneSurface
    flues: tuple[PlacedFlue, ...]
    quick: bool
    findings: tuple[Finding, ...] = ()
    figures: tuple[Figure, ...] = ()
    problems: tuple[Problem, ...] = ()


Adjust = Callable[[Readings | QuickReadings], tuple[Survey | None, tuple[Problem, ...]]]
