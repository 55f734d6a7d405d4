"""Photos of a job as papers show them: those that say what they show, in the order they came."""

from __future__ import annotations

from crownwright.book import photos
from crownwright.service.desk.open_desk import Desk
from crownwright.service.photos_named import for_paper
from crownwright.sheets.papers.deal import Photo

MOST = 6


def photos_for_papers(desk: Desk, job: str, most: int = MOST) -> tuple[Photo, ...]:
    """The photos of a job that have a note; without location, turned upright, small enough to be sent by mail."""
    with desk.book.reading() as c:
        rows = [row for row in photos.of_job(c, job) if row.note.strip()][:most]
        found = [(row.note.strip(), photos.picture(c, row.id, "upright")) for row in rows]
    return tuple(for_paper(data, note) for note, data in found)
