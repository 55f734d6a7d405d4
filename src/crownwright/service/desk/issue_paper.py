"""Hand a paper out: make it for its number, once, and keep its bytes as they were handed over."""

from __future__ import annotations

import json
from contextlib import suppress
from dataclasses import replace

from sqlalchemy.exc import IntegrityError

from crownwright.book import issued, jobs
from crownwright.book.issued import IssuedRow
from crownwright.book.store import BookError
from crownwright.quantity.problems import Problem
from crownwright.service.desk.hand_out import TRIES, Made, hand_out
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pairing import new_id
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.write_papers import Size, paper_names, printed_paper


def issue_paper(
    desk: Desk, by: By, job: str, paper: str, *, number: int | None = None, size: Size | None = None, issue: str = ""
) -> IssuedRow | Problem:
    """Hand out one of a plan's papers ("summary", "cut-list" ...) as it is now, under the next number of the year.

    ``issue`` is an id made by the sender: the same again hands out nothing new. It is never made again, whatever changes later.
    """
    plan = plan_of(desk, job, number)
    if plan.planned is None:
        return Problem(paper, "the job has faults that stop its plan", "Put them right first")
    planned, at = plan.planned.plan, int(desk.clock().timestamp())
    made_from = {"revision": plan.revision.number, "version": planned.version, "by": by.who, "job": plan.text}

    def make(number: str) -> Made | tuple[Problem, ...]:
        pdf = printed_paper(planned, paper, size, at, number)
        if pdf is None:
            there = ", ".join(paper_names(planned))
            return (Problem(paper[:40], "there is no such paper of this plan", f"There are: {there}"),)
        return pdf, json.dumps(made_from, ensure_ascii=False)

    row = hand_out(desk, job, plan.revision.number, paper, make, issue=issue)
    return row if isinstance(row, IssuedRow) else row[0]


def keep_issued(desk: Desk, job: str, revision: int, kind: str, paper: bytes, data: str, issue: str = "") -> IssuedRow:
    """Keep a paper made elsewhere (a quote, an invoice) as handed out, under the next number of the year."""
    row = IssuedRow(issue or new_id(), job, revision, kind, "", desk.now(), "")
    for _ in range(TRIES):
        with suppress(IntegrityError), desk.book.writing() as c:
            jobs.hold(c, job)
            number = issued.next_number(c, desk.now()[:4])
            return issued.issue(c, replace(row, number=number), data, paper)
    raise BookError("Others hand out papers all the time", "Try again")


def issued_papers(desk: Desk, job: str) -> tuple[IssuedRow, ...]:
    """Papers of a job that were handed out, newest first."""
    with desk.book.reading() as c:
        return issued.of_job(c, job)


def issued_paper(desk: Desk, issue: str) -> tuple[IssuedRow, bytes]:
    """A paper as it was handed out (PDF); KeyError when there is none of that id."""
    with desk.book.reading() as c:
        return issued.paper(c, issue)
