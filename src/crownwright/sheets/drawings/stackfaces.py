"""The faces of the stack beside each other as one walks round it, with what was found on them, by number, and where."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from crownwright.plan.model import Plan
from crownwright.quantity.units import FOOT, INCH
from crownwright.repair.condition import Judged
from crownwright.repair.model import RepairPlan
from crownwright.repair.stack import Stack, stack_of
from crownwright.sheets.draw.layers import CAP, FLUE, NOTE, READING, ROOF, STONE, WANTED
from crownwright.sheets.draw.shapes import Dimension, Drawing, Line, Point, Polygon, Shape, Symbol, Text
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.say import length, wrap
from crownwright.sheets.drawings.walls import joints
from crownwright.survey.model import Survey

STUB = 3 * FOOT  # of face shown where the roof was not read
GAP = 10 * INCH  # between two faces
CAP_HIGH = 4 * INCH  # of the band that stands for the cap as found
BALLOON = 5.2  # mm
LABEL, SMALL = 3.2, 2.9  # mm, ems
KEY_WIDE = 118.0  # mm, of one column of the list below


@dataclass(frozen=True, slots=True)
class _Sheet:
    """One drawing being made: the stack, each face's left edge, its height, mm on paper to the metre."""

    repair: RepairPlan
    stack: Stack
    survey: Survey
    lefts: dict[str, float]
    high: float
    times: float

    def right(self, face: str) -> float:
        """Right edge of a face."""
        return self.lefts[face] + self.stack.faces[face].mean


def stack_faces(plan: Plan) -> Drawing:
    """Return the faces with their findings. Needs ``plan.survey`` and ``plan.repair``."""
    if plan.survey is None or plan.repair is None:
        raise ValueError("nothing was entered of this chimney below its cap")
    survey, repair = plan.survey, plan.repair
    stack = stack_of(survey, plan.job.surroundings, repair.record.units)
    lefts, at = {}, 0.0
    for face, run in stack.faces.items():
        lefts[face], at = at, at + run.mean + GAP
    high = stack.height or STUB

    def draw(scale: scales.Scale) -> Drawing:
        sheet = _Sheet(repair, stack, survey, lefts, high, 1000.0 / scale.by)
        shapes = (*_faces(sheet, plan), *_over(sheet), *_work(sheet, plan), *_found(sheet), *_key(sheet))
        count = len(repair.condition.judged)
        says = f"The {len(lefts)} faces of the stack side by side as one walks round it, with {count} findings by number."
        return Drawing("stack-faces", "What was found, face by face", says, scale.by, scale.says, shapes)

    return scales.largest(draw, (at - GAP, high + 2 * CAP_HIGH), (10.0, 30.0), plan.job.units)


def _faces(sheet: _Sheet, plan: Plan) -> Iterator[Shape]:
    read = sheet.stack.height is not None
    for face, left in sheet.lefts.items():
        right = sheet.right(face)
        outline = ((left, -sheet.high), (right, -sheet.high), (right, 0.0), (left, 0.0))
        yield Polygon(STONE, outline, fill="white", title=f"face {face}")
        yield from joints(shapely.Polygon(outline), sheet.stack.masonry)
        name = f"face {face}"
        yield Text(((left + right) / 2, -sheet.high), name, 3.6, "middle", 1.0, bold=True, shift=(0.0, -6.5))
        yield Dimension(
            (left, -sheet.high), (right, -sheet.high), -4.0, length(right - left, plan.job.units, finest=4), along=0.0
        )
    first, last = min(sheet.lefts.values()), max(sheet.right(face) for face in sheet.lefts)
    layer, title = (ROOF, "roof, at its mean height") if read else (NOTE, "broken off here: the roof was not read")
    yield Line(layer, (first - 2 * INCH, -sheet.high), (last + 2 * INCH, -sheet.high), title)
    yield from _courses(sheet)


def _courses(sheet: _Sheet) -> Iterator[Shape]:
    """Numbers of the courses that findings name, at the left of the first face."""
    course = sheet.stack.course
    deepest = max((one.seen.to_course or one.seen.course or 0 for one in sheet.repair.condition.judged), default=0)
    if course is None or not deepest:
        return
    left = min(sheet.lefts.values())
    for n in range(1, min(deepest, int(sheet.high / course)) + 1):
        if course * sheet.times < 3.4 and n % 5 != 1:
            continue
        yield Text((left, -(n - 0.5) * course), str(n), SMALL, "end", 0.5, shift=(-2.0, 0.0))
        yield Line(NOTE, (left - 1.2 / sheet.times, -n * course), (left, -n * course), f"foot of course {n}")


def _over(sheet: _Sheet) -> Iterator[Shape]:
    """The cap as found over every face, and the flues over the first."""
    capped = not any(one.kind.name == "no cap" for one in sheet.repair.condition.judged)
    first = next(iter(sheet.lefts))
    top = CAP_HIGH if capped else 0.0
    for flue in sheet.survey.flues:
        low, high = _along(sheet, flue.ring, first)
        rise = top + max(flue.top.mean, 6 * INCH) * 0.5
        yield Polygon(FLUE, ((low, 0.0), (high, 0.0), (high, rise), (low, rise)), fill="white", title=f"flue {flue.name}")
        yield Text(((low + high) / 2, rise), flue.name, SMALL, "middle", 0.0, shift=(0.0, 1.2))
    if capped:
        for face, left in sheet.lefts.items():
            right = sheet.right(face)
            yield Polygon(CAP, ((left, 0.0), (right, 0.0), (right, top), (left, top)), fill="white", title="cap as found")


def _along(sheet: _Sheet, ring: np.ndarray, face: str) -> tuple[float, float]:
    """Where a flue stands as seen on the first face."""
    a, b = sheet.survey.corners[0], sheet.survey.corners[1]
    way = (b - a) / np.hypot(*(b - a))
    u = (np.asarray(ring) - a) @ way + sheet.lefts[face]
    return float(u.min()), float(u.max())


def _work(sheet: _Sheet, plan: Plan) -> Iterator[Shape]:
    """How far down the stack is laid anew and repointed."""
    first, last = min(sheet.lefts.values()), max(sheet.right(face) for face in sheet.lefts)
    rows = []
    if sheet.repair.rebuild is not None:
        rows.append((sheet.repair.rebuild.depth.mean, "laid anew down to here"))
    if sheet.repair.repointing is not None and plan.job.repair is not None and plan.job.repair.repoint is not None:
        height = plan.job.repair.repoint.height
        rows += [(height, "repointed down to here")] if height is not None and height < sheet.high else []
    for down, says in rows:
        yield Line(WANTED, (first, -down), (last, -down), says)
        text = f"{says}: {length(down, plan.job.units)}"
        yield Text((last, -down), wrap(text, SMALL, 24.0), SMALL, "start", 0.5, shift=(2.0, 0.0))


def _found(sheet: _Sheet) -> Iterator[Shape]:
    """A balloon with its number for every finding; courses that it takes are framed."""
    taken: list[Point] = []
    for one in sheet.repair.condition.judged:
        frame = _frame(sheet, one)
        if frame is not None:
            yield Polygon(READING, frame, title=f"{one.number}: {one.kind.name}")
    for one in sheet.repair.condition.judged:
        spot = _free(_spot(sheet, one), taken, sheet.times)
        taken.append(spot)
        yield Symbol("balloon", spot, str(one.number), size=BALLOON)


def _frame(sheet: _Sheet, one: Judged) -> tuple[Point, ...] | None:
    """Outline of the courses that a finding takes; None where it has a place of its own, or no courses."""
    seen, course = one.seen, sheet.stack.course
    if seen.face not in sheet.lefts or seen.course is None or course is None or seen.along is not None:
        return None
    edge = (0.5 + 0.6 * (one.number % 4)) / sheet.times  # frames of several findings lie inside each other
    left, right = sheet.lefts[seen.face] + edge, sheet.right(seen.face) - edge
    top, foot = -(seen.course - 1) * course, -(seen.to_course or seen.course) * course
    thin = 0.4 / sheet.times
    return (left, foot + thin), (right, foot + thin), (right, top - thin), (left, top - thin)


def _spot(sheet: _Sheet, one: Judged) -> Point:
    """Where a finding's number goes, before others are minded."""
    seen, course = one.seen, sheet.stack.course
    first = next(iter(sheet.lefts))
    if seen.face in sheet.lefts:
        left, right = sheet.lefts[seen.face], sheet.right(seen.face)
        x = (left + right) / 2 if seen.along is None else min(max(left + seen.along.metres, left), right)
        if seen.course is None or course is None:
            return x, -0.6 * sheet.high
        return x, max(-((seen.course - 1) + (seen.to_course or seen.course)) / 2 * course, -sheet.high)
    ring = next((flue.ring for flue in sheet.survey.flues if flue.name == seen.flue), None)
    if ring is not None:
        return _along(sheet, ring, first)[1] + 0.7 * BALLOON / sheet.times, CAP_HIGH + 3 * INCH
    if one.kind.place == "cap":
        return sheet.lefts[first] + 3 * INCH, CAP_HIGH / 2
    if one.kind.place == "flashing":
        return sheet.lefts[first] + 3 * INCH, -sheet.high
    return sheet.right(first) + GAP / 2, -0.5 * sheet.high


def _free(spot: Point, taken: list[Point], times: float) -> Point:
    """The spot, or the nearest to its right or left where no other number stands, the right first."""
    step = (BALLOON + 0.8) / times
    for k in range(40):
        x = spot[0] + k * step if k < 6 else spot[0] - (k - 5) * step
        if all((x - a) ** 2 + (spot[1] - b) ** 2 >= (0.98 * step) ** 2 for a, b in taken):
            return x, spot[1]
    return spot


def _key(sheet: _Sheet) -> Iterator[Shape]:
    """The findings by number, in two columns under the faces."""
    rows = [f"{one.number}.  {one.kind.name}, {one.where}" + _grade(one) for one in sheet.repair.condition.judged]
    half = -(-len(rows) // 2)
    left = min(sheet.lefts.values())
    for column, part in enumerate((rows[:half], rows[half:])):
        text = "\n".join(wrap(row, SMALL, KEY_WIDE) for row in part)
        if text:
            yield Text((left, -sheet.high), text, SMALL, "start", 1.0, shift=(column * (KEY_WIDE + 5.0), -15.0))


def _grade(one: Judged) -> str:
    return ": not measured" if one.grade is None else f": {one.grade.name}"
