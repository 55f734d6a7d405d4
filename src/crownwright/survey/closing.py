"""The tapes by themselves: adjusted, every slip weighed, what is suspected and what to read next."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.quantity.problems import Problem
from crownwright.survey.ask import ask, doubt
from crownwright.survey.check import check
from crownwright.survey.layout import Layout, tape_set
from crownwright.survey.least_squares import Array
from crownwright.survey.model import CheckedReading, Closure, NextReading, Suspect
from crownwright.survey.names import names_of
from crownwright.survey.plan_problems import shape_problems
from crownwright.survey.readings import Readings
from crownwright.survey.slips import weigh
from crownwright.survey.tapes import adjust_tapes
from crownwright.survey.verdict import checked, closure, named_readings, plan_spread, suspects, without
from crownwright.survey.words import next_tapes


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
    weighed = weigh(top)
    clean = without(top, named_readings(weighed))
    estimate, covariance = plan_spread(top, clean, weighed)
    wanted = next_tapes(top, weighed, ask(top, weighed))
    closing = Closing(
        top.layout, estimate, covariance, checked(top, clean), closure(top), suspects(top, weighed), wanted, doubt(top, weighed)
    )
    return closing, problems
