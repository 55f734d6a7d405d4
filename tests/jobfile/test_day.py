"""What is kept for the days: it reads, comes back the same, and a slip in it never stops the job."""

from __future__ import annotations

from dataclasses import fields

import pytest
from pydantic import BaseModel

from crownwright.plan.the_day import BatchLogged, EventLogged, TemperatureLogged, TheDay, WeatherTold
from crownwright.service.jobfile import model, parse_job, write_job

TEXT = """
title = "Kiln row"

[quick]
length = "48"
width = "36"
masonry = "brick"

[day]
zone = "America/New_York"
begins = "2026-05-16T12:00"
weather = [
  { on = "2026-05-16", high = "64 F", low = "46 F", wind = "10 mph", humidity = "60 %", sky = "clear" },
]
batches = [ { at = "2026-05-16 12:05", bags = "2", temperature = "warm as a hand" } ]
events = [ { at = "yesterday", what = "rain", note = "a shower" } ]
"""


def test_it_reads_whatever_was_typed_and_comes_back_the_same() -> None:
    job, problems = parse_job(TEXT)
    assert problems == ()
    assert job is not None
    assert job.day.batches == (BatchLogged("2026-05-16 12:05", "2", "", "warm as a hand"),)
    assert parse_job(write_job(job))[0] == job


@pytest.mark.parametrize(
    ("table", "filled"),
    [
        (model.DayTable, TheDay),
        (model.WeatherLine, WeatherTold),
        (model.BatchLine, BatchLogged),
        (model.TemperatureLine, TemperatureLogged),
        (model.EventLine, EventLogged),
    ],
)
def test_the_file_and_the_python_model_have_the_same_names(table: type[BaseModel], filled: type) -> None:
    assert set(table.model_fields) == {field.name for field in fields(filled)}
