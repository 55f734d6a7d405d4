"""Open a job: from a file, from text, or the demo that comes with the program."""

from __future__ import annotations

from dataclasses import dataclass, replace
from importlib import resources
from pathlib import Path

from crownwright.plan.job import Job
from crownwright.quantity.problems import Problem
from crownwright.service.jobfile import decode, parse_job, read_text

DEMO = "demo.toml"


@dataclass(frozen=True, slots=True)
class Opened:
    """A job with the text it was read from. No job where the ``problems`` stop it."""

    name: str
    text: str
    job: Job | None
    problems: tuple[Problem, ...]


def open_file(path: Path) -> Opened:
    """Open a job file."""
    text, problems = read_text(path)
    return Opened(path.name, "", None, problems) if text is None else open_text(text, path.name)


def open_bytes(data: bytes, name: str) -> Opened:
    """Open a job from the bytes of its file, as they come from a pipe or a page."""
    text, problems = decode(data, name)
    return Opened(name, "", None, problems) if text is None else open_text(text, name)


def open_text(text: str, name: str) -> Opened:
    """Open a job from the text of its file."""
    job, problems = parse_job(text, name)
    return Opened(name, text, job, problems)


def with_rules_of(opened: Opened, path: Path) -> Opened:
    """Lay the local rules of a file under the job's own; what is wrong with that file joins what is wrong with the job."""
    from crownwright.service.jobfile.rules_file import read_rules, with_rules

    rules, problems = read_rules(path)
    if opened.job is None or problems:
        said = tuple(replace(one, where=f"{path.name}, {one.where}") for one in problems if path.name not in one.where)
        named = (*(one for one in problems if path.name in one.where), *said)
        return replace(opened, job=None, problems=(*opened.problems, *named))
    return replace(opened, job=with_rules(opened.job, rules))


def open_demo() -> Opened:
    """Open the invented chimney that comes with the program."""
    text = resources.files("crownwright.service").joinpath(DEMO).read_text("utf-8")
    return open_text(text, "job.toml")
