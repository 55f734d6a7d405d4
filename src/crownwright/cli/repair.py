"""The command for the chimney below the cap: what was found, what it calls for, what must be done before anything is cast."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from crownwright.cli.answer import Answer, Section
from crownwright.cli.codes import Code
from crownwright.cli.patience import patience
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.plan.model import Plan
    from crownwright.repair.order import Visits
    from crownwright.service.repair_a_job import RepairTold
    from crownwright.service.summary import Line

Adder = Callable[..., ArgumentParser]


def add_commands(command: Adder) -> None:
    """Put the command among the others."""
    does = "tell the repair below the cap: what was found, what it calls for, what must be done before the cap is cast"
    sub = command("repair", does, repair, job=True)
    sub.add_argument(
        "--weather", metavar="FILE", type=Path, help="lay the work on a forecast: JSON, hourly CSV, EPW, TMY3 or days by hand"
    )
    sub.add_argument("--rules", metavar="FILE", type=Path, help="file of local rules, laid under the job's own")
    sub.add_argument("--fetch", action="store_true", help="lay it on the government forecast for the job's place, asked now")
    sub.add_argument("--zone", metavar="NAME", default="UTC", help="local time of a table or of days by hand: America/Denver")
    sub.add_argument("--findings", action="store_true", help="list the names a finding may have, and what is measured of each")


def repair(args: Namespace) -> Answer:
    """Tell the repair of a job."""
    from crownwright.cli.verbs import bad_job, open_named
    from crownwright.service.plan_a_job import plan_a_job
    from crownwright.service.repair_a_job import tell_repair, visit_lines

    if args.findings:
        return _names()
    opened = open_named(args.job, args.rules)
    if opened.job is None:
        return bad_job(opened)
    with patience("Planning"):
        plan = plan_a_job(opened.job, opened.text, cut_list=False).plan
    told = tell_repair(plan)
    if told is None:
        if plan.survey is None:
            return Answer(Code.NOT_READY, opened.job.title, problems=plan.problems, next="put these right and ask again")
        none = Problem(
            "repair", "nothing was entered of the chimney below the cap", "Add [repair]; docs/repair.md begins with one"
        )
        return Answer(Code.ASKED_WRONG, opened.job.title, problems=(none,), next="add what was found, and ask again")
    if args.weather is None and not args.fetch:
        return _answer(told, opened.name, {"repair": plan.repair, "told": told})
    laid = _on_weather(plan, args)
    if isinstance(laid, Answer):
        return laid
    return _answer(replace(told, visits=visit_lines(laid)), opened.name, {"repair": plan.repair, "told": told, "visits": laid})


def _on_weather(plan: Plan, args: Namespace) -> Visits | Answer:
    """The visits on the days of a forecast."""
    from crownwright.service.repair_a_job import repair_on_weather
    from crownwright.service.weather_for import ask_for_weather, read_weather

    now = datetime.now(UTC)
    with patience("Reading the weather") as shown:
        try:
            if args.fetch:
                hours, problems = ask_for_weather(plan.job, now)
            else:
                hours, problems = read_weather(args.weather.read_bytes(), args.weather.name, plan.job, args.zone, now)
        except OSError as error:
            hours, problems = None, (Problem(str(args.weather), f"it cannot be opened: {error.strerror}", "Look at the name"),)
        if hours is None:
            return Answer(Code.BAD_JOB, plan.job.title, problems=problems, next="give weather that can be read with --weather")
        shown.step("Trying every day")
        laid = repair_on_weather(plan, hours)
    if laid is None:
        return Answer(Code.NOT_READY, plan.job.title, problems=plan.problems, next="put these right and ask again")
    return laid


def _answer(told: RepairTold, name: str, data: dict[str, object]) -> Answer:
    sections = (
        Section("Keeps a cap from being cast", told.stops, numbered=True),
        Section("Found", *_pairs(told.found)),
        Section("What brought on what", told.chains),
        Section("Work", *_pairs(told.work)),
        Section("Buy", *_pairs(told.buys)),
        Section("Before the cap is cast", *_pairs(told.waits)),
        Section("Visits", *_pairs(told.visits)),
        Section("Over the years", *_pairs(told.years)),
        Section("A repellent does not mend", told.not_cured),
        Section("Falls short", told.short, numbered=True),
        Section("Not told", told.untold, numbered=True),
        Section("What is not done", told.not_done),
        Section("Inspection", (told.inspection,)),
    )
    if told.stops:
        then = "have it seen by who is named above before anything is cast; local code and a licensed practitioner decide"
    elif told.problems:
        then = f"put right what is named above in {name}, and ask again"
    else:
        then = f"crownwright papers {name} prints the scope sheet; local code and a licensed practitioner decide"
    return Answer(Code.DONE if told.ready else Code.NOT_READY, told.title, sections, then, data, told.problems)


def _pairs(lines: tuple[Line, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    return tuple(line.says for line in lines), tuple(line.head for line in lines)


def _names() -> Answer:
    """Every name a finding may have."""
    from crownwright.repair.defects import defects

    rows = tuple(defects().values())
    says = tuple(row.says + (f" (measure: {row.measure})" if row.measure else "") for row in rows)
    section = Section("What may be found, from the cap down", says, tuple(row.name for row in rows))
    return Answer(Code.DONE, "", (section,), 'enter them under [repair], seen = [ { what = "..." } ]', {"findings": rows})
