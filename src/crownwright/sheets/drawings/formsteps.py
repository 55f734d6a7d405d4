"""A form that was told, step by step: put together, and taken off again with the concrete in it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from math import atan2, degrees

import numpy as np
import shapely

from crownwright.checks.strip_model import FormModel, Leg, Prism, Step, StripOrder
from crownwright.form.model import Step as Told
from crownwright.plan.job import Units
from crownwright.quantity.units import INCH
from crownwright.sheets.draw.layers import BOARD, CAP, STONE, Layer
from crownwright.sheets.draw.shapes import Drawing, Polygon
from crownwright.sheets.drawings.say import spoken
from crownwright.sheets.drawings.solidview import Upright, scenes
from crownwright.sheets.drawings.steps import on_sheets

AXES = {
    (1, 0, 0): "straight to +x", (-1, 0, 0): "straight to -x", (0, 1, 0): "straight to +y",
    (0, -1, 0): "straight to -y", (0, 0, 1): "straight up", (0, 0, -1): "straight down",
}  # fmt: skip
MOST_NAMED = 6
STUB = 9 * INCH
"""How much of the stone below the form's lowest part is drawn, m."""


def taking_off(form: FormModel, order: StripOrder, units: Units) -> tuple[Told, ...]:
    """Return the steps of stripping in words: what to draw, what comes off which way, what to hold first."""
    clamps = _clamps(form)
    return tuple(_off(step, units, clamps) for step in order.steps)


def putting_on(form: FormModel, order: StripOrder, units: Units) -> tuple[Told, ...]:
    """Return the steps of assembly in words: the steps of stripping the other way round."""
    clamps = _clamps(form)
    return tuple(_on(step, units, clamps) for step in order.assembly)


def _clamps(form: FormModel) -> frozenset[str]:
    return frozenset(one.name for one in form.fasteners if one.clamps)


def form_drawings(form: FormModel, order: StripOrder, units: Units) -> tuple[Drawing, ...]:
    """Return assembly and stripping as pictures, six a sheet; parts that never come off are left out of assembly's steps."""
    off, on = taking_off(form, order, units), putting_on(form, order, units)
    found: tuple[Drawing, ...] = ()
    if on and not order.left:
        found += on_sheets(on, list(_growing(form, on)), "assembly", "Putting the form together")
    if off:
        found += on_sheets(off, list(_shrinking(form, off)), "stripping", "Taking the form off")
    return found


def way_words(legs: Sequence[Leg], units: Units) -> str:
    """Return a move in words.

    >>> way_words((Leg((0.0, 0.0, -1.0), 0.01905), Leg((0.0, -1.0, 0.0), 100.0)), "us")
    'straight down by 3/4", then straight to -y'
    """
    words = [f"{_way(leg)} by {spoken(leg.far, units)}" for leg in legs[:-1]]
    return ", then ".join((*words, _way(legs[-1])))


def _way(leg: Leg) -> str:
    x, y, z = (round(v, 3) for v in leg.way)
    near = next((says for axis, says in AXES.items() if max(abs(a - b) for a, b in zip(axis, (x, y, z), strict=True)) < 0.01), "")
    if near:
        return near
    level = f"level, {degrees(atan2(y, x)) % 360:.0f}° round from +x towards +y"
    return level if abs(z) < 0.01 else f"{'up' if z > 0 else 'down'} at a slant, {level.removeprefix('level, ')}"


def _off(step: Step, units: Units, clamps: frozenset[str]) -> Told:
    hold = f"First prop, tie or hold {named(step.falls)}: nothing else does then. " if step.falls else ""
    draw = _done(step.draw, clamps, "Slacken", "Draw")
    return Told(_title(step, "off"), f"{hold}{draw}It goes {way_words(step.move, units)}.", step.parts, step.draw)


def _on(step: Step, units: Units, clamps: frozenset[str]) -> Told:
    """The last leg of the move comes first; how far it has to come is nobody's concern."""
    back = [replace(leg, way=(-leg.way[0], -leg.way[1], -leg.way[2])) for leg in reversed(step.move)]
    come = ", then ".join(_way(leg) for leg in back)
    drive = _done(step.draw, clamps, "Draw tight", "Drive")
    hold = f" That now holds {named(step.falls)}: prop, tie or hold it till here." if step.falls else ""
    return Told(_title(step, "on"), f"It comes {come}. {drive}".rstrip() + hold, step.parts, step.draw)


def _done(names: Sequence[str], clamps: frozenset[str], with_clamps: str, with_screws: str) -> str:
    """What is done to clamps and to screws, as sentences."""
    some, screws = [name for name in names if name in clamps], [name for name in names if name not in clamps]
    told = ((with_clamps, some), (with_screws, screws))
    return "".join(f"{verb} {named(group)}. " for verb, group in told if group)


def _title(step: Step, way: str) -> str:
    whole = f"{step.parts[0][:1].upper()}{step.parts[0][1:]}"
    if len(step.parts) == 1:
        return f"{whole} {way}"
    return (
        f"{whole} and {step.parts[1]} {way}" if len(step.parts) == 2 else f"{whole} and {len(step.parts) - 1} more, as one, {way}"
    )


def named(names: Sequence[str]) -> str:
    """Return names as a list; of many the first, and how many more."""
    names = list(names) if len(names) <= MOST_NAMED else [*names[: MOST_NAMED - 1], f"{len(names) - MOST_NAMED + 1} more"]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _shrinking(form: FormModel, told: Sequence[Told]) -> Iterator[list[Polygon]]:
    """One picture a step of what is still on; what the step takes off is shaded."""
    stays = [*_stone(form), *_merged(form.concrete, CAP, "the concrete")]
    yield from _pictured(form, told, stays, lambda step, i: step >= i)


def _growing(form: FormModel, told: Sequence[Told]) -> Iterator[list[Polygon]]:
    """One picture a step of what is on by then; what the step puts on is shaded."""
    yield from _pictured(form, told, list(_stone(form)), lambda step, i: step <= i)


def _pictured(
    form: FormModel, told: Sequence[Told], stays: Sequence[Upright], there: Callable[[int, int], bool]
) -> Iterator[list[Polygon]]:
    """Pictures of what stays and of the parts that ``there`` (step of the part, step drawn) says are on."""
    step_of = {name: i for i, step in enumerate(told) for name in step.pieces}
    boards = [(step_of.get(part.name, len(told)), _upright(one, BOARD, part.name)) for part in form.parts for one in part.prisms]
    solids = [*stays, *(board for _, board in boards)]
    steps = [-1] * len(stays) + [step for step, _ in boards]
    sets = [[k for k, step in enumerate(steps) if step < 0 or there(step, i)] for i in range(len(told))]
    for i, scene in enumerate(scenes(solids, sets)):
        yield [replace(shape, fill="grey") if steps[k] == i and shape.fill == "white" else shape for k, shape in scene]


def _stone(form: FormModel) -> Iterator[Upright]:
    """The stone, cut off a little below the form."""
    low = min(prism.bottom for part in form.parts for prism in part.prisms) - STUB
    shown = tuple(replace(prism, bottom=max(prism.bottom, low)) for prism in form.stone if prism.top > low)
    yield from _merged(shown, STONE, "the chimney")


def _merged(prisms: Sequence[Prism], layer: Layer, title: str) -> Iterator[Upright]:
    """Prisms of one level as one, so that no seam is drawn; as they are where together they leave a hole."""
    levels: dict[tuple[float, float], list[Prism]] = defaultdict(list)
    for prism in prisms:
        levels[round(prism.bottom, 6), round(prism.top, 6)].append(prism)
    for (bottom, top), some in levels.items():
        whole = shapely.union_all([shapely.Polygon(one.footprint) for one in some], grid_size=1e-6)
        for part in shapely.get_parts(whole):
            if part.interiors:
                yield from (_upright(one, layer, title) for one in some if part.covers(shapely.Point(one.footprint[0])))
            else:
                ring = shapely.get_coordinates(shapely.simplify(part, 1e-6))[:-1]
                yield Upright(ring, bottom, top, layer, title=title)


def _upright(prism: Prism, layer: Layer, title: str) -> Upright:
    return Upright(np.array(prism.footprint, dtype=np.float64), prism.bottom, prism.top, layer, title=title)
