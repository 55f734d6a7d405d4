"""Levels: the soffit under the lowest sound edge, the edge board, the fall of the wash, and what each flue needs.

They hang together. A wider board covers a higher hump but lifts the wash at the flues; a flatter wash leaves the flues proud but
the hump less covered. So every board, every shape of wash and the falls worth having are tried, and the best is taken: `_rank`.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, tan
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.choices import CapChoices
from crownwright.cap.ground import Ground
from crownwright.cap.wash import Wash
from crownwright.codes.ps_20 import board
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.survey.model import PlacedFlue, Survey

Array = NDArray[np.float64]

BOARDS = ("2x4", "2x6", "2x8")
"""Edge boards to choose from, narrow to wide."""
LAP = 0.25 * INCH
"""How far the cap laps the lowest sound edge (common practice: masons set their boards a quarter inch under the worst)."""
NORMAL = NormalDist()
HAIR = 1e-4  # of fall: a thousandth of an inch to the foot
STONE_SPAN = 8 * INCH
"""Size of one stone, for how many independent chances of a hump a top holds (a judgement: stones of 6 to 14 in.)."""


@dataclass(frozen=True, slots=True)
class FlueLevel:
    """``extension`` how much higher the flue must stand, its ``joint`` level and ``cut_back``; ``possible`` the steepest fall
    (rise over run) that leaves the flue that stands the least proud allowed.
    """

    extension: float
    joint: float | None
    cut_back: float
    possible: float


@dataclass(frozen=True, slots=True)
class Edge:
    """The outer edge: levels of its ``soffit`` and ``top`` above the string, the ``board`` it is cast against, ``thickness``."""

    soffit: float
    top: float
    board: str
    thickness: float


@dataclass(frozen=True, slots=True)
class Levels:
    """The cap in section: ``fall`` of the flattest facet (rise over run); ``cover`` over the stone; ``mean_top`` level of the
    wash over the stone.
    """

    edge: Edge
    wash: Wash
    fall: float
    cover: Uncertain
    flues: tuple[FlueLevel, ...]
    mean_top: float

    def over(self, points: Array) -> Array:
        """Level (n,) of the wash at points (n,2) of the cap's frame, above the string."""
        return np.asarray(self.edge.top + self.fall * self.wash.run(points))


def solve_levels(survey: Survey, ground: Ground, shapes: list[Wash], choices: CapChoices) -> Levels:
    """Choose board, shape and fall. ``shapes`` are the washes to choose from, at least one."""
    soffit = soffit_level(survey, choices)
    names = BOARDS if choices.edge_board is None else (choices.edge_board,)
    widths = {name: board(name).width for name in names}
    if choices.edge_thickness is not None:
        widths = {choices.edge_board or _nearest(choices.edge_thickness): choices.edge_thickness}
    tried = [
        levels
        for name, width in widths.items()
        for wash in shapes
        for levels in _ways(survey, ground, wash, choices, Edge(soffit, soffit + width, name, width))
    ]
    return min(tried, key=lambda levels: _rank(levels, choices))


def _rank(levels: Levels, choices: CapChoices) -> tuple[float, ...]:
    """What is wanted, first things first: the hump covered (else as nearly as can be), few flues to extend, a narrow board, a
    steep fall, little concrete.
    """
    short = max(choices.cover_least - levels.cover.quantile(1 - choices.sure), 0.0)
    extended = sum(flue.extension > 0 for flue in levels.flues)
    return (round(short, 6), extended, levels.edge.thickness, -round(levels.fall, 3), levels.mean_top)


def soffit_level(survey: Survey, choices: CapChoices) -> float:
    """Level of the soffit: a lap under the lowest sound edge of every side at its spread, down to the next step of the rule."""
    if choices.soffit_drop is not None:
        return -choices.soffit_drop
    lapped = min(edge.quantile(1 - choices.sure) for edge in survey.surface.lowest_edge) - LAP
    step = choices.level_step
    return floor(lapped / step + 1e-9) * step if step > 0 else lapped


def _nearest(thickness: float) -> str:
    """Narrowest board that a thickness can be ripped from."""
    return next((name for name in BOARDS if board(name).width >= thickness - 1e-6), BOARDS[-1])


def _ways(survey: Survey, ground: Ground, wash: Wash, choices: CapChoices, edge: Edge) -> list[Levels]:
    """The fall that the flues allow, and where that leaves the hump bare, the fall that covers it, up to the one wanted."""
    unit = wash.run(ground.at), wash.lowest_over(ground.hull)
    fall = _fall(survey.flues, wash, edge.top, choices)
    made = [_levels(survey, ground, wash, choices, edge, fall, unit)]
    short = choices.cover_least - made[0].cover.quantile(1 - choices.sure)
    most = max(tan(choices.slope_wanted), least_fall(choices))
    covering = fall + short / unit[1]
    if short > 0 and covering <= most:
        # a flue that must be extended for the hump's sake no longer holds the wash down
        held = tuple(_possible(flue, wash, k, edge.top, choices) >= covering - 1e-9 for k, flue in enumerate(survey.flues))
        fall = max(covering, _fall(survey.flues, wash, edge.top, choices, held))
        made.append(_levels(survey, ground, wash, choices, edge, fall, unit))
    return made


def _levels(
    survey: Survey, ground: Ground, wash: Wash, choices: CapChoices, edge: Edge, fall: float, unit: tuple[Array, float]
) -> Levels:
    flues = tuple(_flue(flue, wash, k, edge.top, fall, choices) for k, flue in enumerate(survey.flues))
    over = edge.top + fall * unit[0]
    covered = cover(ground, over, edge.top + fall * unit[1], choices)
    mean_top = float(over.mean()) if len(over) else edge.top
    return Levels(edge, wash, fall, covered, flues, mean_top)


def _fall(
    flues: tuple[PlacedFlue, ...], wash: Wash, edge: float, choices: CapChoices, held: tuple[bool, ...] | None = None
) -> float:
    """Fall of the flattest facet: the one wanted, less where flues would not stand proud as wanted, never under the least.

    A flue that would not stand proud even at the least fall is extended, and then no longer holds the others down; ``held`` false
    says so of a flue that is extended for another reason.
    """
    least = least_fall(choices)
    wanted = max(tan(choices.slope_wanted), least)
    fall = wanted
    for k, flue in enumerate(flues):
        at_most = _possible(flue, wash, k, edge, choices)
        if at_most < least or (held is not None and not held[k]):
            continue
        as_wanted = (flue.top.mean - choices.proud_wanted - edge) / wash.high[k]
        fall = min(fall, at_most, max(as_wanted, least))
    # eased only where no flue holds it: a flue that stands just as proud as wanted must not come out a sixteenth too proud
    return _even(fall, wash.crest, least, choices.level_step) if fall == wanted else fall


def least_fall(choices: CapChoices) -> float:
    """Flattest fall allowed (rise over run): the least, and a hair more, so that no rounding takes it under."""
    return tan(choices.slope_least) + HAIR


def _even(fall: float, crest: float, least: float, step: float) -> float:
    """Ease the fall so that the crest stands a whole number of steps over the edge, where that stays within the least."""
    if step <= 0:
        return fall
    eased = floor(fall * crest / step + 1e-9) * step / crest
    return eased if eased >= least else fall


def _possible(flue: PlacedFlue, wash: Wash, k: int, edge: float, choices: CapChoices) -> float:
    """Steepest fall that leaves flue k the least proud allowed, its top taken at the low end of its spread."""
    return float((flue.top.quantile(1 - choices.sure) - choices.proud_least - edge) / wash.high[k])


def _flue(flue: PlacedFlue, wash: Wash, k: int, edge: float, fall: float, choices: CapChoices) -> FlueLevel:
    possible = _possible(flue, wash, k, edge, choices)
    if possible >= fall - 1e-9:
        return FlueLevel(0.0, None, 0.0, possible)
    joint = min(flue.top.mean, edge + fall * float(wash.low[k]) - choices.extension_buried)
    extension = edge + fall * float(wash.high[k]) + choices.proud_wanted - flue.top.mean
    return FlueLevel(extension, joint, flue.top.mean - joint, possible)


def cover(ground: Ground, over: Array, lowest: float, choices: CapChoices) -> Uncertain:
    """Least concrete over the stone, its quantile at ``1 - sure`` being what the stone keeps.

    Two bounds, each honest; the better is taken. The highest hump may stand anywhere, so also where the wash over the stone is
    ``lowest`` (a concave wash is lowest over a corner of the stone's hull). Or place by place: the wash ``over`` (n,) each cell
    less the stone there, its standard error widened for the number of stones that each have a chance of being the worst.
    """
    anywhere = Uncertain(lowest - ground.highest.mean, ground.highest.sd)
    if not len(ground.at):
        return anywhere
    stones = max(1, ceil(float(ground.area.sum()) / STONE_SPAN**2))
    z = NORMAL.inv_cdf(1 - (1 - choices.sure) / stones)
    k = int(np.argmin(over - ground.mean - z * ground.sd))
    placed = Uncertain(float(over[k] - ground.mean[k]), float(ground.sd[k]) * z / NORMAL.inv_cdf(choices.sure))
    return max(anywhere, placed, key=lambda bound: bound.quantile(1 - choices.sure))
