"""The commands on weather: the days to pour, the pour day's batches and clock, and the day as it goes."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from crownwright.cli.answer import Answer, Section
from crownwright.cli.codes import Code
from crownwright.cli.patience import patience
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.cure.on_the_day import Revision
    from crownwright.service.days_to_pour import DaysTold

Adder = Callable[..., ArgumentParser]


def add_commands(command: Adder) -> None:
    """Put the commands on weather among the others; ``command`` adds one."""
    place = "folder for the charts, cards and calculation sheet; left out, none are written"
    found = command(
        "days",
        "find the days to pour in a forecast: which hours will do, and why the rest will not",
        days,
        job=True,
        into=place,
        paper=True,
    )
    going = command(
        "pour-day",
        "move the pour day's times by its log: batches, temperatures, what happened",
        pour_day,
        job=True,
        into="folder for the cure card and chart with the moved times; left out, none are written",
        paper=True,
    )
    found.add_argument("--key", metavar="KEY", help="explain this figure of the days, or those whose key begins so, and no more")
    going.add_argument("--log", metavar="FILE", type=Path, required=True, help="the day's log, TOML or JSON (docs/days.md)")
    for sub in (found, going):
        source = sub.add_mutually_exclusive_group(required=True)
        source.add_argument(
            "--weather", metavar="FILE", type=Path, help="forecast JSON, hourly CSV, EPW, TMY3, or days by hand (TOML)"
        )
        source.add_argument("--fetch", action="store_true", help="ask the government forecast service for the job's place, now")
        sub.add_argument("--zone", metavar="NAME", default="UTC", help="local time of a table or of days by hand: America/Denver")
        sub.add_argument("--rules", metavar="FILE", type=Path, help="file of local rules, laid under the job's own")
        sub.add_argument("--pour-at", metavar="TIME", help="follow this hour, 2026-05-16T12:00 local, instead of the best found")


def days(args: Namespace) -> Answer:
    """Find the days to pour."""
    return _told(args, "Days to pour")


def pour_day(args: Namespace) -> Answer:
    """Move the day's times by its log."""
    import json
    import tomllib

    from crownwright.service.days_to_pour import on_the_day

    found = _find(args)
    if isinstance(found, Answer):
        return found
    told, title = found
    try:
        text = args.log.read_text("utf-8")
        data = json.loads(text) if text.lstrip().startswith("{") else tomllib.loads(text)
    except (OSError, ValueError) as error:
        return Answer(
            Code.BAD_JOB, problems=(Problem(str(args.log), f"it cannot be read: {error}", "Look at it; docs/days.md shows one"),)
        )
    revision, log, problems = on_the_day(told.days, data)
    if revision is None:
        return Answer(Code.BAD_JOB, title, problems=problems, next="put the log right and ask again; nothing of it was used")
    lines = tuple(
        f"{m.label}: planned {_time(m.planned)}, now {_time(m.now)}" + (f" ({_by(m.by.total_seconds())})" if m.by else "")
        for m in revision.moved
    )
    files, trouble = _write_now(told, revision, args) if args.into else ((), None)
    if trouble:
        return Answer(Code.NOT_WRITTEN, problems=(trouble,), next="give a folder you may write to with --into")
    sections = (
        Section("On the day", lines),
        Section("What falls short", told.short, numbered=True),
        Section("Written", files),
    )
    data_out = {"moved": revision.moved, "figures": revision.figures, "log": log, "files": files}
    return Answer(Code.DONE, title, sections, "log what comes next and ask again", data_out, problems)


def _told(args: Namespace, heading: str) -> Answer:
    found = _find(args)
    if isinstance(found, Answer):
        return found
    told, title = found
    if args.key is not None:
        from crownwright.cli.verbs import explained

        return explained(told.days, args.key, told.days.plan.job, f"crownwright days {args.job} --key")
    cure = told.days.cure
    written, trouble = _write(told, args) if args.into else ((), None)
    if trouble:
        return Answer(Code.NOT_WRITTEN, problems=(trouble,), next="give a folder you may write to with --into")
    sections = (
        Section(heading, told.best or ("no hour of this forecast will do",), numbered=bool(told.best)),
        Section("Why the other hours will not", told.refused),
        Section("The pour, by the clock", tuple(says for _, says in told.clock), tuple(at for at, _ in told.clock)),
        Section("Batches", told.batches),
        Section("Portland added to a bag", told.portland),
        Section("Care", told.care),
        Section("Falls short", told.short, numbered=True),
        Section("Written", written),
    )
    data = {
        "windows": cure.windows,
        "best": cure.best,
        "moments": cure.moments,
        "batches": told.days.mixing.batches.batches if told.days.mixing else (),
        "portland": told.steps,
        "findings": told.days.findings,
        "figures": told.days.figures,
        "matters": told.days.matters,
        "files": written,
    }
    then = (
        "look again the evening before; a forecast moves"
        if cure.best
        else "wait for a later forecast, or see what blanket or shade does"
    )
    return Answer(Code.DONE if cure.best else Code.NOT_READY, title, sections, then, data, told.days.problems)


def _find(args: Namespace) -> tuple[DaysTold, str] | Answer:
    from crownwright.cli.verbs import bad_job, open_named
    from crownwright.service.days_to_pour import days_to_pour
    from crownwright.service.plan_a_job import plan_a_job
    from crownwright.service.weather_for import ask_for_weather, read_weather

    opened = open_named(args.job, args.rules)
    if opened.job is None:
        return bad_job(opened)
    now = datetime.now(UTC)
    with patience("Reading the weather") as shown:
        if args.fetch:
            hours, problems = ask_for_weather(opened.job, now)
        else:
            try:
                hours, problems = read_weather(args.weather.read_bytes(), args.weather.name, opened.job, args.zone, now)
            except OSError as error:
                hours, problems = (
                    None,
                    (Problem(str(args.weather), f"it cannot be opened: {error.strerror}", "Look at the name"),),
                )
        if hours is None:
            return Answer(Code.BAD_JOB, opened.job.title, problems=problems, next="give weather that can be read with --weather")
        pour_at = _pour_at(args.pour_at, hours.zone)
        if isinstance(pour_at, Problem):
            return Answer(Code.ASKED_WRONG, problems=(pour_at,), next="ask again with a time like 2026-05-16T12:00")
        shown.step("Planning")
        planned = plan_a_job(opened.job, opened.text, cut_list=False)
        shown.step("Trying every hour")
        told = days_to_pour(planned.plan, hours, pour_at)
    if isinstance(told, Problem):
        return Answer(
            Code.NOT_READY, opened.job.title, problems=(told, *planned.plan.problems), next="put the readings right first"
        )
    return told, opened.job.title


def _pour_at(text: str | None, zone: str) -> datetime | Problem | None:
    from crownwright.weather.hours import zone_of

    if text is None:
        return None
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        return Problem("--pour-at", f"“{text}” is not a time", "Write it like 2026-05-16T12:00")
    return at if at.tzinfo else at.replace(tzinfo=zone_of(zone))


def _write(told: DaysTold, args: Namespace) -> tuple[tuple[str, ...], Problem | None]:
    from itertools import chain

    from crownwright.cli.verbs import now, put_all
    from crownwright.service.draw_the_days import drawn_days, printed_days

    with patience("Writing papers") as shown:
        files = chain(drawn_days(told.days), printed_days(told.days, args.paper, now()))
        written, trouble = put_all(args.into, files, shown.step)
    return tuple(map(str, written)), trouble


def _write_now(told: DaysTold, revision: Revision, args: Namespace) -> tuple[tuple[str, ...], Problem | None]:
    from crownwright.cli.verbs import now, put_all
    from crownwright.service.draw_the_days import printed_revision

    with patience("Writing papers") as shown:
        written, trouble = put_all(args.into, printed_revision(told.days, revision, args.paper, now()), shown.step)
    return tuple(map(str, written)), trouble


def _time(at: datetime | None) -> str:
    return "not in sight" if at is None else f"{at:%a %H:%M}"


def _by(seconds: float) -> str:
    minutes = round(abs(seconds) / 60)
    return f"{minutes // 60} h {minutes % 60:02d} min {'later' if seconds > 0 else 'earlier'}"
