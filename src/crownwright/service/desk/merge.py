"""Put the changes of an entry on a job that may have moved on since the entry was typed."""

from __future__ import annotations

import copy
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Any

from crownwright.quantity.problems import Problem
from crownwright.service.desk.model import UNKNOWN, Change
from crownwright.service.desk.paths import NOTHING, New, Part, Step, follow, put, read_path, spelt, take, value_at

Values = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Clash:
    """A change that met another: at ``path`` stands ``theirs`` by now, and ``mine`` came second (`NOTHING`: taken away)."""

    path: str
    theirs: Any
    mine: Any


@dataclass(frozen=True, slots=True)
class Merged:
    """The job's values with what could be put on them; ``done`` the changes that made a difference, (path, before, after)."""

    values: Values
    done: tuple[tuple[str, Any, Any], ...]
    clashes: tuple[Clash, ...]
    problems: tuple[Problem, ...]


def merge(head: Values, base: Values, changes: tuple[Change, ...], own: Callable[[tuple[Part, ...]], bool]) -> Merged:
    """Put changes, typed by somebody who saw ``base``, on ``head``. ``own`` says whether a place was last changed by himself."""
    values = copy.deepcopy(head)
    done: list[tuple[str, Any, Any]] = []
    clashes: list[Clash] = []
    problems: list[Problem] = []
    for change in changes:
        path = read_path(change.path)
        if isinstance(path, Problem):
            problems.append(path)
            continue
        before = follow(base, path)
        here = follow_moved(base, values, path, before)
        theirs, mine = value_at(values, here), NOTHING if change.remove else change.value
        saw = value_at(base, before) if change.was is UNKNOWN else NOTHING if change.was is None else change.was
        if same(theirs, mine):
            continue
        if not same(theirs, saw) and not own(path):
            clashes.append(Clash(spelt(path), theirs, mine))
            continue
        trouble = _apply(values, path, here, mine)
        if trouble:
            problems.append(trouble)
        else:
            done.append((spelt(path), theirs, mine))
    return Merged(values, tuple(done), tuple(clashes), tuple(problems))


def _apply(values: Values, path: tuple[Part, ...], here: tuple[Step, ...] | None, mine: Any) -> Problem | None:
    if mine is NOTHING:
        if here is not None:
            take(values, here)
        return None
    return put(values, path if here is None or isinstance(path[-1], New) else here, mine)


def follow_moved(base: Any, head: Any, path: tuple[Part, ...], before: tuple[Step, ...] | None) -> tuple[Step, ...] | None:
    """Where a path leads in ``head``: an item named by its place in ``base`` is looked for where it has moved to."""
    if before is None:
        return follow(head, path)
    steps: list[Step] = []
    for part, step in zip(path, before, strict=True):
        if isinstance(part, int):
            moved = _moved(base, head, int(step))
            if moved is None:
                return None
            steps.append(moved)
        elif isinstance(part, str):
            steps.append(part)
        else:
            found = follow(head, (part,))
            if found is None:
                return None
            steps.append(found[0])
        base, head = value_at(base, (step,)), value_at(head, (steps[-1],))
    return tuple(steps)


def _moved(base: Any, head: Any, at: int) -> int | None:
    """Where item ``at`` of a list stands in the list as it is by now; an item that was changed keeps its place among the rest."""
    if not isinstance(base, list) or not isinstance(head, list):
        return None
    for kind, b0, b1, h0, h1 in SequenceMatcher(None, _marks(base), _marks(head), autojunk=False).get_opcodes():
        if b0 <= at < b1:
            place = h0 + at - b0
            return place if kind in ("equal", "replace") and place < h1 else None
    return None


def _marks(items: list[Any]) -> list[str]:
    return [repr(_plain(item)) for item in items]


def same(one: Any, other: Any) -> bool:
    """Whether two values say the same: as typed, whether it came as text or as a number."""
    return bool(_plain(one) == _plain(other))


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _plain(part) for key, part in sorted(value.items())}
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    typed = getattr(value, "typed", None)
    return typed if typed is not None else value if isinstance(value, bool) or value is NOTHING else str(value)
