"""What was learned from finished jobs and kept last."""

from __future__ import annotations

from functools import lru_cache

from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.shelf import LESSONS, shelved
from crownwright.service.learn_from_jobs import Lessons, lessons


def kept_lessons(desk: Desk) -> Lessons | None:
    """What was learned and kept last; None where nothing was."""
    file = shelved(desk, LESSONS)
    return lessons_in(file.data) if file is not None else None


@lru_cache(maxsize=4)  # each job is judged by all before it, which takes far longer than a price, and every price asks for it
def lessons_in(data: bytes) -> Lessons | None:
    """What the table of jobs teaches in whose bytes it was kept; None where it cannot be read."""
    return lessons(data.decode("utf-8", "replace"))[0]
