"""What is told of the rectangle: size, turn, overhang side by side, and where to set it out from the stone's corners."""

from __future__ import annotations

from math import sqrt

import numpy as np
import shapely

from crownwright.cap.model import SideFit
from crownwright.cap.reach import outward
from crownwright.cap.tell.worked import Worked
from crownwright.cap.words import say, say_at_least
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.working import DERIVED, ENTERED, PRACTICE, Figure, Term

_COUNTS = {3: "three", 5: "five", 6: "six", 7: "seven", 8: "eight"}


def findings(worked: Worked) -> tuple[Finding, ...]:
    """Overhang of each side against its band, and whether a rectangle suits the stone at all."""
    sides = [finding for side in worked.fit.sides for finding in _side(side, worked)]
    return (*sides, *_shape(worked))


def _side(side: SideFit, worked: Worked) -> tuple[Finding, Finding]:
    choices = worked.choices
    least = compare(
        f"cap.overhang.{side.name}",
        "overhang beyond the proudest stone, its spread allowed for",
        PRACTICE,
        f"side {side.name}",
        side.sure,
        at_least=choices.overhang_least,
        unit="m",
        action=_longer(worked),
    )
    too_much = side.most - choices.overhang_most
    where = side.name if side.name.endswith(" side") else f"side {side.name}"
    take = f"dress the proudest stone of {side.name} back by {say_at_least(too_much)}, or build out its deepest place by as much"
    most = compare(
        f"cap.overhang_most.{side.name}",
        "overhang at the deepest place of the face",
        PRACTICE,
        f"{where}, which runs in and out by {say(side.most - side.least)}",
        side.most,
        at_most=choices.overhang_most,
        unit="m",
        action=_cure(worked, say(side.most), take),
    )
    return least, most


def _cure(worked: Worked, most: str, take: str) -> str:
    """What to do about an overhang that is too far: nobody dresses a side back to where a stack of six corners has none."""
    if not _free(worked):
        return _longer(worked)
    if len(worked.survey.corners) != 4:
        return f"Live with {most} there: the stack leaves the rectangle; see what is told of the cap's corner."
    return f"Live with {most} there, or {take}."


def _free(worked: Worked) -> bool:
    choices = worked.choices
    return choices.length is None and choices.width is None and choices.turn is None


def _longer(worked: Worked) -> str:
    length, width = worked.fit.shortest
    return f"Make the cap at least {say_at_least(length)} by {say_at_least(width)}, or let Crownwright choose its size and turn."


def _shape(worked: Worked) -> tuple[Finding, ...]:
    """Whether the rectangle's corners stand out too far: a stack of three or five corners is no rectangle."""
    count = len(worked.survey.corners)
    if count == 4:
        return ()
    out, at_most = corner_overhang(worked), sqrt(2) * worked.choices.overhang_most
    fit = worked.fit
    share = worked.ground.stone_area / (fit.length * fit.width)
    subject = f"stack with {_COUNTS.get(count, count)} corners under a rectangle; the stone fills {share:.0%} of it"
    action = (
        f"A corner of the cap hangs {say(out)} clear of the stone: cut the form's corners off to follow the stone, "
        "or corbel the stack out to four corners before capping."
    )
    rule = "cap's corner beyond the stone"
    return (compare("cap.shape", rule, DERIVED, subject, out, at_most=at_most, unit="m", action=action),)


def corner_overhang(worked: Worked) -> float:
    """Furthest that a corner of the cap stands from the stone, m."""
    fit = worked.fit
    corners = shapely.points([(0, 0), (fit.length, 0), (fit.length, fit.width), (0, fit.width)])
    return float(shapely.distance(shapely.make_valid(shapely.Polygon(worked.ground.outline)), corners).max())


def figures(worked: Worked) -> tuple[Figure, ...]:
    """Size, turn, evenness, overhangs and set-out."""
    fit, choices = worked.fit, worked.choices
    by_hand = {"length": choices.length, "width": choices.width}
    sizes = [
        Figure(
            f"cap.{key}",
            f"cap, {label}",
            value,
            "m",
            "reach of the stone both ways, its spread allowed for, + overhang of both sides, to the step",
            (
                Term("overhang", "overhang wanted", choices.overhang_wanted, "m", PRACTICE),
                Term("least", "least overhang", choices.overhang_least, "m", PRACTICE),
                Term("step", "step of the cap's size", choices.round_to, "m", PRACTICE),
                Term("shortest", "least size that keeps the least overhang", shortest, "m", DERIVED),
            ),
            ENTERED if by_hand[key] is not None else DERIVED,
        )
        for key, label, value, shortest in (
            ("length", "along AB", fit.length, fit.shortest[0]),
            ("width", "across", fit.width, fit.shortest[1]),
        )
    ]
    return (*sizes, _turn(worked), *(figure for side in fit.sides for figure in _overhang(side, worked)), *_set_out(worked))


def _turn(worked: Worked) -> Figure:
    fit, choices = worked.fit, worked.choices
    if choices.turn is not None:
        formula = "set by hand"
    elif fit.square_to:
        formula = f"square to {fit.square_to}, which costs no more evenness than allowed"
    else:
        formula = "the turn at which the overhang strays least from the one wanted"
    inputs = (
        Term("stray", "furthest that the overhang strays from the one wanted", fit.uneven, "m", DERIVED),
        Term("best", "the same at the evenest turn", fit.evenest, "m", DERIVED),
        Term("allowed", "evenness given up to look square", choices.square_within, "m", PRACTICE),
    )
    return Figure("cap.turn", "turn of the cap against the string AB", fit.turn, "rad", formula, inputs)


def _overhang(side: SideFit, worked: Worked) -> tuple[Figure, Figure]:
    guard = worked.survey.outline.guard_chance
    where = f"no stone outside the guard, at a chance of {guard:.1%} for the whole outline"
    terms = (
        Term("spread", "standard error of the proudest stone", side.sd, "m", DERIVED),
        Term("sure", "kept at the guard", side.sure, "m"),
    )
    least = "cap's edge to the proudest stone, square to the edge"
    return (
        Figure(
            f"cap.overhang.{side.name}",
            f"overhang {side.name}, least",
            side.least,
            "m",
            least,
            terms,
            DERIVED,
            where,
            spread=side.sd,
        ),
        Figure(
            f"cap.overhang_most.{side.name}",
            f"overhang {side.name}, most",
            side.most,
            "m",
            "cap's edge to the deepest place",
            terms,
        ),
    )


def _set_out(worked: Worked) -> tuple[Figure, ...]:
    """Distance from each of the stone's corners, where the tape hooked, to the two nearest edges of the cap."""
    fit, survey = worked.fit, worked.survey
    normals = outward(np.array([fit.turn]))[0]
    place = np.array([normals[k] @ fit.corners[k] for k in range(4)])
    found = []
    for name, corner in zip(survey.names, survey.corners, strict=True):
        away = place - normals @ corner
        for k in sorted(np.argsort(away, kind="stable")[:2].tolist()):
            label = f"corner {name} to the cap's edge {fit.sides[k].name}"
            edge = fit.sides[k].name
            terms = (
                Term("edge", f"edge {edge}, out from the datum along its normal", float(place[k]), "m", DERIVED),
                Term("corner", f"corner {name}, out from the datum the same way", float(place[k] - away[k]), "m", DERIVED),
            )
            found.append(Figure(f"cap.set_out.{name}.{edge}", label, float(away[k]), "m", "edge - corner", terms))
    return tuple(found)
