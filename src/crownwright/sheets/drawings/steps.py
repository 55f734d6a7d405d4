"""Assembly, step by step, as pictures seen from above one corner: what goes on in each step is shaded."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil

import numpy as np
import shapely

from crownwright.cap.model import CapDesign
from crownwright.form.model import FormDesign, Step
from crownwright.plan.model import Plan
from crownwright.quantity.units import INCH
from crownwright.sheets.draw.layers import BOARD, FLUE, HATCH, NOTE, STONE
from crownwright.sheets.draw.marks import LINE_STEP
from crownwright.sheets.draw.shapes import Drawing, Point, Polygon, Shape, Symbol, Text
from crownwright.sheets.drawings.frame import Frame, cap_frame
from crownwright.sheets.drawings.say import wrap
from crownwright.sheets.drawings.solidview import Upright, scenes
from crownwright.sheets.drawings.top import opening
from crownwright.survey.model import Array, Survey

MOST = 6  # pictures a sheet
ROOM, LARGEST = (240.0, 150.0), (118.0, 110.0)  # mm, of a sheet and of one step at most
BODY, HEAD = 2.9, 3.4  # mm, ems of a step's words and of its title
BELOW = 9 * INCH  # of stone shown under the soffit
WEB = 1.5 * INCH  # a strap as drawn
SHOWN = 0.3 * INCH  # the smallest lump a picture shows


@dataclass(frozen=True, slots=True)
class _Thing:
    """A solid, the step it comes in with (-1: there before), and whether later pictures show it."""

    step: int
    stays: bool
    solid: Upright


def assembly(plan: Plan) -> tuple[Drawing, ...]:
    """Return the steps of assembly, six pictures a sheet. Needs ``plan.survey``, ``plan.cap`` and ``plan.form``."""
    if plan.survey is None or plan.cap is None or plan.form is None:
        raise ValueError("this plan has no form to draw; see its problems")
    pictures = list(_pictures(plan.form.steps, list(_things(plan.survey, plan.cap, plan.form))))
    return on_sheets(plan.form.steps, pictures, "assembly", "Putting the form together")


def on_sheets(steps: Sequence[Step], pictures: list[list[Polygon]], name: str, title: str) -> tuple[Drawing, ...]:
    """Return steps and their pictures as drawings called ``name``, at most six a sheet and as many on each, all at one scale."""
    sizes = np.array([np.ptp(np.array([p for shape in seen for p in shape.outer]), axis=0) for seen in pictures])
    wide, high = (float(size) for size in sizes.max(axis=0))
    each = ceil(len(pictures) / ceil(len(pictures) / MOST))
    grids = (_grid(steps, each, across) for across in range(1, each + 1))
    grid = min(grids, key=lambda of: of.scale(wide, high))
    by = grid.scale(wide, high)
    groups = [range(len(pictures))[k : k + each] for k in range(0, len(pictures), each)]
    names = [name] if len(groups) == 1 else [f"{name}-{n + 1}" for n in range(len(groups))]
    return tuple(_sheet(steps, pictures, group, grid, by, (called, title)) for group, called in zip(groups, names, strict=True))


@dataclass(frozen=True, slots=True)
class _Grid:
    """How many pictures stand beside one another, the room of each with its words, and the height of the words, mm."""

    across: int
    wide: float
    high: float
    words: float

    def scale(self, wide: float, high: float) -> float:
        """1 to what, so that pictures of this size (m) fit."""
        return 1000.0 * max(wide / (self.wide - 4.0), high / (self.high - self.words))


def _grid(steps: Sequence[Step], each: int, across: int) -> _Grid:
    wide, high = min(ROOM[0] / across, LARGEST[0]), min(ROOM[1] / ceil(each / across), LARGEST[1])
    lines = max(_told(step, wide).count("\n") + 1 for step in steps)
    return _Grid(across, wide, high, 13.0 + lines * BODY * LINE_STEP)


def _told(step: Step, wide: float) -> str:
    return wrap(step.tell, BODY, wide - 7.0)


def _sheet(
    steps: Sequence[Step], pictures: list[list[Polygon]], numbers: range, grid: _Grid, by: float, called: tuple[str, str]
) -> Drawing:
    times = 1000.0 / by
    shapes: list[Shape] = []
    for i in numbers:
        row, col = divmod(i - numbers[0], grid.across)
        shapes += _cell(i, steps[i], pictures[i], (col * grid.wide / times, -row * grid.high / times), grid, times)
    which = "" if len(numbers) == len(pictures) else f", {_span(numbers[0] + 1, numbers[-1] + 1)}"
    says = " ".join(f"{i + 1}: {steps[i].title}." for i in numbers)
    return Drawing(called[0], f"{called[1]}{which}", says, by, "", tuple(shapes))


def _span(first: int, last: int) -> str:
    return f"step {first}" if first == last else f"steps {first} to {last}"


def _pictures(steps: Sequence[Step], things: list[_Thing]) -> Iterator[list[Polygon]]:
    """One picture a step of what is there by then; what the step adds is shaded."""
    sets = [[k for k, t in enumerate(things) if t.step == i or (t.step < i and t.stays)] for i in range(len(steps))]
    for i, scene in enumerate(scenes([thing.solid for thing in things], sets)):
        yield [shaded(shape, things[k].step == i) for k, shape in scene]


def shaded(shape: Polygon, now: bool) -> Polygon:
    """Return a face of a step's picture: grey where it is what the step is about, and nothing else grey."""
    if shape.fill not in ("white", "grey"):
        return shape
    return replace(shape, fill="grey" if now else "white")


def _cell(i: int, step: Step, seen: list[Polygon], corner: Point, grid: _Grid, times: float) -> Iterator[Shape]:
    """One picture, centred in its room, its number, title and words above it."""
    left, low, right, _ = shapely.MultiPoint([p for shape in seen for p in shape.outer]).bounds
    dx = corner[0] + grid.wide / 2 / times - (left + right) / 2
    dy = corner[1] - (grid.high - 3.0) / times - low
    for shape in seen:
        outer = tuple((x + dx, y + dy) for x, y in shape.outer)
        yield replace(shape, outer=outer, holes=tuple(tuple((x + dx, y + dy) for x, y in hole) for hole in shape.holes))
    yield Symbol("balloon", corner, str(i + 1), size=6.6, shift=(4.0, -3.8))
    yield Text(corner, step.title, HEAD, "start", 1.0, bold=True, shift=(9.0, -2.2), layer=NOTE)
    yield Text(corner, _told(step, grid.wide), BODY, "start", 1.0, shift=(1.0, -8.8), layer=NOTE)


def _things(survey: Survey, cap: CapDesign, form: FormDesign) -> Iterator[_Thing]:
    """Stone, flues, every piece with its step, the straps and the steel with theirs."""
    frame = cap_frame(cap)
    edge = max(float(np.mean([u.mean for u in survey.surface.lowest_edge])), cap.soffit)
    stone = Upright(plain_ring(frame.of(survey.outline.face)), cap.soffit - BELOW, edge, STONE, title="the chimney", rounded=True)
    yield _Thing(-1, True, stone)
    for flue in survey.flues:
        inside = plain_ring(frame.of(np.array(opening(flue))))
        ring = plain_ring(frame.of(flue.ring))
        yield _Thing(-1, True, Upright(ring, edge, flue.top.mean, FLUE, title=flue.name, hollow=inside, rounded=True))
    steps = {name: i for i, step in enumerate(form.steps) for name in step.pieces}
    for piece in form.pieces:
        if piece.name in steps:
            title = f"{piece.part} {piece.name}"
            solid = Upright(frame.of(piece.footprint), piece.bottom, piece.top, BOARD, title=title)
            yield _Thing(steps[piece.name], True, solid)
    strapped = _step_about(form.steps, "strap")
    if strapped is not None:
        yield from (_Thing(strapped, False, band) for band in _straps(form, frame))
    tied = _step_about(form.steps, "steel", "reinforcement")
    if tied is not None:
        yield from (_Thing(tied, True, rod) for rod in _steel(cap, frame))


def _step_about(steps: Sequence[Step], *words: str) -> int | None:
    """The first step whose title names one of the words, else the first whose text does."""
    for texts in ([step.title for step in steps], [step.tell for step in steps]):
        for i, text in enumerate(texts):
            if any(word in text.lower() for word in words):
                return i
    return None


def plain_ring(ring: Array) -> Array:
    """A ring with no more corners than a small picture can show."""
    return shapely.get_coordinates(shapely.Polygon(ring).simplify(SHOWN))[:-1]


def _straps(form: FormDesign, frame: Frame) -> Iterator[Upright]:
    """Each strap as a dark band a hair outside the blocks."""
    girth = shapely.get_coordinates(shapely.Polygon(frame.of(form.strap.path)).convex_hull.buffer(0.003, join_style="mitre"))[:-1]
    for high in form.strap.heights:
        middle = form.block_bottom + high
        yield Upright(girth, middle - WEB / 2, middle + WEB / 2, BOARD, "black", "ratchet strap", tops=False)


def _steel(cap: CapDesign, frame: Frame) -> Iterator[Upright]:
    """Joint reinforcement as thin dark rods."""
    for piece in cap.steel:
        line = shapely.LineString([frame.point(piece.start), frame.point(piece.end)])
        ring = shapely.get_coordinates(line.buffer(0.008, cap_style="flat"))[:-1]
        yield Upright(ring, piece.level - 0.004, piece.level + 0.004, HATCH, "black", f"steel {piece.name}")
