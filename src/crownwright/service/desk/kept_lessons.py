"""What was learned from finished jobs and kept last."""

from __future__ import annotations

from crownwright.price.hours import HoursChoices
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.shelf import shelved
from crownwright.service.learn_from_jobs import Lessons, lessons

PLACE = "lessons"


def kept_lessons(desk: Desk) -> Lessons | None:
    """What was learned and kept last; None where nothing was."""
    file = shelved(desk, PLACE)
    return lessons(file.data.decode("utf-8", "replace"))[0] if file is not None else None


def own_hours_of(desk: Desk) -> HoursChoices | None:
    """How hours are reckoned by what was learned; None where nothing was."""
    kept = kept_lessons(desk)
    return kept.hours() if kept is not None else None
