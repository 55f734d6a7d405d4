"""Rebuilding the top: how far down, what it is laid of, what it weighs going up, how long before a cap is cast on it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from crownwright.codes.asce_7_roof_live import roof_live_load
from crownwright.codes.masonry_units import in_volume, mortar_share
from crownwright.codes.rubble import bond_stones
from crownwright.codes.rubble import table as stone_table
from crownwright.codes.unit_weights import material, materials
from crownwright.quantity.findings import Finding
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import DAY, G0, HOUR, INCH
from crownwright.quantity.working import PRACTICE, Figure
from crownwright.repair.condition import Condition
from crownwright.repair.model import After, Material, Task
from crownwright.repair.mortar import USUAL_BAG, Bag, MortarChoice, Order, choose_laying_mortar, order_mortar
from crownwright.repair.rebuild_tell import Counted, figures, findings
from crownwright.repair.record import RebuildChoices, RepairRecord
from crownwright.repair.stack import Stack
from crownwright.repair.tell import times

LAID = {"rubble stone": "fieldstone mixed laid", "squared stone": "rubble sandstone", "brick": "brick medium"}
"""Weight taken for a kind of masonry where no row of the table was named."""
SHARE = {"rubble stone": "coarse rubble", "squared stone": "regular rubble"}
REUSE = {"rubble stone": 0.8, "squared stone": 0.8, "brick": 0.5}
"""Share of the old units laid again where it was not told (a judgement)."""
COURSE_SD, DEPTH_SD = 0.25, 0.5 * INCH
"""Standard error of how far down it comes: of a course where courses are counted, of a measured depth (a judgement)."""
RATES = {"brick": 0.045 / HOUR, "squared stone": 0.055 / HOUR, "rubble stone": 0.060 / HOUR}
"""Masonry laid aloft by one mason, m3/s: a quarter to a third of what the old books give on the ground (a judgement)."""
DOWN_RATE = 0.12 / HOUR
"""Masonry taken down, its sound units cleaned and put by, m3/s (a judgement)."""
RATE_SD = 0.35


@dataclass(frozen=True, slots=True)
class RebuildPlan:
    """What is laid anew. ``depth`` m, ``volume`` of masonry m3, ``units`` laid in all and ``new`` of them bought (0 for stone,
    which goes by weight), ``stone`` mass laid and ``new_stone`` bought, kg; ``up`` and ``down`` masses carried, kg; ``room``
    that what is put by on the roof must be spread over, m2 (None: pitch not told); ``days`` before the cap is cast.
    """

    depth: Uncertain
    courses: int | None
    volume: Uncertain
    share: float
    units: int
    new: int
    stone: Uncertain
    new_stone: Uncertain
    bonders: int
    mortar: MortarChoice
    order: Order
    up: Uncertain
    down: Uncertain
    room: float | None
    hours: Uncertain
    days: float
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    materials: tuple[Material, ...]
    tasks: tuple[Task, ...]


def depth_of(record: RepairRecord, condition: Condition, stack: Stack) -> tuple[Uncertain, int | None] | None:
    """Return how far down the stack comes, m, and in courses: the deeper of what was told and where the loose units end.

    None where nothing calls for rebuilding, or how far cannot be told.
    """
    choices = record.rebuild or RebuildChoices()
    loose = deepest_loose(condition)
    course, told = stack.course, max(choices.courses or 0, loose or 0)
    if choices.depth is not None and not choices.courses:
        by_loose = (loose or 0) * course if course is not None else 0.0
        return Uncertain(max(choices.depth, by_loose), DEPTH_SD), None
    if told and course is not None:
        return Uncertain(told * course, COURSE_SD * course), told
    return None


def deepest_loose(condition: Condition) -> int | None:
    """Return the lowest course, from the top, with a finding that calls for rebuilding; None where none names a course."""
    rows = [one.seen.to_course or one.seen.course for one in condition.calling("rebuild")]
    return max((row for row in rows if row is not None), default=None)


def plan_rebuild(
    record: RepairRecord,
    condition: Condition,
    stack: Stack,
    hollow: float = 0.0,
    cap_mass: float | None = None,
    bag: Bag = USUAL_BAG,
) -> RebuildPlan | None:
    """Plan the rebuilding, or None. ``hollow`` is the volume left out of the top course so that it keys the cap, m3, and
    ``cap_mass`` what will stand on it, kg.
    """
    down_to = depth_of(record, condition, stack)
    if down_to is None:
        return None
    choices = record.rebuild or RebuildChoices()
    volume = _volume(stack, choices, down_to[0], hollow)
    if volume.mean <= 0:
        return None
    counted = _count(stack, choices, volume, down_to[0])
    mortar = choose_laying_mortar("repair.rebuild", choices.mortar, stack.units.hardness)
    order = order_mortar("repair.rebuild", "rebuilding", mortar.name, counted.mortar, choices.waste, bag)
    hours = _hours(stack, choices, volume)
    pitch_load = None if stack.pitch is None else roof_live_load(stack.pitch)
    room = None if pitch_load is None else counted.put_by.mean * G0 / pitch_load
    told = findings(record, condition, stack, counted, room, pitch_load)
    shown = figures(stack, choices, down_to[0], volume, counted, hours, room, pitch_load, cap_mass)
    return RebuildPlan(
        down_to[0], down_to[1], volume, counted.share, counted.units, counted.new, counted.stone, counted.new_stone,
        counted.bonders, mortar, order, counted.up, counted.down, room, hours, choices.days, (*told, *mortar.findings),
        (*shown, *order.figures), (*_materials(stack, counted), *order.materials), _tasks(volume, hours, choices),
    )  # fmt: skip


def _volume(stack: Stack, choices: RebuildChoices, depth: Uncertain, hollow: float) -> Uncertain:
    """Solid: all within the outline but the flues and the space round them. Open core: the walls only."""
    area = stack.area
    void = stack.void(choices.flue_space)
    if not choices.solid and choices.wall is not None:
        walls = max((stack.perimeter.mean - 4 * choices.wall) * choices.wall, 0.0)
        area, void = Uncertain(min(walls, area.mean - void), area.sd), 0.0
    whole = times(Uncertain(area.mean - void, area.sd), depth)
    return Uncertain(max(whole.mean - hollow, 0.0), whole.sd)


def _count(stack: Stack, choices: RebuildChoices, volume: Uncertain, depth: Uncertain) -> Counted:
    unit, masonry = stack.unit, stack.masonry
    reuse = choices.reuse if choices.reuse is not None else REUSE[masonry]
    by_unit = masonry == "brick" and unit is not None
    if by_unit and unit is not None:
        share, units = mortar_share(*unit), ceil(volume.mean * in_volume(*unit) - 1e-9)
    else:
        share, units = stone_table("mortar_share").number(SHARE.get(masonry, "coarse rubble"), "usual"), 0
    new = ceil(units * (1 - reuse) / (1 - choices.waste) - 1e-9)
    laid = material(stack.units.stone if stack.units.stone in materials() else LAID[masonry])
    spread = (laid.high - laid.low) / (12**0.5)
    wall = times(volume, Uncertain(laid.usual, spread))
    mortar = times(volume, share)
    mass = times(mortar, material("mortar").usual)
    stone = Uncertain(wall.mean - mass.mean, wall.sd)
    new_stone = times(stone, (1 - reuse) / (1 - choices.waste))
    wythe = choices.wall if not choices.solid and choices.wall is not None else min(run.mean for run in stack.faces.values())
    bonders = 0 if by_unit else bond_stones(stack.perimeter.mean, depth.mean, wythe)
    return Counted(share, reuse, units, new, mortar, stone, new_stone, mass, wall, bonders, laid.name)


def _hours(stack: Stack, choices: RebuildChoices, volume: Uncertain) -> Uncertain:
    """Mason's hours to lay it."""
    if choices.hours is not None:
        return Uncertain(choices.hours, 0.2 * choices.hours)
    rate = RATES[stack.masonry]
    return times(volume, Uncertain(1 / rate / HOUR, RATE_SD / rate / HOUR))


def _materials(stack: Stack, counted: Counted) -> tuple[Material, ...]:
    if counted.units:
        spread = counted.new * counted.wall.sd / counted.wall.mean
        return (Material("brick", "brick like the old", float(counted.new), "1", "repair.rebuild.new", "rebuilding", spread),)
    new = counted.new_stone
    return (Material("stone", "stone like the old", new.mean, "kg", "repair.rebuild.new_stone", "rebuilding", new.sd),)


def _tasks(volume: Uncertain, hours: Uncertain, choices: RebuildChoices) -> tuple[Task, ...]:
    down = times(volume, Uncertain(1 / DOWN_RATE / HOUR, RATE_SD / DOWN_RATE / HOUR))
    taken = After("take down", 0.0, "the bed must be sound and clean first", PRACTICE)
    source = "repair.rebuild.volume"
    return (
        Task(
            "take down", "take the loose courses down, clean what is sound", volume.mean, "m3", source, down, people=2, dry=False
        ),
        Task(
            "rebuild",
            "lay the courses again",
            volume.mean,
            "m3",
            source,
            hours,
            people=2,
            after=(taken,),
            coldest=40 / 9,
            hottest=35.0,
        ),
        Task(
            "survey again",
            "read the top as rebuilt",
            1.0,
            "1",
            "repair.rebuild.depth",
            Uncertain(1.0, 0.3),
            after=(After("rebuild", DAY, "the mortar must carry a hand and a string", PRACTICE),),
            dry=False,
        ),
    )
