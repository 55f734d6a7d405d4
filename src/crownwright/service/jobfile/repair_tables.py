"""The job file's table on the repair: what was looked at and found, the patches counted, what is rebuilt, repointed and set."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field

from crownwright.quantity.units import FOOT, INCH
from crownwright.repair.record import (
    FlueRepair,
    Look,
    RebuildChoices,
    RepairRecord,
    RepointChoices,
    Sample,
    Seen,
    Units,
    Waived,
)
from crownwright.service.jobfile.entry import LongText, Name, Read, Share, Size, Table, Text


def key(description: str, **limits: Any) -> Any:
    """A key that may be left out: what it fills then keeps the default of the Python model."""
    return Field(default=None, description=description, **limits)


def needed(description: str, **limits: Any) -> Any:
    """A key that has to be there."""
    return Field(description=description, **limits)


Part = Literal[
    "cap", "faces", "flue tops", "flue inside", "flashing", "appliance", "attic", "crawl space", "basement", "concealed parts"
]
How = Literal["from the ground", "close to", "by hand", "by camera", "opened up", "not there"]


class LookLine(Table):
    """A part of the chimney that was looked at, and how. No inspection level is claimed beyond what stands here."""

    part: Part = needed("the part")
    how: How = needed("how it was looked at: by hand is sounded and tried; not there, where a house has no such room")


class SeenLine(Table):
    """One thing found, by its trade name; docs/repair.md has the names and what is measured of each."""

    what: Name = needed('its name: open joints, cap crack, loose units, cracked liner ...; "sound" where nothing is wrong')
    part: Text = key("where something is sound: cap, faces, flue tops, flue inside, flashing")
    face: Text = key("the face it is on, by its two corners in order round: AB")
    flue: Text = key("or the flue: F1")
    course: int = key("course, counted from the top: the topmost is 1")
    to_course: int = key("last course it reaches down to")
    along: Read = key("how far along the face from its first corner")
    measure: Read = key("what is measured of it: width of a crack, depth of a joint or of scaling, how far it leans")
    over: Read = key("how far that reaches: length of a crack, size across, height it leans over")
    offset: Read = key("how far one side of a crack stands out of the other")
    share: Share = key("how much of the place it takes: 40 %")
    growing: bool = key("true when it has been seen to change")
    photos: list[Text] = key("names of photos of it")
    note: LongText = key("anything else of it")


class SampleLine(Table):
    """A patch of a face in which joints were counted: two or more on each face, in places taken at random."""

    face: Name = needed("the face")
    wide: Read = needed("width of the patch")
    high: Read = needed("height of the patch")
    failed: Read = needed("length of joint in it that must be repointed; 0 where none")
    joints: Read = key("length of all joint in it; left out, by the units' size")
    width: Read = key("width of the joint")
    depth: Read = key("how deep it is open or soft")


class UnitsTable(Table):
    """The stones or bricks. What you leave out is a modular brick in a brick stack, and not known in a stone one."""

    long: Size = key("length of one, without joint", ge=INCH, le=6 * FOOT)
    high: Size = key("height of one, without joint", ge=INCH / 2, le=3 * FOOT)
    deep: Size = key("depth of one into the wall", ge=INCH, le=6 * FOOT)
    joint: Size = key("width of the joint", le=4 * INCH)
    course: Size = key("height of a course with its joint", ge=INCH, le=4 * FOOT)
    hardness: Literal["hard", "medium", "soft"] = key(
        "hard: granite, hard-burnt brick; medium: limestone, moulded brick; soft: hand-made brick, soft sandstone"
    )
    stone: Text = key("what it weighs like, by a row of the table of weights: rubble granite")


class RepointTable(Table):
    """How the joints are repointed."""

    height: Size = key("how far down from the top; left out, to the roof", ge=INCH)
    faces: list[Name] = key("faces to do; left out, every face with a patch counted on it")
    whole: bool = key("true: all joints of them; false: only what has failed; left out, all from one half failed")
    waste: Share = key("share of the mortar lost", le=0.9)
    exposure: Literal["severe", "moderate", "sheltered"] = key("exposure of the work; a chimney above its roof is severe")
    mortar: Text = key("mortar type fixed by hand: N, O ...")
    rate: Size = key("joint that one mason rakes and fills in an hour", gt=0)


class RebuildTable(Table):
    """How the top is laid anew."""

    courses: int = key("courses to take down; left out, as far as loose units were found", ge=1, le=200)
    depth: Size = key("or how far down, where there are no courses", ge=INCH)
    reuse: Share = key("share of the old units laid again")
    solid: bool = key("false where the core between walls and flues stays open")
    wall: Size = key("thickness of the walls", ge=INCH, le=4 * FOOT)
    flue_space: Size = key("space kept clear round each liner", le=6 * INCH)
    waste: Share = key("share of mortar and units lost", le=0.9)
    mortar: Text = key("mortar type fixed by hand: N, S ...")
    days: float = key("days it stands before the cap is cast on it", ge=0, le=90)
    corbel: Size = key("how far each course steps out", le=FOOT)
    hours: float = key("mason's hours to lay it, where you know better", gt=0, le=1000)


class FlueRepairLine(Table):
    """What is done to a flue besides what the cap asks for."""

    flue: Name = needed("the flue: F1")
    replace: Size = key("how much of its top is changed", le=20 * FOOT)
    screen_pitch: Size = key("mesh of a screen over it, wire to wire", gt=0, le=2 * INCH)
    screen_wire: Size = key("thickness of its wire", gt=0, le=INCH)
    screen_high: Size = key("height of its open sides", gt=0, le=4 * FOOT)


class WaivedLine(Table):
    """A finding that somebody decided to go on without. It stays on the papers."""

    what: Name = needed("the finding's name or key: efflorescence, repair.seen.3")
    by: Name = needed("who decided it")
    reason: LongText = needed("why", min_length=1)


class RepairTable(Table):
    """The chimney below the cap: what was looked at and found, and what is done about it."""

    looked: list[LookLine] = key("what was looked at, and how")
    seen: list[SeenLine] = key("what was found")
    samples: list[SampleLine] = key("patches in which joints were counted")
    units: UnitsTable = key("the stones or bricks")
    repoint: RepointTable = key("how the joints are repointed")
    rebuild: RebuildTable = key("how the top is laid anew")
    flues: list[FlueRepairLine] = key("what is done to the flues")
    claimed: int = key("inspection level somebody wants printed; it is compared with what was looked at")
    waived: list[WaivedLine] = key("findings somebody decided to go on without")


def repair_of(table: RepairTable) -> RepairRecord:
    """Return the record that the table tells of."""
    typed = table.typed()
    lines = {"looked": Look, "seen": Seen, "samples": Sample, "flues": FlueRepair, "waived": Waived}
    for name, make in lines.items():
        if name in typed:
            typed[name] = tuple(make(**_flat(line)) for line in typed[name])
    for name, make in {"units": Units, "repoint": RepointChoices, "rebuild": RebuildChoices}.items():
        if name in typed:
            typed[name] = make(**_flat(typed[name]))
    return RepairRecord(**typed)


def _flat(table: Table) -> dict[str, Any]:
    return {name: tuple(value) if isinstance(value, list) else value for name, value in table.typed().items()}
