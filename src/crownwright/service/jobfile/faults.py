"""What the model or the cross-check found wrong, told as problems: line, key, value as typed, what is wrong, what to do."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from crownwright.quantity.problems import Problem
from crownwright.service.jobfile.entry import Kind, described
from crownwright.service.jobfile.model import JobFile
from crownwright.service.jobfile.places import Path, key_lines, line_of
from crownwright.service.jobfile.writing import printed

MOST_TOLD = 200


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong at a path of the file; ``absent`` where what is wrong is that nothing is there."""

    path: Path
    what: str
    remedy: str
    absent: bool = False


def faults_of(error: ValidationError, raw: Mapping[str, Any], top: type[BaseModel] = JobFile) -> list[Fault]:
    """Every fault the model ``top`` found in the values as typed (``raw``), in the order of the job."""
    rows = error.errors(include_url=False)
    return [
        _fault(row["type"], row["loc"], _typed(raw, row["loc"], row["input"]), row.get("ctx", {}), row["msg"], top)
        for row in rows
    ]


def _typed(raw: Any, path: Path, otherwise: Any) -> Any:
    """The value as typed at a path: what the model complains of may have been turned into metres already."""
    try:
        for part in path:
            raw = raw[part]
    except (KeyError, IndexError, TypeError):
        return otherwise
    return raw


def told(faults: Iterable[Fault], lines: Mapping[Path, int], name: str) -> tuple[Problem, ...]:
    """Faults as problems in the order of their lines, each thing told once; more than anybody reads are only counted."""
    rows = sorted({(fault.path, fault.what): fault for fault in faults}.values(), key=lambda f: line_of(lines, f.path) or 0)
    problems = [Problem(_where(fault.path, lines, name), fault.what, fault.remedy) for fault in rows[:MOST_TOLD]]
    if len(rows) > MOST_TOLD:
        problems.append(Problem(name, f"{len(rows) - MOST_TOLD} more faults", "Put these right first"))
    return tuple(problems)


def with_lines(problems: Iterable[Problem], text: str) -> tuple[Problem, ...]:
    """Problems that the survey found in the readings ("tapes[3]", "tape AC", "flue F1"), with their line of the job file.

    >>> with_lines([Problem("tape AB", "x", "y")], '[readings]\\ntapes = [\\n  { start = "B", end = "A" },\\n]')[0].where
    'line 3, tape AB'
    """
    problems = tuple(problems)
    if not problems or not text:
        return problems
    lines = key_lines(text)
    problems = tuple(_repaired(problem, lines) for problem in problems)
    table = "quick" if ("quick",) in lines else "readings"
    said = _said_paths(tomllib.loads(text).get(table, {}), table)
    return tuple(_placed(problem, table, lines, said) for problem in problems)


def _placed(problem: Problem, table: str, lines: Mapping[Path, int], said: Mapping[str, Path]) -> Problem:
    if problem.where in said:
        return replace(problem, where=f"line {line_of(lines, said[problem.where])}, {problem.where}")
    found = re.fullmatch(r"([a-z_]+)(?:\[(\d+)\])?(.*)", problem.where)
    path: Path = (table, found[1], int(found[2])) if found and found[2] else (table, found[1]) if found else ()
    if not found or path not in lines:
        return problem
    return replace(problem, where=f"line {lines[path]}, {key_path(path)}{found[3]}")


def _repaired(problem: Problem, lines: Mapping[Path, int]) -> Problem:
    """A problem of the repair ("repair.seen[2].face", counted from 1) with its line of the job file."""
    found = re.fullmatch(r"repair\.([a-z_]+)(?:\[(\d+)\])?(?:\.([a-z_]+)(?:\[\d+\])?)?", problem.where)
    if not found:
        return problem
    path: Path = ("repair", found[1], *([int(found[2]) - 1] if found[2] else []), *([found[3]] if found[3] else []))
    line = line_of(lines, path)
    return replace(problem, where=f"line {line}, {problem.where}") if line else problem


def _said_paths(table: Mapping[str, Any], name: str) -> dict[str, Path]:
    """Where the readings stand that the survey calls by what they are; of several of one name, the last read."""
    said: dict[str, Path] = {}
    for i, tape in enumerate(table.get("tapes", ())):
        for one, other in ((tape.get("start"), tape.get("end")), (tape.get("end"), tape.get("start"))):
            said |= {f"tape {one}{other}": (name, "tapes", i), f"tape {one}-{other}": (name, "tapes", i)}
    for i, offset in reversed(list(enumerate(table.get("offsets", ())))):
        said[f"offsets of {offset.get('side')}"] = (name, "offsets", i)
    for i, flue in enumerate(table.get("flues", ())):
        said[f"flue {flue.get('name')}"] = (name, "flues", i)
    return said


def key_path(path: Path) -> str:
    """A path as a person says it, list places counted from 1.

    >>> key_path(("readings", "tapes", 3, "reads"))
    'readings.tapes[4].reads'
    """
    return "".join(f"[{part + 1}]" if isinstance(part, int) else f".{part}" for part in path).removeprefix(".")


def fields_at(path: Path, top: type[BaseModel] = JobFile) -> Mapping[str, FieldInfo]:
    """The keys a model knows in the table at a path; none where there is no table."""
    model = top
    for part in path:
        if isinstance(part, int):
            continue
        inner = model.model_fields.get(part)
        found = None if inner is None else _table_in(inner.annotation)
        if found is None:
            return {}
        model = found
    return model.model_fields


def _table_in(annotation: Any) -> type[BaseModel] | None:
    for part in (annotation, *get_args(annotation)):
        if isinstance(part, type) and issubclass(part, BaseModel):
            return part
    return None


def _where(path: Path, lines: Mapping[Path, int], name: str) -> str:
    line = line_of(lines, path)
    where = key_path(path) or name
    return f"line {line}, {where}" if line else where


def _fault(kind: str, path: Path, value: Any, ctx: Mapping[str, Any], message: str, top: type[BaseModel]) -> Fault:
    if kind == "told":
        return Fault(path, ctx["what"], ctx["remedy"])
    if kind == "missing":
        field = fields_at(path[:-1], top).get(str(path[-1]))
        says = f": {field.description}" if field and field.description else ""
        return Fault(path, f"“{path[-1]}” is missing", f"Add {path[-1]}{says}", absent=True)
    if kind == "extra_forbidden":
        return _unknown(path, top)
    if kind == "literal_error":
        return Fault(path, f"{described(value)} is not one of {ctx['expected']}", _nearest(str(value), ctx["expected"]))
    what, remedy = _PLAIN.get(
        kind, (message[:1].lower() + message[1:], "Look at the description of this key in docs/job-file.md")
    )
    for name, limit in ctx.items():
        says = _limit_says(path, limit, top)
        what, remedy = what.replace(f"<{name}>", says), remedy.replace(f"<{name}>", says)
    return Fault(path, f"{described(value)} {what}", remedy)


def _limit_says(path: Path, limit: Any, top: type[BaseModel]) -> str:
    """A limit of a key in the units it is typed in."""
    field = fields_at(path[:-1], top).get(str(path[-1]))
    kind = next((mark.name for mark in (field.metadata if field else ()) if isinstance(mark, Kind)), None)
    if not isinstance(limit, int | float):
        return str(limit)
    return printed(kind, limit) if kind else f"{limit:g}"


# Kinds of the model's errors that a job file can raise, in our words: what is wrong, what to do.
_PLAIN: Mapping[str, tuple[str, str]] = {
    "string_type": ("is not text", "Put it in quotes"),
    "string_too_short": ("is empty", "Write something, or leave the line out"),
    "string_too_long": ("is longer than <max_length> letters", "Write it shorter, or put it in notes"),
    "bool_type": ("is neither true nor false", "Write true or false, without quotes"),
    "int_type": ("is not a whole number", "Write a whole number, without quotes"),
    "float_type": ("is not a number", "Write a number, without quotes"),
    "finite_number": ("is not a number", "Write a number, without quotes"),
    "greater_than_equal": ("is less than <ge>", "Write <ge> or more"),
    "less_than_equal": ("is more than <le>", "Write <le> or less"),
    "greater_than": ("is not more than <gt>", "Write more than <gt>"),
    "list_type": ("is not a list", "Put it in square brackets: [ ... ]"),
    "too_short": ("is too short a list: it needs <min_length>", "Write what is missing"),
    "too_long": ("is too long: it takes <max_length> at most", "Take out what is too much"),
    "model_type": ("is not a table", "Write it as a table: its keys below a line [name], or { key = value } on one line"),
    "dict_type": ("is not a table", "Write it as a table: its keys below a line [name], or { key = value } on one line"),
}


def _unknown(path: Path, top: type[BaseModel]) -> Fault:
    key = str(path[-1])
    known = list(fields_at(path[:-1], top))
    near = get_close_matches(key, known, n=1)
    remedy = f"Did you mean “{near[0]}”?" if near else "Take it out"
    return Fault(path, f"there is no key “{key[:40]}” here", f"{remedy} Keys here: {', '.join(known)}")


def _nearest(value: str, expected: str) -> str:
    choices = [part.strip("' ") for part in expected.replace(" or ", ", ").split(",")]
    near = get_close_matches(value, choices, n=1, cutoff=0.4)
    return f"Write “{near[0]}”, if you meant that" if near else "Write one of these"
