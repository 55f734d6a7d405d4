"""The sample job, for a book that has none: invented from end to end, its dates counted from the day it is laid in."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from importlib import resources
from zoneinfo import ZoneInfo

from crownwright.book.jobs import Work
from crownwright.quantity.problems import Problem
from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.list_jobs import list_jobs
from crownwright.service.desk.model import By, JobRow
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.shelf import forecast_place, shelve

SAMPLE = "sample"
WEEK = "invented-for-the-sample.csv"
"""What its weather is called on every page: nobody shall take it for a forecast."""
ZONE = "America/New_York"
READ = -3
BED, POUR = 4, 5
"""Days from the day it is laid in; ten days are told, and these two are fair."""
BEGINS = 7
MIX = '[pour]\nbags = "70 F"\nwater = "100 F"\n'
"""Bags from the warm, warm water and an early hour: so it sets by daylight even in December."""


def lay_in_sample(desk: Desk, by: By) -> JobRow | None:
    """Put the sample job into an empty book, agreed, with ten days of invented weather and its pour chosen; None where there are
    jobs, or were: one taken out does not come back.
    """
    if any(list_jobs(desk, deleted=deleted, most=1).count for deleted in (False, True)):
        return None
    today = desk.clock().astimezone(ZoneInfo(ZONE)).date()
    work = Work("agreed", str(today + timedelta(days=BED)))
    row = begin_from_text(desk, by, SAMPLE, sample_text(today), "begun as a sample, to look at", work)
    if isinstance(row, Problem):
        return None
    shelve(desk, forecast_place(SAMPLE), WEEK, sample_weather(today))
    return row


def sample_text(today: date) -> str:
    """The sample's job file as it would be on a day."""
    read_on = f'read_on = "{today + timedelta(days=READ)}"'
    text = re.sub("(?m)^read_on = .*$", read_on, _packed("crownwright.service", "demo.toml"))
    begins = f"{today + timedelta(days=POUR)}T{BEGINS:02d}:00"
    return f'{text}\n{MIX}\n[day]\nzone = "{ZONE}"\nbegins = "{begins}"\n'


def sample_weather(today: date) -> bytes:
    """Ten days of invented hours as a weather table, from the first hour of a day on; the packed table only numbers them."""
    first = datetime(today.year, today.month, today.day, tzinfo=ZoneInfo(ZONE)).astimezone(UTC)
    head, *rows = _packed("crownwright.service.desk", "sample_week.csv").splitlines()
    told = (row.partition(",") for row in rows)
    hours = [f"{first + timedelta(hours=int(hour)):%Y-%m-%dT%H:%M+00:00},{rest}" for hour, _, rest in told]
    return "\n".join((head, *hours, "")).encode()


def _packed(package: str, name: str) -> str:
    return resources.files(package).joinpath(name).read_text(encoding="utf-8")
