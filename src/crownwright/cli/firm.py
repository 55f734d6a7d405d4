"""What the commands on money share: the price book and firm named, the plan of a job, writing papers."""

from __future__ import annotations

import os
import time
from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from datetime import date
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING, Any

from crownwright.cli.answer import Answer
from crownwright.cli.codes import Code
from crownwright.cli.patience import patience
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.plan.model import Plan
    from crownwright.price.business import Business
    from crownwright.price.pricebook import PriceBook
    from crownwright.service.learn_from_jobs import Lessons
    from crownwright.service.quote_options import Beside
    from crownwright.sheets.papers.deal import Photo


def book_options(sub: ArgumentParser) -> None:
    """Let a command be told the price book and the firm."""
    sub.add_argument("--prices", metavar="FILE", type=Path, help="price book, .csv or .xlsx; left out, the invented example")
    sub.add_argument("--firm", metavar="FILE", type=Path, help="your firm and terms (TOML)")


def prices_of(args: Namespace) -> Answer | tuple[PriceBook, Business]:
    """The price book and the firm named, or what is wrong with them."""
    from crownwright.service.price_files import read_book, read_business

    business, problems = read_business(args.firm)
    if business is None:
        return Answer(Code.BAD_JOB, problems=problems, next="put these right and ask again")
    book, problems = read_book(args.prices, business)
    if book is None:
        return Answer(Code.BAD_JOB, problems=problems, next="put these right and ask again; nothing was taken in")
    return book, business


def plan_and_firm(args: Namespace) -> Answer | tuple[Plan, Business]:
    """The plan of the job named, and the firm."""
    from crownwright.service.price_files import read_business

    business, problems = read_business(args.firm)
    if business is None:
        return Answer(Code.BAD_JOB, problems=problems, next="put these right and ask again")
    plan = plan_named(args)
    return plan if isinstance(plan, Answer) else (plan, business)


def plan_named(args: Namespace, learned: Lessons | None = None) -> Answer | Plan:
    """The plan of the job named, by own finished jobs where they are given."""
    from crownwright.cli.verbs import bad_job, open_named, with_lessons
    from crownwright.service.plan_a_job import plan_a_job

    opened = open_named(args.job)
    if opened.job is None:
        return bad_job(opened)
    with patience("Planning"):
        return plan_a_job(with_lessons(opened.job, learned), opened.text).plan


def price_options_of(sub: ArgumentParser) -> None:
    """Let a command be told what a price is worked out by."""
    book_options(sub)
    sub.add_argument("--on", metavar="DATE", type=date.fromisoformat, help="day of the prices, 2026-05-03; left out, today")
    sub.add_argument(
        "--with", dest="more", metavar="KEY=AMOUNT", action="append", default=[], help="work or goods beside the cap"
    )
    sub.add_argument("--van", metavar="KEY=AMOUNT", action="append", default=[], help="what the van holds")
    sub.add_argument("--finished", metavar="FILE", type=Path, help="finished jobs (CSV), to take bags and hours as they say")


def planned(args: Namespace) -> Answer | tuple[Plan, PriceBook, Business, Beside]:
    """The plan of the job named, the price book, the firm, and what was told beside."""
    from crownwright.service.learn_from_jobs import lessons
    from crownwright.service.price_a_job import Beside

    found = prices_of(args)
    if isinstance(found, Answer):
        return found
    amounts = [_amounts(which, texts) for which, texts in (("--van", args.van), ("--with", args.more))]
    wrong = tuple(problem for _, problems in amounts for problem in problems)
    if wrong:
        return Answer(Code.ASKED_WRONG, problems=wrong, next="write KEY=AMOUNT, the key as in the price book")
    learned = None
    if args.finished is not None:
        learned, problems = lessons(args.finished.read_text("utf-8")) if args.finished.is_file() else (None, ())
        if learned is None:
            wrong = problems or (Problem(str(args.finished), "there is no such file", "Name a CSV of finished jobs"),)
            return Answer(Code.BAD_JOB, problems=wrong, next="put these right and ask again")
    plan = plan_named(args, learned)
    hours = learned.hours() if learned is not None else None
    return plan if isinstance(plan, Answer) else (plan, *found, Beside(amounts[0][0], amounts[1][0], hours))


def _amounts(which: str, texts: Sequence[str]) -> tuple[dict[str, Decimal], list[Problem]]:
    found, problems = {}, []
    for text in texts:
        key, _, amount = text.rpartition("=")
        try:
            found[key.strip()] = Decimal(amount)
            if not (key and found[key.strip()].is_finite() and found[key.strip()] >= 0):
                raise InvalidOperation
        except InvalidOperation:
            problems.append(Problem(which, f"{text!r} is no KEY=AMOUNT", "Write it like concrete 80 lb=4"))
    return found, problems


def wrote(folder: Path, files: dict[str, bytes], then: str, data: dict[str, Any] | None = None) -> Answer:
    """Write files into a folder, and say so."""
    from crownwright.service.folder import put

    written = []
    for name, content in files.items():
        path = put(folder, name, content)
        if isinstance(path, Problem):
            return Answer(Code.NOT_WRITTEN, problems=(path,), next="name a place you may write to with --into")
        written.append(path)
    return Answer(Code.DONE, f"Wrote {', '.join(map(str, written))}", next=then, data={"files": written, **(data or {})})


def bad(problem: Problem) -> Answer:
    """Something was asked wrong."""
    return Answer(Code.ASKED_WRONG, problems=(problem,), next="put it right and ask again")


def photo_option(sub: ArgumentParser) -> None:
    """Let a paper be given photos."""
    sub.add_argument(
        "--photo",
        metavar="FILE=WORDS",
        action="append",
        default=[],
        help="a photo, and in words what it shows; as many as you like",
    )


def photos_of(args: Namespace) -> Answer | tuple[Photo, ...]:
    """The photos named, or what is wrong with them."""
    from crownwright.service.photos_named import photos_named

    parts = (text.partition("=") for text in args.photo)
    photos, problems = photos_named([(Path(name), says.strip()) for name, _, says in parts])
    lacking = tuple(Problem(text, "it does not say what the photo shows", "Write --photo FILE=WORDS")
                    for text in args.photo if not text.partition("=")[2].strip())  # fmt: skip
    if problems or lacking:
        return Answer(Code.ASKED_WRONG, problems=(*problems, *lacking), next="put these right and ask again")
    return photos


def safe(number: str) -> str:
    """A number as a name of a file."""
    return "".join(c if c.isalnum() or c in "-_." else "-" for c in number)


def now() -> int:
    """The time, UNIX seconds; SOURCE_DATE_EPOCH where that is set, so that the same files can be made again."""
    return int(os.environ.get("SOURCE_DATE_EPOCH", "") or time.time())
