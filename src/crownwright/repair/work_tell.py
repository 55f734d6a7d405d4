"""The numbers of the order of work with their working: hours of each task, the air it may be done in, what it waits for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from crownwright.quantity.units import HOUR
from crownwright.quantity.working import PRACTICE, Cite, Figure
from crownwright.repair.model import After, Task
from crownwright.repair.tell import figure, times

WORKED = "nobody's finished jobs yet: they move it"
LIMIT = Cite("practice", "mortar, patch and sealant in cold and heat", "common practice")


def work_figures(tasks: Sequence[Task], cap_after: Sequence[After]) -> tuple[Figure, ...]:
    """Return what the list of steps says of every task, and of what the cap waits for."""
    own = (one for task in tasks for one in _task(task))
    return (*own, *(one for after in cap_after for one in _wait("the cap", after)))


def _task(task: Task) -> Iterator[Figure]:
    key = f"repair.task.{_slug(task.key)}"
    amount, hours = ("a", "amount", task.amount, task.unit), times(task.hours, HOUR)
    rate = hours.mean / task.amount if task.amount else 0.0
    each = ("r", f"of one person for each {task.unit}" if task.unit != "1" else "of one person for each", rate, "s")
    label = f"hours of one person: {task.what}"
    yield figure(f"{key}.hours", label, hours, "s", "a r", amount, each, cite=PRACTICE, holds=WORKED)
    what = ("", "work", task.what, "")
    for name, limit in (("coldest", task.coldest), ("hottest", task.hottest)):
        if limit is not None:
            label = f"{name} air for: {task.what}"
            yield figure(f"{key}.{name}", label, limit, "degC", "as the material asks", what, cite=LIMIT)
    for after in task.after:
        yield from _wait(task.key, after)


def _wait(what: str, after: After) -> Iterator[Figure]:
    """How long after another task; nothing where it need only be done."""
    if after.wait > 0:
        label = f"{what} after {after.task}, no sooner than"
        why = ("", "why", after.why, "")
        key = f"repair.wait.{_slug(what)}.{_slug(after.task)}"
        yield figure(key, label, after.wait, "s", "as its source asks", why, cite=after.cite)


def _slug(name: str) -> str:
    return name.replace(" ", "_").replace(",", "")
