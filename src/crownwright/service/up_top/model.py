"""What the roof page is made of: readings to take, in their order, and the sketch they are shown on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from crownwright.plan.job import Units
from crownwright.quantity.lengths import Bare
from crownwright.quantity.problems import Problem

Kind = Literal["tape", "flue", "offset", "drop", "around"]
Tap = Literal["", "side", "top"]


@dataclass(frozen=True, slots=True)
class Ask:
    """One value of a reading: its ``key`` in the job file, what it is called, what is ``typed`` there so far.

    ``options`` where it is one of a few words rather than a length; ``signed`` where it may be minus; ``may`` where it may be
    left out.
    """

    key: str
    label: str
    typed: str = ""
    options: tuple[tuple[str, str], ...] = ()
    signed: bool = False
    may: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """A reading to take, or taken.

    ``key`` names it for good; ``ask`` says it to the mason and ``why`` what it is for; ``name`` is short, for the list. Its
    values ``asks`` go to ``path`` in the job file, beside the ``fixed`` ones. ``before`` is what stands there now (None:
    nothing). ``start`` and ``end`` are the points a tape runs between, ``side`` the side it lies on, ``tap`` where on the
    sketch its place may be shown ("side", anywhere on the "top"). ``wanted`` ones the survey asks for; ``suspect`` says what
    is likely wrong, ``again`` that it is to be read once more.
    """

    key: str
    kind: Kind
    name: str
    ask: str
    why: str
    path: str
    asks: tuple[Ask, ...]
    fixed: Mapping[str, Any] = field(default_factory=dict)
    before: Any = None
    start: str = ""
    end: str = ""
    side: str = ""
    tap: Tap = ""
    wanted: bool = False
    again: bool = False
    suspect: str = ""
    problems: tuple[Problem, ...] = ()

    @property
    def taken(self) -> bool:
        """Whether every value it needs is there."""
        return all(ask.typed or ask.may for ask in self.asks)

    @property
    def says(self) -> str:
        """What was read, in the order it was asked."""
        return ", ".join(f"{ask.typed} {_short(ask)}".strip() for ask in self.asks if ask.typed)


def _short(ask: Ask) -> str:
    return {"along": "along", "inward": "in", "out": "out", "below": "down", "above_string": "high"}.get(ask.key, "")


@dataclass(frozen=True, slots=True)
class Sketch:
    """The top seen from above. ``points`` by name, ``face`` the stone's outline, ``flues`` by name their outlines, all in metres
    of the survey's datum; ``measured`` when they follow from tapes rather than from a likely shape; ``drops`` and ``proud``
    are places where something was read.
    """

    points: Mapping[str, tuple[float, float]]
    corners: tuple[str, ...]
    face: tuple[tuple[float, float], ...]
    flues: Mapping[str, tuple[tuple[float, float], ...]]
    measured: bool
    drops: tuple[tuple[float, float], ...] = ()
    proud: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class UpTop:
    """How the readings of a top stand.

    ``steps`` in the order to take them; ``next`` the key of the first still wanted ("" when enough is in), one that is off
    before all; ``says`` how the tapes close and which is off; ``closes`` whether they can be used as they are (None: nothing
    checks them yet); ``problems`` that belong to no step. ``adds`` are readings that may be added ever again; ``ties`` by shape
    the tapes that a flue added now will want. ``why_not`` says why there is nothing to read here (a doorstep survey, a text
    with faults). ``on_phone`` are the survey's numbers by which a phone without a network tells how the tapes close.
    """

    units: Units
    bare: Bare
    steps: tuple[Step, ...]
    sketch: Sketch | None
    next: str = ""
    says: tuple[str, ...] = ()
    closes: bool | None = None
    problems: tuple[Problem, ...] = ()
    why_not: Literal["", "doorstep", "unreadable"] = ""
    adds: tuple[Step, ...] = ()
    ties: Mapping[str, tuple[Step, ...]] = field(default_factory=dict)
    on_phone: Mapping[str, Any] = field(default_factory=dict)

    def step(self, key: str) -> Step | None:
        """The step of a key."""
        return next((step for step in (*self.steps, *self.adds) if step.key == key), None)

    @property
    def left(self) -> int:
        """Readings still to be taken."""
        return sum(not step.taken for step in self.steps)
