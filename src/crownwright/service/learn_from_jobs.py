"""Learn from finished jobs: forecast against actual, what follows for the next job, and how stated risks have held."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from crownwright.price.learning import PRIORS, Finished, Held, Learned, held, learn
from crownwright.quantity.problems import Problem

COLUMNS = ("job", "what", "forecast", "actual", "spread")


@dataclass(frozen=True, slots=True)
class Lessons:
    """What was learned of each thing, and how the 2 % and the 90 % would have held, each job judged by those before it."""

    learned: tuple[Learned, ...]
    held: tuple[Held, ...]


def lessons(text: str) -> tuple[Lessons | None, tuple[Problem, ...]]:
    """Return the lessons of a CSV with columns job, what, forecast, actual and spread (may be empty); or all that is wrong."""
    rows, problems = _rows(text)
    if problems:
        return None, tuple(problems)
    whats = [what for what in PRIORS if rows.get(what)]
    return Lessons(
        tuple(learn(what, rows[what]) for what in whats), tuple(h for what in whats for h in _held(what, rows[what]))
    ), ()


def _held(what: str, jobs: list[Finished]) -> Iterator[Held]:
    aside = {one.job for one in learn(what, jobs).aside}
    jobs = [job for job in jobs if job.job not in aside]
    for chance, says in ((0.02, "more than was stated for one in fifty"), (0.10, "more than was stated for nine in ten")):
        came = [job.actual / job.forecast > learn(what, jobs[:n]).belief.at(chance) for n, job in enumerate(jobs)]
        yield held(f"{what}, {says}", chance, came)


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
