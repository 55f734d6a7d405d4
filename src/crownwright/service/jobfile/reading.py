"""From a job file to a job: all that is wrong with it at once, or the job."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path as File
from typing import Any

from pydantic import ValidationError

from crownwright.cap.choices import CapChoices
from crownwright.checks.choices import Appliance, CheckChoices, People, StrapChoices
from crownwright.codes.cap_rules import Rule
from crownwright.concrete.batches import Site
from crownwright.concrete.choices import usual_concrete
from crownwright.concrete.strip import Stripping
from crownwright.cure.inputs import Care, CureChoices
from crownwright.cure.inputs import Limits as HourLimits
from crownwright.form.choices import FormChoices, Stock
from crownwright.plan.day_choices import DayChoices
from crownwright.plan.job import Job
from crownwright.plan.the_day import BatchLogged, EventLogged, TemperatureLogged, TheDay, WeatherTold
from crownwright.quantity.findings import Waiver
from crownwright.quantity.lengths import Bare
from crownwright.quantity.problems import Problem
from crownwright.service.jobfile.entry import BARE_DEFAULT
from crownwright.service.jobfile.faults import Fault, faults_of, told
from crownwright.service.jobfile.model import (
    ApplianceLine,
    CapTable,
    ChecksTable,
    ConcreteTable,
    DayTable,
    DropLine,
    FlueShape,
    FormTable,
    JobFile,
    PourTable,
    QuickTable,
    ReadingsTable,
    SurroundingsTable,
)
from crownwright.service.jobfile.names import limits, local_rules, name_faults
from crownwright.service.jobfile.places import key_lines
from crownwright.service.jobfile.quote_tables import quote_of
from crownwright.service.jobfile.repair_tables import repair_of
from crownwright.service.jobfile.syntax import parse_toml
from crownwright.survey.readings import (
    AtCorner,
    ByTies,
    Drop,
    Flue,
    HigherThing,
    Offset,
    OnSide,
    Place,
    QuickReadings,
    Readings,
    Surroundings,
    Tape,
)

BIGGEST = 4_000_000  # bytes; a job of two thousand readings is a thirtieth of this
Outcome = tuple[Job | None, tuple[Problem, ...]]


def read_job(path: File) -> Outcome:
    """Read a job file from disk. Whatever is wrong with the file or in it comes back as problems, all at once; no job then."""
    text, problems = read_text(path)
    return (None, problems) if text is None else parse_job(text, path.name)


def read_text(path: File) -> tuple[str | None, tuple[Problem, ...]]:
    """Read the text of a job file, or say why it cannot be one."""
    try:
        if path.is_dir():
            return _no(path.name, "is a folder, not a job file", f"Name the file in it: {path / 'job.toml'}")
        if path.stat().st_size > BIGGEST:
            return _no(
                path.name,
                f"is {path.stat().st_size / 1e6:.0f} MB big",
                "A job file is a page of text; look whether it is the right file",
            )
        data = path.read_bytes()
    except FileNotFoundError:
        return _no(str(path), "there is no such file", "Look at the name, or begin with the one that crownwright demo writes")
    except (OSError, ValueError) as error:
        return _no(
            str(path),
            f"the file cannot be opened: {getattr(error, 'strerror', None) or error}",
            "Look at the name and who may read it",
        )
    return decode(data, path.name)


def decode(data: bytes, name: str) -> tuple[str | None, tuple[Problem, ...]]:
    """The text of a job file's bytes, with or without a byte-order mark; a problem with its line where it is not UTF-8."""
    try:
        return data.decode("utf-8-sig"), ()
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        return _no(f"{name}, line {line}", "the file is not UTF-8 text", "Save it again as UTF-8 from your editor")


def parse_job(text: str, name: str = "job file") -> Outcome:
    """Read a job from the text of a job file; ``name`` is what the text is called where a problem has no line.

    Returns the job and no problems that stop it, or no job and every problem there is.

    >>> job, problems = parse_job('title = "x"\\n[quick]\\nmasonry = "brik"')
    >>> [p.where for p in problems]
    ['line 2, quick.length', 'line 2, quick.width', 'line 3, quick.masonry']
    """
    text = text.replace("\r\n", "\n")
    if not text.strip():
        return _no(name, "the file is empty", "Begin with the one that crownwright demo writes")
    toml = parse_toml(text, name)
    bare = bare_unit(toml.values)
    faults: list[Fault] = []
    model = None
    try:
        model = JobFile.model_validate(toml.values, context={"bare": bare})
    except ValidationError as error:
        faults = faults_of(error, toml.values)
    faults += name_faults(toml.values, bare)
    if toml.problems:  # what seems missing may stand on a line that could not be read
        faults = [fault for fault in faults if not fault.absent]
    problems = toml.problems if toml.problems and not toml.values else (*toml.problems, *_told(faults, toml.text, name))
    if problems or model is None:
        return None, problems
    return _job(model, limits(toml.values, bare)[0], local_rules(toml.values, bare)[0]), ()


def _no(where: str, what: str, remedy: str) -> tuple[None, tuple[Problem, ...]]:
    return None, (Problem(where, what, remedy),)


def _told(faults: list[Fault], text: str, name: str) -> tuple[Problem, ...]:
    return told(faults, key_lines(text), name) if faults else ()


def bare_unit(values: Mapping[str, Any]) -> Bare | None:
    """The unit of a number without one in a job of these values; None where a metric job does not say."""
    named: dict[Any, Bare] = {"in": "in", "ft": "ft", "mm": "mm", "cm": "cm", "m": "m"}
    said, units = values.get("bare_numbers"), values.get("units", "us")
    if isinstance(said, str) and said in named:
        return named[said]
    return BARE_DEFAULT.get(units, "in") if isinstance(units, str) else "in"


def _job(model: JobFile, overrides: tuple[tuple[str, float], ...], rules: tuple[Rule, ...]) -> Job:
    typed = model.typed()
    typed.pop("bare_numbers", None)
    survey = typed.pop("readings", None) or typed.pop("quick")
    typed["readings"] = _readings(survey) if isinstance(survey, ReadingsTable) else _quick(survey)
    if overrides:
        typed["overrides"] = overrides
    else:
        typed.pop("overrides", None)
    typed["rules"] = rules
    usual = usual_concrete(model.units or "us")
    typed.setdefault("concrete", ConcreteTable())
    makers = {
        "surroundings": _surroundings,
        "cap": _cap,
        "form": _form,
        "concrete": lambda t: replace(usual, **t.typed()),
        "checks": _checks,
        "pour": _pour,
        "day": _day,
        "quote": quote_of,
        "repair": repair_of,
    }
    for key, make in makers.items():
        if key in typed:
            typed[key] = make(typed[key])  # type: ignore[operator]
    return Job(**typed)


def _readings(table: ReadingsTable) -> Readings:
    return Readings(
        corners=tuple(table.corners),
        masonry=table.masonry,
        tapes=tuple(Tape(**line.typed()) for line in table.tapes or ()),
        offsets=tuple(Offset(**line.typed()) for line in table.offsets or ()),
        drops=tuple(drop_of(line) for line in table.drops or ()),
        flues=tuple(flue_of(line) for line in table.flues or ()),
    )


def _quick(table: QuickTable) -> QuickReadings:
    return QuickReadings(**{**table.typed(), "flues": tuple(flue_of(line) for line in table.flues or ())})


def drop_of(line: DropLine) -> Drop:
    """A drop from its line."""
    typed = line.typed()
    rest = {key: typed.pop(key) for key in ("below", "extreme") if key in typed}
    place: type[Place] = AtCorner if "corner" in typed else OnSide if "side" in typed else ByTies
    return Drop(place(**typed), **rest)


def flue_of(line: FlueShape) -> Flue:
    """A flue from its line."""
    typed = line.typed()
    if "above_stone" in typed:
        typed["above_string"] = typed.pop("above_stone")
    return Flue(**{**typed, "outside": tuple(line.outside), "inside": tuple(line.inside or ())})


def _surroundings(table: SurroundingsTable) -> Surroundings:
    return Surroundings(**{**table.typed(), "higher": tuple(HigherThing(**line.typed()) for line in table.higher or ())})


def _cap(table: CapTable) -> CapChoices:
    typed = table.typed()
    if table.joint_waived is not None:
        typed["joint_waived"] = Waiver(table.joint_waived.by, table.joint_waived.reason)
    return CapChoices(**typed)


def _form(table: FormTable) -> FormChoices:
    typed = table.typed()
    if table.stock is not None:
        typed["stock"] = tuple(Stock(**line.typed()) for line in table.stock)
    return FormChoices(**typed)


def _checks(table: ChecksTable) -> CheckChoices:
    typed = table.typed()
    makers = {"strap": StrapChoices, "people": People}
    typed |= {key: make(**typed[key].typed()) for key, make in makers.items() if key in typed}
    if table.appliances is not None:
        typed["appliances"] = tuple(_appliance(line) for line in table.appliances)
    typed |= {key: tuple(typed[key]) for key in ("covered", "uncovered") if key in typed}
    return CheckChoices(**typed)


def _pour(table: PourTable) -> DayChoices:
    typed = table.typed()
    if table.site is not None:
        typed["site"] = Site(**table.site.typed())
    if table.stripping is not None:
        typed["stripping"] = Stripping(**table.stripping.typed())
    if table.cure is not None:
        cure = table.cure.typed()
        cure |= {key: make(**cure[key].typed()) for key, make in (("care", Care), ("limits", HourLimits)) if key in cure}
        typed["cure"] = CureChoices(**cure)
    return DayChoices(**typed)


def _day(table: DayTable) -> TheDay:
    typed = table.typed()
    makers: dict[str, type] = {
        "weather": WeatherTold,
        "batches": BatchLogged,
        "temperatures": TemperatureLogged,
        "events": EventLogged,
    }
    lists = {key: tuple(make(**line.typed()) for line in typed[key]) for key, make in makers.items() if key in typed}
    return TheDay(**{**typed, **lists})


def _appliance(line: ApplianceLine) -> Appliance:
    typed = line.typed()
    if line.opening is not None:
        typed["opening"] = tuple(line.opening)
    return Appliance(**typed)
