"""Photos of a job as papers show them: those that say what they show, in the order they came."""

from __future__ import annotations

from sqlalchemy import Connection

from crownwright.book import photos
from crownwright.service.desk.open_desk import Desk
from crownwright.service.photos_named import for_paper
from crownwright.sheets.papers.deal import Photo

MOST = 6


def photos_for_papers(desk: Desk, job: str, most: int = MOST) -> tuple[Photo, ...]:
    """The photos of a job that have a note; without location, turned upright, small enough to be sent by mail."""
    with desk.book.reading() as c:
        rows = [row for row in photos.of_job(c, job) if row.note.strip()][:most]
        found = [(row.note.strip(), _picture(c, row.id)) for row in rows]
    return tuple(for_paper(data, note) for note, data in found)


def _picture(connection: Connection, photo: str) -> bytes:
    """As it is printed; a photo that came before those were kept is made small from the upright one."""
    try:
        return photos.picture(connection, photo, "printed")
    except KeyError:
        return photos.picture(connection, photo, "upright")
