"""A job's text and its values as they were typed, without planning anything."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from crownwright.book import revisions
from crownwright.service.desk.open_desk import Desk
from crownwright.service.jobfile.syntax import parse_toml


def text_of(desk: Desk, job: str) -> str:
    """The job file of a job as it stands; KeyError when there is no such job."""
    with desk.book.reading() as c:
        return revisions.newest(c, job).text


def values_as_typed(desk: Desk, job: str) -> Mapping[str, Any]:
    """Its values by key, as typed; none where the text cannot be read."""
    return parse_toml(text_of(desk, job), "job.toml").values
