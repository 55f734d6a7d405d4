"""The cure as planned: one pour followed hour by hour, its times, its strength, and the days to pour."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from crownwright.cure.inputs import CapInWeather, Care, CureChoices, MixInCure
from crownwright.cure.window import Window
from crownwright.quantity.findings import Finding
from crownwright.quantity.problems import Problem
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import Figure

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Moment:
    """Something to do or to wait for: local time as best known, with the earliest and latest it may well be (None: not within the
    time followed). ``key`` names it in figures and in the day's log.
    """

    key: str
    label: str
    at: datetime | None
    early: datetime | None
    late: datetime | None


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """One pour through its cure, for charts: ``age`` s since the wash was struck off; temperatures degC of ``air``, of the top
    and the coldest of the concrete at the edge and over the middle; strength of the youngest concrete at the edge, Pa, with the
    chance taken on either side; ``drying`` kg/(m2 s), the faster of the two places.
    """

    age: Floats
    air: Floats
    top_edge: Floats
    top_middle: Floats
    coldest: Floats
    low: Floats
    typical: Floats
    high: Floats
    drying: Floats


@dataclass(frozen=True, slots=True)
class CareOption:
    """One way of looking after the cap and what it does: coldest surface before it stands a freezing and hottest concrete, degC;
    greatest evaporation before final set, kg/(m2 s), and what Uno's formula says of that hour; age at final set and when it
    stands a freezing, s; ``frozen`` the equivalent age at 72 F at which a surface first met the damage temperature, s (None:
    never before it stands a freezing).
    """

    name: str
    care: Care
    coldest: float
    hottest: float
    drying: float
    drying_uno: float
    final: float
    hardy: float
    frozen: float | None


@dataclass(frozen=True, slots=True)
class CurePlan:
    """The answer. ``moments`` are in order of time; ``windows`` every hour looked at and ``best`` places in it from the best
    down; ``pour`` the window the course is for (None where no hour was chosen and none will do: then there is no course).
    """

    cap: CapInWeather
    mix: MixInCure
    choices: CureChoices
    windows: tuple[Window, ...]
    best: tuple[int, ...]
    pour: Window | None
    struck: datetime | None
    moments: tuple[Moment, ...]
    course: Course | None
    options: tuple[CareOption, ...]
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    problems: tuple[Problem, ...]

    def strength_at(self, age: float) -> Uncertain:
        """Return strength, Pa, of the youngest concrete at the edge at ``age`` s after striking off, with its standard error.

        ValueError when there is no course; past its end the last value holds, which is on the low side.
        """
        if self.course is None:
            raise ValueError("no pour was followed: no hour of the forecast will do and none was chosen")
        typical, low = (float(np.interp(age, self.course.age, line)) for line in (self.course.typical, self.course.low))
        return Uncertain(typical, max(typical - low, 0.0) / 1.645)

    def moment(self, key: str) -> Moment:
        """Return one moment; KeyError lists those there are."""
        for moment in self.moments:
            if moment.key == key:
                return moment
        raise KeyError(f"no moment {key!r} in this cure; there are: {', '.join(m.key for m in self.moments)}")
