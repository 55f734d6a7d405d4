"""Export a job as one file that a person can read: a zip with its job file, every revision, its photos and its papers."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from typing import Any

from sqlalchemy import Connection

from crownwright.book import conflicts, issued, jobs, photos, revisions
from crownwright.service.desk.open_desk import Desk
from crownwright.service.jobfile import write_values

FORM = 1
READ_ME = """This is one job out of a job book, for reading and for taking into another book.

job.toml          the job as it stands: readings exactly as typed
revisions/        the job as it stood after every change; revisions.toml says who changed what, when, on which device
photos/           its photos, turned upright, without the place where they were taken; photos.toml says what they show
papers/           papers as they were handed out, with what they were made from; papers.toml lists them with their hashes
conflicts.toml    readings of two devices that met, and which was kept
book.toml         how it stood in the book: state of work, next visit
"""


def export_job(desk: Desk, job: str) -> bytes:
    """The job as one zip; KeyError when there is no such job. Photos leave without their location."""
    out = io.BytesIO()
    with desk.book.snapshot() as c, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as box:
        for name, data in _files(c, job):
            packing = zipfile.ZIP_STORED if name.endswith((".jpg", ".pdf")) else zipfile.ZIP_DEFLATED
            box.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), data, packing)
    return out.getvalue()


def _files(c: Connection, job: str) -> Iterator[tuple[str, bytes]]:
    row = jobs.need(c, job)
    yield "read-me.txt", READ_ME.encode()
    yield "job.toml", revisions.newest(c, job).text.encode()
    told = {"form": FORM, "id": row.id, "state": row.state, "next_visit": row.next_visit, "changed_at": row.changed_at}
    yield "book.toml", _toml(told)
    lines = []
    for revision in revisions.texts(c, job):
        yield f"revisions/{revision.number:05d}.toml", revision.text.encode()
        lines.append(_row(revision.row))
    yield "revisions.toml", _toml({"revisions": lines})
    shown = photos.of_job(c, job)
    for photo in shown:
        yield f"photos/{photo.id}.jpg", photos.picture(c, photo.id, "upright")
    yield "photos.toml", _toml({"photos": [_row(photo, "sha256", "deleted_at", "job") for photo in shown]})
    papers = issued.of_job(c, job)
    for paper in papers:
        yield f"papers/{paper.id}.pdf", issued.paper(c, paper.id)[1]
        yield f"papers/{paper.id}.json", issued.made_from(c, paper.id).encode()
    yield "papers.toml", _toml({"papers": [_row(paper, "job") for paper in papers]})
    yield "conflicts.toml", _toml({"conflicts": [_row(conflict, "job") for conflict in conflicts.of_job(c, job)]})


def _row(row: Any, *without: str) -> dict[str, Any]:
    told = {name: getattr(row, name) for name in type(row).__slots__ if name not in without}
    return {name: value for name, value in told.items() if value is not None}


def _toml(values: dict[str, Any]) -> bytes:
    return write_values({key: value for key, value in values.items() if value is not None}).encode()
