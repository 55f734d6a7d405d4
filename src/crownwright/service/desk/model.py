"""What goes into the desk's verbs and what comes out of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Literal

from crownwright.book.conflicts import Conflict
from crownwright.book.devices import PairedDevice
from crownwright.book.issued import IssuedRow
from crownwright.book.jobs import STATES, JobRow, Order, State
from crownwright.book.photos import PhotoRow
from crownwright.book.revisions import RevisionRow, StaleError
from crownwright.book.store import BookError
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.service.open_job import Opened
    from crownwright.service.plan_a_job import Planned

__all__ = [
    "STATES",
    "UNKNOWN",
    "BookError",
    "By",
    "Change",
    "Conflict",
    "Entry",
    "IssuedRow",
    "JobPage",
    "JobRow",
    "Order",
    "PairedDevice",
    "PhotoRow",
    "PlanOf",
    "RevisionRow",
    "Saved",
    "StaleError",
    "State",
]


class _Unknown:
    """Stands for what nobody said."""

    __slots__ = ()

    def __repr__(self) -> str:
        return "UNKNOWN"


UNKNOWN: Final = _Unknown()


@dataclass(frozen=True, slots=True)
class By:
    """Who does it, by name, and the id of the device it is done on ("desk" for the machine the book lies on)."""

    who: str
    device: str = "desk"


@dataclass(frozen=True, slots=True)
class Change:
    """One value of a job changed, added or removed.

    ``path`` says where, in the words of the job file: keys with dots between; in a list an item by its place counted from 0
    (``[2]``), by what it says (``[start=A,end=B]``; the second such ``[start=A,end=B#2]``; one that is not there yet is added),
    or a new one at the end (``[+]``). ``value`` is text, a number, true or false, or a list or table of these, exactly as typed.
    ``was`` is what stood there when it was typed (None: nothing), where the sender knows; by that two devices that change one
    thing are told from one device that changes it twice.
    """

    path: str
    value: Any = None
    remove: bool = False
    was: Any = UNKNOWN


@dataclass(frozen=True, slots=True)
class Entry:
    """What one press of a key sends: changes that belong together. ``id`` is made by the sender: sending it twice is harmless.

    ``base`` is the revision the sender saw. ``typed_at`` is the sender's own clock, kept for the record and used for nothing.
    """

    id: str
    job: str
    base: int
    changes: tuple[Change, ...]
    typed_at: str = ""


@dataclass(frozen=True, slots=True)
class Saved:
    """What came of an entry: the job's line and newest revision by now; ``again`` when the entry had come before; conflicts it
    met (both sides are kept); ``problems`` with changes that could not be put anywhere (they are kept with the entry).
    """

    job: JobRow
    revision: int
    again: bool = False
    conflicts: tuple[Conflict, ...] = ()
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class JobPage:
    """A page of the book: lines ``first`` (from 0) up to ``most`` of the ``count`` that match."""

    rows: tuple[JobRow, ...]
    count: int
    first: int
    most: int


@dataclass(frozen=True, slots=True)
class PlanOf:
    """A revision of a job with its text, the job read from it, and its plan (None where problems in the text stop it)."""

    row: JobRow
    revision: RevisionRow
    text: str
    opened: Opened
    planned: Planned | None

    @property
    def newest(self) -> bool:
        """Whether this is how the job stands now."""
        return self.revision.number == self.row.head


Kept = Literal["theirs", "mine"]
