"""Fit the rectangle to the stone: turn, position and size, so that the overhang keeps its minimum and is as even as can be."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.choices import CapChoices
from crownwright.cap.model import SideFit
from crownwright.cap.reach import QUARTER, Stone, outward, reach, stone_of
from crownwright.cap.squaring import sights
from crownwright.geometry.hull import frame
from crownwright.survey.model import Survey

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Fit:
    """The rectangle: ``corners`` (4,2) counter-clockwise from the end of side 0 by A; ``square_to`` what it was squared to
    ("" for nothing: the evenest turn, or a hand-set one); ``uneven`` the furthest the overhang strays from the one wanted, and
    ``evenest`` what it would be at the best turn (m). ``shortest`` is the least length and width (m) that keep the minimum.
    """

    turn: float
    length: float
    width: float
    corners: Array
    sides: tuple[SideFit, ...]
    square_to: str
    uneven: float
    evenest: float
    shortest: tuple[float, float]


def fit(survey: Survey, choices: CapChoices) -> Fit:
    """Solve the rectangle. The sides slide each on its own at a turn, so the only search is over the turn."""
    stone = stone_of(survey)
    turn, square_to, evenest = _turn(stone, survey, choices)
    guard, recess = (row[0] for row in reach(stone, np.array([turn])))
    over = _wanted(guard - recess, choices)
    floor = choices.overhang_least
    shortest = guard[1] + guard[3] + 2 * floor, guard[0] + guard[2] + 2 * floor
    length = _size(choices.length, guard[1] + guard[3] + over[1] + over[3], shortest[0], choices.round_to)
    width = _size(choices.width, guard[0] + guard[2] + over[0] + over[2], shortest[1], choices.round_to)
    over[[1, 3]] = _share(length - guard[1] - guard[3], (guard - recess)[[1, 3]], floor)
    over[[0, 2]] = _share(width - guard[0] - guard[2], (guard - recess)[[0, 2]], floor)
    place = guard + over
    local = np.array([(-place[3], -place[0]), (place[1], -place[0]), (place[1], place[2]), (-place[3], place[2])])
    sides = _sides(survey, turn, place, recess, over)
    uneven = float(_stray(over, guard - recess, choices).max())
    return Fit(turn, length, width, local @ frame(turn), sides, square_to, uneven, evenest, shortest)


def unevenness(stone: Stone, turns: Array, choices: CapChoices) -> Array:
    """Furthest that the overhang strays from the one wanted (t,), each side placed as well as it can be."""
    guard, recess = reach(stone, turns)
    span = guard - recess
    over = _wanted(span, choices)
    stray = _stray(over, span, choices)
    # the worst side decides; of turns equal in that, the one with the others better and the cap smaller
    return np.asarray(stray.max(1) + 1e-3 * stray.mean(1) + 1e-4 * guard.sum(1))


def _turn(stone: Stone, survey: Survey, choices: CapChoices) -> tuple[float, str, float]:
    best = _evenest(stone, choices)
    least = _worst(stone, best, choices)
    if choices.turn is not None:
        return choices.turn, "", least
    for turn, name in sights(stone, survey) if stone.four else ():
        if _worst(stone, turn, choices) - least <= choices.square_within:
            return turn, name, least
    return best, "", least


def _worst(stone: Stone, turn: float, choices: CapChoices) -> float:
    """Furthest stray of any side at one turn, m."""
    guard, recess = reach(stone, np.array([turn]))
    return float(_stray(_wanted(guard - recess, choices), guard - recess, choices).max())


def _stray(over: Array, span: Array, choices: CapChoices) -> Array:
    return np.asarray(np.maximum(np.abs(over - choices.overhang_wanted), np.abs(over + span - choices.overhang_wanted)))


def _evenest(stone: Stone, choices: CapChoices) -> float:
    """Turn of least unevenness within half a quarter of the AB side, to a thousandth of a degree: three ever finer sweeps."""
    best = float(stone.directions[0])
    for half, steps in ((QUARTER / 2, 91), (QUARTER / 80, 61), (QUARTER / 2000, 61)):
        turns = best + np.linspace(-half, half, steps)
        best = float(turns[np.argmin(unevenness(stone, turns, choices))])
    return best


def _wanted(span: Array, choices: CapChoices) -> Array:
    """Overhang at the proudest stone that centres the side's span on the overhang wanted, never under the minimum."""
    return np.maximum(choices.overhang_least, choices.overhang_wanted - span / 2)


def _size(by_hand: float | None, wanted: float, shortest: float, step: float) -> float:
    if by_hand is not None:
        return by_hand
    if step <= 0:
        return wanted
    size = round(wanted / step) * step
    return size if size >= shortest - 1e-9 else float(np.ceil(shortest / step - 1e-9) * step)


def _share(both: float, span: Array, floor: float) -> Array:
    """Share the overhang of two opposite sides so that both are centred alike, neither under the floor while there is enough."""
    if both < 2 * floor:
        return np.full(2, both / 2)
    first = np.clip((both + (span[1] - span[0]) / 2) / 2, floor, both - floor)
    return np.array([first, both - first])


def _sides(survey: Survey, turn: float, place: Array, recess: Array, over: Array) -> tuple[SideFit, ...]:
    face, sd = survey.outline.face, survey.outline.face_sd
    normals = outward(np.array([turn]))[0]
    out = face @ normals.T
    proud = out.argmax(0)
    names = side_names(survey)
    return tuple(
        SideFit(
            names[k],
            float(place[k] - out[proud[k], k]),
            float(place[k] - min(recess[k], out[proud[k], k])),
            float(over[k]),
            float(sd[proud[k]]),
        )
        for k in range(4)
    )


def side_names(survey: Survey) -> tuple[str, ...]:
    """Names of the cap's four sides: those of the stone where it has four, else by the AB side and walking on from it."""
    names = survey.names
    if len(names) == 4:
        return tuple(names[k] + names[(k + 1) % 4] for k in range(4))
    first = names[0] + names[1]
    return (f"{first} side", f"right of {first}", f"across from {first}", f"left of {first}")
