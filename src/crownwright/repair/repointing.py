"""Repointing: how much joint, raked how deep, filled with what, in how many days, and what is not done."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from crownwright.codes import nps_pb2
from crownwright.quantity.findings import Finding
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import DAY, FOOT, HOUR, INCH
from crownwright.quantity.working import PRACTICE, Cite, Figure
from crownwright.repair.model import After, Material, Task
from crownwright.repair.mortar import USUAL_BAG, Bag, MortarChoice, Order, choose_mortar, order_mortar
from crownwright.repair.record import RepairRecord, RepointChoices, Sample
from crownwright.repair.repoint_faces import FaceJoints, face_joints, joint_width
from crownwright.repair.repoint_tell import figures, findings
from crownwright.repair.sampling import mean_of
from crownwright.repair.stack import Stack
from crownwright.repair.tell import plus, times

LEAST_PATCH = 1.0 * INCH
"""A patch smaller either way is none; the check tells of it."""
DEPTH_SD = 0.2
"""Relative standard error of a single reading of how deep a joint is open (a judgement)."""
RAKE_SD = 0.1
"""Relative standard error of the depth as raked against the depth meant (a judgement)."""
RATES: Mapping[str, float] = {"brick": 20 * FOOT / HOUR, "squared stone": 15 * FOOT / HOUR, "rubble stone": 12 * FOOT / HOUR}
"""Joint raked, filled and tooled by one mason, m/s (a judgement; own jobs move it)."""
RATE_SD = 0.35
DAMP = 3 * DAY
"""Lime mortar is kept damp at least so long."""
DAMP_CITE = Cite("lime_cure", "at least three days")
NOT_DONE = (
    "No mortar harder than the stone: the stone's face bursts in its place.",
    "No skim over old mortar: rake to the full depth, square, sides clean, and wet the joint first.",
    "No repointing under 40 °F (4 °C) or over 95 °F (35 °C) on the wall, nor with frost coming before it has cured.",
    "No work in full sun or hot wind: shade it, work round with the shade, keep it damp.",
    "No grinder in upright joints narrower than the wheel or in soft stone: it cuts the stone.",
    "No sealer over damp stone or open joints: it cures neither.",
)
"""What is not done, after the preservation brief and common practice."""


@dataclass(frozen=True, slots=True)
class RepointPlan:
    """All of the repointing. Lengths m, ``volume`` in place m3, ``hours`` of one mason, ``days`` on the wall."""

    faces: tuple[FaceJoints, ...]
    length: Uncertain
    width: Uncertain
    depth: Uncertain
    lifts: int
    volume: Uncertain
    mortar: MortarChoice
    order: Order
    hours: Uncertain
    days: float
    not_done: tuple[str, ...]
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    materials: tuple[Material, ...]
    tasks: tuple[Task, ...]


def plan_repointing(record: RepairRecord, stack: Stack, rebuilt: float = 0.0, bag: Bag = USUAL_BAG) -> RepointPlan | None:
    """Plan the repointing; None where nothing was counted, or the joints' width or the height cannot be told.

    ``rebuilt`` is how far down the stack is laid anew, m: those courses need no repointing.
    """
    choices = record.repoint or RepointChoices()
    height = choices.height if choices.height is not None else stack.height
    samples = [one for one in record.samples if one.face in stack.faces and (not choices.faces or one.face in choices.faces)]
    samples = [one for one in samples if min(one.wide.metres, one.high.metres) >= LEAST_PATCH and one.failed.metres >= 0]
    width = joint_width(samples, stack)
    if not samples or height is None or width is None or height <= rebuilt:
        return None
    faces = face_joints(samples, stack, height - rebuilt, choices.whole)
    return _planned(choices, stack, faces, width, samples, bag)


def _planned(
    choices: RepointChoices,
    stack: Stack,
    faces: tuple[FaceJoints, ...],
    width: Uncertain,
    samples: list[Sample],
    bag: Bag,
) -> RepointPlan:
    length = plus(*(face.length for face in faces))
    depth = _depth(width, samples, stack)
    volume = times(length, width, depth)
    mortar = choose_mortar("repair.repoint", choices.mortar, stack.units.hardness, choices.exposure)
    order = order_mortar("repair.repoint", "repointing", mortar.name, volume, choices.waste, bag)
    rate = choices.rate / HOUR if choices.rate is not None else RATES[stack.masonry]
    hours = times(length, Uncertain(1 / rate / HOUR, 0.0 if choices.rate else RATE_SD / rate / HOUR))
    shown = (*figures(faces, length, width, depth, volume, hours, rate), *order.figures)
    told = (*findings(faces, depth, width), *mortar.findings)
    lifts = nps_pb2.lifts(depth.mean)
    days = max(hours.mean / 7.0, 0.5)
    return RepointPlan(
        faces, length, width, depth, lifts, volume, mortar, order, hours, days, NOT_DONE, told, shown, order.materials,
        _tasks(length, hours),
    )  # fmt: skip


def _depth(width: Uncertain, samples: list[Sample], stack: Stack) -> Uncertain:
    """Depth raked: by the rule, or to sound mortar where that lies deeper."""
    floor = nps_pb2.RAKE_FLOOR if stack.masonry == "brick" else 0.0
    by_rule = nps_pb2.rake_depth(width.mean, floor=floor)
    read = [one.depth.metres for one in samples if one.depth is not None]
    open_to = mean_of(read, DEPTH_SD) if read else Uncertain(0.0)
    if open_to.mean > by_rule:
        return Uncertain(open_to.mean, max(open_to.sd, RAKE_SD * open_to.mean))
    return Uncertain(by_rule, RAKE_SD * by_rule)


def _tasks(length: Uncertain, hours: Uncertain) -> tuple[Task, ...]:
    rebuilds = (After("rebuild", DAY, "the new courses must not be shaken", PRACTICE),)
    rake = Uncertain(0.4 * hours.mean, 0.4 * hours.sd)
    fill = Uncertain(0.6 * hours.mean, 0.6 * hours.sd)
    raked = After("rake", 0.0, "joints are filled the day they are raked and wetted, or the next", PRACTICE)
    return (
        Task("rake", "rake out and wet the joints", length.mean, "m", "repair.repoint.length", rake, after=rebuilds),
        Task(
            "repoint",
            "fill and tool the joints",
            length.mean,
            "m",
            "repair.repoint.length",
            fill,
            after=(raked,),
            coldest=nps_pb2.WALL_COLDEST,
            hottest=nps_pb2.WALL_HOTTEST,
        ),
    )
