"""Learn from finished jobs: forecast against actual, what follows for the next job, and how stated risks have held."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from crownwright.concrete.choices import ConcreteChoices
from crownwright.plan.job import Job
from crownwright.plan.plan_job import plan_job
from crownwright.price.hours import HoursChoices
from crownwright.price.learning import PRIORS, Finished, Held, Learned, held, learn, weight_of
from crownwright.price.own_way import own_concrete, own_hours
from crownwright.quantity.problems import Problem

STATED = ((0.02, "more than was stated for one in fifty"), (0.10, "more than was stated for nine in ten"))
COLUMNS = ("job", "what", "forecast", "actual", "spread")


@dataclass(frozen=True, slots=True)
class Told:
    """What was believed of one job from those before it: ``factor`` its forecast is multiplied by, ``high`` the ratio of actual
    to forecast that nine in ten stay under, ``under`` the chance stated for staying under what it took; whether it was set aside.
    """

    job: Finished
    factor: float
    high: float
    under: float
    aside: bool


@dataclass(frozen=True, slots=True)
class Lessons:
    """What was learned of each thing, how the 2 % and the 90 % would have held, each job judged by those before it, and the
    ``jobs`` themselves: thing -> forecast against actual; ``told``: thing -> each job as it was told beforehand.
    """

    learned: tuple[Learned, ...]
    held: tuple[Held, ...]
    jobs: Mapping[str, Sequence[Finished]]
    told: Mapping[str, Sequence[Told]]

    def of(self, what: str) -> Learned | None:
        """What was learned of one thing, where there were jobs."""
        return next((one for one in self.learned if one.what == what), None)

    def hours(self, choices: HoursChoices | None = None) -> HoursChoices | None:
        """Choices by which hours are reckoned as own jobs say; those given where nothing was learned of hours."""
        mine = self.of("hours")
        return choices if mine is None else own_hours(choices or HoursChoices(), mine)


def lessons(text: str) -> tuple[Lessons | None, tuple[Problem, ...]]:
    """Return the lessons of a CSV with columns job, what, forecast, actual and spread (may be empty); or all that is wrong."""
    rows, problems = _rows(text)
    if problems:
        return None, tuple(problems)
    return lessons_of(rows), ()


def lessons_of(rows: Mapping[str, Sequence[Finished]]) -> Lessons:
    """Return what finished jobs teach: thing -> jobs in the order they were done."""
    learned = tuple(learn(what, rows[what]) for what in PRIORS if rows.get(what))
    told = {x.what: tuple(_told(x.what, rows[x.what], frozenset(a.job for a in x.aside))) for x in learned}
    return Lessons(
        learned, tuple(h for what in told for h in _held(what, told[what])), {what: rows[what] for what in told}, told
    )  # fmt: skip


def by_own_jobs(job: Job, found: Lessons, *, again: bool = False) -> Job:
    """Return the job with the yield that own finished jobs say a bag gives; the same job where they say nothing of bags.

    It is planned once by the defaults to see what the pour takes. A yield of its own that the job has already is left alone, but
    for ``again``.
    """
    learned = found.of("bags")
    if learned is None or not learned.jobs or (job.concrete.own_yield != 1.0 and not again):
        return job
    usual = ConcreteChoices()
    bare = replace(job.concrete, own_yield=usual.own_yield, yield_sd=usual.yield_sd) if again else job.concrete
    plan = plan_job(replace(job, concrete=bare), cut_list=False)
    if plan.concrete is None or plan.cap is None:
        return job
    return replace(job, concrete=own_concrete(bare, plan.concrete, plan.cap.volume.all, learned))


def table_of(found: Lessons) -> str:
    """Return the jobs that were learned from as the CSV that `lessons` reads."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for what, jobs in found.jobs.items():
        writer.writerows((one.job, what, f"{one.forecast:.6g}", f"{one.actual:.6g}", f"{one.spread:.4g}" if one.spread else "")
                         for one in jobs)  # fmt: skip
    return out.getvalue()


def _told(what: str, rows: Sequence[Finished], aside: frozenset[str]) -> Iterator[Told]:
    """Each job as the belief stood before it; jobs set aside teach nothing and are told as such."""
    before: list[Finished] = []
    for job in rows:
        belief, weight = learn(what, before).belief, weight_of(PRIORS[what], job.spread)
        ratio = job.actual / job.forecast
        factor = belief.factor(weight) if before else 1.0
        yield Told(job, factor, belief.at(0.1, weight), 1.0 - belief.over(ratio, weight), job.job in aside)
        before += [] if job.job in aside else [job]


def _held(what: str, told: Sequence[Told]) -> Iterator[Held]:
    for chance, says in STATED:
        yield held(f"{what}, {says}", chance, [one.under > 1.0 - chance for one in told if not one.aside])


def _rows(text: str) -> tuple[Mapping[str, list[Finished]], list[Problem]]:
    found: dict[str, list[Finished]] = {}
    problems: list[Problem] = []
    reader = csv.DictReader(line for line in text.lstrip("\ufeff").splitlines() if line.strip() and not line.startswith("#"))
    lacking = [column for column in COLUMNS[:4] if column not in (reader.fieldnames or ())]
    if lacking:
        return {}, [Problem("row 1", f"columns are missing: {', '.join(lacking)}", f"Heads are: {', '.join(COLUMNS)}")]
    for number, row in enumerate(reader, 2):
        what = (row["what"] or "").strip()
        if what not in PRIORS:
            problems.append(Problem(f"row {number}, column what", f"{what!r} is not learned", f"One of: {', '.join(PRIORS)}"))
        values = [_number(number, column, row.get(column) or "", problems) for column in COLUMNS[2:]]
        if not problems:
            found.setdefault(what, []).append(Finished((row["job"] or "").strip(), values[0] or 1.0, values[1] or 1.0, values[2]))
    return found, problems


def _number(row: int, column: str, text: str, problems: list[Problem]) -> float | None:
    if column == "spread" and not text.strip():
        return None
    try:
        value = float(text)
        if 0 < value < float("inf"):
            return value
    except ValueError:
        pass
    problems.append(Problem(f"row {row}, column {column}", f"{text!r} is no number above nothing", "Write it with a point: 12.5"))
    return None
