"""The commands on the job book: list it, take jobs out into files and in from files, back it up and bring a backup back."""

from __future__ import annotations

import os
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING

from crownwright.cli.answer import Answer, Section
from crownwright.cli.codes import Code
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.service.desk.model import By, JobRow
    from crownwright.service.desk.open_desk import Desk

Verb = Callable[[Namespace], Answer]
Adder = Callable[..., ArgumentParser]


def add_commands(command: Adder) -> None:
    """Put the commands on the job book among the others; ``command`` adds one."""
    listed = command("jobs", "list the jobs in the book", jobs)
    listed.add_argument("words", metavar="WORD", nargs="*", help="only jobs with all of these in title, customer, place or state")
    listed.add_argument("--by", choices=("changed", "visit", "customer", "title"), default="changed", help="their order")
    listed.add_argument("--most", type=int, default=50, metavar="N", help="how many to list; left out, 50")
    out = command("export", "write a job of the book into one file, with its revisions, photos and papers", export)
    out.add_argument("job", metavar="ID", help="the job, by the id that crownwright jobs shows")
    out.add_argument("--into", metavar="FILE", type=Path, help="file to write; left out, the id with .zip")
    into = command("import", "take a job into the book: an exported file, or a job file", take_in)
    into.add_argument("file", metavar="FILE", type=Path, help="what crownwright export wrote, or a job file")
    saved = command("backup", "back the whole book up into one file", backup)
    saved.add_argument("file", metavar="FILE", type=Path, help="a new file; it is a book itself and can be opened as one")
    back = command("restore", "bring a backup back into an empty book", restore)
    back.add_argument("file", metavar="FILE", type=Path, help="the backup")
    for sub in (listed, out, into, saved, back):
        book_option(sub)


def book_option(sub: ArgumentParser) -> None:
    """Let a command be told which book."""
    sub.add_argument(
        "--book",
        metavar="PLACE",
        default=os.environ.get("CROWNWRIGHT_BOOK"),
        help="the book: a file, or postgresql://...; left out, CROWNWRIGHT_BOOK, or the one in your data folder",
    )


def with_the_book(verb: Callable[[Desk, Namespace], Answer]) -> Verb:
    """Open the book for a command, and tell trouble with it in plain words."""

    @wraps(verb)
    def opened(args: Namespace) -> Answer:
        from crownwright.service.desk.model import BookError

        try:
            with _desk(args.book) as desk:
                return verb(desk, args)
        except BookError as error:
            return Answer(Code.NOT_WRITTEN, error.what + ".", next=error.remedy[:1].lower() + error.remedy[1:])

    return opened


@contextmanager
def _desk(place: str | None) -> Iterator[Desk]:
    from crownwright.service.desk.open_desk import open_desk

    desk = open_desk(place)
    try:
        yield desk
    finally:
        desk.close()


@with_the_book
def jobs(desk: Desk, args: Namespace) -> Answer:
    """List the book."""
    from crownwright.service.desk.list_jobs import list_jobs

    page = list_jobs(desk, " ".join(args.words), args.by, most=args.most)
    lines = tuple(_line(row.title, row.customer, row.place, row.state, row.next_visit) for row in page.rows)
    title = f"{page.count} job{'s' * (page.count != 1)} in {desk.book.address}"
    section = Section("", lines, tuple(row.id for row in page.rows))
    then = f"crownwright export {page.rows[0].id} writes one into a file" if page.rows else "crownwright import takes one in"
    return Answer(Code.DONE, title, (section,), then, {"count": page.count, "jobs": page.rows})


def _line(*parts: str | None) -> str:
    return ", ".join(part for part in parts if part)


@with_the_book
def export(desk: Desk, args: Namespace) -> Answer:
    """Export a job."""
    from crownwright.service.desk.export_job import export_job
    from crownwright.service.folder import put

    try:
        data = export_job(desk, args.job)
    except KeyError as error:
        return Answer(Code.ASKED_WRONG, f"{error.args[0]}.", next="crownwright jobs lists those there are, with their ids")
    into = args.into or Path(f"{args.job}.zip")
    done = put(into.parent, into.name, data)
    if isinstance(done, Problem):
        return Answer(Code.NOT_WRITTEN, problems=(done,), next="name a file you may write with --into")
    return Answer(Code.DONE, f"Wrote {done}.", next="read-me.txt in it says what it holds", data={"files": [done]})


@with_the_book
def take_in(desk: Desk, args: Namespace) -> Answer:
    """Take a job in."""
    from crownwright.service.desk.import_job import BIGGEST, import_job

    try:
        large = args.file.stat().st_size > BIGGEST
        data = b"" if large else args.file.read_bytes()
    except OSError as error:
        return Answer(Code.ASKED_WRONG, f"{args.file} cannot be read: {error.strerror}.", next="look at the name of the file")
    if large:
        return Answer(Code.BAD_JOB, f"{args.file} has more than a gigabyte.", next="look whether it is the right file")
    row = import_job(desk, me(), data) if data.startswith(b"PK") else _job_file(desk, data, args.file.name)
    if isinstance(row, Problem):
        return Answer(Code.BAD_JOB, problems=(row,), next="put this right and ask again; nothing was taken in")
    return Answer(Code.DONE, f"Took in “{row.title}” as {row.id}.", next="crownwright jobs lists the book", data={"job": row})


def _job_file(desk: Desk, data: bytes, name: str) -> JobRow | Problem:
    from crownwright.service.desk.begin_job import begin_from_text
    from crownwright.service.desk.pairing import new_id
    from crownwright.service.jobfile import decode

    text, problems = decode(data, name)
    return problems[0] if text is None else begin_from_text(desk, me(), new_id(), text, f"taken in from {name}")


def me() -> By:
    """Who sits at this machine."""
    import getpass

    from crownwright.service.desk.model import By

    try:
        return By(getpass.getuser())
    except (KeyError, OSError):  # a user without a name, as in a bare container
        return By("")


@with_the_book
def backup(desk: Desk, args: Namespace) -> Answer:
    """Back the book up."""
    from crownwright.service.desk.back_up import back_up

    counts = back_up(desk, args.file)
    then = f"keep {args.file} somewhere else than the book; crownwright restore brings it back"
    return Answer(Code.DONE, f"Backed up into {args.file}: {_counted(counts)}.", next=then, data={"rows": counts})


def _counted(rows: Mapping[str, int]) -> str:
    named = {"job": "job", "revision": "revision", "photo": "photo", "issued": "paper"}
    return ", ".join(f"{rows[table]} {name}{'s' * (rows[table] != 1)}" for table, name in named.items())


@with_the_book
def restore(desk: Desk, args: Namespace) -> Answer:
    """Bring a backup back."""
    from crownwright.service.desk.back_up import restore_book

    counts = restore_book(desk, args.file)
    return Answer(Code.DONE, f"Brought back {_counted(counts)}.", next="crownwright jobs lists them", data={"rows": counts})
