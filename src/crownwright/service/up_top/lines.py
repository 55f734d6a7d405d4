"""Read what can be read of a job's readings: a line with a fault is told and set aside, the others are used."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, TypeVar, get_args

from pydantic import ValidationError

from crownwright.quantity.lengths import Bare
from crownwright.quantity.problems import Problem
from crownwright.service.jobfile.entry import Table, described
from crownwright.service.jobfile.faults import faults_of
from crownwright.service.jobfile.model import DropLine, FlueLine, OffsetLine, TapeLine
from crownwright.service.jobfile.reading import drop_of, flue_of
from crownwright.survey.readings import MasonryKind, Offset, Readings, Tape

KINDS: tuple[MasonryKind, ...] = get_args(MasonryKind)
T = TypeVar("T", bound=Table)
LISTS: tuple[tuple[str, type[Table]], ...] = (
    ("tapes", TapeLine),
    ("offsets", OffsetLine),
    ("drops", DropLine),
    ("flues", FlueLine),
)


@dataclass(frozen=True, slots=True)
class Lines:
    """The readings that could be read, where each of them stands among the lines as typed, and what is wrong with the rest.

    ``at`` maps "tapes" and the others to the places, in the job file's list, of those that were read; ``wrong`` maps (list,
    place) to what is wrong there.
    """

    readings: Readings
    at: Mapping[str, tuple[int, ...]]
    wrong: Mapping[tuple[str, int], tuple[Problem, ...]]


def items_of(table: Mapping[str, Any], name: str) -> list[Any]:
    """A list of the readings as typed; empty where there is none."""
    items = table.get(name)
    return items if isinstance(items, list) else []


def read_lines(table: Mapping[str, Any], bare: Bare | None) -> Lines:
    """Read [readings] line by line."""
    good: dict[str, list[Any]] = {}
    at: dict[str, tuple[int, ...]] = {}
    wrong: dict[tuple[str, int], tuple[Problem, ...]] = {}
    for name, model in LISTS:
        read = {i: _line(model, item, name, i, bare) for i, item in enumerate(items_of(table, name))}
        wrong |= {(name, i): line for i, line in read.items() if isinstance(line, tuple)}
        at[name] = tuple(i for i, line in read.items() if not isinstance(line, tuple))
        good[name] = [read[i] for i in at[name]]
    readings = Readings(
        corners_of(table),
        next((kind for kind in KINDS if kind == table.get("masonry")), KINDS[0]),
        tuple(Tape(**line.typed()) for line in good["tapes"]),
        tuple(Offset(**line.typed()) for line in good["offsets"]),
        tuple(drop_of(line) for line in good["drops"]),
        tuple(flue_of(line) for line in good["flues"]),
    )
    return Lines(readings, at, wrong)


def corners_of(table: Mapping[str, Any]) -> tuple[str, ...]:
    """The corners' names; A to D where none can be read."""
    corners = table.get("corners")
    named = tuple(c for c in corners if isinstance(c, str) and c.strip()) if isinstance(corners, list) else ()
    return named if len(named) >= 3 and len(set(named)) == len(named) else tuple("ABCD")


def _line(model: type[T], item: Any, name: str, place: int, bare: Bare | None) -> T | tuple[Problem, ...]:
    if not isinstance(item, Mapping):
        return (Problem(f"{name}[{place}]", f"{described(item)} is no reading", "Take it out"),)
    try:
        return model.model_validate(item, context={"bare": bare})
    except ValidationError as error:
        faults = [fault for fault in faults_of(error, item, model) if not fault.absent]
        return tuple(Problem(f"{name}[{place}]", fault.what, fault.remedy) for fault in faults)
