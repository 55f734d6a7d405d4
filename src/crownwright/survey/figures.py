"""The survey's numbers with their working."""

from __future__ import annotations

from math import degrees, sqrt

import numpy as np

from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import DERIVED, ENTERED, Cite, Figure, Term
from crownwright.survey.chances import findable_shift
from crownwright.survey.layout import Layout
from crownwright.survey.least_squares import Array
from crownwright.survey.model import CheckedReading, Closure, Outline, PlacedFlue, StoneSurface
from crownwright.survey.places import side_frame
from crownwright.survey.profile import Profile

_ADJUST = Cite("mikhail_ackermann_1976", "ch. 9")
_BAARDA = Cite("baarda_1968", "reliability")
_KRIGE = Cite("rasmussen_williams_2006", "sections 2.7 and 3.6", "from memory")


def closure_figure(closure: Closure, readings: int) -> Figure:
    """How the tapes close."""
    inputs = (
        Term("n", "tapes and flue sizes", float(readings)),
        Term("r", "readings more than are needed", float(closure.freedom)),
        Term("T", "sum of squares over variance", closure.statistic, cite=_ADJUST),
        Term("T_99", "limit that good tapes pass once in a hundred", closure.limit, cite=Cite("ghilani_2010", "ch. 16")),
    )
    return Figure(
        "survey.closes", "the tapes close within", closure.worst, "m", "greatest |adjusted - read|", inputs, _ADJUST,
        holds="tapes with independent errors of the standard error given", extrapolated=closure.freedom == 0,
    )  # fmt: skip


def findable_figure(checked: tuple[CheckedReading, ...]) -> tuple[Figure, ...]:
    """The smallest slip that the w-tests find in every reading, four times in five; none where something is not checked."""
    if not checked or any(c.findable is None for c in checked):
        return ()
    worst = max(checked, key=lambda c: c.findable or 0.0)
    inputs = (
        Term("d", "shift of w found four times in five at 1 in 1000", findable_shift(), cite=_BAARDA),
        Term("s", f"standard error of {worst.name}", worst.sd, "m"),
        Term("r", f"redundancy of {worst.name}", worst.redundancy),
    )
    value = worst.findable or 0.0
    return (Figure("survey.findable", "slip found in every tape by itself", value, "m", "d s / sqrt(r)", inputs, _BAARDA),)


def side_figures(layout: Layout, estimate: Array, covariance: Array) -> tuple[Figure, ...]:
    """Length of every side and the angle at every corner, each with its spread."""
    names, corners = layout.names.corners, layout.corners(estimate)
    slope = layout.points(estimate)[1][: len(corners)]
    out = []
    for i, side in enumerate(layout.names.sides):
        j = (i + 1) % len(corners)
        _, along, _, length = side_frame(corners, i)
        row = along @ (slope[j] - slope[i])
        inputs = tuple(Term(p, f"adjusted {p}", float(v), "m") for p, v in _of(layout, estimate, (names[i], names[j])))
        formula = "sqrt((x_2 - x_1)^2 + (y_2 - y_1)^2)"
        spread = sqrt(max(float(row @ covariance @ row), 0.0))
        out.append(Figure(f"survey.side.{side}", f"side {side}", length, "m", formula, inputs, _ADJUST, spread=spread))
    for i, name in enumerate(names):
        out.append(_angle(name, i, corners, slope, covariance))
    return tuple(out)


def _of(layout: Layout, estimate: Array, points: tuple[str, str]) -> list[tuple[str, float]]:
    return [(p, float(v)) for p, v in zip(layout.parameters, estimate, strict=True) if p.split(".", maxsplit=1)[0] in points]


def _angle(name: str, i: int, corners: Array, slope: Array, covariance: Array) -> Figure:
    back, on = (i - 1) % len(corners), (i + 1) % len(corners)
    a, b = corners[on] - corners[i], corners[back] - corners[i]
    angle = float(np.arctan2(a[0] * b[1] - a[1] * b[0], a @ b)) % (2 * np.pi)

    def turned(v: Array) -> Array:
        return np.array([-v[1], v[0]]) / (v @ v)

    row = turned(b) @ (slope[back] - slope[i]) - turned(a) @ (slope[on] - slope[i])
    inputs = (
        Term("a", "along the side that leaves the corner", float(np.hypot(*a)), "m"),
        Term("b", "back along the side that comes to it", float(np.hypot(*b)), "m"),
        Term("off", "degrees off square", degrees(angle) - 90.0),
    )
    formula = "atan2(a x b, a . b)"
    spread = sqrt(max(float(row @ covariance @ row), 0.0))
    return Figure(f"survey.corner.{name}", f"angle at {name}", angle, "rad", formula, inputs, DERIVED, spread=spread)


def outline_figures(outline: Outline, sides: dict[str, int], profiles: tuple[Profile, ...]) -> tuple[Figure, ...]:
    """Area inside the face, and how far the proudest stone of each side stands out."""
    area = Figure(
        "survey.area", "area of the top to the faces", outline.area.mean, "m2", "1/2 |sum (x_i y_(i+1) - x_(i+1) y_i)|",
        (Term("m", "points of the face", float(len(outline.face))),), DERIVED, spread=outline.area.sd,
    )  # fmt: skip
    proud = tuple(
        Figure(
            f"survey.proudest.{side}", f"proudest stone of {side} out of its string", p.bulge, "m",
            "as read" if p.looked_for else "largest of the stones that nobody read, given the offsets",
            (Term("n", "offsets read on the side", float(p.count)),), DERIVED, spread=p.bulge_sd,
        )
        for side, p in zip(sides, profiles, strict=True)
    )  # fmt: skip
    return (area, *proud)


def stone_figures(surface: StoneSurface, whole: Uncertain, area: float, drops: int, sides: dict[str, int]) -> tuple[Figure, ...]:
    """Mean height of the stone, highest hump, lowest edges."""
    count = Term("n", "drops read", float(drops))
    stone = Term("A", "area of stone, flues left out", area, "m2")
    label, formula = "mean height of the stone against the string", "integral of z over the top / A"
    mean = Figure(
        "survey.stone.mean", label, whole.mean / area, "m", formula, (count, stone), _KRIGE,
        "stones about as uneven as this masonry usually is", extrapolated=drops == 0, spread=whole.sd / area,
    )  # fmt: skip
    humps = [("survey.stone.highest", "highest hump against the string", surface.highest)]
    humps += [
        (f"survey.stone.lowest.{side}", f"lowest edge of {side} against the string", low)
        for side, low in zip(sides, surface.lowest_edge, strict=True)
    ]
    formula = "height there, given that nothing else passes it"
    return (mean, *(Figure(key, label, u.mean, "m", formula, (count,), _KRIGE, spread=u.sd) for key, label, u in humps))


def flue_figures(flues: tuple[PlacedFlue, ...]) -> tuple[Figure, ...]:
    """How far each flue stands above the string, and how well it is placed."""
    out = []
    for f in flues:
        top, place = f"survey.flue.{f.name}.top", f"survey.flue.{f.name}.placed"
        read = (Term("top", f"top of {f.name}, above the level string", f.top.mean, "m", ENTERED),)
        out.append(Figure(top, f"{f.name} above the string", f.top.mean, "m", "top", read, ENTERED, spread=f.top.sd))
        at = (Term("x", "centre", f.centre[0], "m"), Term("y", "centre", f.centre[1], "m"), Term("turn", "turn", f.turn, "rad"))
        formula = "longest half axis of its corners' error ellipses"
        out.append(Figure(place, f"{f.name} is placed within (one standard error)", f.sd, "m", formula, at, _ADJUST))
    return tuple(out)
