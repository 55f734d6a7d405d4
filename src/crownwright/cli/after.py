"""The commands on what follows the pour: calendar, handover, learning from finished jobs."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from crownwright.cli.answer import Answer
from crownwright.cli.book import book_option, me, with_the_book
from crownwright.cli.codes import Code
from crownwright.cli.firm import bad, now, photo_option, photos_of, plan_and_firm, wrote
from crownwright.cli.lessons import history_sections, learned_sections, read_finished
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.plan.model import Plan
    from crownwright.price.business import Business
    from crownwright.service.desk.open_desk import Desk
    from crownwright.service.learn_from_jobs import Lessons
    from crownwright.sheets.calendar import Visit

Adder = Callable[..., ArgumentParser]


def add_commands(command: Adder) -> None:
    """Put the commands on what follows the pour among the others; ``command`` adds one."""
    folder = "folder to put the files in; left out, where you stand"
    dated = command("calendar", "write the visits of a job as iCalendar", calendar, job=True, into="file to write")
    handed = command(
        "handover", "write the handover: record, care plan, days to look again", handover, job=True, into=folder, paper=True
    )
    for sub in (dated, handed):
        sub.add_argument("--firm", metavar="FILE", type=Path, help="your firm and terms (TOML)")
        sub.add_argument("--pour", metavar="TIME", type=datetime.fromisoformat, required=True, help="local, 2026-05-20T09:00")
    photo_option(handed)
    dated.add_argument("--weather", metavar="FILE", type=Path, help="forecast; with it visits follow the cure's own times")
    dated.add_argument(
        "--sent",
        metavar="FILE",
        type=Path,
        help="the calendar that was sent before: what moved replaces it, what fell away is struck out",
    )
    dated.add_argument(
        "--revision",
        type=int,
        default=0,
        metavar="N",
        help="without the file sent before: one more each time the days move; left out, 0",
    )
    handed.add_argument("--bags", type=int, metavar="N", help="bags used")
    handed.add_argument("--uncovered", default="", metavar="FLUES", help="flues uncovered and seen to draw, with commas")
    handed.add_argument("--by", default="", help="who saw to it")
    handed.add_argument("--link", default="", help="what the code leads to; left out, your card")
    learned = command("learn", "learn from finished jobs: forecast against actual, what follows for the next", learn)
    learned.add_argument(
        "jobs",
        metavar="FILE",
        type=Path,
        nargs="?",
        help="CSV with job, what, forecast, actual, spread; left out, the book's own",
    )
    learned.add_argument("--keep", action="store_true", help="keep what the book teaches: its prices take their hours from it")
    learned.add_argument("--into-job", metavar="ID", default="", help="and write what a bag gives into this job of the book")
    book_option(learned)


def calendar(args: Namespace) -> Answer:
    """Write visits."""
    from crownwright.service.visits_file import usual_visits, visits_file

    found = plan_and_firm(args)
    if isinstance(found, Answer):
        return found
    plan, business = found
    if args.pour.tzinfo is not None:
        return bad(Problem("--pour", "it has a time zone of its own", "Write local time; the zone stands in the firm's file"))
    made_at = datetime.fromtimestamp(now(), UTC)
    visits = usual_visits(plan, args.pour) if args.weather is None else _by_cure(plan, business, args, made_at)
    sent = None if args.sent is None else _read(args.sent)
    for wrong in (visits, sent):
        if isinstance(wrong, Answer):
            return wrong
    assert isinstance(visits, tuple)
    assert not isinstance(sent, Answer)
    text = visits_file(visits, plan.job.title, business, made_at, sent, args.revision)
    if isinstance(text, Problem):
        return bad(text)
    path = args.into or Path("visits.ics")
    then = f"open it with your calendar; when days move, write it again with --sent {path}"
    return wrote(path.parent, {path.name: text.encode()}, then)


def _by_cure(plan: Plan, business: Business, args: Namespace, made_at: datetime) -> tuple[Visit, ...] | Answer:
    """The visits at the times that the cure calls for in a forecast."""
    from crownwright.service.days_to_pour import days_to_pour
    from crownwright.service.visits_file import cure_visits
    from crownwright.service.weather_for import read_weather
    from crownwright.weather.hours import zone_of

    try:
        data = args.weather.read_bytes()
    except OSError as error:
        return bad(Problem(str(args.weather), f"it cannot be read: {error.strerror}", "Look at its name"))
    hours, problems = read_weather(data, args.weather.name, plan.job, business.zone, made_at)
    if hours is None:
        return Answer(Code.BAD_JOB, problems=problems, next="put the weather file right and ask again")
    told = days_to_pour(plan, hours, args.pour.replace(tzinfo=zone_of(hours.zone)), None)
    if isinstance(told, Problem):
        return Answer(Code.NOT_READY, problems=(told,), next="crownwright plan JOB says what is wrong")
    return cure_visits(told.days)


def _read(path: Path) -> str | Answer:
    try:
        return path.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        return bad(Problem(str(path), f"it cannot be read: {error}", "Look at its name"))


def handover(args: Namespace) -> Answer:
    """Write the handover."""
    from crownwright.service.visits_file import usual_visits, visits_file
    from crownwright.sheets.calendar_card import vcard
    from crownwright.sheets.papers.handover import Record, handover_paper, still_covered
    from crownwright.sheets.papers.press import pdf

    found = plan_and_firm(args)
    if isinstance(found, Answer):
        return found
    plan, business = found
    photos = photos_of(args)
    if isinstance(photos, Answer):
        return photos
    flues = tuple(name.strip() for name in args.uncovered.split(",") if name.strip())
    record = Record(args.pour.date(), args.bags, uncovered=flues, uncovered_by=args.by)
    care = [visit for visit in usual_visits(plan, args.pour) if visit.key.startswith("care")]
    again = visits_file(care, f"Looks at the cap: {plan.job.title}", business, datetime.fromtimestamp(now(), UTC))
    assert isinstance(again, str)  # nothing was sent before that could be wrong
    files = {
        "handover.pdf": pdf(handover_paper(plan, business, record, care, args.link, photos), args.paper or "letter", now()),
        "card.vcf": vcard(business).encode(),
        "look-again.ics": again.encode(),
    }
    covered = still_covered(plan, record)
    answer = wrote(args.into or Path(), files, "give it to the customer")
    if not covered or answer.code is not Code.DONE:
        return answer
    lacking = Problem(
        ", ".join(covered), "not signed as uncovered; the paper says so", "--uncovered FLUES --by NAME", stops=False
    )
    return Answer(
        Code.NOT_READY,
        answer.title,
        answer.sections,
        "uncover the flues, sign for them, and write it again",
        answer.data,
        (lacking,),
    )


def learn(args: Namespace) -> Answer:
    """Learn from finished jobs."""
    if args.jobs is None:
        return learn_from_book(args)
    found = read_finished(args.jobs)
    return found if isinstance(found, Answer) else _lessons(found)


@with_the_book
def learn_from_book(desk: Desk, args: Namespace) -> Answer:
    """Learn from the finished jobs of the book."""
    from crownwright.service.desk.finished_jobs import lessons_of_book
    from crownwright.service.desk.own_way import learn_and_keep, take_own_yield

    found = learn_and_keep(desk) if args.keep or args.into_job else lessons_of_book(desk)
    if not found.learned:
        return Answer(Code.DONE, "No job of the book says yet what it took.",
                      next="write bags and hours under [quote] done in a finished job, and its state of work")  # fmt: skip
    if args.into_job:
        try:
            saved = take_own_yield(desk, me(), args.into_job)
        except KeyError as error:
            return Answer(Code.ASKED_WRONG, f"{error.args[0]}.", next="crownwright jobs lists those there are, with their ids")
        if isinstance(saved, Problem):
            return Answer(Code.NOT_READY, problems=(saved,), next="crownwright learn shows what the book knows")
    return _lessons(found)


def _lessons(found: Lessons) -> Answer:
    """What was learned, forecast against actual, and how the stated risks have held."""
    learned, aside = learned_sections(found)
    then = "crownwright plan JOB --finished FILE takes bags as they say, and price takes hours too"
    data = {"learned": found.learned, "held": found.held, "jobs": found.jobs}
    return Answer(Code.DONE, "Finished jobs", (learned, *history_sections(found), aside), then, data)
