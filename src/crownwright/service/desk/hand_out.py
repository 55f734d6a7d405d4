"""Hand out a paper that bears its own number: made for a number, and kept only if that number is still free."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import TypeAlias

from sqlalchemy import Connection
from sqlalchemy.exc import IntegrityError

from crownwright.book import issued, jobs
from crownwright.book.issued import IssuedRow
from crownwright.book.store import BookError
from crownwright.quantity.problems import Problem
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pairing import new_id

TRIES = 20  # two that hand out at the same moment reach for the same number; the second takes the next

Made: TypeAlias = "tuple[bytes, str]"
"""A paper and what it was made from (JSON)."""
Make: TypeAlias = "Callable[[str], Made | tuple[Problem, ...]]"
"""Makes a paper for a number, or says what stands against it."""
Number: TypeAlias = "Callable[[Connection], str]"
"""Finds the number a paper would have now."""


def hand_out(
    desk: Desk, job: str, revision: int, kind: str, make: Make, *, issue: str = "", number: Number | None = None
) -> IssuedRow | tuple[Problem, ...]:
    """Hand out a paper of a job under its number (left out, the next of the year), or say what stands against it.

    ``issue`` is an id made by the sender: the same again hands out nothing new and returns what is there.
    """
    numbered = number or (lambda c: issued.next_number(c, desk.now()[:4]))
    with suppress(KeyError), desk.book.reading() as c:
        if issue:
            return issued.paper(c, issue)[0]
    for _ in range(TRIES):
        with desk.book.reading() as c:
            mine = numbered(c)
        made = make(mine)
        if not isinstance(made[0], bytes):
            return tuple(part for part in made if isinstance(part, Problem))
        paper, data = made[0], str(made[1])
        with suppress(IntegrityError), desk.book.writing() as c:
            jobs.hold(c, job)
            if numbered(c) == mine:
                return issued.issue(c, IssuedRow(issue or new_id(), job, revision, kind, mine, desk.now(), ""), data, paper)
    raise BookError("Others hand out papers all the time", "Try again")
