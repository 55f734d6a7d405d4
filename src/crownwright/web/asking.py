"""Who asks, from which device, and on which job: what nearly every page needs, as dependencies of its handler."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, HTTPException, Request

from crownwright.service.desk.list_jobs import find_job
from crownwright.service.desk.model import By, JobRow
from crownwright.service.desk.open_desk import Desk


async def desk_of(request: Request) -> Desk:
    """The open book. A coroutine, so that no thread is woken for it on every page."""
    desk: Desk = request.app.state.desk
    return desk


def asker_of(request: Request) -> By:
    """Who asks; the guard has seen to it."""
    by: By = request.scope["crownwright"].by
    return by


def job_of(job: str, desk: Annotated[Desk, Depends(desk_of)]) -> JobRow:
    """The job in the address, taken out of the book or not."""
    try:
        return find_job(desk, job)
    except KeyError:
        raise HTTPException(404, "There is no such job in this book") from None


def only_desk(request: Request) -> None:
    """Let only the machine with the book go on."""
    if asker_of(request).device != "desk":
        raise HTTPException(403, "Only the machine with the book may do this")


def patience_of(request: Request) -> float:
    """Seconds this page may wait for what takes long."""
    patience: float = request.app.state.patience
    return patience


TheDesk = Annotated[Desk, Depends(desk_of)]
Patience = Annotated[float, Depends(patience_of)]
Asker = Annotated[By, Depends(asker_of)]
TheJob = Annotated[JobRow, Depends(job_of)]
