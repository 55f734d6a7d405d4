"""Begin a job: empty, for the doorstep or the roof; from the text of a job file; or as a copy of another."""

from __future__ import annotations

import re
from typing import Any, Literal

from crownwright.book import jobs, revisions
from crownwright.book.jobs import Work
from crownwright.plan.job import Units
from crownwright.quantity.problems import Problem
from crownwright.service.desk.heading import heading_of
from crownwright.service.desk.model import By, JobRow
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.signs import is_text
from crownwright.service.jobfile import write_values
from crownwright.service.jobfile.reading import BIGGEST
from crownwright.service.jobfile.syntax import parse_toml

Kind = Literal["doorstep", "roof"]
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,35}")


def begin_job(
    desk: Desk, by: By, job: str, title: str, *, kind: Kind = "roof", units: Units = "us", corners: int = 4, **told: str
) -> JobRow | Problem:
    """Begin an empty job under the id ``job`` made by the sender (the same id again changes nothing).

    ``told`` are more keys of the job file, as typed: customer, place, mason, read_on, notes.
    """
    values: dict[str, Any] = {"title": title.strip()[:40], **{key: text.strip() for key, text in told.items() if text.strip()}}
    if units != "us":
        values |= {"units": units, "bare_numbers": "mm"}
    if kind == "doorstep":
        values["quick"] = {"masonry": "rubble stone"}
    else:
        values["readings"] = {"corners": list("ABCDEFGHIJKL"[: max(3, min(corners, 12))]), "masonry": "rubble stone"}
    return begin_from_text(desk, by, job, write_values(values))


def begin_from_text(desk: Desk, by: By, job: str, text: str, what: str = "begun", work: Work | None = None) -> JobRow | Problem:
    """Begin a job with the text of a job file, kept as it is, with its comments; faults in it are told by `plan_of`.

    ``work`` is how far it is, where it does not begin at the beginning.
    """
    if not _ID.fullmatch(job):
        return Problem("job", "that is no id for a job", "Make one of letters, figures and dashes, at most 36")
    trouble = text_trouble(text)
    if trouble:
        return trouble
    with desk.book.writing() as c:
        return jobs.begin(c, job, text, heading_of(text), desk.stamp(by), what, work)


def copy_job(desk: Desk, by: By, job: str, into: str) -> JobRow | Problem:
    """Begin a job under the id ``into`` as a copy of another as it stands; photos, papers and revisions stay with the other."""
    with desk.book.reading() as c:
        row, newest = jobs.need(c, job), revisions.newest(c, job)
    values = parse_toml(newest.text, "job.toml").values
    if not values:
        return begin_from_text(desk, by, into, newest.text, f"copied from {row.title}")
    values["title"] = _copied(str(values.get("title", "")))
    return begin_from_text(desk, by, into, write_values(values), f"copied from {row.title}, revision {newest.number}")


def text_trouble(text: str) -> Problem | None:
    """Why a text cannot be kept as a job's, None when it can."""
    if len(text.encode("utf-8", "replace")) > BIGGEST:
        return Problem("job", f"the job would be more than {BIGGEST / 1e6:.0f} MB of text", "Put long notes elsewhere")
    if not is_text(text):
        return Problem("job", "the text holds a sign that is none", "Type it again in plain text")
    return None


def _copied(title: str) -> str:
    return f"{title[:33].rstrip()} (copy)"
