"""The days of a job: by the forecast on its shelf or the weather told by hand; and its pour day as the log moves it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent import futures
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from typing import Any

from crownwright.book import jobs, revisions
from crownwright.cure.day_log import DayLog
from crownwright.cure.on_the_day import Revision
from crownwright.plan.the_day import TheDay
from crownwright.quantity.measures import parse_measure
from crownwright.quantity.problems import Problem
from crownwright.service.days_to_pour import DaysTold, days_to_pour, on_the_day
from crownwright.service.desk.merge import merge
from crownwright.service.desk.model import By, Change, Entry, PlanOf
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pairing import new_id
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.shelf import forecast_place, shelve, shelved
from crownwright.service.jobfile import parse_job, write_values
from crownwright.service.jobfile.syntax import parse_toml
from crownwright.service.open_job import open_text
from crownwright.service.plan_a_job import plan_a_job
from crownwright.service.weather_for import place_of, read_weather
from crownwright.weather.fetch import ask_for_layers
from crownwright.weather.hours import zone_of

USUAL_ZONE = "UTC"
Fetch = Callable[[float, float], tuple[bytes | None, str, tuple[Problem, ...]]]


@dataclass(frozen=True, slots=True)
class DaysOf:
    """The days of a job: how it stands (``of``), what was kept for its days, where the weather came from ("" for none), and the
    answer; None with problems where there is none. ``problems`` that stop nothing stand beside an answer too.
    """

    of: PlanOf
    day: TheDay
    weather: str
    told: DaysTold | None
    problems: tuple[Problem, ...]
    mark: str = ""
    """What the answer follows from, hashed."""
    coming: bool = False
    """Whether the answer is still being worked out."""


@dataclass(frozen=True, slots=True)
class PourDay:
    """The pour day: the days it rests on, the log as read, and how the times have moved (None: nothing logged yet)."""

    days: DaysOf
    log: DayLog | None
    revision: Revision | None
    problems: tuple[Problem, ...]


def days_of(
    desk: Desk,
    job: str,
    changes: Iterable[Change] = (),
    *,
    number: int | None = None,
    sure: bool = True,
    wait: float | None = None,
) -> DaysOf:
    """The days to pour for a job as it stands (``number`` None) or stood, or with ``changes`` tried and not kept; KeyError when
    there is no such job or revision.

    It takes some seconds the first time: ``wait`` is how many to wait for it (None: until it is there), after which the answer
    is told as ``coming``. ``sure`` asks besides in how many perturbed forecasts each hour holds.
    """
    with desk.book.reading() as c:
        row = jobs.need(c, job)
        revision = revisions.numbered(c, job, row.head if number is None else number)
    text = with_changes(revision.text, changes)
    opened, plain = open_text(text, "job.toml"), _without_the_day(text)
    of = PlanOf(row, revision.row, text, opened, desk.planner.plan(plain)[1])  # what is logged plans nothing anew
    if opened.job is None:
        return DaysOf(of, TheDay(), "", None, opened.problems)
    day = opened.job.day
    data, name = _weather(desk, job, day)
    if not data:
        remedy = "Ask for the forecast, put a weather file here, or type a few days by hand"
        return DaysOf(of, day, "", None, (Problem("weather", "there is no weather for this job yet", remedy),))
    now = desk.clock().astimezone(UTC).replace(minute=0, second=0, microsecond=0)
    zone = day.zone or USUAL_ZONE
    at = now if name.endswith("json") else None  # only a forecast has hours that go by
    key = ("days", hashlib.sha256(plain.encode() + data).hexdigest(), zone, day.begins, sure, at)
    mark = hashlib.sha256(repr(key).encode()).hexdigest()
    answer = desk.planner.begin(key, plan_the_days, plain, data, name, zone, day.begins, now, sure)
    futures.wait([answer], wait)
    if not answer.done():
        return DaysOf(of, day, name, None, (), mark, coming=True)
    told, problems = answer.result()
    return DaysOf(of, day, name, told, problems, mark)


def with_changes(text: str, changes: Iterable[Change]) -> str:
    """A job's text with changes on it; those that have no place are left out."""
    changes = tuple(changes)
    if not changes:
        return text
    values = parse_toml(text, "job.toml").values
    return write_values(merge(values, values, changes, lambda _: True).values)


def plan_the_days(
    text: str, data: bytes, name: str, zone: str, begins: str, now: datetime, sure: bool
) -> tuple[DaysTold | None, tuple[Problem, ...]]:
    """Plan a job from its text and follow its pour through the weather. Stands alone so that another process can do it."""
    job, problems = parse_job(text)
    if job is None:
        return None, problems
    pour_at = _local(begins, zone)
    if isinstance(pour_at, Problem):
        return None, (pour_at,)
    hours, said = read_weather(data, name, job, zone, now)
    if hours is None:
        return None, said
    told = days_to_pour(plan_a_job(job, text, cut_list=False).plan, hours, pour_at, 1 if sure else None)
    return (None, (told,)) if isinstance(told, Problem) else (told, (*said, *told.days.problems))


def pour_day_of(desk: Desk, job: str, wait: float | None = None) -> PourDay:
    """The pour day of a job as its log moves it; ``wait`` as in `days_of`."""
    days = days_of(desk, job, wait=wait)
    data, problems = log_data(days.day)
    if days.told is None:
        return PourDay(days, None, None, (*days.problems, *problems))
    if problems:
        return PourDay(days, None, None, problems)
    told = days.told
    if not any(data.values()):
        return PourDay(days, DayLog(), None, days.problems)
    key = ("pour day", days.mark, json.dumps(data, sort_keys=True))
    revision, log, faults = desk.planner.work(key, on_the_day, told.days, data)
    return PourDay(days, log, revision, (*days.problems, *faults))


def log_data(day: TheDay) -> tuple[dict[str, list[dict[str, Any]]], tuple[Problem, ...]]:
    """The log of a day as `parse_log` wants it: measures as typed made numbers, SI; every fault at once."""
    problems: list[Problem] = []
    batches = [_numbers(f"batch {n}", asdict(row), problems) for n, row in enumerate(day.batches, 1)]
    taken = [_numbers(f"temperature {n}", asdict(row), problems) for n, row in enumerate(day.temperatures, 1)]
    events = [asdict(row) for row in day.events]
    return {"batches": batches, "temperatures": taken, "events": events}, tuple(problems)


def _numbers(where: str, row: Mapping[str, str], problems: list[Problem]) -> dict[str, Any]:
    made: dict[str, Any] = {}
    for key, typed in row.items():
        if typed == "" and key in ("water", "temperature"):
            continue
        if key in ("at", "place"):
            made[key] = typed
            continue
        value = _number(typed) if key == "bags" else parse_measure(typed, "volume" if key == "water" else "temperature", where)
        if isinstance(value, Problem) or value is None:
            what = value.what if isinstance(value, Problem) else f"“{typed}” is not a number of bags"
            problems.append(Problem(where, what, "Type it again, or take the line out of the log"))
        else:
            made[key] = value * 1000 if key == "water" else value  # a litre of water weighs a kilogram
    return made


def _number(typed: str) -> float | None:
    try:
        return float(typed)
    except ValueError:
        return None


def keep_forecast(desk: Desk, job: str, name: str, data: bytes) -> Sequence[Problem]:
    """Put a weather file on the job's shelf; the problems where it cannot be used, and then nothing is put there."""
    from crownwright.service.desk.plan_of import plan_of

    opened = plan_of(desk, job, cut_list=False).opened
    if opened.job is None:
        return opened.problems
    hours, problems = read_weather(data, name, opened.job, opened.job.day.zone or USUAL_ZONE, desk.clock())
    if hours is None:
        return problems
    kept = shelve(desk, forecast_place(job), name, data)
    return (kept,) if isinstance(kept, Problem) else ()


def fetch_for(desk: Desk, by: By, job: str, fetch: Fetch = ask_for_layers) -> Sequence[Problem]:
    """Ask the forecast service for the job's place, keep what it sends and the name of the local time; problems when offline."""
    from crownwright.service.desk.plan_of import plan_of

    of = plan_of(desk, job, cut_list=False)
    if of.opened.job is None:
        return of.opened.problems
    place = place_of(of.opened.job, USUAL_ZONE)
    if isinstance(place, Problem):
        return (place,)
    body, zone, problems = fetch(place.latitude, place.longitude)
    if body is None:
        return problems
    if of.opened.job.day.zone != zone:
        save_entry(desk, by, Entry(new_id(), job, of.revision.number, (Change("day.zone", zone),)))
    return keep_forecast(desk, job, "forecast.json", body)


def _weather(desk: Desk, job: str, day: TheDay) -> tuple[bytes, str]:
    """The weather told by hand where there is any (it was typed for a reason), else the forecast on the shelf."""
    if day.weather:
        return by_hand(day).encode(), "told by hand"
    file = shelved(desk, forecast_place(job))
    return (file.data, file.name) if file else (b"", "")


def by_hand(day: TheDay) -> str:
    """Weather told by hand as the file it could have been."""
    blocks = []
    for told in day.weather:
        rows = [
            f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in asdict(told).items() if value and key != "on"
        ]
        blocks.append("\n".join(["[[day]]", f"on = {told.on}", *rows]))
    return "\n\n".join(blocks) + "\n"


def _without_the_day(text: str) -> str:
    """A job's text without what is kept of its days: what is logged changes no plan."""
    values = parse_toml(text, "job.toml").values
    values.pop("day", None)
    return write_values(values)


def _local(begins: str, zone: str) -> datetime | Problem | None:
    if not begins:
        return None
    try:
        at = datetime.fromisoformat(begins)
        return at if at.tzinfo else at.replace(tzinfo=zone_of(zone))
    except ValueError:
        return Problem("day.begins", f"“{begins[:40]}” is not an hour of a day", "Write it like 2026-05-16T12:00")
