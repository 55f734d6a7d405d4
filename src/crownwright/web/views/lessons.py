"""Pictures of what finished jobs teach: forecast against actual job by job, and how often a stated chance came true."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, log

from crownwright.price.learning import ENOUGH, Held, Learned
from crownwright.service.learn_from_jobs import Lessons, Told

WORDS = {"bags": "Bags", "hours": "Hours", "spill": "Spill", "set": "Setting", "strip": "Stripping"}
WIDE, HIGH, LEFT, TOP, LOW = 460, 250, 90, 14, 30
SQUARE, EDGE = 300, 46
STEPS = (0.25, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.35, 1.5, 1.75, 2.0, 2.5, 3.0, 4.0)


@dataclass(frozen=True, slots=True)
class Dot:
    """One job: where, what it says, whether it was set aside."""

    x: float
    y: float
    says: str
    aside: bool


@dataclass(frozen=True, slots=True)
class Course:
    """Actual over forecast, job by job: ``rules`` across (height, words), ``dots``, and two lines as points of SVG: what was
    ``believed`` before each job, and the ``high`` line that nine in ten stay under.
    """

    rules: tuple[tuple[float, str], ...]
    even: float
    dots: tuple[Dot, ...]
    believed: str
    high: str
    count: int


@dataclass(frozen=True, slots=True)
class Chances:
    """How often jobs stayed under what was stated: ``band`` that 95 in 100 such shares keep at each chance, and the ``steps``."""

    band: str
    steps: str
    count: int
    worst: float


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing learned, ready to be shown."""

    name: str
    says: str
    more: tuple[str, ...]
    course: Course
    chances: Chances | None
    held: tuple[str, ...]
    aside: tuple[str, ...]


def things_of(found: Lessons) -> tuple[Thing, ...]:
    """Everything that was learned, ready to be shown."""
    return tuple(
        Thing(
            WORDS[x.what], _says(x), tuple(_more(x)), course_of(found.told[x.what], x.factor),
            chances_of(found.told[x.what]), tuple(_held(h) for h in found.held if h.what.startswith(f"{x.what},")),
            tuple(one.says for one in x.aside),
        )
        for x in found.learned
    )  # fmt: skip


def _says(x: Learned) -> str:
    by = x.factor - 1.0
    if abs(by) < 0.005:
        return "Your jobs take what is forecast: the next forecast stays as it is."
    return f"The next forecast is {'raised' if by > 0 else 'lowered'} by {abs(by):.0%}."


def _more(x: Learned) -> Iterable[str]:
    yield f"{x.jobs} job{'s' * (x.jobs != 1)} counted; {x.own:.0%} of the weight is your own, the rest what was believed before."
    yield f"One job may be off by {x.belief.scale():.0%} either way, two times in three; before your jobs {x.prior.scale():.0%}."
    now, before = _chance(x.belief.usual), _chance(x.prior.usual)
    yield f"Chance that the defaults are right for you after all: {now}; before your jobs {before}."


def _chance(p: float) -> str:
    return f"{p:.0%}" if p >= 0.01 else "less than 1%"


def _held(h: Held) -> str:
    if not h.times:
        return ""
    what = h.what.partition(", ")[2]
    head = f"{what[:1].upper()}{what[1:]}: {h.came} of {h.times} job{'s' * (h.times != 1)}"
    if not h.enough:
        return f"{head}, too few to judge."
    says = "as often as it should" if h.holds else "more often than stated" if h.came > h.high else "less often than stated"
    among = f"{h.low} to {h.high}" if h.high > h.low else f"{h.low}"
    return f"{head}, {says} ({among} would be)."


def course_of(told: Sequence[Told], following: float) -> Course:
    """The course of actual over forecast; ``following`` is the factor of the next job. Heights are by the logarithm."""
    counted = [one.job.actual / one.job.forecast for one in told if not one.aside] or [1.0]
    least, most = min(0.9, *counted) * 0.97, max(1.1, *counted, *(min(one.high, 3.0) for one in told[-3:])) * 1.03
    across = (WIDE - LEFT - 12) / max(len(told), 1)

    def x(n: float) -> float:
        return round(LEFT + (n + 0.5) * across, 1)

    def y(ratio: float) -> float:
        share = (log(min(max(ratio, least), most)) - log(least)) / (log(most) - log(least))
        return round(HIGH - LOW - share * (HIGH - LOW - TOP), 1)

    dots = tuple(Dot(x(n), y(one.job.actual / one.job.forecast), _dot_says(one), one.aside) for n, one in enumerate(told))
    factors, highs = [*(one.factor for one in told), following], [one.high for one in told]
    return Course(
        tuple((y(step), _step_says(step)) for step in _steps(least, most)), y(1.0), dots,
        " ".join(f"{min(x(n), WIDE - 6.0)},{y(factor)}" for n, factor in enumerate(factors)),
        " ".join(f"{x(n)},{y(high)}" for n, high in enumerate(highs)), len(told),
    )  # fmt: skip


def _steps(least: float, most: float) -> tuple[float, ...]:
    """Marks within the picture, no more than seven."""
    within = [step for step in STEPS if least <= step <= most]
    every = ceil(len(within) / 7)
    middle = within.index(1.0) if 1.0 in within else 0
    return tuple(step for n, step in enumerate(within) if (n - middle) % every == 0)


def _step_says(step: float) -> str:
    return "as forecast" if step == 1.0 else f"{abs(step - 1):.0%} {'more' if step > 1 else 'less'}"


def _dot_says(one: Told) -> str:
    aside = ", set aside" if one.aside else ""
    return f"{one.job.job}: {one.job.forecast:.3g} forecast, {one.job.actual:.3g} taken{aside}"


def chances_of(told: Sequence[Told]) -> Chances | None:
    """How stated chances held over the jobs that count; None while there are too few to say.

    The band is pointwise: at each chance by itself 95 in 100 shares lie in it when chances are as stated.
    """
    under = sorted(one.under for one in told if not one.aside)
    n = len(under)
    if n < ENOUGH:
        return None

    def at(stated: float, share: float) -> str:
        return f"{round(EDGE + stated * (SQUARE - EDGE - 8), 1)},{round(SQUARE - EDGE - share * (SQUARE - EDGE - 8), 1)}"

    from scipy.stats import binom  # a third of what the app takes to load, and only this picture needs it

    grid = [k / 50 for k in range(51)]
    low, high = (binom.ppf(p, n, grid).clip(0) / n for p in (0.025, 0.975))
    band = [at(p, s) for p, s in zip(grid, high, strict=True)] + [at(p, s) for p, s in zip(grid[::-1], low[::-1], strict=True)]
    steps = [at(0.0, 0.0)]
    for k, p in enumerate(under):
        steps += [at(p, k / n), at(p, (k + 1) / n)]
    worst = max(max(abs((k + 1) / n - p), abs(k / n - p)) for k, p in enumerate(under))
    return Chances(" ".join(band), " ".join([*steps, at(1.0, 1.0)]), n, worst)
