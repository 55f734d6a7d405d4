"""What is told of the flues: how far they stand proud, what must be set on them, their joint and its materials."""

from __future__ import annotations

from dataclasses import replace
from math import tan

import numpy as np
import shapely
from numpy.typing import NDArray

from crownwright.cap.joint import CLAY_EXPANSION, USUAL_WIDTH
from crownwright.cap.levels import FlueLevel, least_fall
from crownwright.cap.model import FlueFit
from crownwright.cap.tell.worked import Worked
from crownwright.cap.words import say, say_at_least, say_fall
from crownwright.codes.astm_c1472 import sealant_depth
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.units import INCH
from crownwright.quantity.working import DERIVED, ENTERED, PRACTICE, Cite, Figure, Term

Array = NDArray[np.float64]

LEAST_STRIP = 2 * INCH
"""Narrowest strip of concrete worth casting beside a joint: the least edge thickness of the standard, laid on its side."""
STRIP = Cite("astm_c1283", "8, least thickness")
SHEAR = Cite("astm_c1472", "shear of a sealant joint", "from memory")
CLAY = Cite("forensic_handbook", "p. 473, clay masonry")
PROUD = Cite("ontario_332_12", "9.21.4.4, 50 to 100 mm")


def findings(worked: Worked) -> tuple[Finding, ...]:
    """Proud, extension, strips of concrete beside the joints, joint width."""
    found: list[Finding] = []
    for k, flue in enumerate(worked.flues):
        own = worked.levels.flues[k]
        found += [_extension(worked, flue, own, k), _buried(worked, flue, own, k)] if own.extension > 0 else []
        found += [_proud(worked, flue), _strip(worked, flue, k)]
    return (*found, *_between(worked), *_joint(worked))


def _proud(worked: Worked, flue: FlueFit) -> Finding:
    choices, proud = worked.choices, flue.proud.mean
    over, under = max(proud - choices.proud_most, 0.0), max(choices.proud_least - proud, 0.0)
    cut = f"Cut the flue down by {say(over)}, raise the wash, or leave it where its appliance wants the height."
    action = cut if over > 0 else f"Set a piece {say_at_least(under + choices.proud_wanted - choices.proud_least)} high on it."
    rule = "flue above the wash where it meets it"
    return compare(
        f"cap.proud.{flue.name}",
        rule,
        PROUD,
        f"flue {flue.name}",
        proud,
        at_least=choices.proud_least,
        at_most=choices.proud_most,
        unit="m",
        action=action,
        slack=1e-6,
    )


def _extension(worked: Worked, flue: FlueFit, own: FlueLevel, k: int) -> Finding:
    """The flue as it stands is too short: what to set on it, or what fall is still possible without."""
    choices, levels = worked.choices, worked.levels
    stands = worked.survey.flues[k].top.mean - flue.meets_high
    cut = f"cut the flue down by {say(own.cut_back)} and " if own.cut_back > 1e-6 else ""
    joint = flue.meets_low - (own.joint or 0.0)
    first = f"Either {cut}set on a piece {say(own.extension + own.cut_back)} long, its joint {say(joint)} under the wash"
    if own.possible >= least_fall(choices):
        second = f"or ease the wash to {say_fall(own.possible)}"
    elif own.possible > 0:
        least = say_fall(tan(choices.slope_least))
        second = f"or without it no more than {say_fall(own.possible)} is possible, under the least of {least}"
    else:
        lower = levels.edge.top + choices.proud_least - worked.survey.flues[k].top.mean
        second = (
            f"or without it no fall is possible: the edge would have to come down by more than {say_at_least(max(lower, 0.0))}"
        )
    rule = "flue above the wash without an extension"
    action = f"{first}; {second}."
    return compare(
        f"cap.extension.{flue.name}",
        rule,
        PROUD,
        f"flue {flue.name} as it stands",
        stands,
        at_least=choices.proud_least,
        unit="m",
        action=action,
    )


def _buried(worked: Worked, flue: FlueFit, own: FlueLevel, k: int) -> Finding:
    """The joint of the extension must lie between the stone and the wash."""
    stone = float(worked.ground.borders[k].stone.max())
    over = (own.joint or 0.0) - stone
    action = f"Break the flue out {say_at_least(max(-over, 0.0))} into the stone and bed the new piece there, or raise the wash."
    return compare(
        f"cap.extension_joint.{flue.name}",
        "joint of the extension above the stone",
        DERIVED,
        f"flue {flue.name}",
        over,
        at_least=0.0,
        unit="m",
        action=action,
    )


def _strip(worked: Worked, flue: FlueFit, k: int) -> Finding:
    ring, fit = worked.ground.rings[k], worked.fit
    to_edge = float(min(ring.min(), fit.length - ring[:, 0].max(), fit.width - ring[:, 1].max()))
    wider = say_at_least(max(LEAST_STRIP - to_edge, 0.0))
    action = f"Read the ties of {flue.name} again; if they stand, widen the cap on that side by {wider}."
    rule = "concrete between the joint and the cap's edge"
    return compare(
        f"cap.flue_edge.{flue.name}",
        rule,
        STRIP,
        f"flue {flue.name}",
        to_edge,
        at_least=LEAST_STRIP,
        unit="m",
        action=action,
        blocks=to_edge <= 0,
    )


def _between(worked: Worked) -> tuple[Finding, ...]:
    """Strips of concrete between two joints."""
    shapes = [shapely.Polygon(ring) for ring in worked.ground.rings]
    found = []
    for i in range(len(shapes)):
        for j in range(i):
            clear = float(shapely.distance(shapes[i], shapes[j]))
            pair = f"{worked.flues[j].name} and {worked.flues[i].name}"
            action = "Fill the strip with joint filler and sealant instead of concrete: so thin a strip breaks."
            key = f"cap.between.{worked.flues[j].name}.{worked.flues[i].name}"
            found.append(
                compare(key, "concrete between two joints", STRIP, pair, clear, at_least=LEAST_STRIP, unit="m", action=action)
            )
    return tuple(found)


def _joint(worked: Worked) -> tuple[Finding, ...]:
    if not worked.flues:
        return ()
    joint, waiver = worked.joint, worked.choices.joint_waived
    wider = f"Make the joint {say_at_least(joint.asked)} wide, or use a sealant that moves more"
    action = f"{wider}; after a chimney fire renew it in any case."
    rule = "joint round the flue wide enough for the liner's growth"
    found = compare(
        "cap.joint",
        rule,
        SHEAR,
        "joint between cap and flue",
        joint.width,
        at_least=joint.asked,
        unit="m",
        action=action,
        slack=1e-6,
    )
    return (found if waiver is None else replace(found, verdict=Verdict.WAIVED, waiver=waiver),)


def figures(worked: Worked) -> tuple[Figure, ...]:
    """Flue by flue, then the joint and its materials."""
    each = [figure for k, flue in enumerate(worked.flues) for figure in _flue(worked, flue, k)]
    return (*each, *_joint_figures(worked)) if worked.flues else ()


def _flue(worked: Worked, flue: FlueFit, k: int) -> tuple[Figure, ...]:
    top, own, name = worked.survey.flues[k].top, worked.levels.flues[k], flue.name
    terms = (
        Term("top", "top of the flue above the string", top.mean, "m"),
        Term("extension", "how much higher it is made", own.extension, "m"),
        Term("wash", "wash where it meets the joint, highest", flue.meets_high, "m"),
    )
    proud = Figure(
        f"cap.proud.{name}",
        f"flue {name} above the wash",
        flue.proud.mean,
        "m",
        "top + extension - wash",
        terms,
        spread=flue.proud.sd,
    )
    if own.extension == 0 or own.joint is None:
        return (proud,)
    wanted = Term("proud", "height wanted over the wash", worked.choices.proud_wanted, "m", PRACTICE)
    return (
        proud,
        Figure(
            f"cap.extension.{name}", f"flue {name}: how much higher", own.extension, "m", "wash + proud - top", (*terms, wanted)
        ),
        Figure(
            f"cap.extension_piece.{name}",
            f"flue {name}: length of the piece set on",
            own.extension + own.cut_back,
            "m",
            "extension + cut back",
            (Term("cut back", "cut off the flue that stands", own.cut_back, "m"),),
        ),
        Figure(
            f"cap.extension_joint.{name}",
            f"flue {name}: joint of the piece, above the string",
            own.joint,
            "m",
            "top of the flue, or so far under the wash as it must be buried",
            (Term("buried", "concrete over the joint", worked.choices.extension_buried, "m", PRACTICE),),
        ),
    )


def _joint_figures(worked: Worked) -> tuple[Figure, ...]:
    choices, joint = worked.choices, worked.joint
    growth = (
        Term("a", "expansion of fired clay", CLAY_EXPANSION, "1/K", CLAY),
        Term("L", "liner above its support", choices.liner_length, "m", ENTERED),
        Term("dT", "how much warmer it gets", choices.liner_warming, "K", PRACTICE),
    )
    width = (
        Term("dL", "growth of the liner past the cap", joint.grows, "m"),
        Term("S", "movement class of the sealant", choices.sealant_movement),
        Term("usual", "the trade's gap", USUAL_WIDTH, "m", PRACTICE),
    )
    middle = [_perimeter(ring, joint.width / 2) for ring in worked.ground.rings]
    wraps = [_wrap(worked, k) for k in range(len(worked.flues))]
    depth = sealant_depth(joint.width) if joint.width > 0 else 0.0
    run = float(sum(middle))
    deep = (Term("W", "width", joint.width, "m"),)
    return (
        Figure(
            "cap.joint.growth",
            "liner's growth past the cap",
            joint.grows,
            "m",
            "dL = a L dT",
            growth,
            CLAY,
            "an upper normal fire; a chimney fire grows it 2.5 times as far",
        ),
        Figure(
            "cap.joint.asked",
            "joint that takes the growth",
            joint.asked,
            "m",
            "W = dL / sqrt((1 + S)^2 - 1)",
            width,
            SHEAR,
            "sealant sheared, not squeezed",
        ),
        Figure(
            "cap.joint.width",
            "joint round each flue, all round and full depth",
            joint.width,
            "m",
            "greater of usual and W, up to the next eighth",
            width,
            ENTERED if choices.joint_width is not None else PRACTICE,
        ),
        Figure(
            "cap.joint.wrap",
            "compressible wrap",
            float(sum(wraps)),
            "m2",
            "outline of the flue x mean depth of the cap there",
            deep,
        ),
        Figure("cap.joint.length", "backer rod and sealant", run, "m", "outline at the joint's middle", deep),
        Figure(
            "cap.joint.sealant_depth",
            "depth of sealant over the rod",
            depth,
            "m",
            "W / 2, not under 1/4 in. nor over 1/2 in.",
            deep,
            Cite("sealant_depth_detailing"),
        ),
        Figure("cap.joint.sealant", "sealant", run * joint.width * depth, "m3", "length x width x depth", deep),
    )


def _perimeter(ring: Array, inward: float) -> float:
    """Length round a convex ring moved inward, m: P - 2 d sum of tan(turn / 2) over its corners."""
    run = np.roll(ring, -1, axis=0) - ring
    before = np.roll(run, 1, axis=0)
    turn = np.arctan2(before[:, 0] * run[:, 1] - before[:, 1] * run[:, 0], (before * run).sum(1))
    return float(np.hypot(run[:, 0], run[:, 1]).sum() - 2 * inward * np.tan(turn / 2).sum())


def _wrap(worked: Worked, k: int) -> float:
    """Area of wrap round one flue: outline of the flue times the mean depth of concrete along the joint, m2."""
    border, levels = worked.ground.borders[k], worked.levels
    depth = float(border.length @ np.maximum(levels.over(border.middle) - border.stone, 0.0) / border.length.sum())
    return _perimeter(worked.ground.rings[k], worked.joint.width) * depth
