"""Where on the pages the thing is that a problem speaks of: its name there, and its address. Lines and keys are for files."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from crownwright.quantity.problems import Problem
from crownwright.service.desk.paths import value_at
from crownwright.service.desk.words import name_of, said
from crownwright.web.views.choices import CAP, DAYS, FORM, POUR, RULES

_LABELS = {
    choice.path: (choice.label, sheet)
    for sheet, sets in (("rules", RULES), ("days", DAYS), ("pour", POUR), ("form", FORM), ("cap", CAP))
    for one in sets
    for choice in one.choices
}
_OWN = {
    "surroundings.latitude": ("where the chimney stands", "days#latitude", "Type both numbers as a map shows them"),
    "surroundings.longitude": ("where the chimney stands", "days#longitude", "Type both numbers as a map shows them"),
    "day.zone": ("local time", "days#zone", ""),
    "day.begins": ("the hour chosen", "days", ""),
}
"""Places with a field of their own: its name, its address, and what to do there where a file would want something else."""
_SHEETS = (
    ("readings", "up-top"), ("quick", "up-top"), ("surroundings", "up-top"),
    ("day.batches", "pour-day"), ("day.temperatures", "pour-day"),
    ("day.events", "pour-day"), ("day", "days"),
    ("cap", "cap"), ("form", "form"), ("concrete", "pour"), ("pour", "days"), ("checks", "rules"), ("repair", "found"),
    ("condition", "found"), ("quote", "money"), ("price", "money"),
)  # fmt: skip
ABOUT = ("title", "customer", "place", "mason", "read_on", "notes", "units", "bare_numbers", "code_set", "overrides", "rules")
"""Keys whose fields stand on the page about the job itself."""
_BARE_NUMBERS = ('put bare_numbers = "mm" at the top', "say under About the job what a bare number is in")
"""A line of a job file, and where a page asks for the same."""
_KEY = re.compile(r"[a-z_]+(\[\d+\])?(\.[a-z_]+(\[\d+\])?)*")


@dataclass(frozen=True, slots=True)
class Placed:
    """A problem as a page tells it: what it is about by its name there ("" where that says nothing), where to put it right (""
    for nowhere), what is wrong, what to do, and whether it stops the plan.
    """

    where: str
    href: str
    what: str
    remedy: str
    stops: bool


def placed(problems: Iterable[Problem], job: str, values: Mapping[str, Any] | None = None) -> tuple[Placed, ...]:
    """Problems with their places on the pages of a job; ``values`` as typed name readings by their corners."""
    return tuple(_placed(problem, job, values or {}) for problem in problems)


def named(path: str) -> str:
    """What a place of the job file is called on the pages.

    >>> named("cap.overhang_wanted"), named("readings.tapes[start=A,end=C].reads"), named("signed_by")
    ('Overhang to aim at', 'tape AC', 'signed by')
    """
    return _OWN[path][0] if path in _OWN else _LABELS[path][0] if path in _LABELS else name_of(path)


def bare(where: str) -> str:
    """A place without the line of the file.

    >>> bare("line 76, readings.tapes[5].reads"), bare("tape AC")
    ('readings.tapes[5].reads', 'tape AC')
    """
    return re.sub(r"^(\S+, )?line \d+(, |$)", "", where)


def _placed(problem: Problem, job: str, values: Mapping[str, Any]) -> Placed:
    key = re.sub(r"\.(\d+)(?=\.|$)", r"[\1]", bare(problem.where))
    path = re.sub(r"\[(\d+)\]", lambda found: f"[{int(found[1]) - 1}]", key)  # a file counts from 1, a path from 0
    name, sheet, remedy = _place(key, path, values)
    href = f"/job/{job}/{sheet}" if sheet else ""
    return Placed(name, href, problem.what, remedy or problem.remedy.replace(*_BARE_NUMBERS), problem.stops)


def _place(key: str, path: str, values: Mapping[str, Any]) -> tuple[str, str, str]:
    """Name, address within the job, and what to do there in place of what a file would want."""
    if path in _OWN:
        return _OWN[path]
    if path in _LABELS:
        label, sheet = _LABELS[path]
        return label, f"{sheet}#{path.replace('.', '-')}", ""
    if path.partition(".")[0].partition("[")[0] in ABOUT:
        return name_of(path), f"about#set-{path}" if "." not in path else "about", ""
    if re.match(r"(tape|flue|drop|offset)s? ", key):
        return key, "up-top" + _asks(key), ""
    if re.fullmatch(r"day\.[a-z_]+", path):
        return "the weather", "days", ""  # a kind of weather that a file lacks
    if not _KEY.fullmatch(key):
        return ": ".join(key.split(".")), "", ""  # "weather table.snow": a column of a file
    sheet = next((sheet for begins, sheet in _SHEETS if re.match(rf"{re.escape(begins)}(?![a-z_])", path)), "")
    name = _named(path, values) if sheet or "[" in path else key
    return name, sheet + (_asks(name.partition(":")[0]) if sheet == "up-top" else ""), ""


def _asks(name: str) -> str:
    """The end of an address at which the readings ask for that one."""
    tape, flue = re.fullmatch(r"tape ([A-Z])-?([A-Z]\w*)", name), re.fullmatch(r"flue (\w+)", name)
    if tape:
        return f"?at=tape:{tape[1]}-{tape[2]}#ask"
    return f"?at=flue:{flue[1]}#ask" if flue else ""


def _named(path: str, values: Mapping[str, Any]) -> str:
    """A place in words, an item of a list by what it says where it says something: tape AC rather than tape 5."""
    name = name_of(path)
    steps: list[str | int] = [int(part) if part.isdecimal() else part for part in re.findall(r"[a-z_]+|\d+", path)]
    for k, step in enumerate(steps):
        item = value_at(values, tuple(steps[: k + 1])) if isinstance(step, int) else None
        if isinstance(item, Mapping) and said(item):
            name = name.replace(f" {int(step) + 1}", f" {said(item)}", 1)
    return name
