"""Work below the cap, as the repair plan tells it in plain lines: goods for the take-off, tasks for the hours, nothing twice.

Pricing reads the lines only; it does not know how a repair is planned.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Protocol

from crownwright.price.hours import Task
from crownwright.price.takeoff import Want
from crownwright.quantity.uncertain import Uncertain


class MaterialLine(Protocol):
    """So much of what the price book calls ``key``, in the SI ``unit``; ``source`` the figure it was counted from."""

    @property
    def key(self) -> str:
        """Key of the price book, or of the task."""
        ...

    @property
    def amount(self) -> float:
        """How much of it."""
        ...

    @property
    def unit(self) -> str:
        """SI unit."""
        ...

    @property
    def source(self) -> str:
        """Key of the figure it was counted from."""
        ...

    @property
    def why(self) -> str:
        """What it is for."""
        ...


class TaskLine(Protocol):
    """A piece of work: people-``hours`` of a ``grade``, with spread; ``source`` the figure its amount comes from."""

    @property
    def key(self) -> str:
        """Key of the price book, or of the task."""
        ...

    @property
    def what(self) -> str:
        """The work, in words."""
        ...

    @property
    def hours(self) -> Uncertain:
        """People-hours with their spread."""
        ...

    @property
    def grade(self) -> str:
        """Who does it."""
        ...

    @property
    def source(self) -> str:
        """Key of the figure it was counted from."""
        ...

    @property
    def aloft(self) -> bool:
        """Whether it is done up there, where everything takes longer."""
        ...


class Repair(Protocol):
    """A repair plan as pricing sees it."""

    @property
    def materials(self) -> Sequence[MaterialLine]:
        """What is bought."""
        ...

    @property
    def tasks(self) -> Sequence[TaskLine]:
        """What is done."""
        ...


def part_of(source: str) -> str:
    """Return the part of the repair that a figure's key belongs to.

    >>> part_of("repair.rebuild.mortar"), part_of("repair.repointing.AB.length")
    ('rebuild', 'repointing')
    """
    return (source.removeprefix("repair.").split(".") or [""])[0]


def parts_of(repair: Repair) -> tuple[str, ...]:
    """Return the parts of a repair that have lines, in its order."""
    return tuple(
        dict.fromkeys(part_of(source) for source in (*(m.source for m in repair.materials), *(t.source for t in repair.tasks)))
    )


def below_wants(repair: Repair, parts: Collection[str]) -> tuple[Want, ...]:
    """Return the goods of these parts of a repair. One figure may call for several goods (mortar: cement, lime, sand)."""
    chosen = (line for line in repair.materials if part_of(line.source) in parts)
    return tuple(Want(m.key, m.amount, m.unit, (f"{m.source}: {m.key}",), m.why) for m in chosen if m.amount > 1e-9)


def below_tasks(repair: Repair, parts: Collection[str], factor: float = 1.0, aloft: float = 1.0) -> tuple[Task, ...]:
    """Return the tasks of these parts of a repair; ``factor`` as own finished jobs say hours are of the forecast, ``aloft`` how
    much longer work takes at this height.
    """
    return tuple(
        _task(line, factor * (aloft if line.aloft else 1.0))
        for line in repair.tasks
        if part_of(line.source) in parts and line.hours.mean > 0
    )


def _task(line: TaskLine, factor: float) -> Task:
    hours = Uncertain(line.hours.mean * factor, line.hours.sd * factor)
    formula = "hours of the repair plan" + (f" x {factor:.3g}" if factor != 1.0 else "")
    return Task(f"below, {line.key}", line.what, line.grade, hours, formula, (line.source,))
