"""The repair plan: what was found and what it calls for, what is bought and done, in which order.

`materials` and `tasks` are plain lines: whoever prices or schedules the repair reads these and needs to know nothing else of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from crownwright.quantity.findings import Finding
from crownwright.quantity.problems import Problem
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import Cite, Figure
from crownwright.repair.record import RepairRecord

if TYPE_CHECKING:
    from crownwright.repair.between import Between
    from crownwright.repair.condition import Condition
    from crownwright.repair.flashing import FlashingPlan
    from crownwright.repair.flues import FluesPlan
    from crownwright.repair.order import Visits
    from crownwright.repair.rebuild import RebuildPlan
    from crownwright.repair.repellent import Repellent
    from crownwright.repair.replacing import Replacing
    from crownwright.repair.repointing import RepointPlan
    from crownwright.repair.years import Years


@dataclass(frozen=True, slots=True)
class Material:
    """``amount`` of what the price book calls ``key``, in the SI ``unit`` ("1" for pieces), with its standard error ``spread``.

    ``what`` in plain words; ``source`` is the key of the figure it was counted from; ``why`` what it is for.
    """

    key: str
    what: str
    amount: float
    unit: str
    source: str
    why: str = ""
    spread: float = 0.0


@dataclass(frozen=True, slots=True)
class After:
    """A task may begin only ``wait`` seconds after ``task`` (its key) has ended; ``why`` in words, on whose word. ``most``
    seconds: not later than that after it either (None: as late as one likes).
    """

    task: str
    wait: float
    why: str
    cite: Cite
    most: float | None = None


@dataclass(frozen=True, slots=True)
class Task:
    """One piece of work: ``amount`` in the SI ``unit`` of what is done, ``hours`` people-hours of the ``grade``, with spread.

    ``source`` is the key of the figure the amount comes from; ``after`` what must have been done, and how long before;
    ``coldest`` and ``hottest`` air it may be done in, degC (None: any); ``dry`` when rain stops it.
    """

    key: str
    what: str
    amount: float
    unit: str
    source: str
    hours: Uncertain
    grade: str = "mason"
    people: int = 1
    after: tuple[After, ...] = ()
    coldest: float | None = None
    hottest: float | None = None
    dry: bool = True
    aloft: bool = True


@dataclass(frozen=True, slots=True)
class RepairPlan:
    """The whole repair below the cap. A part that nothing calls for is None.

    ``between`` is what the first survey is worth until a rebuilt top is read again; ``cap_after`` what must have been done before
    the cap is cast, and how long before. ``blocks`` are the findings that nothing may be cast over until who they name has seen
    it. ``flashing``, ``order`` and ``years`` are made by `repair.flashing`, `repair.order` and `repair.years`.
    """

    record: RepairRecord
    condition: Condition
    repointing: RepointPlan | None = None
    rebuild: RebuildPlan | None = None
    replacing: Replacing | None = None
    flues: FluesPlan | None = None
    between: Between | None = None
    materials: tuple[Material, ...] = ()
    tasks: tuple[Task, ...] = ()
    cap_after: tuple[After, ...] = ()
    findings: tuple[Finding, ...] = ()
    figures: tuple[Figure, ...] = ()
    problems: tuple[Problem, ...] = ()
    flashing: FlashingPlan | None = None
    repellent: Repellent | None = None
    order: Visits | None = None
    years: Years | None = None

    @property
    def blocks(self) -> tuple[Finding, ...]:
        """Findings over which nothing may be cast."""
        return tuple(one for one in self.findings if one.blocks)
