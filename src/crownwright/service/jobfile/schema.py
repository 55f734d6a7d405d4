"""The job file described for machines (JSON Schema) and for people (tables of keys), both from the model that reads it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import MISSING, dataclass, fields
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from crownwright.cap.choices import CapChoices
from crownwright.concrete.batches import Site
from crownwright.concrete.choices import ConcreteChoices, usual_concrete
from crownwright.concrete.strip import Stripping
from crownwright.cure.inputs import Care, CureChoices, Limits
from crownwright.form.choices import FormChoices
from crownwright.plan.day_choices import DayChoices
from crownwright.plan.job import Job, Units
from crownwright.price.choices import OldCap
from crownwright.repair.choices import FlashingChoices, OrderChoices, RepellentChoices, YearsChoices
from crownwright.repair.record import RebuildChoices, RepointChoices
from crownwright.service.jobfile.entry import LENGTH_SCHEMA, READING_SCHEMA, TEXT_SCHEMA, Kind
from crownwright.service.jobfile.model import JobFile
from crownwright.service.jobfile.writing import printed
from crownwright.survey.readings import QuickReadings

_FILLS: Mapping[str, type] = {
    "": Job,
    "cap": CapChoices,
    "form": FormChoices,
    "concrete": ConcreteChoices,
    "quick": QuickReadings,
    "pour": DayChoices,
    "pour.site": Site,
    "pour.cure": CureChoices,
    "pour.cure.care": Care,
    "pour.cure.limits": Limits,
    "pour.stripping": Stripping,
    "quote.old_cap": OldCap,
    "repair.repoint": RepointChoices,
    "repair.rebuild": RebuildChoices,
    "repair.flashing": FlashingChoices,
    "repair.repellent": RepellentChoices,
    "repair.order": OrderChoices,
    "repair.years": YearsChoices,
}
"""Which tables fill which Python model, for the usual values."""


@dataclass(frozen=True, slots=True)
class Key:
    """One key as it is documented: where, its name, whether it is needed, what it means, and the usual value (text)."""

    table: str
    name: str
    needed: bool
    says: str
    usual: str


def job_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a job file, as TOML values."""
    schema: dict[str, Any] = _tidy(JobFile.model_json_schema())
    own = {"reading": READING_SCHEMA, "length": LENGTH_SCHEMA, "measure": TEXT_SCHEMA}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Crownwright job file",
        **schema,
        "oneOf": [{"required": ["readings"]}, {"required": ["quick"]}],
        "$defs": {**own, **schema["$defs"]},
    }


def job_keys(units: Units = "us") -> Iterator[Key]:
    """Every key of a job file, table by table in the order of the job; a list's lines are a table of their own.

    What is usual is written in ``units``.
    """
    yield from _keys(JobFile, "", units)


def table_notes() -> dict[str, str]:
    """What each table is for, by its name."""
    return {name: " ".join((model.__doc__ or "").split()) for name, model in _tables(JobFile, "")}


def _keys(model: type[BaseModel], table: str, units: Units) -> Iterator[Key]:
    usual = _usual(table, units)
    for name, info in model.model_fields.items():
        yield Key(table, name, info.is_required(), _says(info), usual.get(name, ""))
    for name, inner in _inner(model, table):
        yield from _keys(inner, name, units)


def _says(info: FieldInfo) -> str:
    """What a key says, with the words that may stand there where it is a choice and they are not all told already."""
    words, told = _choices(info.annotation), info.description or ""
    if all(word.replace("_", " ") in told.lower() for word in words):
        return told
    return f"{told}; one of: {', '.join(words)}"


def _choices(annotation: Any) -> tuple[str, ...]:
    """The words of a choice; none where anything may be typed."""
    if get_origin(annotation) is Literal:
        return tuple(map(str, get_args(annotation)))
    return next((found for part in get_args(annotation) if (found := _choices(part))), ())


def _tables(model: type[BaseModel], table: str) -> Iterator[tuple[str, type[BaseModel]]]:
    yield table, model
    for name, inner in _inner(model, table):
        yield from _tables(inner, name)


def _inner(model: type[BaseModel], table: str) -> Iterator[tuple[str, type[BaseModel]]]:
    for name, info in model.model_fields.items():
        for part in (info.annotation, *get_args(info.annotation)):
            if isinstance(part, type) and issubclass(part, BaseModel):
                yield f"{table}.{name}".removeprefix("."), part


def _usual(table: str, units: Units) -> dict[str, str]:
    """The default of each key in text, where it has one that is not just empty."""
    model = _FILLS.get(table)
    if model is None:
        return {}
    infos = JobFile.model_fields if not table else _model_of(table).model_fields
    usual = {f.name: f.default if f.default_factory is MISSING else f.default_factory() for f in fields(model)}
    if model is ConcreteChoices:  # bags are sold by other weights where they are sold by the kilogram
        usual = {name: getattr(usual_concrete(units), name) for name in usual}
    plain = {name: value for name, value in usual.items() if isinstance(value, str | float | int) and value != ""}
    return {name: _text(infos[name], value, units) for name, value in plain.items() if name in infos}


def _model_of(table: str) -> type[BaseModel]:
    return dict(_tables(JobFile, ""))[table]


def _text(info: FieldInfo, value: Any, units: Units) -> str:
    kind = next((mark.name for mark in info.metadata if isinstance(mark, Kind)), None)
    if kind:
        return printed(kind, value, units)
    if isinstance(value, float):
        return f"{value:.4g}"
    return str(value).lower() if isinstance(value, bool) else str(value)


def _tidy(node: Any) -> Any:
    """One definition for what is said everywhere; no empty defaults (TOML has no null), no titles made from names."""
    if isinstance(node, list):
        return [_tidy(part) for part in node]
    if not isinstance(node, dict):
        return node
    for name, shared in (("reading", READING_SCHEMA), ("length", LENGTH_SCHEMA), ("measure", TEXT_SCHEMA)):
        if shared.items() <= node.items():
            # bounds are in SI and hold for what is typed only once it is read
            rest = {key: part for key, part in node.items() if key == "description"}
            return {"$ref": f"#/$defs/{name}", **rest}
    made = isinstance(node.get("title"), str)
    return {
        key: _tidy(part)
        for key, part in node.items()
        if not (key == "title" and made) and not (key == "default" and part is None)
    }
