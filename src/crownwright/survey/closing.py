"""The tapes by themselves: adjusted, every slip weighed, what is suspected and what to read next."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from crownwright.quantity.problems import Problem
from crownwright.survey.ask import LIMIT, Asked, ask, doubt
from crownwright.survey.check import check
from crownwright.survey.layout import Layout, tape_set
from crownwright.survey.least_squares import Array
from crownwright.survey.model import CheckedReading, Closure, NextReading, Suspect
from crownwright.survey.names import names_of
from crownwright.survey.plan_problems import shape_problems
from crownwright.survey.readings import Readings
from crownwright.survey.slips import weigh
from crownwright.survey.tapes import TapedTop, adjust_tapes, leave_out
from crownwright.survey.verdict import SEEN, checked, closure, named_readings, plan_spread, suspects
from crownwright.survey.words import metric, next_tapes

MOST_NAMED = 4
"""Rounds of naming and setting aside after which it is left to the mason."""


@dataclass(frozen=True, slots=True)
class Closing:
    """What the tapes say: parameters ``estimate`` (p,) with ``covariance`` (p,p) in the order of ``layout``; every reading
    ``checked``; how they close; ``suspects``; the ``wanted`` tapes; ``doubt`` the chance that a slip still hides or is laid to
    the wrong reading.
    """

    layout: Layout
    estimate: Array
    covariance: Array
    checked: tuple[CheckedReading, ...]
    closure: Closure
    suspects: tuple[Suspect, ...]
    wanted: tuple[NextReading, ...]
    doubt: float


def close_tapes(readings: Readings) -> tuple[Closing | None, tuple[Problem, ...]]:
    """Adjust the tapes of a climb; None where a problem stops it, with all problems that show before the stone is looked at."""
    names = names_of(readings)
    problems = check(readings, names)
    if any(p.stops and p.where.startswith(("corners", "flues")) for p in problems):
        return None, problems
    top, more = adjust_tapes(names, tape_set(names, readings.tapes))
    problems += more
    if top is not None:
        problems += shape_problems(top.layout, top.layout.corners(top.fit.estimate))
    if top is None or any(p.stops for p in problems):
        return None, problems
    return _closing(top, metric(readings)), problems


def _closing(top: TapedTop, mm: bool) -> Closing:
    """Weigh the slips; set what is named aside and look whether another slip hides in the rest."""
    stages = [(top, weigh(top))]
    while (named := named_readings(stages[-1][1])) and len(stages) < MOST_NAMED:
        rest = leave_out(stages[-1][0], named)
        if rest is None:
            break
        stages.append((rest, weigh(rest)))
    estimate, covariance = plan_spread(*stages[-1])
    asked: list[Asked] = []
    for stage in stages:
        asked += [a for a in ask(*stage, LIMIT - len(asked)) if a.pair not in [b.pair for b in asked]]
    return Closing(
        top.layout,
        estimate,
        covariance,
        checked(tuple(stage[0] for stage in stages)),
        closure(top),
        tuple(s for stage in stages for s in suspects(*stage)),
        next_tapes(top, any(stage[1].none < SEEN for stage in stages[-1:]), tuple(asked), mm),
        1.0 - float(np.prod([1.0 - doubt(*stage) for stage in stages])),
    )
