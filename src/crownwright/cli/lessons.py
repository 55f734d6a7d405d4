"""What own finished jobs teach, for every command that is told of them: read from a file, and shown."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import TYPE_CHECKING

from crownwright.cli.answer import Answer, Section
from crownwright.cli.codes import Code
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.price.learning import Held, Learned
    from crownwright.service.learn_from_jobs import Lessons

LATEST = 20


def finished_option(sub: ArgumentParser, what: str) -> None:
    """Let a command be told of finished jobs."""
    sub.add_argument("--finished", metavar="FILE", type=Path, help=f"finished jobs (CSV, as learn reads it), to take {what}")


def read_finished(path: Path) -> Lessons | Answer:
    """The lessons of a file, or all that is wrong with it."""
    from crownwright.service.learn_from_jobs import lessons

    try:
        text = path.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        problem = Problem(str(path), f"it cannot be read: {error}", "Name a CSV file in UTF-8")
        return Answer(Code.BAD_JOB, problems=(problem,), next="put this right and ask again")
    found, problems = lessons(text)
    if found is None:
        return Answer(Code.BAD_JOB, problems=problems, next="put these right and ask again; nothing was taken in")
    return found


def learned_sections(found: Lessons) -> tuple[Section, ...]:
    """What was learned of each thing, what was believed before, whose weight it is, and which jobs were set aside."""
    return (
        Section("What your jobs say", tuple(map(_said, found.learned)), tuple(x.what for x in found.learned)),
        Section("Set aside", tuple(a.says for x in found.learned for a in x.aside)),
    )


def _said(x: Learned) -> str:
    before = f"before your jobs 1.000, give or take {x.prior.scale():.0%}"
    held = f"the defaults hold after all: {x.belief.usual:.0%} (before, {x.prior.usual:.0%})"
    return (
        f"{x.factor:.3f} of the forecast, give or take {x.belief.scale():.0%} a job; {before}. {x.jobs} jobs counted, "
        f"{x.own:.0%} of the weight is your own; {held}"
    )


def history_sections(found: Lessons) -> tuple[Section, ...]:
    """Forecast against actual of the newest jobs, and how the stated risks have held."""
    rows = [(what, job) for what, jobs in found.jobs.items() for job in jobs[-LATEST:]]
    taken = tuple(
        f"{what} {job.forecast:.3g} forecast, {job.actual:.3g} taken: {job.actual / job.forecast:.2f}" for what, job in rows
    )
    held = tuple(f"{h.what}: {h.came} of {h.times}, {_judged(h)}" for h in found.held)
    return (
        Section("Forecast against actual, the newest last", taken, tuple(job.job for _, job in rows)),
        Section("How stated risks have held", held),
    )


def _judged(h: Held) -> str:
    if not h.enough:
        return "too few to judge"
    return f"{'within' if h.holds else 'outside'} the {h.low} to {h.high} that such a chance gives"
