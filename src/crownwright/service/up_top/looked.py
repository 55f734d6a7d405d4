"""What was looked at on a chimney and how, as it stands in a job half typed: every part with each way of looking at it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, get_args

from crownwright.repair.record import How, Part
from crownwright.service.up_top.lines import items_of
from crownwright.service.up_top.typed import Values

NOT_THERE = "not there"
MAY_LACK = ("appliance", "attic", "crawl space", "basement")
"""Parts that a house may lack; every chimney has the others."""


@dataclass(frozen=True, slots=True)
class Looked:
    """A ``part`` looked at in one way (``how``), or not: ``done`` whether the job file says so."""

    part: str
    how: str
    done: bool

    @property
    def key(self) -> str:
        """By what name it is ticked."""
        return f"looked|{self.part}|{self.how}"

    @property
    def path(self) -> str:
        """Where it stands in the job file."""
        return f"repair.looked[part={self.part},how={self.how}]"

    @property
    def item(self) -> dict[str, Any]:
        """What stands there."""
        return {"part": self.part, "how": self.how}


def looked_of(values: Values) -> dict[str, tuple[Looked, ...]]:
    """Each part with the ways in which it may be looked at, from far to close. That a part is not there is offered only where a
    house may lack it, or where the file says so.

    >>> [one.how for one in looked_of({"repair": {"looked": [{"part": "cap", "how": "by hand"}]}})["cap"] if one.done]
    ['by hand']
    """
    repair = values.get("repair")
    lines = items_of(repair, "looked") if isinstance(repair, Mapping) else []
    told = {(str(line.get("part")), str(line.get("how"))) for line in lines if isinstance(line, Mapping)}
    return {
        part: tuple(
            Looked(part, how, (part, how) in told)
            for how in get_args(How)
            if how != NOT_THERE or part in MAY_LACK or (part, how) in told
        )
        for part in get_args(Part)
    }
