"""Try changes of a job before they are kept: what they would do to bags, weight, findings and money."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from crownwright.book import jobs, revisions
from crownwright.quantity.problems import Problem
from crownwright.service.desk.compare import Effect, effects_between, findings_between
from crownwright.service.desk.merge import merge
from crownwright.service.desk.model import Change, PlanOf
from crownwright.service.desk.open_desk import Desk
from crownwright.service.draw_a_plan import Picture
from crownwright.service.jobfile import write_values
from crownwright.service.jobfile.syntax import parse_toml


@dataclass(frozen=True, slots=True)
class Trial:
    """A job as it stands (``kept``) and as it would with the changes (``tried``; the same where nothing is changed).

    ``effects`` are figures that move, ``worse`` and ``better`` findings that fall short only with or only without the changes;
    ``problems`` are changes that have no place; ``pictures`` waits for the drawings of what is tried.
    """

    kept: PlanOf
    tried: PlanOf
    effects: tuple[Effect, ...] = ()
    worse: tuple[str, ...] = ()
    better: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    pictures: Callable[[], tuple[Picture, ...]] = tuple

    @property
    def changed(self) -> bool:
        """Whether anything is tried at all."""
        return self.tried.text != self.kept.text


def try_changes(desk: Desk, job: str, changes: Iterable[Change] = (), *, draw: tuple[str, ...] = ()) -> Trial:
    """Plan a job as it stands and with changes on it, none of them kept; ``draw`` names what to draw of the latter.

    KeyError when there is no such job.
    """
    with desk.book.reading() as c:
        row = jobs.need(c, job)
        head = revisions.newest(c, job)

    def planned(text: str, *names: str) -> tuple[PlanOf, Callable[[], tuple[Picture, ...]]]:
        if names:
            (opened, plan), pictures = desk.planner.drawn(text, *names)
        else:
            (opened, plan), pictures = desk.planner.plan(text), tuple
        return PlanOf(row, head.row, text, opened, plan), pictures

    changes = tuple(changes)
    values = dict(values_of(head.text)) if changes else {}
    merged = merge(values, values, changes, lambda _: True)
    if not merged.done:
        kept, pictures = planned(head.text, *draw)
        return Trial(kept, kept, problems=merged.problems, pictures=pictures)
    kept, _ = planned(head.text)
    tried, pictures = planned(write_values(merged.values), *draw)
    before, after = (p.planned.plan if p.planned else None for p in (kept, tried))
    if before is None or after is None:
        return Trial(kept, tried, problems=merged.problems, pictures=pictures)
    worse, better = findings_between(before, after)
    return Trial(kept, tried, effects_between(before, after), worse, better, merged.problems, pictures)


@lru_cache(64)  # every change is tried on the same text
def values_of(text: str) -> Mapping[str, Any]:
    """What stands in a job's text, as typed; to read only."""
    return parse_toml(text, "job.toml").values
