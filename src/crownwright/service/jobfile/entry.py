"""The kinds of value a job file holds, each read by the one module that knows its language. Nothing but text and numbers comes
in; a length read on the roof keeps what was typed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from math import isfinite, pi
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, PlainValidator, StringConstraints, ValidationInfo, WithJsonSchema
from pydantic_core import PydanticCustomError

from crownwright.quantity.lengths import Bare, Reading, parse_length
from crownwright.quantity.measures import Dimension, parse_measure
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import DAY
from crownwright.service.jobfile.syntax import TypedFloat
from crownwright.survey.readings import Length

BARE_DEFAULT: dict[str, Bare | None] = {"us": "in", "metric": None}
"""The unit of a bare number where the job does not say: inches; but a metric job may mean mm or cm, so it has to say."""
MOST_SIZE = 30.0  # m; no part of a cap, form or board is longer
TEXT_SCHEMA: dict[str, Any] = {"type": "string", "minLength": 1, "maxLength": 80}
LENGTH_SCHEMA: dict[str, Any] = {"anyOf": [TEXT_SCHEMA, {"type": "number"}]}
READING_SCHEMA: dict[str, Any] = {
    "anyOf": [
        TEXT_SCHEMA,
        {"type": "number"},
        {
            "type": "object",
            "properties": {"reads": LENGTH_SCHEMA, "sd": LENGTH_SCHEMA},
            "required": ["reads"],
            "additionalProperties": False,
        },
    ]
}


class Table(BaseModel):
    """A table of the job file: only the keys that are known, nothing guessed."""

    # built when first read: building each table for itself and then again inside the job would be twice the work
    model_config = ConfigDict(
        strict=True, extra="forbid", allow_inf_nan=False, frozen=True, arbitrary_types_allowed=True, defer_build=True
    )

    def typed(self) -> dict[str, Any]:
        """The values that were typed, by key; what was left out keeps the default of the thing it goes into."""
        return {key: getattr(self, key) for key in type(self).model_fields if key in self.model_fields_set}


@dataclass(frozen=True, slots=True)
class Kind:
    """Marks how a value is written back: a reading, a length, or a measure."""

    name: Literal["reading", "length"] | Dimension


def complaint(what: str, remedy: str) -> PydanticCustomError:
    """An error that carries our own words through the model to the list of problems."""
    return PydanticCustomError("told", "{what}. {remedy}", {"what": what, "remedy": remedy})


def read_text_length(value: Any, bare: Bare | None) -> Reading | Problem:
    """Read one length. ``bare`` None: a number without a unit is taken only where mm and cm come to the same (0)."""
    text = as_text(value)
    if text is None:
        return Problem("", f"{described(value)} is not a length", 'Type it like "51 1/2"')
    if bare is not None:
        return parse_length(text, bare)
    one, other = parse_length(text, "mm"), parse_length(text, "cm")
    if isinstance(one, Reading) and isinstance(other, Reading) and one.metres != other.metres:
        return Problem(
            "", f"“{text}” has no unit, and a metric job may mean mm or cm", 'Add the unit, or put bare_numbers = "mm" at the top'
        )
    return one


def as_text(value: Any) -> str | None:
    """What was typed for a text or a number; None for anything else, and for numbers that are none (nan, inf)."""
    if isinstance(value, str):
        return value
    if isinstance(value, TypedFloat):
        return value.typed if isfinite(value) else None
    if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
        return None
    return str(value)


def described(value: Any) -> str:
    """A value as it can be shown in a problem, short."""
    if isinstance(value, dict):
        return "a table { }"
    if isinstance(value, list):
        return "a list [ ]"
    if isinstance(value, bool):
        return f"“{str(value).lower()}”"
    text = as_text(value)
    text = str(value) if text is None else text
    return f"“{text[:40]}...”" if len(text) > 43 else f"“{text}”"


def _bare(info: ValidationInfo) -> Bare | None:
    return (info.context or {}).get("bare")


def _metres(value: Any, info: ValidationInfo) -> float:
    read = read_text_length(value, _bare(info))
    if isinstance(read, Problem):
        raise complaint(read.what, read.remedy)
    return read.metres


def _size(value: Any, info: ValidationInfo) -> float:
    metres = _metres(value, info)
    if not 0 <= metres <= MOST_SIZE:
        raise complaint(
            f"{described(value)} is {'less than nothing' if metres < 0 else 'too long for this'}", "Look at the sign and the unit"
        )
    return metres


def _reading(value: Any, info: ValidationInfo) -> Length:
    """A length as read: text, or a table { reads, sd } with the reading's own standard error."""
    if not isinstance(value, dict):
        read = read_text_length(value, _bare(info))
        if isinstance(read, Problem):
            raise complaint(read.what, read.remedy)
        return Length(read.metres, as_text(value) or "")
    if set(value) - {"reads", "sd"} or "reads" not in value:
        raise complaint("a reading's table holds reads, and sd if you like", 'Write { reads = "51 1/2", sd = "1/4" }')
    length = _reading(value["reads"], info)
    if "sd" not in value:
        return length
    sd = _metres(value["sd"], info)
    if sd <= 0:
        raise complaint(f"sd {described(value['sd'])} is not more than nothing", "Give the reading's standard error, like 1/4")
    return replace(length, sd=sd)


def _bounded(least: float, most: float, says: str) -> Callable[[float], float]:
    """A check that a number lies in a range, both ends allowed."""

    def check(value: float) -> float:
        if not least <= value <= most:
            raise complaint(f"that is {says}", "Look at the number and its unit")
        return value

    return check


def _measure(dimension: Dimension, least: float, most: float, says: str) -> Callable[[Any], float]:
    within = _bounded(least, most, says)

    def read(value: Any) -> float:
        text = as_text(value)
        found = (
            parse_measure(text, dimension)
            if text is not None
            else Problem("", f"{described(value)} is not text", "Put it in quotes")
        )
        if isinstance(found, Problem):
            raise complaint(found.what, found.remedy)
        return within(found)

    return read


POINTS = ("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW")
"""Points of the compass, clockwise."""


def _compass(value: Any) -> float:
    """A point of the compass, or degrees from north.

    >>> round(_compass("SW") / pi, 6), round(_compass("225 deg") / pi, 6)
    (1.25, 1.25)
    """
    text = as_text(value)
    if text is not None and text.strip().upper() in POINTS:
        return POINTS.index(text.strip().upper()) * pi / 8
    try:
        return _measure("angle", 0.0, 2 * pi, "no direction from 0 to 360 deg")(value)
    except PydanticCustomError:
        raise complaint(f"{described(value)} is no point of the compass", "Write N, NE, SSW ... or degrees: 225 deg") from None


def _day(value: Any) -> str:
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, str):
        return value
    raise complaint(f"{described(value)} is not a date", "Write it like 2026-05-03")


def _money(value: Any) -> str:
    text = as_text(value)
    parts = (text or "").split(".")
    if not 1 <= len(parts) <= 2 or not all(part.isascii() and part.isdigit() for part in parts) or len(text or "") > 12:
        raise complaint(f"{described(value)} is not a price", 'Write it like "12.50", no sign of the currency')
    return text or "0"


_LENGTH = WithJsonSchema(LENGTH_SCHEMA)
Text = Annotated[str, StringConstraints(strip_whitespace=True, max_length=200)]
Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=40)]
LongText = Annotated[str, StringConstraints(max_length=20_000)]
Day = Annotated[str, BeforeValidator(_day), WithJsonSchema({"type": "string"})]
Read = Annotated[Length, PlainValidator(_reading), WithJsonSchema(READING_SCHEMA), Kind("reading")]
Metres = Annotated[float, BeforeValidator(_metres), _LENGTH, Kind("length")]
Size = Annotated[float, BeforeValidator(_size), _LENGTH, Kind("length")]
_MEASURE = WithJsonSchema(TEXT_SCHEMA)
Angle = Annotated[float, BeforeValidator(_measure("angle", -pi, pi, "more than half a turn")), _MEASURE, Kind("angle")]
Slope = Annotated[float, BeforeValidator(_measure("angle", 0.0, 1.5, "no slope up to upright")), _MEASURE, Kind("angle")]
Pressure = Annotated[float, BeforeValidator(_measure("pressure", 0.0, 1e5, "no load on a roof")), _MEASURE, Kind("pressure")]
Speed = Annotated[float, BeforeValidator(_measure("speed", 0.0, 150.0, "no wind on earth")), _MEASURE, Kind("speed")]
Density = Annotated[float, BeforeValidator(_measure("density", 300.0, 5000.0, "no concrete")), _MEASURE, Kind("density")]
Mass = Annotated[float, BeforeValidator(_measure("mass", 0.0, 100.0, "not to be added to one bag")), _MEASURE, Kind("mass")]
Volume = Annotated[float, BeforeValidator(_measure("volume", 0.0, 0.1, "not to be added to one bag")), _MEASURE, Kind("volume")]
Warming = Annotated[float, BeforeValidator(_measure("warming", 0.0, 1500.0, "no flue")), _MEASURE, Kind("warming")]
Share = Annotated[float, BeforeValidator(_measure("share", 0.0, 1.0, "not a share from 0 to 100 %")), _LENGTH, Kind("share")]
Force = Annotated[float, BeforeValidator(_measure("force", 0.0, 1e5, "no pull or load on a roof")), _MEASURE, Kind("force")]
Area = Annotated[float, BeforeValidator(_measure("area", 0.0, 1e3, "not in the way of a chimney")), _MEASURE, Kind("area")]
Body = Annotated[float, BeforeValidator(_measure("mass", 20.0, 400.0, "no person with his tools")), _MEASURE, Kind("mass")]
Degrees = Annotated[
    float, BeforeValidator(_measure("temperature", -60.0, 1500.0, "no temperature met here")), _MEASURE, Kind("temperature")
]
Pail = Annotated[float, BeforeValidator(_measure("volume", 1e-3, 0.1, "no bucket")), _MEASURE, Kind("volume")]
Mild = Annotated[
    float,
    BeforeValidator(_measure("temperature", -40.0, 80.0, "no temperature to mix or place in")),
    _MEASURE,
    Kind("temperature"),
]
Time = Annotated[float, BeforeValidator(_measure("time", 0.0, 60 * DAY, "no time for this")), _MEASURE, Kind("time")]
Insulation = Annotated[float, BeforeValidator(_measure("insulation", 0.0, 5.0, "no blanket")), _MEASURE, Kind("insulation")]
Drying = Annotated[float, BeforeValidator(_measure("drying", 0.0, 0.01, "no evaporation")), _MEASURE, Kind("drying")]
Compass = Annotated[float, BeforeValidator(_compass), _MEASURE, Kind("angle")]
"""A direction clockwise from north, rad."""
Rain = Annotated[float, BeforeValidator(_measure("rain", 0.0, 500.0, "no rain or snow of one hour")), _MEASURE, Kind("rain")]
"""Depth of rain or snow in an hour, mm."""
Limits = Annotated[dict[str, Any], WithJsonSchema({"type": "object", "additionalProperties": LENGTH_SCHEMA})]
"""Limits of the code set by name. Each is read by the unit of its rule, which only the code set knows (`names.limits`)."""
Limit = Annotated[Any, WithJsonSchema(LENGTH_SCHEMA)]
"""A limit of a rule, read likewise."""
Price = Annotated[str, PlainValidator(_money), _LENGTH]
