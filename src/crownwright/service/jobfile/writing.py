"""From a job to the text of its job file: readings exactly as they were typed, choices only where they are not the usual ones."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import date, time
from decimal import Decimal
from typing import Any, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from crownwright.codes.cap_rules import RULES, Rule
from crownwright.concrete.choices import ConcreteChoices, usual_concrete
from crownwright.plan.job import Job, Units
from crownwright.quantity.display import LONG
from crownwright.quantity.lengths import Bare, Reading, parse_length, print_length
from crownwright.quantity.measures import print_measure
from crownwright.quantity.units import FOOT
from crownwright.service.jobfile.entry import BARE_DEFAULT, Kind, read_text_length
from crownwright.service.jobfile.model import JobFile, QuickTable
from crownwright.service.jobfile.syntax import TypedFloat
from crownwright.survey.readings import Length, QuickReadings

Value = str | int | float | bool | list[Any] | dict[str, Any]


def write_job(job: Job) -> str:
    """The text of a job file that reads back as the same job, number for number.

    What was typed is written as it was typed; a length that was never typed (a job made in Python) is written so that it reads
    back exactly.
    """
    bare = _bare_of(job)
    table = _Writer(bare, job.units).table(JobFile, job)
    survey = "quick" if isinstance(job.readings, QuickReadings) else "readings"
    if bare != BARE_DEFAULT[job.units] and bare is not None:
        table["bare_numbers"] = bare
    if survey == "quick":
        table["quick"] = table.pop("readings")
    order = [key for key in JobFile.model_fields if key in table]
    return _document({key: table[key] for key in order})


def write_values(values: Mapping[str, Any]) -> str:
    """The text of a job file with these values as they were typed, known keys in the order of the job.

    Nothing is checked: it keeps what was typed on a roof, right or wrong, and `parse_job` tells what is wrong with it.

    >>> write_values({"readings": {"tapes": [{"start": "A", "end": "B", "reads": "53 1/2"}]}, "title": "x"})
    'title = "x"\\n\\n[readings]\\ntapes = [\\n  { start = "A", end = "B", reads = "53 1/2" },\\n]\\n'
    """
    order = [*(key for key in JobFile.model_fields if key in values), *(key for key in values if key not in JobFile.model_fields)]
    return _document({key: values[key] for key in order}, order)


def printed(kind: str, value: float, units: Units = "us") -> str:
    """A choice as it would be written in a job file of those units: a length, or a measure of that kind.

    >>> printed("length", 0.0254), printed("angle", 0.17453292519943295)
    ('1 in.', '10 deg')
    """
    return str(_Writer(BARE_DEFAULT[units], units).text(kind, value))


def _bare_of(job: Job) -> Bare | None:
    """The unit in which the job's bare numbers were typed: the first in which most of them come to their metres."""
    typed = [length for length in _lengths(job.readings) if length.typed]
    tries: tuple[Bare | None, ...] = ("in", "ft") if job.units == "us" else (None, "mm", "cm", "m")
    return max(tries, key=lambda bare: sum(_reads_back(length, bare) for length in typed))


def _lengths(thing: Any) -> Iterator[Length]:
    if isinstance(thing, Length):
        yield thing
    elif isinstance(thing, tuple):
        for part in thing:
            yield from _lengths(part)
    elif is_dataclass(thing):
        for field in fields(thing):
            yield from _lengths(getattr(thing, field.name))


def _reads_back(length: Length, bare: Bare | None) -> bool:
    read = read_text_length(length.typed, bare)
    return isinstance(read, Reading) and read.metres == length.metres


class _Writer:
    """Walks a model and the thing it describes side by side."""

    def __init__(self, bare: Bare | None, units: str) -> None:
        self.bare = bare
        self.units: Any = units

    def table(self, model: type[BaseModel], thing: Any) -> dict[str, Value]:
        """The keys of a model that the thing fills with anything but the usual."""
        out: dict[str, Value] = {}
        usual = self.usual(thing)
        for key, info in model.model_fields.items():
            if key == "quick":
                continue
            value = _part(thing, key)
            if info.is_required() or (value is not None and value != usual.get(key, ())):
                out[key] = self.value(info, value)
        return out

    def usual(self, thing: Any) -> Mapping[str, Any]:
        """The defaults of the thing; those of the concrete go by the job's units."""
        if isinstance(thing, ConcreteChoices):
            return {row.name: getattr(usual_concrete(self.units), row.name) for row in fields(thing)}
        known = _usual(thing)
        return {**known, "concrete": usual_concrete(self.units)} if isinstance(thing, Job) else known

    def value(self, info: FieldInfo, value: Any) -> Value:
        kind = next((mark.name for mark in info.metadata if isinstance(mark, Kind)), None)
        inner = _models_in(info.annotation)
        if info.annotation == dict[str, Any]:
            return {key: self.limit(key, limit) for key, limit in value}
        if isinstance(value, tuple):
            each = _kind_of_items(info.annotation)
            return [self.text(each, part) if each else self.item(inner, part) for part in value]
        if kind is not None:
            return self.text(kind, value)
        return self.table(_pick(inner, value), value) if inner else value

    def item(self, inner: list[type[BaseModel]], part: Any) -> Value:
        if isinstance(part, Length):
            return self.reading(part)
        if isinstance(part, Rule):
            return self.rule(part)
        return self.table(inner[0], part) if inner else part

    def text(self, kind: str, value: Any) -> Value:
        if kind == "reading":
            return self.reading(value)
        return self.length(value) if kind == "length" else print_measure(value, kind, self.units)  # type: ignore[arg-type]

    def reading(self, length: Length) -> Value:
        typed = length.typed if length.typed and _reads_back(length, self.bare) else self.length(length.metres)
        return typed if length.sd is None else {"reads": typed, "sd": self.length(length.sd)}

    def length(self, metres: float) -> str:
        """The plainest text that reads back as these metres to the last bit. (3 * FOOT is not 36 * INCH in its last bit.)"""
        feet = f"{metres / FOOT:.2f}".rstrip("0").rstrip(".") + " ft"
        inches = [print_length(metres, "in.", 16), print_length(metres, "in.", 64)]
        us = [feet, *inches] if abs(metres) >= LONG else [*inches, feet]
        metric = [print_length(metres, "mm")]
        tries = us + metric if self.units == "us" else metric + us
        exact = format(Decimal(repr(metres)), "f") + " m"
        return next((text for text in tries if _is(text, metres)), exact)

    def rule(self, rule: Rule) -> Value:
        """A local rule as its line: its bounds in the unit of the rule."""
        line: dict[str, Value] = {"rule": rule.name, "says": rule.says, "document": rule.cite.clause}
        bounds = {"at_least": rule.at_least, "at_most": rule.at_most}
        line |= {key: self._bound(rule, key, bound) for key, bound in bounds.items() if bound is not None}
        return line if rule.asks is None else {**line, "asks": rule.asks}

    def _bound(self, rule: Rule, key: str, bound: float) -> str:
        return self.limit(f"{rule.name}.{key}", bound) if rule.name in RULES else self.length(bound)

    def limit(self, key: str, value: float) -> str:
        from crownwright.codes.cap_rules import local_rule

        unit = local_rule(key, value).unit
        if unit == "m":
            return self.length(value)
        return print_measure(value, "angle", self.units) if unit == "rad" else format(Decimal(repr(value)), "f")


def _is(text: str, metres: float) -> bool:
    read = parse_length(text, "in")
    return isinstance(read, Reading) and read.metres == metres


def _part(thing: Any, key: str) -> Any:
    """A field of the thing by its key; a drop's place stands among the drop's own keys, and a doorstep flue says above_stone."""
    place = getattr(thing, "place", None)
    if is_dataclass(place) and hasattr(place, key):
        return getattr(place, key)
    return getattr(thing, "above_string" if key == "above_stone" else key, None)


def _usual(thing: Any) -> Mapping[str, Any]:
    """The defaults of the thing (and of the place in it)."""
    place = getattr(thing, "place", None)
    rows: list[Field[Any]] = [*fields(thing), *(fields(place) if is_dataclass(place) else ())]
    known = {row.name: row.default for row in rows if row.default is not MISSING}
    return known | {row.name: row.default_factory() for row in rows if row.default_factory is not MISSING}


def _models_in(annotation: Any) -> list[type[BaseModel]]:
    return [part for part in (annotation, *get_args(annotation)) if isinstance(part, type) and issubclass(part, BaseModel)]


def _kind_of_items(annotation: Any) -> str | None:
    """The kind of measure that a list holds; None for a list of tables or names."""
    lists = [part for part in (annotation, *get_args(annotation)) if get_origin(part) is list]
    marks = [mark for part in lists for mark in getattr(get_args(part)[0], "__metadata__", ())]
    return next((mark.name for mark in marks if isinstance(mark, Kind) and mark.name != "reading"), None)


def _pick(inner: list[type[BaseModel]], value: Any) -> type[BaseModel]:
    return QuickTable if isinstance(value, QuickReadings) else inner[0]


def _document(table: Mapping[str, Value], always: Collection[str] = ("readings", "quick")) -> str:
    """TOML: plain keys first, then a [table] each, a line to a reading; empty tables only where they say something."""
    plain = {key: value for key, value in table.items() if not isinstance(value, dict)}
    tables = {key: value for key, value in table.items() if isinstance(value, dict)}
    blocks = [
        _pairs(plain),
        *(f"[{_key(key)}]\n{_pairs(value)}" for key, value in tables.items() if value or key in always),
    ]
    return "\n\n".join(blocks) + "\n"


def _pairs(table: Mapping[str, Value]) -> str:
    return "\n".join(f"{_key(key)} = {_block(value)}" for key, value in table.items())


def _block(value: Value) -> str:
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return "[\n" + "".join(f"  {_inline(item)},\n" for item in value) + "]"
    return _inline(value)


def _inline(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(key)} = {_inline(part)}" for key, part in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_inline(part) for part in value) + "]"
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, TypedFloat):
        return value.typed
    if isinstance(value, date | time):
        return value.isoformat()
    return str(value).lower() if isinstance(value, bool) else repr(value)


def _key(key: str) -> str:
    return key if key.replace("_", "").replace("-", "").isalnum() and key.isascii() else _quoted(key)


def _quoted(text: str) -> str:
    if '"' in text and "'" not in text and text.isprintable():
        return f"'{text}'"
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
