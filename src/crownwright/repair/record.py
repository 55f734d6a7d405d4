"""What was looked at, what was found, and what was decided about the chimney below the cap: as the mason entered it.

Courses are counted from the top, 1 being the topmost. A face is named like a side of the survey, by its two corners in order
("AB"). Lengths keep the text as typed. Nothing here is checked: `repair.check` returns every problem at once.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from crownwright.repair.choices import FlashingChoices, OrderChoices, RepellentChoices, YearsChoices
from crownwright.survey.readings import Length

Part = Literal[
    "cap", "faces", "flue tops", "flue inside", "flashing", "appliance", "attic", "crawl space", "basement", "concealed parts"
]
"""Parts of a chimney that can be looked at."""
How = Literal["from the ground", "close to", "by hand", "by camera", "opened up", "not there"]
"""How a part was looked at: from far, from the roof or a ladder, sounded and tried by hand, with a camera, with parts off."""
Hardness = Literal["hard", "medium", "soft"]
"""How durable the units are: hard (granite, hard-burnt brick), medium (limestone, durable stone, moulded brick), soft (hand-made
brick, soft sandstone)."""
Exposure = Literal["severe", "moderate", "sheltered"]


@dataclass(frozen=True, slots=True)
class Look:
    """A part that was looked at, and how."""

    part: Part
    how: How


@dataclass(frozen=True, slots=True)
class Seen:
    """One thing found. ``what`` is a name of `repair.defects`; "sound" says that nothing was found wrong with the place.

    The place: a ``face`` with ``course`` to ``to_course`` from the top and ``along`` from the face's first corner, or a ``flue``,
    or a ``part`` ("cap", "flashing"). ``measure`` is what the name asks for (width of a crack, depth of scaling, how far it
    stands out of plumb), ``over`` how far that reaches (length of the crack, size across, height leaned over), ``offset`` how
    far one side of a crack stands out of the other, ``share`` how much of the place it takes. ``growing`` when it has been seen
    to change.
    """

    what: str
    part: str = ""
    face: str = ""
    flue: str = ""
    course: int | None = None
    to_course: int | None = None
    along: Length | None = None
    measure: Length | None = None
    over: Length | None = None
    offset: Length | None = None
    share: float | None = None
    growing: bool = False
    photos: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Sample:
    """A patch of a face in which joints were counted: ``wide`` by ``high``; in it ``joints`` (length of all joints) of which
    ``failed`` (length) must be repointed; ``width`` of the joint and ``depth`` to which it is open or soft.

    ``joints`` may be left out where the units' size is told.
    """

    face: str
    wide: Length
    high: Length
    failed: Length
    joints: Length | None = None
    width: Length | None = None
    depth: Length | None = None


@dataclass(frozen=True, slots=True)
class Units:
    """The stones or bricks of the stack: ``long``, ``high``, ``deep`` without joint, and the ``joint``, all m; ``course``
    height of one course with its joint, to count courses by.

    ``hardness`` of the units; ``stone`` a row of the table of weights, of the stone as it lies in a wall.
    """

    long: float | None = None
    high: float | None = None
    deep: float | None = None
    joint: float | None = None
    course: float | None = None
    hardness: Hardness | None = None
    stone: str = ""


@dataclass(frozen=True, slots=True)
class RepointChoices:
    """``height`` of the faces to repoint, from the top down, m (None: to the roof, as far as it was read); ``faces`` to do (none
    named: every face that has samples); ``whole`` true repoints all their joints; ``waste`` share of mortar lost; ``exposure``
    of the work; ``mortar`` a type (N, O ...) fixed by hand; ``rate`` metres of joint a mason rakes and fills in an hour.
    """

    height: float | None = None
    faces: tuple[str, ...] = ()
    whole: bool | None = None
    waste: float = 0.15
    exposure: Exposure = "severe"
    mortar: str = ""
    rate: float | None = None


@dataclass(frozen=True, slots=True)
class RebuildChoices:
    """``courses`` to take down, or ``depth`` (m) where there are no courses; None: as far as the loose units go.

    ``reuse`` share of the old units laid again; ``solid`` whether the core is filled solid between the walls and the flues;
    ``wall`` thickness of the walls when it is not, m; ``flue_space`` kept clear round each liner, m; ``waste`` share of mortar
    and units lost; ``mortar`` type fixed by hand; ``days`` the new masonry stands before the cap is cast on it; ``corbel`` how
    far each course steps out, m; ``hours`` a mason takes to lay it, where he knows better.
    ``done`` when it has been laid and the readings of the job are of the rebuilt top.
    """

    courses: int | None = None
    depth: float | None = None
    reuse: float | None = None
    solid: bool = True
    wall: float | None = None
    flue_space: float = 0.0127
    waste: float = 0.1
    mortar: str = ""
    days: float = 7.0
    corbel: float | None = None
    hours: float | None = None
    done: bool = False


@dataclass(frozen=True, slots=True)
class FlueRepair:
    """What is done to one flue: ``replace`` so much of its top, m; a screen set over it with its mesh ``screen_pitch``,
    ``screen_wire`` and the height of its open sides ``screen_high``, m.
    """

    flue: str
    replace: float | None = None
    screen_pitch: float | None = None
    screen_wire: float | None = None
    screen_high: float | None = None


@dataclass(frozen=True, slots=True)
class Waived:
    """A finding, by its name or its key, that somebody decided to go on without, and why."""

    what: str
    by: str
    reason: str


@dataclass(frozen=True, slots=True)
class RepairRecord:
    """Everything entered about the chimney below the cap. ``claimed`` is the inspection level somebody wishes to be printed: it
    is compared with what was really looked at. ``waived`` are findings that somebody decided to go on without.
    """

    looked: tuple[Look, ...] = ()
    seen: tuple[Seen, ...] = ()
    samples: tuple[Sample, ...] = ()
    units: Units = field(default_factory=Units)
    repoint: RepointChoices | None = None
    rebuild: RebuildChoices | None = None
    flues: tuple[FlueRepair, ...] = ()
    flashing: FlashingChoices | None = None
    repellent: RepellentChoices | None = None
    order: OrderChoices | None = None
    years: YearsChoices | None = None
    claimed: int | None = None
    waived: tuple[Waived, ...] = ()
