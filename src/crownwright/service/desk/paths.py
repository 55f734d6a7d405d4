"""Where in a job a value stands: paths in the words of the job file, read and followed in its plain values."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, Final

from crownwright.quantity.problems import Problem

Step = str | int
LONGEST = 200
MOST_PARTS = 12  # the job file has places five deep
MOST_ITEMS = 2000


@dataclass(frozen=True, slots=True)
class Which:
    """An item of a list by what it says: the ``nth`` (from 1) in which every one of ``says`` stands."""

    says: tuple[tuple[str, str], ...]
    nth: int = 1


@dataclass(frozen=True, slots=True)
class New:
    """A new item at the end of a list."""


Part = str | int | Which | New


class _Nothing:
    __slots__ = ()

    def __repr__(self) -> str:
        return "NOTHING"


NOTHING: Final = _Nothing()
"""What stands where nothing stands."""

_KEY = re.compile(r"\.?([A-Za-z0-9_-]+|\"[^\"\\]{1,80}\")")
_ITEM = re.compile(r"\[(?:(\d{1,5})|(\+)|([^\[\]]{1,120}?)(?:#(\d{1,3}))?)\]")


def read_path(text: str) -> tuple[Part, ...] | Problem:
    """Read a path.

    >>> read_path("readings.tapes[start=A,end=B].reads")
    ('readings', 'tapes', Which(says=(('start', 'A'), ('end', 'B')), nth=1), 'reads')
    >>> read_path("readings.drops[+]"), read_path("readings.corners[2]")
    (('readings', 'drops', New()), ('readings', 'corners', 2))
    """
    parts: list[Part] = []
    at = 0
    while at < len(text) <= LONGEST:
        found = (_KEY if not text.startswith("[", at) else _ITEM).match(text, at)
        part = _part(found) if found else None
        if found is None or part is None or (not parts and not isinstance(part, str)):
            break
        parts.append(part)
        at = found.end()
    if not parts or at < len(text) or len(parts) > MOST_PARTS:
        return Problem(text[:60], "that is no place in a job", "Name it like readings.tapes[start=A,end=B].reads")
    return tuple(parts)


def _part(found: re.Match[str]) -> Part | None:
    if found.re is _KEY:
        return found[1].strip('"')
    if found[1]:
        return int(found[1])
    if found[2]:
        return New()
    pairs = [pair.partition("=") for pair in found[3].split(",")]
    if not all(key.strip() and is_ for key, is_, _ in pairs):
        return None
    return Which(tuple((key.strip(), value.strip()) for key, _, value in pairs), int(found[4] or 1))


def follow(values: Any, path: tuple[Part, ...]) -> tuple[Step, ...] | None:
    """The path with every item by its place in ``values``; None where it leads to an item that is not there.

    A key that is not there is still a place: a value may be put under it.
    """
    steps: list[Step] = []
    for part in path:
        step = part if isinstance(part, str) else _place(values, part)
        if step is None:
            return None
        steps.append(step)
        values = _inside(values, step)
    return tuple(steps)


def _place(values: Any, part: int | Which | New) -> int | None:
    items = values if isinstance(values, list) else []
    if isinstance(part, int):
        return part if part < len(items) else None
    if isinstance(part, New):
        return None
    those = [i for i, item in enumerate(items) if _says(item, part)]
    return those[part.nth - 1] if 0 < part.nth <= len(those) else None


def _says(item: Any, which: Which) -> bool:
    return isinstance(item, dict) and all(str(item.get(key)) == value for key, value in which.says)


def value_at(values: Any, steps: tuple[Step, ...] | None) -> Any:
    """What stands at a place; `NOTHING` where nothing does."""
    if steps is None:
        return NOTHING
    for step in steps:
        values = _inside(values, step)
    return values


def _inside(values: Any, step: Step) -> Any:
    if isinstance(values, dict):
        return values.get(step, NOTHING)
    if isinstance(values, list) and isinstance(step, int) and step < len(values):
        return values[step]
    return NOTHING


def put(values: dict[str, Any], path: tuple[Part, ...], value: Any) -> Problem | None:
    """Put a value at a path, making the tables, lists and items on the way that are not there; a problem where it cannot be."""
    here: Any = values
    for k, part in enumerate(path):
        last = k == len(path) - 1
        if isinstance(part, str):
            if not isinstance(here, dict):
                return _no_place(path)
            if last:
                here[part] = value
            else:
                here = here.setdefault(part, {} if isinstance(path[k + 1], str) else [])
            continue
        if not isinstance(here, list):
            return _no_place(path)
        at = _place(here, part)
        if at is None:
            if isinstance(part, int) or len(here) >= MOST_ITEMS:
                return _no_place(path)
            here.append(dict(part.says) if isinstance(part, Which) else {})
            at = len(here) - 1
        if last:
            here[at] = _with_names(value, part)
        else:
            here = here[at]
    return None


def _with_names(value: Any, part: int | Which | New) -> Any:
    """An item put by what it says goes on saying it."""
    return {**dict(part.says), **value} if isinstance(part, Which) and isinstance(value, dict) else value


def take(values: Any, steps: tuple[Step, ...]) -> None:
    """Take away what stands at a place; nothing happens where nothing stands."""
    holder = value_at(values, steps[:-1])
    if isinstance(holder, dict):
        holder.pop(steps[-1], None)
    elif isinstance(holder, list) and isinstance(steps[-1], int) and steps[-1] < len(holder):
        del holder[steps[-1]]


def _no_place(path: tuple[Part, ...]) -> Problem:
    return Problem(spelt(path), "there is no such place in the job any more", "Look at the job as it stands, and type it again")


def spelt(path: tuple[Part, ...]) -> str:
    """A path as text again.

    >>> spelt(read_path("readings.tapes[start=A,end=B#2].reads"))
    'readings.tapes[start=A,end=B#2].reads'
    """
    return "".join(map(_spelt, path)).removeprefix(".")


def _spelt(part: Part) -> str:
    match part:
        case str():
            return "." + part
        case Which(says, nth):
            return "[" + ",".join(f"{key}={value}" for key, value in says) + (f"#{nth}" if nth > 1 else "") + "]"
        case New():
            return "[+]"
        case _:
            return f"[{part}]"
