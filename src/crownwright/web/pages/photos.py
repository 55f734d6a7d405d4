"""Photos of a job: from the camera, with a note, and a mark on the sketch for where each was taken."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Literal

from fastapi import APIRouter, HTTPException, Request
from starlette.responses import JSONResponse, Response

from crownwright.quantity.problems import Problem
from crownwright.service.desk.add_photo import (
    add_photo,
    bring_back_photo,
    describe_photo,
    list_photos,
    picture_of,
    take_out_photo,
)
from crownwright.service.desk.model import JobRow, PhotoRow
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.up_top_of import up_top_of
from crownwright.service.up_top import Sketch
from crownwright.web.asking import TheDesk, TheJob
from crownwright.web.forms import Posted, Posting
from crownwright.web.page import go, page
from crownwright.web.sheets import Sheet
from crownwright.web.trouble import Trouble, trouble_page, wants_json
from crownwright.web.views.sketch import Mark, placed_at, sketch_picture

router = APIRouter()
SHEETS = (Sheet("photos", "Photos", "what the camera saw, and where"),)


@router.get("/job/{job}/photos")
def show(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """All photos of a job, and those taken out."""
    return _list(request, desk, job)


def _list(request: Request, desk: Desk, job: JobRow, wrong: str = "", note: str = "", status: int = 200) -> Response:
    there, out = list_photos(desk, job.id), list_photos(desk, job.id, deleted=True)
    return page(request, "photos.html", sheet="Photos", job=job, status=status, photos=there, out=out, wrong=wrong, typed=note)


@router.post("/job/{job}/photos")
def add(request: Request, desk: TheDesk, job: TheJob, posted: Posting) -> Response:
    """Put photos in the book: ``photo`` files, ``note``, ``id`` made by the sender where it is one file."""
    made = [_added(desk, job, posted, *file) for file in _files(posted)]
    refused = [one for one in made if isinstance(one, Problem)]
    if wants_json(request):
        trouble = refused[0] if refused else None if made else Problem("photo", "no photo came with it", "Take it again")
        if trouble is not None:
            return JSONResponse({"accepted": False, "where": trouble.where, "what": trouble.what, "remedy": trouble.remedy}, 422)
        return JSONResponse({"accepted": True, "revision": job.head})
    if not made:
        return _list(request, desk, job, "No photo was chosen.", posted.text("note"), 422)
    if refused:
        wrong = " ".join(f"{one.where.capitalize()}: {one.what}. {one.remedy}." for one in refused)
        return _list(request, desk, job, wrong, posted.text("note"), 422)
    return go(f"/job/{job.id}/photos", "Kept" if len(made) == 1 else f"{len(made)} photos kept")


def _files(posted: Posted) -> Iterable[tuple[str, bytes]]:
    return ((upload.filename, upload.file.read()) for upload in posted.files.get("photo", ()) if upload.filename)


def _added(desk: Desk, job: JobRow, posted: Posted, name: str, data: bytes) -> PhotoRow | Problem:
    alone = len(posted.files.get("photo", ())) == 1
    row = add_photo(desk, job.id, data, name, posted.text("note"), posted.text("id") if alone else "")
    return replace(row, where=name) if isinstance(row, Problem) and not alone else row


@router.get("/job/{job}/photos/{photo}/small.jpg")
def small(desk: TheDesk, job: TheJob, photo: str) -> Response:
    """A small picture, drawn anew from the photo's points."""
    return _picture(desk, job, photo, "thumbnail")


@router.get("/job/{job}/photos/{photo}/upright.jpg")
def upright(desk: TheDesk, job: TheJob, photo: str) -> Response:
    """The whole picture, likewise."""
    return _picture(desk, job, photo, "upright")


def _picture(desk: Desk, job: JobRow, photo: str, size: Literal["thumbnail", "upright"]) -> Response:
    _need(desk, job, photo)
    shown = picture_of(desk, photo, size)
    return Response(shown, media_type="image/jpeg", headers={"cache-control": "private, max-age=31536000, immutable"})


@router.get("/job/{job}/photos/{photo}")
def one(request: Request, desk: TheDesk, job: TheJob, photo: str) -> Response:
    """One photo, its note and its mark."""
    row = _need(desk, job, photo)
    order = [other.id for other in list_photos(desk, job.id)]
    at = order.index(photo) if photo in order else -1
    near = {"before": order[at - 1] if at > 0 else "", "after": order[at + 1] if 0 <= at < len(order) - 1 else ""}
    sketch = up_top_of(desk, job.id).top.sketch
    return page(request, "photo.html", sheet="Photo", job=job, photo=row, near=near, sketched=sketch is not None)


@router.post("/job/{job}/photos/{photo}")
def describe(request: Request, desk: TheDesk, job: TheJob, photo: str, posted: Posting) -> Response:
    """Keep the note, with a touch on the sketch where it was taken; take it out, or bring it back."""
    row = _need(desk, job, photo)
    if posted.ticked("remove"):
        take_out_photo(desk, photo)
        return go(f"/job/{job.id}/photos", "The photo is out; it stands under Taken out")
    if posted.ticked("back"):
        bring_back_photo(desk, photo)
        return go(f"/job/{job.id}/photos/{photo}", "The photo is back")
    where = _where(row)
    if posted.text("where.x") and posted.text("where.y"):
        touched = _touched(desk, job, posted)
        if touched is None:
            return trouble_page(request, Trouble(422, "That is no place on the sketch", "Touch the sketch itself"))
        where = touched
    elif posted.ticked("unmark"):
        where = None
    describe_photo(desk, photo, posted.text("note"), where)
    return go(f"/job/{job.id}/photos/{photo}", "Kept")


@router.get("/job/{job}/photos/{photo}/where.svg")
def where(desk: TheDesk, job: TheJob, photo: str) -> Response:
    """The sketch with the marks of all photos, this one's filled."""
    this = _need(desk, job, photo)
    sketch = _sketch(desk, job)
    marks = [Mark(at, str(n + 1), row.id == this.id) for n, row in enumerate(list_photos(desk, job.id)) if (at := _where(row))]
    return Response(sketch_picture(sketch, marks), media_type="image/svg+xml")


def _sketch(desk: Desk, job: JobRow) -> Sketch:
    sketch = up_top_of(desk, job.id).top.sketch
    if sketch is None:
        raise HTTPException(404, "There is no sketch of this top yet")
    return sketch


def _touched(desk: Desk, job: JobRow, posted: Posted) -> tuple[float, float] | None:
    try:
        x, y = (float(posted.text(f"where.{axis}")) for axis in "xy")
    except ValueError:
        return None
    return placed_at(_sketch(desk, job), x, y)


def _where(row: PhotoRow) -> tuple[float, float] | None:
    return None if row.where_x is None or row.where_y is None else (float(row.where_x), float(row.where_y))


def _need(desk: Desk, job: JobRow, photo: str) -> PhotoRow:
    rows = (*list_photos(desk, job.id), *list_photos(desk, job.id, deleted=True))
    row = next((row for row in rows if row.id == photo), None)
    if row is None:
        raise HTTPException(404, "There is no such photo in this job")
    return row
