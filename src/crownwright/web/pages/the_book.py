"""The book: every job, to be searched and put in order; new ones, exported ones taken in, a backup, and those taken out."""

from __future__ import annotations

from pathlib import Path
from tempfile import mkdtemp
from typing import Literal, cast, get_args

from fastapi import APIRouter, Depends, Request
from starlette.background import BackgroundTask
from starlette.responses import FileResponse, Response

from crownwright.quantity.problems import Problem
from crownwright.service.desk.back_up import back_up
from crownwright.service.desk.begin_job import begin_from_text, begin_job
from crownwright.service.desk.clear_out import KEPT_DAYS, clear_out, may_be_cleared
from crownwright.service.desk.clock_doubt import clock_doubt
from crownwright.service.desk.import_job import import_job
from crownwright.service.desk.list_jobs import how_many_are_out, list_jobs
from crownwright.service.desk.model import By, JobRow, Order
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pairing import new_id
from crownwright.service.desk.text_of import values_as_typed
from crownwright.service.jobfile import decode
from crownwright.web.asking import Asker, TheDesk, only_desk
from crownwright.web.forms import Posting
from crownwright.web.page import go, page
from crownwright.web.trouble import Trouble, trouble_page

router = APIRouter()
AT_ONCE = 30
ORDERS = (("changed", "Changed last"), ("visit", "Next visit"), ("customer", "Customer"), ("title", "Title"))
UNITS = (("us", "Feet and inches"), ("metric", "Metric"))
ZIP = b"PK"


@router.get("/")
def show(request: Request, desk: TheDesk, words: str = "", by: str = "changed", first: str = "0", out: str = "") -> Response:
    """List the book: jobs with all of ``words``, in the order ``by``, from number ``first``; with ``out`` those taken out."""
    order = cast(Order, by) if by in get_args(Order) else "changed"
    start = int(first) if first.isdecimal() and len(first) < 9 else 0
    found = list_jobs(desk, words, order, deleted=bool(out), first=start, most=AT_ONCE)
    return page(
        request,
        "book.html",
        sheet="The book",
        found=found,
        words=words[:200],
        order=order,
        orders=ORDERS,
        out=bool(out),
        gone=how_many_are_out(desk),
        clearing=may_be_cleared(desk) if out else (),
        kept_days=KEPT_DAYS,
        doubt=clock_doubt(desk),
    )


@router.get("/new")
def ask(request: Request, desk: TheDesk) -> Response:
    """Ask what is needed to begin a job: next to nothing."""
    return _new(request, {"units": _usual_units(desk)})


@router.post("/new")
def begin(request: Request, desk: TheDesk, by: Asker, posted: Posting) -> Response:
    """Begin a job and go up top."""
    if not posted.text("title"):
        return _new(request, posted.typed, Problem("title", "a job needs a name", "The house or the road will do"))
    units: Literal["us", "metric"] = "metric" if posted.text("units") == "metric" else "us"
    customer, place = (posted.text(key)[:400] for key in ("customer", "place"))
    corners = int(posted.text("corners", "4")) if posted.text("corners", "4") in list("345678") else 4
    job = posted.text("id") or new_id()
    row = begin_job(desk, by, job, posted.text("title"), units=units, corners=corners, customer=customer, place=place)
    if isinstance(row, Problem):
        return _new(request, posted.typed, row)
    there = f"/job/{row.id}/up-top"
    return go(there if any(sheet.path == "up-top" for sheet in request.app.state.sheets) else f"/job/{row.id}")


def _new(request: Request, typed: dict[str, str], fault: Problem | None = None) -> Response:
    return page(request, "new.html", sheet="New job", status=422 if fault else 200, typed=typed, units=UNITS, fault=fault)


def _usual_units(desk: Desk) -> str:
    """The units of the job changed last: who works in metric does so in every job."""
    rows = list_jobs(desk, most=1).rows
    return "metric" if rows and values_as_typed(desk, rows[0].id).get("units") == "metric" else "us"


@router.post("/import")
def take_in(request: Request, desk: TheDesk, by: Asker, posted: Posting) -> Response:
    """Take in an exported job, or a job file."""
    picked = posted.file("file")
    if picked is None:
        return trouble_page(request, Trouble(422, "No file was picked", "Pick what was exported, or a job file"))
    row = _taken_in(desk, by, *picked)
    if isinstance(row, Problem):
        return trouble_page(request, Trouble(422, row.what[:1].upper() + row.what[1:], row.remedy))
    return go(f"/job/{row.id}", f"{row.title} is in the book")


def _taken_in(desk: Desk, by: By, name: str, data: bytes) -> JobRow | Problem:
    if data.startswith(ZIP):
        return import_job(desk, by, data)
    text, problems = decode(data, name)
    return problems[0] if text is None else begin_from_text(desk, by, new_id(), text, f"taken in from {name}"[:400])


@router.get("/backup", dependencies=[Depends(only_desk)])
def backup(desk: TheDesk) -> Response:
    """Back the whole book up into a file that the browser keeps."""
    folder = Path(mkdtemp(prefix="crownwright-"))
    file = folder / f"jobs-{desk.now()[:10]}.book"
    try:
        back_up(desk, file)
    except BaseException:
        _away(folder)
        raise
    tidy = BackgroundTask(_away, folder)
    return FileResponse(file, media_type="application/vnd.sqlite3", filename=file.name, background=tidy)


def _away(folder: Path) -> None:
    for file in folder.iterdir():
        file.unlink()
    folder.rmdir()


@router.post("/clear", dependencies=[Depends(only_desk)])
def clear(request: Request, desk: TheDesk, by: Asker, posted: Posting) -> Response:
    """Remove for good the ticked ones of those taken out long ago."""
    gone = clear_out(desk, by, posted.fields.get("job", ()))
    if isinstance(gone, Problem):
        return trouble_page(request, Trouble(409, gone.what[:1].upper() + gone.what[1:], gone.remedy))
    return go("/?out=1", f"{len(gone)} removed for good")
