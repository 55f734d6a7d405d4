"""Joints that were found open but not counted on a patch: how much they come to by the record alone, and what it lacks.

A crack has its length. Open joints of a face have the joint that lies in the courses named, times the share that was told by eye;
no share told, anything from none of it to all of it is as likely. What cannot be told by the record is not guessed: it is named.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot, sqrt

from crownwright.codes import nps_pb2
from crownwright.codes.masonry_units import joint_on_face
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import HOUR
from crownwright.quantity.working import PRACTICE, Cite, Figure
from crownwright.repair.condition import Judged
from crownwright.repair.model import Material, RepairPlan, Task
from crownwright.repair.mortar import USUAL_BAG, Bag, choose_mortar, order_mortar
from crownwright.repair.record import RepointChoices
from crownwright.repair.repoint_faces import joint_width
from crownwright.repair.repointing import RAKE_SD, RATE_SD, RATES
from crownwright.repair.stack import Stack
from crownwright.repair.tell import Input, figure, plus, times

SHARE_SD = 0.25
"""Relative standard error of a share told by eye (a judgement)."""
LENGTH_SD = 0.1
"""Relative standard error of a crack's length as told (a judgement)."""
BY_EYE = Cite("judgement", "how well a share is told by eye", "derived")


@dataclass(frozen=True, slots=True)
class Unsampled:
    """Joints to repoint that no patch tells of: their ``length`` m (None: none can be told), ``open_`` why it is no firm amount,
    ``lacks`` what the record would have to tell; lines for the price, as of a repair plan; figures with their working.
    """

    length: Uncertain | None
    open_: tuple[str, ...]
    lacks: tuple[str, ...]
    materials: tuple[Material, ...] = ()
    tasks: tuple[Task, ...] = ()
    figures: tuple[Figure, ...] = ()


@dataclass(frozen=True, slots=True)
class _Part:
    length: Uncertain
    shown: Figure
    open_: str = ""


def unsampled(repair: RepairPlan, stack: Stack, bag: Bag = USUAL_BAG) -> Unsampled | None:
    """Return the joints found open that no patch was counted for; None where there are none.

    Faces that were sampled are left to the repointing; courses that are taken down to the rebuilding.
    """
    sampled = {face.face for face in repair.repointing.faces} if repair.repointing is not None else set()
    called = [one for one in repair.condition.calling("repoint") if one.seen.face not in sampled]
    if not called:
        return None
    parts, lacks = [], []
    for one in called:
        found = _crack(one) if one.kind.name == "masonry crack" else _joints(one, stack)
        if isinstance(found, str):
            lacks.append(f"{one.where}, {one.kind.name}: {found}")
        else:
            parts.append(found)
    width = joint_width(repair.record.samples, stack)
    if parts and width is None:
        lacks += ["the width of the joints was not told"]
    if not parts or width is None:
        return Unsampled(None, (), tuple(lacks))
    return _planned(repair, stack, parts, width, tuple(lacks), bag)


def _crack(one: Judged) -> _Part | str:
    if one.seen.over is None:
        return "its length was not told"
    length = Uncertain(one.seen.over.metres, LENGTH_SD * one.seen.over.metres)
    told = ("l", one.kind.over or "length", one.seen.over.metres, "m")
    return _Part(length, figure(f"repair.unsampled.{one.number}", f"joint along the crack, {one.where}", length, "m", "l", told))


def _joints(one: Judged, stack: Stack) -> _Part | str:
    """Joint in the courses named: area times joint on a square metre, times the share."""
    run, unit, seen = stack.faces.get(one.seen.face), stack.unit, one.seen
    if run is None:
        return "the face was not told"
    if unit is None:
        return "the size of the units was not told, and no patch was counted"
    high = _height(one, stack)
    if high is None:
        return "neither courses nor the stack's height were told"
    density = joint_on_face(unit[0], unit[1], unit[3])
    whole = run.mean * high * density
    terms: tuple[Input, ...] = (
        ("b", f"face {seen.face}", run.mean, "m"), ("h", "height of the courses", high, "m"),
        ("j", "metres of joint on a square metre, by the units' size", density, "1"),
    )  # fmt: skip
    key, label = f"repair.unsampled.{one.number}", f"joint to repoint, {one.where}"
    if seen.share is not None:
        length = Uncertain(whole * seen.share, whole * seen.share * hypot(SHARE_SD, run.sd / run.mean))
        shown = figure(key, label, length, "m", "b h j s", *terms, ("s", "share, by eye", seen.share, "1"), cite=BY_EYE)
        return _Part(length, shown, f"{one.where}: the share of open joints was told by eye, not counted on a patch")
    length = Uncertain(whole / 2, whole / sqrt(12))
    formula = "b h j / 2; standard error b h j / sqrt(12)"
    holds = "no share was told: anything from none of the joint there to all of it is taken as likely"
    return _Part(length, figure(key, label, length, "m", formula, *terms, cite=BY_EYE, holds=holds),
                 f"{one.where}: how much of the joint is open was not told")  # fmt: skip


def _height(one: Judged, stack: Stack) -> float | None:
    seen = one.seen
    if seen.course is not None and stack.course is not None:
        return ((seen.to_course or seen.course) - seen.course + 1) * stack.course
    return stack.height if seen.course is None else None


def _planned(
    repair: RepairPlan, stack: Stack, parts: list[_Part], width: Uncertain, lacks: tuple[str, ...], bag: Bag
) -> Unsampled:
    choices = repair.record.repoint or RepointChoices()
    length = plus(*(part.length for part in parts))
    floor = nps_pb2.RAKE_FLOOR if stack.masonry == "brick" else 0.0
    rule = nps_pb2.rake_depth(width.mean, floor=floor)
    depth = Uncertain(rule, RAKE_SD * rule)
    volume = times(length, width, depth)
    mortar = choose_mortar("repair.unsampled", choices.mortar, stack.units.hardness, choices.exposure)
    order = order_mortar("repair.unsampled", "joints by the record", mortar.name, volume, choices.waste, bag)
    rate = choices.rate / HOUR if choices.rate is not None else RATES[stack.masonry]
    hours = times(length, Uncertain(1 / rate / HOUR, 0.0 if choices.rate else RATE_SD / rate / HOUR))
    shown = tuple(_shown(parts, length, width, depth, volume, hours, rate))
    task = Task("repoint by the record", "rake out and repoint the joints found open", length.mean, "m",
                "repair.unsampled.length", hours)  # fmt: skip
    open_ = tuple(part.open_ for part in parts if part.open_)
    return Unsampled(length, open_, lacks, order.materials, (task,), (*shown, *order.figures))


def _shown(
    parts: list[_Part], length: Uncertain, width: Uncertain, depth: Uncertain, volume: Uncertain, hours: Uncertain, rate: float
) -> Iterator[Figure]:
    yield from (part.shown for part in parts)
    sums: tuple[Input, ...] = tuple(("", part.shown.label, part.length.mean, "m") for part in parts)
    whole: Input = ("L", "joint to repoint", length.mean, "m")
    yield figure("repair.unsampled.length", "joint to repoint, not counted on patches", length, "m", "sum", *sums)
    yield figure(
        "repair.unsampled.volume", "mortar in it", volume, "m3", "L w d", whole, ("w", "width of the joints", width.mean, "m"),
        ("d", "depth to rake out, by the rule", depth.mean, "m"), cite=Cite("nps_pb2", "depth of joints, weather, extent"),
    )  # fmt: skip
    yield figure(
        "repair.unsampled.hours", "mason's hours raking and pointing it", times(hours, HOUR), "s", "L/r", whole,
        ("r", "joint in an hour", rate * HOUR, "m"), cite=PRACTICE,
    )  # fmt: skip
