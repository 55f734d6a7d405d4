"""The job file's table on the repair: what was looked at and found, the patches counted, what is rebuilt, repointed and set."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field

from crownwright.quantity.units import FOOT, INCH
from crownwright.repair.choices import (
    FlashingChoices,
    OrderChoices,
    RepellentChoices,
    Sheet,
    Wait,
    Way,
    WornPart,
    YearsChoices,
)
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
from crownwright.service.jobfile.entry import LongText, Name, Price, Read, Share, Size, Table, Text


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
    done: bool = key("true once it is laid and the readings are of the rebuilt top")


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


class SheetLine(Table):
    """A sheet of metal that can be had. A roll is a long sheet."""

    name: Name = needed("what it is called at the supplier")
    wide: Size = needed("its width", ge=INCH)
    long: Size = needed("its length", ge=INCH)
    price: Price = key("price of one; left out, sheets are chosen by area")
    on_hand: int = key("how many lie in the van", ge=0, le=1000)
    for_sale: bool = key("false where no more can be had")


class FlashingTable(Table):
    """How the stack is flashed where it goes through the roof. Write `flashing = {}` for the usual."""

    metal: Text = key("the metal: copper 16 oz, stainless steel 26 ga, lead 4 lb ...")
    exposure: Size = key("exposure of one shingle course", ge=INCH, le=2 * FOOT)
    up: Size = key("base and step pieces up the wall", ge=INCH, le=2 * FOOT)
    over: Size = key("and over the roof", ge=INCH, le=2 * FOOT)
    beyond: Size = key("a step piece longer than the exposure by", le=FOOT)
    behind: Size = key("how far the back pan runs up the roof", ge=INCH, le=4 * FOOT)
    turn_in: Size = key("counterflashing into the joint", ge=INCH / 8, le=4 * INCH)
    lap: Size = key("one piece of counterflashing over the next", ge=INCH / 2, le=FOOT)
    clear: Size = key("foot of the counterflashing over the roof", le=4 * INCH)
    least_step: Size = key("shortest run of a stepped piece", ge=INCH, le=2 * FOOT)
    longest: Size = key("longest piece in a sawn joint", ge=6 * INCH, le=10 * FOOT)
    joint: Literal["courses", "sawn"] = key("courses: it steps up with them; sawn: in a cut along the roof")
    dress: Share = key("more metal to follow lumpy stone", le=1.0)
    cricket: bool = key("true builds a cricket, false leaves it out; left out, as the code wants")
    depth: Size = key("depth of the stack across the ridge; left out, by the survey", ge=3 * INCH)
    stock: list[SheetLine] = key("sheets that can be had; left out, 2 and 3 ft wide ones of 8 and 10 ft")


class RepellentTable(Table):
    """A water repellent for the faces, where one is wanted. Write `repellent = {}` for the usual."""

    kind: Literal["penetrant", "film"] = key("penetrant breathes; film is told against")
    permeability: float = key("permeability to water vapour on its label, by ASTM E96", ge=0, le=100)
    coverage: float = key("square metres that a cubic metre covers, by its label", gt=0, le=100000)
    after_days: float = key("days the mortar cures first", ge=0, le=365)
    waste: Share = key("share blown or run off", le=0.9)


class WaitLine(Table):
    """A wait of your own: a task only so many days after another."""

    task: Name = needed("the task that waits: pour")
    after: Name = needed("what it waits for: counterflash")
    days: float = key("days after it, at the least; 0 where the same day will do", ge=0, le=365)


class OrderTable(Table):
    """The crew and its days, for the order of the whole work."""

    crew: int = key("people on the roof", ge=1, le=20)
    hours: float = key("hours of work a day, breaks and the climb taken off", ge=1, le=16)
    waits: list[WaitLine] = key("waits of your own")
    joint_days: float = key("days the new cap stands before its flue joints are sealed", ge=0, le=90)
    repellent_days: float = key("days the mortar stands before a repellent", ge=0, le=365)


class PartLine(Table):
    """A part of the chimney for the comparison over years."""

    name: Name = needed("cap, wash, joints, flashing, sealant, repellent, top or liner")
    cost: Price = needed("what doing it by itself costs")
    left: float = key("years the old one has left; left out, a tenth of a new one's life", gt=0, le=300)


class WayLine(Table):
    """A way of repairing: what is done now, and what it goes without."""

    name: Name = needed("what it is called")
    now: Price = needed("what it costs now")
    done: list[Name] = key("parts done by it")
    without: list[Name] = key("parts there are none of, when it is done so: a recast cap has no wash")


class YearsTable(Table):
    """Ways of repairing compared over years."""

    parts: list[PartLine] = key("the parts, and what each costs")
    ways: list[WayLine] = key("the ways to compare")
    years: int = key("years looked at", ge=1, le=200)
    rate: Share = key("interest over inflation a year: 3 %", le=1.0)
    visit: Price = key("what going up again costs each time")


class RepairTable(Table):
    """The chimney below the cap: what was looked at and found, and what is done about it."""

    looked: list[LookLine] = key("what was looked at, and how")
    seen: list[SeenLine] = key("what was found")
    samples: list[SampleLine] = key("patches in which joints were counted")
    units: UnitsTable = key("the stones or bricks")
    repoint: RepointTable = key("how the joints are repointed")
    rebuild: RebuildTable = key("how the top is laid anew")
    flues: list[FlueRepairLine] = key("what is done to the flues")
    flashing: FlashingTable = key("how it is flashed where it goes through the roof")
    repellent: RepellentTable = key("a water repellent for the faces")
    order: OrderTable = key("the crew and its days, for the order of work")
    years: YearsTable = key("ways of repairing compared over years")
    claimed: int = key("inspection level somebody wants printed; it is compared with what was looked at")
    waived: list[WaivedLine] = key("findings somebody decided to go on without")


def repair_of(table: RepairTable) -> RepairRecord:
    """Return the record that the table tells of."""
    typed = table.typed()
    lines = {"looked": Look, "seen": Seen, "samples": Sample, "flues": FlueRepair, "waived": Waived}
    for name, make in lines.items():
        if name in typed:
            typed[name] = tuple(make(**_flat(line)) for line in typed[name])
    made = {
        "units": Units,
        "repoint": RepointChoices,
        "rebuild": RebuildChoices,
        "flashing": FlashingChoices,
        "repellent": RepellentChoices,
        "order": OrderChoices,
        "years": YearsChoices,
    }
    for name, whole in made.items():
        if name in typed:
            typed[name] = whole(**_lined(typed[name]))
    return RepairRecord(**typed)


def _lined(table: Table) -> dict[str, Any]:
    """The values of a table, its lines made into what they tell of."""
    lines = {"stock": Sheet, "waits": Wait, "parts": WornPart, "ways": Way}
    flat = _flat(table)
    return flat | {name: tuple(lines[name](**_flat(line)) for line in flat[name]) for name in lines if name in flat}


def _flat(table: Table) -> dict[str, Any]:
    return {name: tuple(value) if isinstance(value, list) else value for name, value in table.typed().items()}
