"""What the mason decides about flashing, repellent, order of work and ways over years, as it is entered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from crownwright.codes.irc_2018_flashing import STEP_HIGH, STEP_WIDE
from crownwright.quantity.units import FOOT, INCH

Joint = Literal["courses", "sawn"]
Kind = Literal["penetrant", "film"]


@dataclass(frozen=True, slots=True)
class Sheet:
    """Sheet metal that can be had: ``wide`` and ``long`` (m), ``price`` each as written in the price book ("" when not told).

    ``on_hand`` sheets lie in the van and cost nothing more; ``for_sale`` false: only those. A roll is a long sheet.
    """

    name: str
    wide: float
    long: float
    price: str = ""
    on_hand: int = 0
    for_sale: bool = True


@dataclass(frozen=True, slots=True)
class FlashingChoices:
    """What the mason decides, m.

    ``metal`` a name of `codes.flashing_metals`; ``exposure`` of one shingle course; ``up`` the wall and ``over`` the roof of base
    and step pieces; ``beyond`` by which a step piece is longer than the exposure; ``behind`` how far the back pan runs up the
    roof; ``turn_in`` into the joint; ``lap`` of one counterflashing over the next; ``clear`` from the roof to the foot of the
    counterflashing; ``least_step`` shortest run of a stepped piece; ``longest`` piece of a sawn one; ``joint`` whether it steps
    up with the courses or lies in a sawn cut along the roof (None: courses in brick, sawn in stone); ``dress`` share more metal
    to follow lumpy stone; ``cricket`` true builds one, false leaves it out, None as the code wants; ``depth`` of the stack across
    the ridge (None: by the survey); ``stock`` of sheets (empty: the usual sizes).
    """

    metal: str = "copper 16 oz"
    exposure: float = 5.625 * INCH
    up: float = STEP_HIGH
    over: float = STEP_WIDE
    beyond: float = 2 * INCH
    behind: float = 12 * INCH
    turn_in: float = 1 * INCH
    lap: float = 3 * INCH
    clear: float = 1 * INCH
    least_step: float = 6 * INCH
    longest: float = 4 * FOOT
    joint: Joint | None = None
    dress: float = 0.1
    cricket: bool | None = None
    depth: float | None = None
    stock: tuple[Sheet, ...] = ()


@dataclass(frozen=True, slots=True)
class RepellentChoices:
    """``kind``: a penetrant (siloxane, or siloxane with silane) breathes; a film on a chimney is told against. ``permeability``
    as the label tells it by ASTM E96 (None: not told). ``coverage`` m2 a m3 as the label tells it (None: the usual);
    ``after_days`` the mortar cures first; ``waste`` share blown or run off.
    """

    kind: Kind = "penetrant"
    permeability: float | None = None
    coverage: float | None = None
    after_days: float = 28.0
    waste: float = 0.1


@dataclass(frozen=True, slots=True)
class Wait:
    """A wait the mason adds by hand: ``task`` only after ``after`` has ended, by ``days`` at least."""

    task: str
    after: str
    days: float = 0.0


@dataclass(frozen=True, slots=True)
class OrderChoices:
    """``crew`` people on the roof, ``hours`` of work a day (breaks and the climb taken off), ``waits`` added by hand.

    ``joint_days`` the new cap stands before its flue joints are sealed, ``repellent_days`` the mortar before a repellent goes on.
    """

    crew: int = 2
    hours: float = 7.0
    waits: tuple[Wait, ...] = ()
    joint_days: float = 7.0
    repellent_days: float = 28.0


@dataclass(frozen=True, slots=True)
class WornPart:
    """A part of the chimney: a name of `lives`, what doing it costs each time it is done by itself, and the years its old one has
    ``left`` where it is not done now (None: an old one is worn out, and lasts a tenth of a new one).
    """

    name: str
    cost: str
    left: float | None = None


@dataclass(frozen=True, slots=True)
class Way:
    """A way of repairing: its ``name``, what it costs ``now``, the parts ``done`` by it, and those it goes ``without``."""

    name: str
    now: str
    done: tuple[str, ...] = ()
    without: tuple[str, ...] = ()

    def parts(self, choices: YearsChoices) -> tuple[WornPart, ...]:
        """The parts there are when it is done."""
        return tuple(part for part in choices.parts if part.name not in self.without)


@dataclass(frozen=True, slots=True)
class YearsChoices:
    """``parts`` and ``ways`` to compare, over ``years`` at a real ``rate`` a year; ``visit`` what going up again costs a time.

    Money is text, as typed.
    """

    parts: tuple[WornPart, ...] = ()
    ways: tuple[Way, ...] = ()
    years: int = 50
    rate: float = 0.03
    visit: str = "0"
