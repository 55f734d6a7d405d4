"""`cure_for`: from cap, hours, mix and choices to the days to pour and the cure of the pour chosen."""

from __future__ import annotations

from datetime import timedelta

import numpy as np

from crownwright.cure.course import clocks_of, course_of, moments_of, set_ages_of
from crownwright.cure.doubt import doubt
from crownwright.cure.figures import figures_of
from crownwright.cure.findings import findings_of
from crownwright.cure.heat import DT
from crownwright.cure.inputs import CapInWeather, CureChoices, MixInCure
from crownwright.cure.measures import struck_after
from crownwright.cure.model import CareOption, CurePlan
from crownwright.cure.options import option, ways
from crownwright.cure.sure import with_sureness
from crownwright.cure.window import Search, Window, search
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import HOUR
from crownwright.weather.hours import Hours, stamp

LEAST_HOURS = 24


def cure_for(
    cap_in_weather: CapInWeather, hours: Hours, mix: MixInCure, choices: CureChoices, rng: np.random.Generator | None = None
) -> CurePlan:
    """Return the days to pour and the cure of the pour chosen (or of the best hour found).

    Args:
        cap_in_weather: The cap as the weather meets it.
        hours: The forecast; 24 hours at least, ten days at best.
        mix: The mix as the cure needs it.
        choices: What the mason decides.
        rng: Chance for the ensemble that says how sure each window is; None leaves that out.

    Returns:
        The plan; its problems say what in ``hours`` or ``choices`` stood in the way (a pour outside the forecast, for one).

    Raises:
        KeyError: For a kind of ground, masonry or cement that is not in the tables, naming those there are.
    """
    if hours.known < LEAST_HOURS:
        problem = Problem("weather", f"{hours.known} hours are too few", f"Give {LEAST_HOURS} hours at least, ten days at best.")
        return CurePlan(cap_in_weather, mix, choices, (), (), None, None, (), None, (), (), (), (problem,))
    found = search(cap_in_weather, hours, mix, choices)
    if rng is not None:
        found = with_sureness(found, cap_in_weather, hours, mix, choices, rng)
    place, problems = _chosen(found, choices)
    if place is None:
        return CurePlan(cap_in_weather, mix, choices, found.windows, found.best, None, None, (), None, (), (), (), problems)
    return _followed(cap_in_weather, mix, choices, found, place, problems)


def _chosen(found: Search, choices: CureChoices) -> tuple[int | None, tuple[Problem, ...]]:
    """Return the place of the window to follow: the hour chosen, else the best; and why there is none."""
    if choices.pour_at is None:
        if found.best:
            return found.best[0], ()
        what = "no hour of the forecast will do"
        return None, (
            Problem(
                "weather.window", what, "See each hour's reasons; change a limit, or wait for the next forecast.", stops=False
            ),
        )
    place = int((stamp(choices.pour_at) - found.hours.utc[0]) // np.timedelta64(1, "h"))
    if not 0 <= place < len(found.windows):
        when = f"{choices.pour_at:%Y-%m-%d %H:%M}"
        return None, (
            Problem("choices.pour_at", f"{when} is outside the forecast", "Choose an hour inside it, or fetch it again."),
        )
    return place, ()


def _followed(
    cap: CapInWeather, mix: MixInCure, choices: CureChoices, found: Search, place: int, problems: tuple[Problem, ...]
) -> CurePlan:
    """Follow one pour and the other ways of caring for it."""
    window: Window = found.windows[place]
    start = (place + struck_after(choices)) * round(HOUR / DT)
    chosen, history = option("as chosen", cap, mix, choices.care, found.force, start, choices)
    struck = window.at + timedelta(hours=struck_after(choices))
    clocks = clocks_of(history)
    course = course_of(history, clocks, mix, choices)
    sets = set_ages_of(history.age, clocks, mix)
    placed = float(history.middle[0, 0, 0])
    findings = findings_of(chosen, course, mix, choices, placed)
    short = {finding.key for finding in findings if finding.short_by > 0}
    others = ways(choices.care, cold=bool(short & {"cure.frost", "cure.cold"}), dry="cure.evaporation" in short)
    options: list[CareOption] = [chosen]
    options += [option(name, cap, mix, care, found.force, start, choices)[0] for name, care in others.items()]
    return CurePlan(
        cap,
        mix,
        choices,
        found.windows,
        found.best,
        window,
        struck,
        moments_of(struck, history.age, clocks, history, mix, choices),
        course,
        tuple(options),
        (*window.refused, *findings),
        figures_of(chosen, course, history, mix, choices, sets, doubt(cap, mix, found.force, start, choices)),
        problems,
    )
