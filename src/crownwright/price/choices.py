"""What the mason decides about the quote: its options, the old cap that comes off, the customer, what the job took in the end."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Way = Literal["patch", "recast", "recast and rebuild"]
WAYS: tuple[Way, ...] = ("patch", "recast", "recast and rebuild")


@dataclass(frozen=True, slots=True)
class OldCap:
    """The cap that comes off: ``thickness`` m, mean over the top; ``length`` and ``width`` m (None: it lies flush with the stone
    as surveyed); ``material`` a row of the table of weights; ``share`` of it to take off; ``lower`` whether it is carried down
    and hauled off (else it stays on the site).
    """

    thickness: float
    length: float | None = None
    width: float | None = None
    material: str = "concrete plain"
    share: float = 1.0
    lower: bool = True


@dataclass(frozen=True, slots=True)
class More:
    """Work or goods told by hand: the price book's ``key`` and how much of it, in the book's unit, as decimal text."""

    key: str
    amount: str


@dataclass(frozen=True, slots=True)
class QuoteOption:
    """One way of doing the job, as it stands beside the others.

    ``way``: a patch is only what ``more`` says (and the repair below, where ``repair`` names parts of it); a recast is the cap by
    the plan, with the old one taken off; recast and rebuild takes in the rebuilt course besides. ``repair`` are parts of the
    repair plan that go with it (None: as its way says); ``scope`` and ``without`` are lines in the mason's words beside those
    that the way brings along.
    """

    name: str
    way: Way
    scope: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    why: str = ""
    repair: tuple[str, ...] | None = None
    more: tuple[More, ...] = ()


@dataclass(frozen=True, slots=True)
class Done:
    """What a finished job took, for learning: ``bags`` used, ``hours`` people-hours as decimal numbers; None: not told."""

    bags: float | None = None
    hours: float | None = None


@dataclass(frozen=True, slots=True)
class QuoteChoices:
    """``options`` side by side (none: one, by what the plan holds); ``old_cap`` that comes off with a recast; where the customer
    is reached: ``address`` (lines), ``phone``, ``email``; ``done`` what the job took in the end.
    """

    options: tuple[QuoteOption, ...] = ()
    old_cap: OldCap | None = None
    address: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""
    done: Done | None = None
