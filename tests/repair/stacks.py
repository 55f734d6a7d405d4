"""A brick stack and a stone one for the repair's tests, and how a record of one is written."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from crownwright.plan.job import Job
from crownwright.plan.model import Plan
from crownwright.plan.plan_job import plan_job
from crownwright.quantity.units import INCH
from crownwright.repair.build import plan_repair
from crownwright.repair.model import RepairPlan
from crownwright.repair.record import Look, RepairRecord, Sample, Seen
from crownwright.repair.stack import Stack, stack_of
from crownwright.service.jobfile import read_job
from crownwright.survey.adjust import adjust
from crownwright.survey.model import Survey
from crownwright.survey.readings import Length

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@cache
def job(name: str = "repair-first") -> Job:
    found, problems = read_job(EXAMPLES / f"{name}.toml")
    assert found is not None, problems
    return found


@cache
def survey(name: str = "repair-first") -> Survey:
    found, problems = adjust(job(name).readings)
    assert found is not None, problems
    return found


@cache
def plan(name: str = "repair-first") -> Plan:
    return plan_job(job(name), cut_list=False)


def stack(record: RepairRecord | None = None, name: str = "repair-first") -> Stack:
    record = record or job(name).repair or RepairRecord()
    return stack_of(survey(name), job(name).surroundings, record.units)


def repair(record: RepairRecord, name: str = "repair-first") -> RepairPlan:
    return plan_repair(record, survey(name), job(name).surroundings)


def of(inches: float) -> Length:
    return Length(inches * INCH, f"{inches:g}")


def record(*seen: Seen, **more: Any) -> RepairRecord:
    return RepairRecord(seen=seen, **more)


def seen(what: str, **more: Any) -> Seen:
    for key in ("measure", "over", "offset", "along"):
        if isinstance(more.get(key), int | float):
            more[key] = of(more[key])
    return Seen(what, **more)


def sample(face: str, failed: float, joints: float | None = 120.0, side: float = 16.0, **more: Any) -> Sample:
    more = {key: of(value) for key, value in more.items()}
    return Sample(face, of(side), of(side), of(failed), None if joints is None else of(joints), **more)


def looked(**parts: str) -> tuple[Look, ...]:
    return tuple(Look(part.replace("_", " "), how) for part, how in parts.items())  # type: ignore[arg-type]


def with_example(**more: Any) -> RepairRecord:
    whole = job().repair
    assert whole is not None
    return replace(whole, **more)
