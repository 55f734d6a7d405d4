"""Ways of repairing compared over years: what each costs, what fails first, and what a year of it comes to.

Ways differ in which parts are done now, and may go without a part (a recast cap has no mortar skim). A part lasts a spread of
years (log-normal), is then done again at its cost, and lasts as long again: the expected renewals of each year follow from the
renewal equation, and are brought to today by the present values of ASTM E917. No value is left at the end of the years looked at
(a long look makes that small).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from math import log1p, sqrt
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from crownwright.codes.astm_e917 import capital_recovery, single_present_value
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.problems import Problem
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import Cite, Figure
from crownwright.repair.choices import Way, WornPart, YearsChoices
from crownwright.repair.tell import figure
from crownwright.sources.tables import MARKS, pick, rows

Floats = NDArray[np.float64]
E917 = Cite("astm_e917", "life-cycle cost, present value", "from memory")
LEFT_SD = 0.4
"""Standard error of the years an old part has left, of those years (a judgement)."""
STEPS = 8
"""Steps a year in which lives are counted out, to find which part fails first."""


@dataclass(frozen=True, slots=True)
class Life:
    """How long a part lasts, years, with its spread, and on whose word."""

    part: str
    says: str
    years: Uncertain
    cite: Cite


@cache
def lives() -> Mapping[str, Life]:
    """Return the table of lives by part; a range is taken as nineteen cases in twenty."""
    made = {}
    for row in rows(__package__, "lives.csv"):
        low, high = float(row["low"]), float(row["high"])
        cite = Cite(row["source"], row["clause"], MARKS[row["mark"]])
        made[row["part"]] = Life(row["part"], row["says"], Uncertain((low + high) / 2, (high - low) / 4), cite)
    return MappingProxyType(made)


@dataclass(frozen=True, slots=True)
class Told:
    """One way over the years: present worth and what a year bears, in currency; expected ``renewals``; chance that each part
    ``fails_first``, most likely first; the years until ``first`` something fails (mean and spread).
    """

    way: Way
    present: float
    yearly: float
    renewals: float
    fails_first: tuple[tuple[str, float], ...]
    first: Uncertain

    @property
    def says(self) -> str:
        """What fails first, in a sentence."""
        name, chance = self.fails_first[0]
        return f"first to fail: {lives()[name].says} ({100 * chance:.0f} in a hundred), in about {self.first.mean:.0f} years"


@dataclass(frozen=True, slots=True)
class Years:
    """Ways side by side, least present worth first."""

    choices: YearsChoices
    told: tuple[Told, ...]
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]


def over_years(choices: YearsChoices) -> tuple[Years | None, tuple[Problem, ...]]:
    """Compare ways of repairing over the years.

    Returns None and every problem where a part has no known life, is named twice, or a way does a part that is not listed.
    """
    problems = tuple(_problems(choices))
    if problems or not choices.parts or not choices.ways:
        return None, problems
    told = tuple(sorted((_tell(way, choices) for way in choices.ways), key=lambda one: one.present))
    return Years(choices, told, (_close(told),), tuple(_figures(choices, told))), ()


def money(typed: str) -> float:
    """An amount as typed, as a number to compare by: money is only ever added up as decimals.

    >>> money("1850.50")
    1850.5
    """
    return float(Decimal(typed))


def renewals(first: Floats, later: Floats, years: int) -> Floats:
    """Expected renewals in each year 1 to ``years`` (n): u_n = a_n + sum over k of f_k u_(n-k).

    ``first`` a, ``later`` f: chances that the part in place, or a new one, fails in its k-th year (k = 1 ...).

    >>> renewals(np.array([0.0, 1.0]), np.array([0.0, 1.0]), 6)  # lasts two years exactly
    array([0., 1., 0., 1., 0., 1.])
    """
    due = np.zeros(years)
    for n in range(years):
        due[n] = first[n] if n < len(first) else 0.0
        back = min(n, len(later))
        due[n] += float(later[:back] @ due[n - 1 :: -1][:back]) if back else 0.0
    return due


def spread_of(life: Uncertain, count: int, step: float = 1.0) -> Floats:
    """Chances that something fails in each of ``count`` steps of ``step`` years, its life log-normal of this mean and spread."""
    if life.sd <= 0:
        place = min(max(int(np.ceil(life.mean / step)) - 1, 0), count - 1)
        return np.asarray(np.eye(1, count, place)[0], dtype=float)
    sd = sqrt(log1p((life.sd / life.mean) ** 2))
    edges = np.arange(count + 1) * step
    with np.errstate(divide="ignore"):
        z = (np.log(edges) - (np.log(life.mean) - sd**2 / 2)) / sd
    return np.asarray(np.diff(ndtr(z)), dtype=float)


def fails_first(ages: Sequence[Uncertain], years: int = 200) -> tuple[Floats, Uncertain]:
    """Return for each of several lives, apart from each other, the chance that it ends first, and the time until the first ends.

    Of two that end in the same step each counts half.
    """
    count = years * STEPS
    pmf = np.array([spread_of(age, count, 1 / STEPS) for age in ages])
    over = 1 - np.cumsum(pmf, axis=1)
    middle = np.clip(over + pmf / 2, 0.0, 1.0)
    chance = np.array([float((pmf[i] * np.prod(np.delete(middle, i, axis=0), axis=0)).sum()) for i in range(len(ages))])
    alive = np.prod(np.clip(over, 0.0, 1.0), axis=0)
    ends = -np.diff(np.concatenate([[1.0], alive]))
    at = (np.arange(count) + 0.5) / STEPS
    mean = float(ends @ at)
    return chance / chance.sum(), Uncertain(mean, sqrt(max(float(ends @ at**2) - mean**2, 0.0)))


def _tell(way: Way, choices: YearsChoices) -> Told:
    present, count = money(way.now), 0.0
    worth = np.array([single_present_value(choices.rate, n) for n in range(1, choices.years + 1)])
    parts = way.parts(choices)
    for part in parts:
        new = spread_of(lives()[part.name].years, choices.years)
        due = renewals(spread_of(_age(part, way), choices.years), new, choices.years)
        present += (money(part.cost) + money(choices.visit)) * float(due @ worth)
        count += float(due.sum())
    chance, first = fails_first([_age(part, way) for part in parts])
    order = sorted(zip((p.name for p in parts), map(float, chance), strict=True), key=lambda item: -item[1])
    return Told(way, present, present * capital_recovery(choices.rate, choices.years), count, tuple(order), first)


def _age(part: WornPart, way: Way) -> Uncertain:
    """Years until the part fails for the first time."""
    new = lives()[part.name].years
    if part.name in way.done:
        return new
    left = new.mean / 10 if part.left is None else part.left
    return Uncertain(left, LEFT_SD * left)


def _problems(choices: YearsChoices) -> Iterator[Problem]:
    where, names = "repair.years", [part.name for part in choices.parts]
    for name in dict.fromkeys(names):
        try:
            pick(lives(), name, "part")
        except KeyError as unknown:
            yield Problem(f"{where}.parts", str(unknown.args[0]), "Name one of those")
        if names.count(name) > 1:
            yield Problem(f"{where}.parts", f"{name} is listed twice", "List each part once")
    for part in choices.parts:
        if money(part.cost) < 0 or (part.left is not None and part.left <= 0):
            yield Problem(
                f"{where}.parts", f"{part.name}: a cost under nothing, or no years left", "Tell its cost, and over 0 years"
            )
    for way in choices.ways:
        for name in sorted({*way.done, *way.without} - set(names)):
            yield Problem(f"{where}.ways", f"{way.name} names {name}, which is not among the parts", "List it with its cost")
        if both := {*way.done} & {*way.without}:
            yield Problem(f"{where}.ways", f"{way.name} does {', '.join(sorted(both))} and goes without", "Take one of them out")
        if not way.parts(choices):
            yield Problem(f"{where}.ways", f"{way.name} goes without every part", "Leave it at least one")
    if choices.years < 1 or choices.rate <= -1:
        yield Problem(where, "less than a year, or a rate of -100 % or less, compares nothing", "Tell years and rate")


def _close(told: Sequence[Told]) -> Finding:
    """Whether the first two are apart by more than anyone can know."""
    key, rule = "repair.years", "present worth of the ways, least first"
    if len(told) < 2:
        return Finding(key, rule, E917, told[0].way.name, Verdict.OK)
    gap = told[1].present - told[0].present
    near = gap < 0.1 * told[0].present
    act = "These lie within 10 %: lives are not known so well. Choose by what fails first" if near else ""
    verdict = Verdict.CANNOT_TELL if near else Verdict.OK
    return Finding(key, rule, E917, f"{told[0].way.name} before {told[1].way.name}", verdict, act, provided=gap, unit="currency")


def _figures(choices: YearsChoices, told: Sequence[Told]) -> Iterator[Figure]:
    rate, years = ("d", "real rate a year", choices.rate, "1"), ("n", "years looked at", float(choices.years), "1")
    ages = tuple(
        (part.name, f"life of {lives()[part.name].says}, years", lives()[part.name].years.mean, "1", lives()[part.name].cite)
        for part in choices.parts
    )
    for k, one in enumerate(told):
        key, now = f"repair.years.{k + 1}", ("C", "cost now", money(one.way.now), "currency")
        formula = "C + sum over parts and years of cost x expected renewals / (1 + d)^year"
        yield figure(
            f"{key}.present",
            f"{one.way.name}: present worth",
            one.present,
            "currency",
            formula,
            now,
            rate,
            years,
            *ages,
            cite=E917,
        )
        worth = ("P", "present worth", one.present, "currency")
        formula = "P d (1 + d)^n / ((1 + d)^n - 1)"
        yield figure(
            f"{key}.yearly", f"{one.way.name}: cost a year", one.yearly, "currency", formula, worth, rate, years, cite=E917
        )
