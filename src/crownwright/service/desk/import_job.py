"""Take a job in from a file that `export_job` made, perhaps long ago, perhaps by somebody who means no good."""

from __future__ import annotations

import io
import json
import re
import zipfile
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import Connection
from sqlalchemy.exc import IntegrityError

from crownwright.book import conflicts, issued, jobs, photos, revisions
from crownwright.book.conflicts import Conflict
from crownwright.book.issued import IssuedRow
from crownwright.book.jobs import STATES, JobRow, Stamp, Work
from crownwright.book.photos import PhotoRow, Pictures
from crownwright.quantity.problems import Problem
from crownwright.service.desk.add_photo import LONGEST_NOTE, bare_name
from crownwright.service.desk.begin_job import text_trouble
from crownwright.service.desk.export_job import FORM
from crownwright.service.desk.heading import heading_of
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pairing import new_id
from crownwright.service.desk.pictures import develop
from crownwright.service.desk.signs import as_text, wrong_value
from crownwright.service.jobfile.syntax import parse_toml

BIGGEST = 1_000_000_000  # bytes in all, unpacked
MOST_FILES = 20_000
LIMITS = (
    (re.compile(r"(read-me\.txt|(job|book|revisions|photos|papers|conflicts)\.toml|revisions/\d{5}\.toml)"), 8_000_000),
    (re.compile(r"papers/[A-Za-z0-9-]{1,36}\.json"), 8_000_000),
    (re.compile(r"(photos/[A-Za-z0-9-]{1,36}\.jpg|papers/[A-Za-z0-9-]{1,36}\.pdf)"), 60_000_000),
)
"""Names that may be in the file, and how large each may unpack. Nothing is ever unpacked to the disk."""
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,35}")
_CONFLICT = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,35}(\.\d{1,3})?", re.ASCII)
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _.-]{0,39}")
"""What papers are called and numbered: their files are named by it when they are handed on."""


class _RefusedError(Exception):
    def __init__(self, what: str, remedy: str = "Ask for the file again from whoever exported it") -> None:
        super().__init__(what)
        self.problem = Problem("import", what, remedy)


def import_job(desk: Desk, by: By, data: bytes) -> JobRow | Problem:
    """Take a job in with every revision, photo, paper and conflict, whole or not at all.

    A job whose id is in the book already comes in beside it under a new id.
    """
    try:
        files = _unpacked(data)
        developed = {name: _developed(name, files[name]) for name in files if name.startswith("photos/")}
        with desk.book.writing() as c:
            return _take_in(c, desk, by, files, developed)
    except _RefusedError as refused:
        return refused.problem
    except IntegrityError:
        return _RefusedError("something in the file has the name of a thing of another job in this book").problem


def _unpacked(data: bytes) -> dict[str, bytes]:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as box:
            names = box.infolist()
            if len(names) > MOST_FILES or len({entry.filename for entry in names}) < len(names):
                raise _RefusedError("the file holds too many things, or one twice")
            if sum(entry.file_size for entry in names) > BIGGEST:
                raise _RefusedError("the file would unpack to more than a gigabyte")
            return {entry.filename: _one(box, entry) for entry in names}
    except (zipfile.BadZipFile, OSError, NotImplementedError, RuntimeError, ValueError, EOFError) as error:
        raise _RefusedError("the file is no job that was exported, or it is damaged") from error


def _one(box: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    limit = next((most for name, most in LIMITS if name.fullmatch(entry.filename)), None)
    if limit is None:
        raise _RefusedError(f"the file holds “{entry.filename[:60]}”, which no exported job has")
    with box.open(entry) as packed:
        data = packed.read(limit + 1)  # what the header says of the size may be a lie
    if len(data) > limit:
        raise _RefusedError(f"{entry.filename} is too large")
    return data


def _developed(name: str, data: bytes) -> Pictures:
    made = develop(data)
    if isinstance(made, Problem):
        raise _RefusedError(f"{name}: {made.what}")
    return made.pictures


def _take_in(c: Connection, desk: Desk, by: By, files: Mapping[str, bytes], developed: Mapping[str, Pictures]) -> JobRow:
    book = _table(files, "book.toml")
    if book.get("form") != FORM:
        raise _RefusedError("the file is of a form this version does not know", "Bring the program up to date")
    told = _word(book.get("id"), 100)
    beside = not _ID.fullmatch(told) or jobs.find(c, told) is not None
    job = new_id() if beside else told
    _revisions(c, desk, by, job, files, _work(book, Work(STATES[0])))
    for row in _lines(files, "photos"):
        _photo(c, desk, job, row, developed, beside)
    for row in _lines(files, "papers"):
        _paper(c, desk, job, row, files, beside)
    for row in _lines(files, "conflicts"):
        _conflict(c, desk, job, row, beside)
    jobs.touch(c, job, desk.now())
    return jobs.need(c, job)


def _work(told: Mapping[str, Any], otherwise: Work) -> Work:
    """State of work and next visit as told; a file made before revisions had them tells how they stood at the end alone."""
    state = next((s for s in STATES if s == told.get("state")), None)
    return otherwise if state is None else Work(state, _time(told.get("next_visit")))


def _revisions(c: Connection, desk: Desk, by: By, job: str, files: Mapping[str, bytes], end: Work) -> None:
    rows = _lines(files, "revisions") or [{}]
    for k, row in enumerate(rows, 1):
        text = _text(files, f"revisions/{k:05d}.toml" if "revisions.toml" in files and row else "job.toml")
        trouble = text_trouble(text)
        if trouble or row.get("number", k) != k:
            raise _RefusedError(f"revision {k} is missing or cannot be read")
        who, device = (_word(row.get(key), most) for key, most in (("who", 120), ("device", 40)))
        made = Stamp(who or by.who, device or by.device, _time(row.get("made_at")) or desk.now())
        what = _word(row.get("what"), 400) or "taken in"
        work = end if k == len(rows) else _work(row, end)
        if k == 1:
            jobs.begin(c, job, text, heading_of(text), made, what, work)
        else:
            restores = _number(row.get("restores"), k - 1)
            revisions.add(c, job, k - 1, text, heading_of(text), made, what, restores, work)


def _photo(c: Connection, desk: Desk, job: str, row: Mapping[str, Any], developed: Mapping[str, Pictures], beside: bool) -> None:
    pictures = developed.get(f"photos/{row.get('id')}.jpg")
    if pictures is None:
        raise _RefusedError(f"photo {_word(row.get('id'), 36)} is missing")
    where = [_place(row.get(key)) for key in ("where_x", "where_y")]
    kept = PhotoRow(
        new_id() if beside else _word(row.get("id"), 36),
        job,
        _time(row.get("added_at")) or desk.now(),
        _time(row.get("taken_at")),
        bare_name(_word(row.get("name"), 200)),
        _word(row.get("note"), LONGEST_NOTE),
        where[0],
        where[1],
        issued.digest(pictures.original),
        None,
    )
    photos.add(c, kept, pictures)


def _paper(c: Connection, desk: Desk, job: str, row: Mapping[str, Any], files: Mapping[str, bytes], beside: bool) -> None:
    told = _word(row.get("id"), 36)
    pdf = files.get(f"papers/{told}.pdf", b"")
    number, kind = _word(row.get("number"), 40), _word(row.get("kind"), 40)
    if issued.digest(pdf) != row.get("sha256") or not pdf.startswith(b"%PDF-"):
        raise _RefusedError(f"paper {number} is missing, or not as it was handed out")
    if not (_NAME.fullmatch(number) and _NAME.fullmatch(kind)):
        raise _RefusedError("a paper has a number or a name that none has")
    while issued.has_number(c, number):
        number = f"{number[:36]}-in"
    kept = IssuedRow(
        new_id() if beside else told,
        job,
        _number(row.get("revision"), jobs.need(c, job).head) or 1,
        kind,
        number,
        _time(row.get("issued_at")) or desk.now(),
        "",
    )
    issued.issue(c, kept, _text(files, f"papers/{told}.json"), pdf)


def _conflict(c: Connection, desk: Desk, job: str, row: Mapping[str, Any], beside: bool) -> None:
    told, settled = _word(row.get("id"), 40), _time(row.get("settled_at"))
    kept = Conflict(
        new_id() if beside or not _CONFLICT.fullmatch(told) else told,
        job,
        _word(row.get("path"), 200),
        _json(row.get("theirs")),
        _json(row.get("mine")),
        _word(row.get("device"), 40),
        _time(row.get("found_at")) or desk.now(),
        settled,
        "mine" if row.get("kept") == "mine" else "theirs" if settled else None,
    )
    conflicts.keep(c, kept)


def _table(files: Mapping[str, bytes], name: str) -> dict[str, Any]:
    toml = parse_toml(_text(files, name), name)
    if toml.problems:
        raise _RefusedError(f"{name} cannot be read")
    return toml.values


def _lines(files: Mapping[str, bytes], name: str) -> list[dict[str, Any]]:
    rows = _table(files, f"{name}.toml").get(name, []) if f"{name}.toml" in files else []
    return [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []


def _text(files: Mapping[str, bytes], name: str) -> str:
    try:
        return files[name].decode()
    except (KeyError, UnicodeDecodeError) as error:
        raise _RefusedError(f"{name} is missing or cannot be read") from error


def _json(value: Any) -> str:
    text = _word(value, 100_000)
    try:
        wrong = wrong_value(json.loads(text))
    except (ValueError, RecursionError):
        return "null"
    return "null" if wrong else text


def _word(value: Any, most: int) -> str:
    return as_text(value, most)


def _time(value: Any) -> str | None:
    """A time as told, None where it is none."""
    text = as_text(value, 33)
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return None
    return text if text.isascii() and len(text) <= 32 else None


def _number(value: Any, most: int) -> int | None:
    """The number of a revision, None where there is none of it."""
    return value if type(value) is int and 0 < value <= most else None


def _place(value: Any) -> str | None:
    """Metres on the plan, as the book keeps them."""
    text = as_text(value, 32)
    return text if re.fullmatch(r"-?\d{1,2}(\.\d{1,6})?", text, re.ASCII) else None
