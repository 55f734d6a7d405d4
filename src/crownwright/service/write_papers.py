"""Write the papers of a plan as PDF, alone or with all else that there is of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from crownwright.plan.job import Units
from crownwright.plan.model import Plan

Size = Literal["letter", "a4"]


def usual_size(units: Units) -> Size:
    """The size of paper usual with these units."""
    return "letter" if units == "us" else "a4"


def printed_files(plan: Plan, size: Size | None, made_at: int) -> Iterator[tuple[str, bytes]]:
    """Paths and contents of the papers; ``size`` None is what is usual with the job's units, ``made_at`` UNIX seconds."""
    from crownwright.sheets.everything import paper_files

    yield from paper_files(plan, size or usual_size(plan.job.units), made_at)


def paper_names(plan: Plan) -> tuple[str, ...]:
    """Names of the papers there are of a plan, in the order of use."""
    from crownwright.sheets.everything import paper_makers

    return tuple(paper_makers(plan))


def printed_paper(plan: Plan, name: str, size: Size | None, made_at: int, number: str = "") -> bytes | None:
    """One paper alone as PDF, with the ``number`` it is handed out under; None where there is none of that name."""
    from crownwright.sheets.everything import paper_makers
    from crownwright.sheets.papers.press import pdf

    make = paper_makers(plan).get(name)
    return None if make is None else pdf(make(), size or usual_size(plan.job.units), made_at, number)


def all_files(plan: Plan, size: Size | None, made_at: int) -> Iterator[tuple[str, bytes]]:
    """Paths and contents of papers, drawings and solids, one after another, so that a caller can show how far it is."""
    from crownwright.sheets.everything import files_of

    yield from files_of(plan, size or usual_size(plan.job.units), made_at)
