"""Single units cut out and changed below the courses that are laid anew: how many, how long."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from crownwright.codes.masonry_units import on_face
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import PRACTICE, Figure
from crownwright.repair.condition import Condition, Judged
from crownwright.repair.model import After, Material, Task
from crownwright.repair.stack import Stack
from crownwright.repair.tell import figure, plus, times

SHARE_SD = 0.25
"""Relative standard error of a share of a face judged by eye (a judgement)."""
EACH = Uncertain(0.4, 0.15)
"""Mason's hours to cut one unit out and set another (a judgement)."""


@dataclass(frozen=True, slots=True)
class Replacing:
    """Units to change: ``count`` expected, ``buy`` of them; ``stone`` when they are stones picked to fit, not bricks."""

    count: Uncertain
    buy: int
    figures: tuple[Figure, ...]
    materials: tuple[Material, ...]
    tasks: tuple[Task, ...]


def plan_replacing(condition: Condition, stack: Stack, rebuilt: float) -> Replacing | None:
    """Count the units that findings call to be changed, by their share of the courses they were found in, below ``rebuilt`` (m
    from the top). None where nothing calls for it, or the units' size or the share was not told.
    """
    unit, course = stack.unit, stack.course
    if unit is None or course is None:
        return None
    parts = [(one, _count(one, stack, course, unit, rebuilt)) for one in condition.calling("replace") if one.seen.face]
    parts = [(one, count) for one, count in parts if count.mean > 0]
    if not parts:
        return None
    count = plus(*(number for _, number in parts))
    buy = ceil(count.quantile(0.9) - 1e-9)
    shown = [
        figure(
            f"repair.replace.{one.number}", f"units to change, {one.where}", number, "1",
            "share x face of those courses x units on it", ("s", "share", one.seen.share or 0.0, "1"),
            ("n", "units on a square metre", on_face(unit[0], unit[1], unit[3]), "1"),
            cite=PRACTICE,
        )
        for one, number in parts
    ]  # fmt: skip
    risk = ("r", "chance of running short", 0.1, "1")
    shown.append(
        figure("repair.replace.buy", "units to buy for changing", float(buy), "1", "whole units, short once in 1/r", risk)
    )
    hours = times(count, EACH)
    after = (After("rake", 0.0, "units come out with the joints round them raked", PRACTICE),)
    what = "brick like the old" if stack.masonry == "brick" else "stone to fit"
    key = "brick" if stack.masonry == "brick" else "stone units"
    line = Material(key, what, float(buy), "1", "repair.replace.buy", "changing units", count.sd)
    task = Task(
        "replace units", "cut out the worst units and set others", count.mean, "1", "repair.replace.buy", hours, after=after,
        coldest=40 / 9, hottest=35.0,
    )  # fmt: skip
    return Replacing(count, buy, tuple(shown), (line,), (task,))


def _count(one: Judged, stack: Stack, course: float, unit: tuple[float, float, float, float], rebuilt: float) -> Uncertain:
    """Units of one finding that stay standing and are changed."""
    seen = one.seen
    if seen.share is None or seen.course is None or seen.face not in stack.faces:
        return Uncertain(0.0)
    top, foot = (seen.course - 1) * course, (seen.to_course or seen.course) * course
    high = max(foot - max(top, rebuilt), 0.0)
    number = stack.faces[seen.face].mean * high * on_face(unit[0], unit[1], unit[3]) * seen.share
    return Uncertain(number, SHARE_SD * number)
