"""What holds the sidewalls against the thrust: every screw, side or end grain, sideways or pulled (end grain pulled: nothing)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.model import CapDesign
from crownwright.checks.tell import figure
from crownwright.codes.aci_347_04 import liquid_thrust
from crownwright.codes.nds_2018 import Lumber, duration_factor, lumber
from crownwright.codes.nds_2018_fasteners import END_GRAIN, WET_FASTENER, Screw, screw, screw_lateral, screw_withdrawal
from crownwright.form.model import FormDesign, Piece, ScrewLine
from crownwright.form.model import Screw as Driven
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.working import Cite, Figure

HELD = Cite("nds_2018", "12.2-2, 12.3.1, 12.5.2; no withdrawal from end grain (read); wet and end-grain factors", "from memory")
THRUST = Cite("aci_347_2004", "2.2.2")
THREAD = 2 / 3
"""Share of a wood screw's length that is thread (common practice, no source)."""
Array = NDArray[np.float64]
BRACES = frozenset({"corner cleat", "kicker"})
SQUARE = 0.8
"""Cosine over which two directions are taken as the same: screws and thrust are square or along, a few degrees off at most."""
ADD = "Hold the wall by cleats or kickers screwed into side grain; screws into the end of a board do not hold against pulling."


@dataclass(frozen=True, slots=True)
class Hold:
    """One screw's part in holding a wall: ``how`` it is loaded, its allowable force (N), and how far ``off`` the middle of the
    thrust it sits along the wall (m).
    """

    screw: Driven
    how: str
    force: float
    off: float


@dataclass(frozen=True, slots=True)
class Lie:
    """How a piece lies: unit direction of its length in plan and of its grain, and its middle."""

    piece: Piece
    along: Array
    grain: Array
    middle: Array


@dataclass(frozen=True, slots=True)
class Frame:
    """What a wall's screws are seen in: how every piece lies, the middle of the thrust, along the wall and out of it."""

    lies: dict[str, Lie]
    middle: Array
    along: Array
    out: Array


def holds(form: FormDesign, grade: str) -> dict[str, tuple[Hold, ...]]:
    """Return, for each sidewall by name, what each of its screws is worth against the wall being pushed straight out."""
    wood = lumber(grade)
    lies = {piece.name: _lie(piece) for piece in form.pieces}
    lines = {line.place: line for line in form.screw_list}
    corners = np.asarray(form.corners)
    middles = dict(zip((side.name for side in form.sides), (corners + np.roll(corners, -1, axis=0)) / 2, strict=True))
    found: dict[str, tuple[Hold, ...]] = {}
    for wall in _walls(form):
        lie = lies[wall.name]
        frame = Frame(lies, middles[wall.place], lie.along, _outward(lie, corners.mean(axis=0)))
        mine = [one for one in form.screws if wall.name in one.joins and one.place in lines]
        own = (_hold(one, lines[one.place], frame, wood) for one in mine if not _brace_of(one, wall, lies))
        braces = dict.fromkeys(brace for one in mine if (brace := _brace_of(one, wall, lies)))
        held = (hold for brace in braces for hold in _by_brace(brace, wall, form, frame, wood))
        found[wall.name] = (*own, *held)
    return found


def _brace_of(one: Driven, wall: Piece, lies: dict[str, Lie]) -> str:
    """The cleat or kicker that a screw joins to a wall; "" where it joins it to something else."""
    other = next(name for name in one.joins if name != wall.name)
    return other if lies[other].piece.part in BRACES else ""


def _by_brace(brace: str, wall: Piece, form: FormDesign, frame: Frame, wood: Lumber) -> tuple[Hold, ...]:
    """What a cleat or kicker is worth to a wall: no more than what holds it to the rest of the form.

    One that stands outside the wall is pushed, so that its own screws into the wall carry nothing; one that the wall pulls on
    holds by the weaker of both, taken where the wall hangs on it.
    """
    lines = {line.place: line for line in form.screw_list}
    screws = [one for one in form.screws if brace in one.joins and one.place in lines]
    into = [_hold(one, lines[one.place], frame, wood) for one in screws if wall.name in one.joins]
    away = [_hold(one, lines[one.place], frame, wood) for one in screws if wall.name not in one.joins]
    if (frame.lies[brace].middle - frame.lies[wall.name].middle)[:2] @ frame.out > (_thickness(wall) / 2):
        return tuple(away)
    share = min(sum(one.force for one in away) / max(sum(one.force for one in into), 1e-9), 1.0)
    return tuple(replace(one, force=one.force * share) for one in into)


def _thickness(piece: Piece) -> float:
    edges = np.roll(piece.footprint, -1, axis=0) - piece.footprint
    return float(np.hypot(*edges.T).min())


def balanced(mine: tuple[Hold, ...]) -> float:
    """Return the greatest even thrust, N, that screws can hold without the wall turning: both ends must do their part.

    Their moments about the middle of the thrust must balance, so the weaker half sets what the stronger may give, taken there
    from the screws nearest the middle.

    >>> end = lambda off: Hold(None, "side grain, sideways", 100.0, off)
    >>> balanced((end(-1.0), end(1.0))), balanced((end(-1.0),)), balanced((end(-1.0), end(0.5), end(0.5)))
    (200.0, 0.0, 300.0)
    """
    halves = [sorted((abs(one.off), one.force) for one in mine if one.off * sign > 0) for sign in (-1, 1)]
    moment = min(sum(off * force for off, force in half) for half in halves)
    total = sum(one.force for one in mine if one.off == 0)
    for half in halves:
        spare = moment
        for off, force in half:
            used = min(force, spare / off)
            total, spare = total + used, spare - used * off
    return total


def thrust_on(cap: CapDesign, wall: Piece) -> float:
    """Return the thrust of liquid concrete on a wall, N: w h^2/2 by its inside length."""
    return liquid_thrust(cap.choices.density, cap.edge_thickness) * wall.inside


def figures_screws(form: FormDesign, cap: CapDesign, held: Mapping[str, tuple[Hold, ...]]) -> tuple[Figure, ...]:
    """Return thrust and holding of every sidewall; ``held`` are its `holds`."""
    found = list[Figure]()
    for wall in _walls(form):
        mine = held[wall.name]
        height = ("h", "edge", cap.edge_thickness, "m")
        inputs = (("r", "density", cap.choices.density, "kg/m3"), height, ("L", "inside length", wall.inside, "m"))
        key, label = f"checks.screws.{wall.place}", f"concrete pushes on {wall.name}"
        found.append(figure(f"{key}.thrust", label, thrust_on(cap, wall), "N", "r g h^2/2 L", THRUST, *inputs))
        label, counts = f"screws hold {wall.name}", tuple((how, how, n, "1") for how, n in _kinds(mine).items())
        formula = "sum of Z' and W' over the screws, a brace's no more than what holds it; moments about the middle balanced"
        found.append(figure(f"{key}.holds", label, balanced(mine), "N", formula, HELD, *counts))
    return tuple(found)


def check_screws(form: FormDesign, cap: CapDesign, held: Mapping[str, tuple[Hold, ...]]) -> tuple[Finding, ...]:
    """Return whether each sidewall's screws, counted one by one, hold the thrust of the concrete; ``held`` are its `holds`."""
    return tuple(
        compare(
            f"form.screws.{wall.place}", "screws hold the thrust of the concrete", HELD, wall.name,
            balanced(held[wall.name]), at_least=thrust_on(cap, wall), unit="N", action=ADD,
        )
        for wall in _walls(form)
    )  # fmt: skip


def _walls(form: FormDesign) -> list[Piece]:
    return [piece for piece in form.pieces if piece.part == "sidewall"]


def _kinds(mine: tuple[Hold, ...]) -> dict[str, int]:
    kinds = [one.how for one in mine]
    return {kind: kinds.count(kind) for kind in sorted(set(kinds))}


def _lie(piece: Piece) -> Lie:
    points = np.asarray(piece.footprint)
    edges = points.take(range(1, len(points) + 1), axis=0, mode="wrap") - points
    longest = edges[np.argmax(np.hypot(edges[:, 0], edges[:, 1]))]
    along = longest / np.hypot(*longest)
    grain = np.array((0.0, 0.0, 1.0) if piece.stands else (*along, 0.0))
    return Lie(piece, along, grain, np.array((*points.mean(axis=0), (piece.bottom + piece.top) / 2)))


def _outward(wall: Lie, inside: Array) -> Array:
    """Unit direction square out of a wall, away from the middle of the form."""
    normal = np.array((wall.along[1], -wall.along[0]))
    return normal if normal @ (wall.middle[:2] - inside) > 0 else -normal


def _hold(one: Driven, line: ScrewLine, frame: Frame, wood: Lumber) -> Hold:
    drive, fastener = np.array(one.drive), screw(line.gauge)
    drive = drive / np.sqrt(drive @ drive)
    # the head is on the piece that lies further back along the drive
    side, main = sorted((frame.lies[name] for name in one.joins), key=lambda lie: float(lie.middle @ drive))
    thick = _through(side.piece, drive)
    bite, adjust = line.length - thick, duration_factor("seven days") * WET_FASTENER
    grain = "end grain" if abs(float(drive @ main.grain)) > SQUARE else "side grain"
    if abs(float(drive[:2] @ frame.out)) > SQUARE:
        way, thread = "pulled", min(bite, THREAD * line.length)
        force = 0.0 if grain == "end grain" else screw_withdrawal(wood.gravity, fastener.nominal) * max(thread, 0.0)
    else:
        way = "sideways"
        force = _sideways(fastener, wood.gravity, thick, bite) * (END_GRAIN if grain == "end grain" else 1.0)
    off = float((np.array(one.head[:2]) - frame.middle) @ frame.along)
    return Hold(one, f"{grain}, {way}", force * adjust, off)


def _sideways(fastener: Screw, gravity: float, thick: float, bite: float) -> float:
    """Lateral value, N; nothing where it bites less than six diameters, which the code does not allow."""
    return 0.0 if bite < 6 * fastener.nominal else screw_lateral(fastener, gravity, thick, bite)


def _through(piece: Piece, drive: Array) -> float:
    """Thickness of a piece along a direction, m."""
    if abs(drive[2]) > SQUARE:
        return piece.top - piece.bottom
    across = np.asarray(piece.footprint) @ drive[:2]
    return float(across.max() - across.min())
