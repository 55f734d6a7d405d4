"""Photos of a job: put one in the book, note what it shows and where, take it out, bring it back."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from math import isfinite

from sqlalchemy.exc import IntegrityError

from crownwright.book import jobs, photos
from crownwright.book.issued import digest
from crownwright.book.photos import PhotoRow, Which
from crownwright.quantity.problems import Problem
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pairing import new_id
from crownwright.service.desk.pictures import develop
from crownwright.service.desk.signs import as_text

MOST = 400
LONGEST_NOTE = 2000
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,35}")


def add_photo(desk: Desk, job: str, data: bytes, name: str = "", note: str = "", photo: str = "") -> PhotoRow | Problem:
    """Put a photo in the book, as it came and turned upright. ``photo`` is its id where the sender made one.

    The same photo in the same job again changes nothing. KeyError when there is no such job.
    """
    if photo and not _ID.fullmatch(photo):
        return Problem("photo", "that is no id for a photo", "Make one of letters, figures and dashes, at most 36")
    with desk.book.reading() as c:
        jobs.need(c, job)
        full = len(photos.of_job(c, job)) >= MOST
    if full:
        return Problem("photo", f"the job has {MOST} photos", "Take some out first")
    made = develop(data)
    if isinstance(made, Problem):
        return made
    row = PhotoRow(
        photo or new_id(),
        job,
        desk.now(),
        made.taken_at,
        bare_name(name),
        as_text(note, LONGEST_NOTE),
        None,
        None,
        digest(data),
        None,
    )
    try:
        with desk.book.writing() as c:
            jobs.hold(c, job)
            return photos.add(c, row, made.pictures)
    except IntegrityError:
        return Problem("photo", "a photo of that id is in another job", "Send it under an id of its own")


def bare_name(name: str) -> str:
    """A file's name without folders or signs that mean something to a disk; never empty.

    >>> bare_name("../../etc/north side.JPG"), bare_name("..")
    ('north side.JPG', 'photo')
    """
    last = re.split(r"[/\\]", unicodedata.normalize("NFC", name))[-1]
    kept = "".join(sign for sign in last if sign.isalnum() or sign in " ._-()").strip(" .")
    return kept[-100:].strip(" .") or "photo"


def list_photos(desk: Desk, job: str, *, deleted: bool = False) -> tuple[PhotoRow, ...]:
    """Photos of a job in the order they came; with ``deleted`` those that were taken out."""
    with desk.book.reading() as c:
        return photos.of_job(c, job, deleted=deleted)


def picture_of(desk: Desk, photo: str, which: Which = "upright") -> bytes:
    """A photo's picture: JPEG, but for "original", which is as it came (with its location: show it to nobody else).

    KeyError when there is none.
    """
    with desk.book.reading() as c:
        return photos.picture(c, photo, which)


def describe_photo(desk: Desk, photo: str, note: str, where: Sequence[float] | None = None) -> PhotoRow:
    """Write what a photo shows, and where on the plan that is (metres in the survey's datum)."""
    place = (
        (f"{where[0]:.4f}", f"{where[1]:.4f}") if where is not None and all(isfinite(w) and abs(w) < 100 for w in where) else None
    )
    with desk.book.writing() as c:
        photos.need(c, photo)
        photos.describe(c, photo, as_text(note, LONGEST_NOTE), place)
        return photos.need(c, photo)


def take_out_photo(desk: Desk, photo: str) -> PhotoRow:
    """Take a photo out; it can be brought back."""
    return _set_deleted(desk, photo, desk.now())


def bring_back_photo(desk: Desk, photo: str) -> PhotoRow:
    """Bring back a photo that was taken out."""
    return _set_deleted(desk, photo, None)


def _set_deleted(desk: Desk, photo: str, at: str | None) -> PhotoRow:
    with desk.book.writing() as c:
        photos.need(c, photo)
        photos.set_deleted(c, photo, at)
        return photos.need(c, photo)
