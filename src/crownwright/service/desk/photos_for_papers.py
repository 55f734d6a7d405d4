"""Photos of a job as papers show them: those that say what they show, made small enough that a paper can be sent by mail."""

from __future__ import annotations

import io

from crownwright.book import photos
from crownwright.service.desk.open_desk import Desk
from crownwright.sheets.papers.deal import Photo

MOST = 6
WIDEST = 1100  # pixels; 85 mm on paper at 330 to the inch


def photos_for_papers(desk: Desk, job: str, most: int = MOST) -> tuple[Photo, ...]:
    """The photos of a job that have a note, in the order they came; without location, turned upright."""
    with desk.book.reading() as c:
        rows = [row for row in photos.of_job(c, job) if row.note.strip()][:most]
        found = [(row.note.strip(), photos.picture(c, row.id, "upright")) for row in rows]
    return tuple(_small(data, note) for note, data in found)


def _small(data: bytes, note: str) -> Photo:
    from PIL.Image import open as open_picture

    with open_picture(io.BytesIO(data), formats=["JPEG"]) as picture:
        if max(picture.size) <= WIDEST:
            return Photo(data, *picture.size, note)
        picture.draft("RGB", (WIDEST, WIDEST))
        picture.thumbnail((WIDEST, WIDEST))
        out = io.BytesIO()
        picture.save(out, "JPEG", quality=82, optimize=True)
        return Photo(out.getvalue(), *picture.size, note)
