"""How the readings of a top stand, from the text of its job; and the change that a value typed at one of its steps makes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from itertools import chain
from typing import Any

from crownwright.plan.job import Units
from crownwright.quantity.lengths import Bare
from crownwright.quantity.problems import Problem
from crownwright.service.closing import MOST_SLIPS, words_of
from crownwright.service.desk.model import UNKNOWN, Change
from crownwright.service.jobfile.reading import bare_unit
from crownwright.service.jobfile.syntax import parse_toml
from crownwright.service.up_top.lines import LISTS, Lines, read_lines
from crownwright.service.up_top.model import Step, UpTop
from crownwright.service.up_top.on_phone import phone_numbers
from crownwright.service.up_top.sketch import sketch_of
from crownwright.service.up_top.steps import adds_of, new_ties, steps_of, table_of, with_trouble
from crownwright.survey.check import check
from crownwright.survey.closing import Closing, close_tapes
from crownwright.survey.names import flue_points, names_of
from crownwright.survey.readings import Flue, Readings
from crownwright.survey.words import metric, tape_findings

_AT = re.compile(r"(tapes|offsets|drops|flues)\[(\d+)\]")
_MOST_BAD = 6


@lru_cache(maxsize=64)
def up_top(text: str) -> UpTop:
    """How the readings of a job stand; ``text`` is its job file, half typed or wrong as it may be.

    Only the tapes are adjusted here: the stone's surface and all that follows from it is the plan's business.
    """
    values = parse_toml(text, "job.toml").values
    units: Units = "metric" if values.get("units") == "metric" else "us"
    bare: Bare | None = bare_unit(values)
    typed_in: Bare = bare or "mm"
    if "readings" not in values:
        why = "doorstep" if "quick" in values else "unreadable"
        return UpTop(units, typed_in, (), None, why_not=why)  # type: ignore[arg-type]
    lines = read_lines(table_of(values), bare)
    closing, used, problems = _closed(lines.readings)
    steps = steps_of(values, closing.wanted if closing else (), bool(closing and closing.suspects))
    trouble, general = _placed(lines, problems)
    steps = with_trouble(_suspected(steps, lines, closing), trouble)
    findings = tape_findings(closing.closure, closing.suspects, closing.doubt, metric(used)) if closing else ()
    tying = any(step.kind == "tape" and not step.taken for step in steps)
    return UpTop(
        units,
        typed_in,
        steps,
        sketch_of(lines.readings, used, closing),
        next=next((step.key for step in chain((s for s in steps if s.again), (s for s in steps if not s.taken))), ""),
        says=words_of(closing.closure, closing.suspects, findings, units) if closing else (),
        closes=None if closing is None or closing.closure.freedom <= 0 else closing.closure.closes and not closing.suspects,
        problems=tuple(p for p in general if not (tying and "not enough ties" in p.what)),
        adds=adds_of(values),
        ties=new_ties(values),
        on_phone=phone_numbers(lines.readings),
    )


def _closed(readings: Readings) -> tuple[Closing | None, Readings, tuple[Problem, ...]]:
    """The tapes adjusted: all of them, or without what has a fault, or without flues that are not tied yet."""
    closing, told = close_tapes(readings)
    if closing is not None:
        return closing, readings, told
    tied = tuple(flue for flue in readings.flues if _ties(flue, readings) >= (2 if flue.shape == "round" else 3))
    for flues in (readings.flues, tied, ()):
        part = _without_faults(_with_flues(readings, flues))
        closing = close_tapes(part)[0]
        if closing is not None:
            return closing, part, told
    return None, readings, told


def _ties(flue: Flue, readings: Readings) -> int:
    points = set(flue_points(flue))
    return len({frozenset((t.start, t.end)) for t in readings.tapes if {t.start, t.end} & points})


def _with_flues(readings: Readings, flues: tuple[Flue, ...]) -> Readings:
    gone = {p for flue in readings.flues if flue not in flues for p in flue_points(flue)}
    tapes = tuple(t for t in readings.tapes if not {t.start, t.end} & gone)
    return replace(readings, flues=flues, tapes=tapes, offsets=(), drops=())


def _without_faults(readings: Readings) -> Readings:
    """The readings without those that stop everything, each fault taking its own line with it."""
    for _ in range(_MOST_BAD):
        bad = {(m[1], int(m[2])) for p in check(readings, names_of(readings)) if p.stops and (m := _AT.match(p.where))}
        if not bad:
            break
        kept: dict[str, Any] = {
            name: tuple(r for i, r in enumerate(getattr(readings, name)) if (name, i) not in bad) for name, _ in LISTS
        }
        readings = replace(readings, **kept)
    return readings


def _placed(lines: Lines, problems: Iterable[Problem]) -> tuple[dict[str, tuple[Problem, ...]], tuple[Problem, ...]]:
    """Problems by the place in the job file they belong to, and those that belong to none."""
    placed = {f"readings.{name}[{i}]": told for (name, i), told in lines.wrong.items()}
    general = []
    for problem in problems:
        at = _AT.match(problem.where)
        if at is None:
            general.append(problem)
            continue
        path = f"readings.{at[1]}[{lines.at[at[1]][int(at[2])]}]"
        placed[path] = (*placed.get(path, ()), problem)
    return placed, tuple(general)


def _suspected(steps: tuple[Step, ...], lines: Lines, closing: Closing | None) -> tuple[Step, ...]:
    """Steps with what is likely wrong with them."""
    if closing is None or not closing.suspects:
        return steps
    mm = metric(lines.readings)
    said = {f.key: f.subject for f in tape_findings(closing.closure, closing.suspects, closing.doubt, mm)}
    at: dict[str, str] = {}
    told = [s for k, s in enumerate(closing.suspects) if s.named or k < MOST_SLIPS]
    for suspect in told:
        subject = said[f"survey.slip.{suspect.index}"]
        at.setdefault(_step_of(suspect.name, steps), subject)
    named = {_step_of(suspect.name, steps) for suspect in told if suspect.named}
    return tuple(_doubted(step, at[step.key], step.key in named) if step.key in at else step for step in steps)


def _doubted(step: Step, subject: str, named: bool) -> Step:
    """A step whose reading is likely off; ``named`` when the others leave no doubt that it is this one."""
    if not named:
        return replace(step, suspect=subject)
    return replace(step, suspect=subject, again=True, ask=f"Read {step.name} again", why=subject)


def _step_of(name: str, steps: Iterable[Step]) -> str:
    """The key of the step that the survey calls by a name: "tape A-F1a", "size of F1 along ab"."""
    if name.startswith("size of "):
        return f"flue:{name.split()[2]}"
    said = name.removeprefix("tape ")
    return next(
        (s.key for s in steps if s.kind == "tape" and s.taken and said in (f"{s.start}{s.end}", f"{s.start}-{s.end}")), ""
    )


def change_for(step: Step, values: Mapping[str, str], *, remove: bool = False, saw: Any = UNKNOWN) -> Change:
    """What typing ``values`` (by the keys of the step's asks) at a step changes in the job.

    A single value goes to its own place; several go together as one item, with what stood beside them. ``saw`` is what stood
    there for whoever typed it (left out: what stands there now).
    """
    was = step.before if saw is UNKNOWN else saw
    if remove:
        return Change(step.path, remove=True, was=was)
    if len(step.asks) == 1 and not step.path.endswith("[+]"):
        key = step.asks[0].key
        return Change(f"{step.path}.{key}", values.get(key, ""), was=was.get(key) if isinstance(was, Mapping) else None)
    item: dict[str, Any] = dict(step.fixed)
    for ask in step.asks:
        typed = values.get(ask.key, ask.typed)
        name, _, nth = ask.key.partition(".")
        if typed and nth:
            item.setdefault(name, []).append(typed)
        elif typed:
            item[name] = typed
    return Change(step.path, item, was=was)
